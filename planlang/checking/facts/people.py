"""Facts about the person: screening, and where they are today."""

from __future__ import annotations

from planlang.checking.expression.types import COUNT, DATE, TEXT, TEXTS, name_of, number, one_of
from planlang.checking.facts.registry import Facts, root, root_list, subject
from planlang.model.plan import Baseline, Screening, Today
from planlang.text.source import Span

screening = subject("screening", title=lambda it: f"screening of {it.day}")
today = subject("today", title=lambda _: "today")
baseline = subject("baseline", "baselines", lambda it: str(it.measure))

root("screening", "screening", "what was asked before the plan", lambda f, _: f.plan.screening, "screening")
root("today", "today", "where the person is now", lambda f, _: f.plan.today, "today")
root_list("baseline", "baseline", "the measures under `today`", lambda f: f.plan.today.measures, "today baseline")

CLEAR = one_of("yes for moderate", "yes for vigorous", "yes", "no", "waiting")
screening.plain("day", DATE, "when it was asked", "screening")
screening.plain("by", TEXT, "who asked", "by_staff", "by_staff")
screening.plain("clear", CLEAR, "whether the way is clear", "clear", "clear")
screening.plain("unsteady", one_of("yes", "no"), "whether the person feels unsteady", "unsteady", "unsteady")
screening.plain(
    "floor", one_of("gets up alone", "gets up with help", "cannot"), "getting up from the floor", "floor", "floor"
)
screening.plain("bones", TEXT, "bone strength, as far as known", "bones", "bones")
screening.plain("takes", TEXTS, "classes of medicine", "takes", "takes")
screening.plain("good_until", DATE, "until when it holds", "good_until", "good_until")
screening.fact("falls", COUNT, "falls in the months asked about", "falls", "falls")(lambda _, it: it.falls)
for _asked in ("heart", "diabetes", "kidney", "symptoms"):
    screening.fact(_asked, one_of("yes", "no"), f"the answer about {_asked}", "asked", "asked")(
        lambda _, it, asked=_asked: it.asked.get(asked)
    )


@screening.fact("upper-pressure", number("mmHg"), "the upper blood pressure", "blood_pressure", "blood_pressure")
def _upper(_: Facts, it: Screening) -> int | None:
    return it.blood_pressure[0] if it.blood_pressure else None


@screening.fact("lower-pressure", number("mmHg"), "the lower blood pressure", "blood_pressure", "blood_pressure")
def _lower(_: Facts, it: Screening) -> int | None:
    return it.blood_pressure[1] if it.blood_pressure else None


today.plain("has", TEXTS, "things that the person has", "has", "has")
baseline.plain("measure", name_of("measure"), "what is measured", "baseline")


@baseline.fact("value", COUNT, "its number, in the unit written", "baseline")
def _value(_: Facts, it: Baseline) -> object:
    return it.value.value


def _base(unit: str, name: str, dimension: str, meaning: str) -> None:
    def at(_: Facts, it: Today) -> Span | None:
        found = it.measure(name)
        return found.span if found else None

    def get(_: Facts, it: Today) -> object:
        found = it.measure(name)
        if found is None or (unit and found.value.dimension != dimension):
            return None
        return found.value.base if unit else found.value.value

    today.fact(name, number(unit), meaning, "today baseline", at)(get)


_base("steps/day", "daily-steps", "steps a day", "steps a day now")
_base("kg", "body-weight", "mass", "body weight now")
_base("m", "body-height", "length", "height")
_base("", "usual-pain", "", "usual pain, out of 10")
_base("", "chair-stands", "", "chair stands in 30 s now")
today.fact("base-strength", number("week"), "weeks of strength work done before the plan", "base", "base")(
    lambda _, it: sum(weeks for kind, weeks in it.base if kind == "strength")
)

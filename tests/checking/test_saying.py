"""A rule in words: every built-in one can be said, and what is said is what is meant."""

import pytest

from planlang.checking.explained import InWords, in_words
from planlang.checking.rule import Rule
from planlang.checking.rulebook import Rulebook, assembled, built_in_rules


@pytest.fixture(scope="module")
def said(rule_of):
    """The parts of a condition over a plan, in words."""

    def made(flags: str, looks_at: str = "plan", **more: str) -> InWords:
        rule = rule_of(flags_when=flags, looks_at=looks_at, message="it is so", **more)
        return in_words(rule, assembled([rule]))[0]

    return made


@pytest.mark.parametrize("rule", built_in_rules(), ids=lambda rule: rule.name)
def test_every_built_in_rule_is_said(rule: Rule, book: Rulebook) -> None:
    for case in in_words(rule, book):
        assert case.parts
        for words in (case.looks_at, *case.parts, *(line for _, what in case.where for line in what)):
            assert not {"<", ">", "_"} & set(words.replace("with_whom", "")), words
            assert "its's" not in words


@pytest.mark.parametrize("rule", built_in_rules(), ids=lambda rule: rule.name)
def test_every_case_is_shown_by_an_example(rule: Rule, book: Rulebook) -> None:
    assert [i for i, case in enumerate(in_words(rule, book)) if not case.says] == []


@pytest.mark.parametrize(
    ("flags", "words"),
    [
        ("its length > 4 weeks", "its length is more than 4 weeks"),
        ("its length <= 4 weeks", "its length is at most 4 weeks"),
        ("its starts < its written", "its first day is before its written"),
        ("its starts is no sooner than its written", "its first day is no sooner than its written"),
        ("its length + 4 weeks > 9 weeks", "its length plus 4 weeks is more than 9 weeks"),
        ("goal is missing", "there is no goal"),
        ("goal is written", "there is a goal"),
        ("not its has-flares", "not so: one of its conditions is known to flare"),
        ("goal's dated", "the goal says by when"),
        ("its language is any of \"en\", \"de\"", 'its language is "en" or "de"'),
        ("its language is none of \"en\", \"de\"", 'its language is none of "en" or "de"'),
        ("its conditions has \"knee osteoarthritis\"", 'its conditions hold "knee osteoarthritis"'),
        ("any exercise of kind \"strength\"", 'there is an exercise of kind "strength"'),
        ("no target where its date > goal's date", "there is no target where its date is after the goal's date"),
        ("every target meets its dated", "every target: it says by when"),
        ("at least 2 of the targets where its dated", "in at least 2 of the targets, it says by when"),
        ("more than 50 % of training-weeks where its strength-days < 2",
         "in more than 50 % of the training weeks, its strength days are less than 2"),
        ("number of targets > 3", "the number of targets is more than 3"),
        ("(longest run of weeks where its strength-sessions is 0) > 3",
         "the longest run of weeks where its strength sessions are 0 is more than 3"),
        ("its length > 25 % of its length", "its length is more than 25 % of its length"),
        ("its length if written else 0 weeks > 3 weeks", "its length (0 weeks where not written) is more than 3 weeks"),
        ("(its length + 2 weeks) * 2 > 9 weeks", "(its length plus 2 weeks) times 2 is more than 9 weeks"),
        ("(first exercise where its rises)'s name is written",
         "the name of the first exercise where a `rise` line makes its steps is written"),
        ("mention of e-mail in its title is written", "its title holds an e-mail address"),
        ("(largest its date over targets) > its starts", "the largest (its date) over targets is after its first day"),
        ("(if its draft then 1 else 2) > 1", "1 where it says `state draft`, else 2 is more than 1"),
    ],
)  # fmt: skip
def test_an_expression_in_words(flags: str, words: str, said) -> None:
    assert said(flags).parts == (words,)


def test_and_and_or_are_apart(said) -> None:
    case = said("its draft and (its length > 3 weeks or its length < 2 weeks)")
    assert (case.joined, case.parts) == (
        "all",
        ("it says `state draft`", "its length is more than 3 weeks or its length is less than 2 weeks"),
    )
    assert said("its draft or its length > 3 weeks and its length < 9 weeks").parts == (
        "it says `state draft`",
        "its length is more than 3 weeks and its length is less than 9 weeks",
    )
    assert said("its draft and not (its draft or its has-flares)").parts[1] == (
        "not so: (it says `state draft` or one of its conditions is known to flare)"
    )


def test_what_is_long_is_taken_apart(said) -> None:
    long = "its date > goal's date and (its because is written or its dose is written or its reach-in is written)"
    case = said(f"its draft and no target where {long} and its dated")
    assert case.parts == (
        "it says `state draft`",
        "there is no target for which all of these hold:",
        "  its date is after the goal's date",
        "  its because is written or its dose is written or its reach in is written",
        "  it says by when",
    )


def test_a_setting_is_said_with_its_value(said) -> None:
    case = said(
        "its length > so-long",
        settings="{so long: {value: 5 weeks, at least: 4 weeks, at most: 8 weeks, means: how long}}",
    )
    assert case.parts == ('its length is more than "so long" (5 weeks)',)


def test_what_is_reckoned_is_said_where_it_is_used(said) -> None:
    case = said("gap > 2 weeks", reckons="{half: its length / 2, gap: its length - half, unused: its length * 3}")
    assert case.where == (("half", ("its length divided by 2",)), ("gap", ('its length less "half"',)))


def test_words_looked_for_are_named(said) -> None:
    case = said(
        "any text where mention of harsh without denials in its words is written",
        words="{harsh: {en: [crumbling]}, denials: {en: [not]}}",
    )
    assert case.parts == ('there is a text where its words mention one of "harsh", unless denied by "denials"',)


def test_each_thing_looked_at_is_named(said) -> None:
    assert said("its dated", "each target").looks_at == "each target"
    assert said("its draft", "plan").looks_at == "the plan"
    assert said("its limit > 3", "pain").looks_at == "the pain block"
    first = said("its dated", 'first target of kind "reach" where its trained')
    assert first.looks_at == 'the first target of kind "reach" where its exercise is in a session, or is an activity'


def test_facts_are_given_with_their_meaning(said) -> None:
    case = said("its length > 4 weeks and no target where its dated")
    assert ("plan's length", "how many calendar weeks it lasts") in case.facts
    assert ("targets", "the dated targets on the way") in case.facts
    assert not any("dated" in name for name, _ in case.facts)

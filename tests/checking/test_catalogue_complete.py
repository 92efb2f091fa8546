"""The rules on disk are the whole catalogue: every row with its level, contested ones as advice, bounds as agreed."""

from fractions import Fraction

import pytest

from planlang.checking.expression.units import KNOWN
from planlang.checking.rule import Rule, Setting
from planlang.checking.rulebook import load_packs, pack_folders
from planlang.text.resources import folder

ROWS = """
1   goal-or-target-undated                   incomplete
2   goal-from-an-old-level                   incomplete
3   goal-is-only-a-weight                    unrealistic
3a  goal-led-by-weight                       advice
4   goal-without-a-because                   advice
5   weight-loss-at-low-weight                unsafe
6   targets-two-or-three                     contested
7   targets-all-lagging                      unrealistic
8   target-after-the-goal                    incomplete
9   target-not-trained                       incomplete
10  no-room-for-rest                         unrealistic
11  target-out-of-reach                      unrealistic
12  target-hangs-on-where-rest-falls         advice
13  target-within-measuring-error            contested
14  less-room-than-flares-need               contested
15  room-above-a-third                       unrealistic
16  rest-only-on-fixed-dates                 advice
17  rest-week-left-empty                     incomplete
18  no-easing-after-rest                     unrealistic
19  return-waits-for-no-pain                 contested
20  flare-test-below-usual-pain              unrealistic
21  daily-steps-jump                         unrealistic
21a steps-jump-without-a-strength-base       unsafe
22  session-minutes-jump                     unrealistic
23  first-week-above-today                   unrealistic
24  no-way-up-the-ladder                     incomplete
25  strength-that-never-loads                contested
26  walking-raised-before-strength           contested
27  load-step-large                          contested
28  jump-between-blocks                      unrealistic
29  two-dials-in-one-step                    contested
30  several-rises-in-one-week                contested
31  ten-thousand-by-default                  contested
32  leg-strength-missing                     unrealistic
33  hard-strength-days-in-a-row              contested
34  strength-under-two-days                  contested
35  aerobic-missing                          advice
36  balance-missing                          contested
37  first-session-heavy                      unrealistic
38  session-longer-than-its-time             incomplete
39  session-without-when-or-where            incomplete
40  kit-not-there-in-time                    incomplete
41  session-clash                            incomplete
42  outdoors-with-no-fallback                advice
43  no-cue                                   contested
44  pain-rule-missing                        incomplete
45  pain-limit-below-usual                   unrealistic
46  pain-limit-above-five                    contested
47  through-pain-in-a-healing-joint          unsafe
48  new-pain-after-replacement-only-rested   unsafe
49  red-flag-left-out                        unsafe
50  nobody-to-call                           incomplete
51  screening-missing-or-old                 incomplete
52  screening-not-clear                      unsafe
53  vigorous-without-clearance               unsafe
54  blood-pressure-very-high                 unsafe
55  falls-and-no-balance-work                unsafe
56  balance-with-nothing-to-hold             unsafe
57  floor-work-and-no-way-up                 unsafe
58  bend-or-jump-with-fragile-spine          unsafe
59  beyond-the-surgeons-limits               unsafe
60  hot-joint-loaded                         unsafe
61  adult-rules-for-a-child                  unsafe
62  words-that-frighten-or-blame             advice
63  no-review                                incomplete
64  first-review-late                        advice
65  nothing-after-the-last-week              advice
66  dose-open-or-not-set                     incomplete
67  number-looks-mistyped                    incomplete
68  personal-details                         unsafe
69  name-tells-too-much                      incomplete
70  hard-words-for-the-person                advice
"""
"""Number, name, level; `contested`: advice at most, and said to be contested."""

LEVELS = {name: level for _, name, level in (row.split() for row in ROWS.strip().splitlines())}
RULES: dict[str, Rule] = {rule.name: rule for rule in load_packs(pack_folders(folder("rules")))}


OF_DIARIES = {
    "red-flag-not-acted-on": "unsafe",
    "over-the-limit-twice": "unrealistic",
    "flare-not-easing": "unrealistic",
    "fall-or-giving-way": "unrealistic",
    "room-needs-new-dates": "incomplete",
    "morning-pain-creeping": "advice",
    "good-day-overrun": "advice",
    "no-news": "advice",
    "three-not-done": "advice",
    "note-to-read": "advice",
}
"""Rows that look at a diary beside the plan."""

BESIDE = {
    "blood-pressure-high": "advice",
    "hot-joint-in-a-known-inflammation": "contested",
    "name-suspected": "advice",
    "replacement-without-a-date": "incomplete",
}
"""Rows that hold two levels, as two rules; and what practice would miss."""


def test_every_row_of_the_catalogue_is_a_rule() -> None:
    missing = [name for name in LEVELS if name not in RULES]
    assert not missing, f"{len(missing)} rows have no rule: {', '.join(missing)}"


def test_every_rule_is_a_row_of_the_catalogue() -> None:
    more = sorted(RULES.keys() - LEVELS.keys() - OF_DIARIES.keys() - BESIDE.keys())
    assert not more, f"no row has these names: {', '.join(more)}"


@pytest.mark.parametrize("name", [name for name in LEVELS | OF_DIARIES | BESIDE if name in RULES])
def test_a_rule_has_the_level_of_its_row(name: str) -> None:
    rule, level = RULES[name], (LEVELS | OF_DIARIES | BESIDE)[name]
    assert rule.level.value == ("advice" if level == "contested" else level)
    if level == "contested":
        assert rule.contested


BOUNDS = [
    ("goal-from-an-old-level", "1", "1", "10"),
    ("weight-loss-at-low-weight", "20", "18.5", "22"),
    ("no-room-for-rest", "6", "4", "12"),
    ("less-room-than-flares-need", "80", "60", "95"),
    ("return-waits-for-no-pain", "5", "3", "7"),
    ("daily-steps-jump", "25", "20", "50"),
    ("steps-jump-without-a-strength-base", "4", "2", "8"),
    ("walking-raised-before-strength", "4", "0", "6"),
    ("through-pain-in-a-healing-joint", "12", "6", "26"),
    ("new-pain-after-replacement-only-rested", "26", "12", "52"),
    ("adult-rules-for-a-child", "18", "16", "18"),
    ("first-review-late", "6", "2", "8"),
    ("over-the-limit-twice", "2", "1", "4"),
    ("flare-not-easing", "14", "10", "21"),
]
"""A threshold of the catalogue with the bounds that a clinic must keep, in the unit written there."""


@pytest.mark.parametrize(("name", "value", "least", "most"), [b for b in BOUNDS if b[0] in RULES])
def test_a_threshold_and_its_bounds_are_those_of_the_row(name: str, value: str, least: str, most: str) -> None:
    agreed = tuple(Fraction(text) for text in (value, least, most))
    assert agreed in [shown(setting) for setting in RULES[name].settings]


def shown(setting: Setting) -> tuple[Fraction, Fraction, Fraction]:
    """A setting's value and bounds in the unit in which it is written."""
    factor = KNOWN[setting.unit].factor
    return setting.value / factor, setting.least / factor, setting.most / factor


def test_a_third_is_no_more_than_a_third() -> None:
    # 33 % (25 to 50) in the catalogue; the room of 1 week in 3 is a third, and not above it
    (share,) = [shown(setting) for setting in RULES["room-above-a-third"].settings]
    assert Fraction(100, 3) < share[0] < Fraction("33.5")
    assert share[1:] == (25, 50)


GIVE_WAY = [
    ("strength-under-two-days", "leg-strength-missing"),
    ("pain-limit-below-usual", "pain-rule-missing"),
    ("pain-limit-above-five", "pain-rule-missing"),
    ("target-hangs-on-where-rest-falls", "target-out-of-reach"),
    ("pain-limit-above-five", "through-pain-in-a-healing-joint"),
]


@pytest.mark.parametrize(("name", "other"), [pair for pair in GIVE_WAY if RULES.keys() >= set(pair)])
def test_what_gives_way_to_what(name: str, other: str) -> None:
    assert other in RULES[name].gives_way_to

"""One fault, one finding, at its place, with words that help; and the rest of the plan is still read."""

from __future__ import annotations

from typing import Any

import pytest

from planlang.syntax.mistakes.find import ROWS as MISTAKES
from planlang.syntax.mistakes.find import recognise
from planlang.syntax.mistakes.row import Mistake
from planlang.text.finding import Level
from tests.syntax.reading import findings, names, said, script, whole

# name | block | line | what is underlined | words in the finding
TABLE = """
misspelled header | exercise | exersise heel-raise | exersise | Did you mean "exercise"
misspelled goal | goal | gaol "Dig" | gaol | Did you mean "goal"
misspelled session | session | sesion "Chair" | sesion | Did you mean "session"
misspelled pain, letters swapped | rest | pian | pian | Did you mean "pain"
misspelled line | exercise | begn 3x8 | begn | Did you mean "begin"
misspelled line shaped like a measure | plan | revison 1 | revison | Did you mean "revision"
misspelled rating line | goal | confidance 7/10 | confidance | Did you mean "confidence"
misspelled word inside | plan | agreed 2027-02-22 calender full | calender | Did you mean "calendar"
misspelled word of several | exercise | begin 3x8 twicee a day | twicee | Did you mean "twice a day"
misspelled second word of two | pain | settle by next mornig | next mornig | Did you mean "next morning"
misspelled third word of three | exercise | begin 3x8 twice a dya | twice a dya | Did you mean "twice a day"
misspelled unit | session | warm-up 3 minuts | minuts | Did you mean "min"
misspelled in today | today | hass "chair" | hass | Did you mean "has"
capital first word | plan | Plan "x" | Plan | Did you mean "plan"
word of another block | session | kind strength | kind | "kind" belongs under "exercise" or "activity"; here
word of another block again | exercise | place "front room" | place | belongs under "session"
measure outside today | plan | usual-pain 3/10 | usual-pain | it stands under "today"
pain as a limit | pain | pain 4/10 | pain | accept up to 5/10 during
line that ends too soon | plan | lasts 18 | 18 | Something is missing at the end of this line. Expected here: "weeks".
line with nothing | exercise | begin | begin | Expected here: a dose like 3x8 or 20 min
line that goes on | plan | lasts 18 weeks more | more | This line should end before "more"
three words possible | screening | clear maybe | maybe | Expected here: "no", "waiting" or "yes".
one word possible | rest | room 3 weeks | 3 | Expected here: "for". For example: room for 3 weeks
week in a date's place | target | by spring | spring | Expected here: "week" or a date
measure without a number | today | usual-pain bad | bad | a number or a rating like 4/10. For example: daily-steps
sets with spaces | exercise | begin 3 x 8 | 3 x 8 | Write 3x8.
sets with a capital | exercise | begin 3X8 | 3X8 | Write 3x8.
sets in words | exercise | begin 3 sets of 8 reps | 3 sets of 8 reps | Write 3x8.
sets with reps | exercise | begin 3x8 reps | 3x8 reps | Write 3x8.
comma in a dose | exercise | begin 3x8, each side | , | Leave it out.
two doses | exercise | begin 3x8 or 2x10 | or 2x10 | A step holds one dose.
date, day or month first | plan | starts 01/03/2027 | 01/03/2027 | Write 2027-03-01 or 2027-01-03.
date with points | plan | starts 1.3.2027 | 1.3.2027 | Write 2027-03-01 or 2027-01-03.
date that reads one way | plan | starts 13/04/2027 | 13/04/2027 | Write 2027-04-13.
date that does not exist | plan | starts 31/02/2027 | 31/02/2027 | There is no such day
date with slashes | plan | starts 2027/03/01 | 2027/03/01 | Write 2027-03-01.
date with short parts | plan | starts 2027-3-1 | 2027-3-1 | Write 2027-03-01.
date run together | plan | starts 20270301 | 20270301 | Write 2027-03-01.
date with a month's name | plan | starts 1 March 2027 | 1 March 2027 | Write 2027-03-01.
date month first | plan | starts March 1, 2027 | March 1, 2027 | Write 2027-03-01.
month alone | goal | by August | August | 2027-08-01
hyphen between dates | plan | away 2027-04-19 - 2027-04-25 | - 2027-04-25 | Write to in place of the hyphen.
name for a code | plan | for Anna Smith | Anna Smith | People are codes here, never names.
name after a code | plan | for P-014 Anna Smith | for P-014 Anna Smith | nothing else about the person
code in small letters | plan | for p-014 | p-014 | Write P-014.
staff by name | screening | by Dr Smith | Dr Smith | T-03 for staff
percent of nothing | exercise | begin 3x8 at 70% | 70% | Write 70 %1RM, 70 %HRmax or 70 % of body-weight.
percent apart | exercise | begin 3x8 at 70 % 1RM | 70 % 1RM | Write 70 %1RM.
percent where a level stands | goal | measured by chair-stands from 9 to +20% | +20% | Write the level itself.
percent in words | exercise | rise 10 per cent every week to 5000 steps/day | 10 per cent | Write 10 %.
decimal comma | exercise | begin 3x8 at 2,5 kg | 2,5 kg | Write 2.5 kg for one number, or 2, 5 kg for a list.
list without spaces | exercise | begin 30,15 reps | 30,15 reps | or 30, 15 reps for a list
thousands comma | today | daily-steps 10,684 steps/day | 10,684 steps/day | Write 10684 steps/day for one number
raised decimal point | today | usual-pain 3·6 | 3·6 | Write 3.6.
half | exercise | begin ½ mile | ½ | Write 0.5.
fraction | exercise | begin 1/2 hour | 1/2 | Write 0.5.
range in words | exercise | begin 3x8 at 2 to 3 kg | 2 to 3 | Write 2-3.
range of a pace | exercise | progress every 2 to 3 weeks | every 2 to 3 weeks | Write the longer one: every 3 weeks.
hyphen in a pace | exercise | progress every 2-3 weeks | every 2-3 weeks | Write the longer one: every 3 weeks.
minus | exercise | begin 3x8 at -2 kg | -2 | no number here is below nought
about | exercise | begin ~20 min | ~20 | Write 20
number in words | rest | first two days | two | Write 2.
missing closing quote | plan | tell "Sore does not mean harm. | " | has no end
missing opening quote | plan | tell Sore does not mean harm." | " | has no beginning
inch mark | exercise | begin 3x8 step 6" | " | If inches are meant, write inch.
no quotes | session | cue after the breakfast dishes | after the breakfast dishes | in double quotes
single quotes | session | cue 'after the dishes' | ' | in double quotes
unquoted sign | plan | stop if chest pain then emergency | chest pain then emergency | in double quotes
number to call | plan | stop if "chest pain" then 999 | 999 | Write emergency, today or tell us.
kilos | today | body-weight 84 kilos | kilos | Write kg.
stones | today | body-weight 13 stone | stone | weights are in kg or lb
turns a minute | exercise | begin 20 min at 60 rpm | rpm | as text after the dose
steps without day | activity | begin 3200 steps | 3200 steps | Write 3200 steps/day.
minutes a week | activity | begin 70 min a week | 70 min a week | Write 70 min/week.
months | plan | lasts 4 months | 4 months | Write 16 weeks (4 for each), or a date
years | plan | lasts 1 year | 1 year | Write 52 weeks
time with a point | session | at 7.30 | 7.30 | Write 07:30.
time with am | session | at 7:30 am for 35 min | 7:30 am | Write 07:30.
time with pm | session | at 6 pm | 6 pm | Write 18:00.
heart rate without sign | exercise | begin 20 min at HRmax 60 | at HRmax 60 | Write at 60 %HRmax.
slash in often | exercise | begin 5 min 2/3 times a day | 2/3 times a day | Write 2 to 3 times a day.
twice daily | exercise | begin 5 min twice daily | twice daily | Write twice a day.
Borg | exercise | begin 3x8 at Borg 13 | at Borg 13 | Write at effort 13/20
effort without scale | exercise | begin 3x8 at effort 5 | at effort 5 | at effort 5/10 or at effort 5/20
rating without scale | goal | confidence 7 | confidence 7 | Write confidence 7/10.
limit without scale | pain | accept up to 5 | accept up to 5 | Write accept up to 5/10.
weekdays in small letters | session | days mon, wed | mon, wed | Write Mon, Wed.
weekdays without commas | session | days Mon Wed Fri | Mon Wed Fri | Write Mon, Wed, Fri.
run of weekdays | session | days Mon-Fri | Mon-Fri | Write Mon, Tue, Wed, Thu, Fri.
unknown weekday | session | days Xyz | Xyz | days like Mon, or "3 a week"
unknown second weekday | session | days Mon, Xyz | Xyz | a weekday like Mon
name with a space | exercise | exercise heel raise | exercise heel raise | Write exercise heel-raise.
name in quotes | exercise | exercise "heel raise" | exercise "heel raise" | heel-raise
names with spaces in a list | session | do sit to stand, tandem-stance | sit to stand | Write sit-to-stand for one name
and in a list | session | do sit-to-stand and tandem-stance | and | Write a comma and a space.
every other day | session | days every other day | every other day | Write days every second.
times a week | session | days 3 times a week | 3 times a week | Write days 3 a week
to failure | exercise | begin 3x to failure | to failure | Write 3x to fatigue, at most 15.
each leg | exercise | begin 3x8 each leg | each leg | Write each side.
at sign | exercise | begin 3x8 @ 20 kg | @ | Write at and a space
colon | exercise | kind: strength | kind: | No ":" stands after "kind".
bullet | exercise | - begin 3x8 | - | no bullet
full stop | session | days Mon, Wed. | . | No "." stands at the end
brackets | exercise | begin 20 min (easy) | ( | Brackets mean nothing here.
other remark | exercise | how "slowly" // twice | // | A remark starts with #.
diary's line | plan | 2027-03-01 done "Chair and bench" | 2027-03-01 | belongs in a diary
if missed | session | if missed drop | if missed | Write if not done
branch | exercise | if no response at week 12 then calls | if no response at week 12 then calls | does not branch
choice of exercises | session | do 2 of step-up, heel-raise | 2 of step-up, heel-raise | holds no choice
quota for the course | activity | begin 50 hours over 6 months | 50 hours over 6 months | for each week: 125 min/week.
rise by the day | activity | rise 2 min every day to 20 min | 2 min every day | Write it for a week: 14 min every week.
half per weeks missed | rest | return half per 6 weeks missed | half per 6 weeks missed | Write return 2 steps lower
leave out an exercise | rest | leave out step-up | leave out step-up | Write leave step-up.
invisible character | plan | starts \u200b2027-03-01 | \u200b | can't be seen or read stands here (U+200B)
quote without a partner | session | place “front room | “ | This quote has no partner on its line.
start in a week | exercise | start in week 5 | start in week 5 | Write training week 5 on.
day without a year | plan | starts 1 March | 1 March | Write the whole date, year first
end of a week | goal | by end of week 8 | end of week 8 | Write week 8.
time run together | session | at 0730 | 0730 | Write 07:30.
hour alone | session | at 7 for 35 min | 7 | Write 07:00.
no digit before the point | exercise | begin 3x8 at .5 kg | .5 | Write 0.5.
more than | exercise | begin >20 min | >20 | Write 20.
plus | exercise | then 3x8 at +5 kg | +5 kg | rise 5 kg every week to the aim
sets alone | exercise | begin 3 sets | 3 sets | Write 3x8, or 3x30 s.
reps left | exercise | begin 3x8 at RIR 2 | RIR 2 | Write at 2 reps in reserve.
effort by another name | exercise | begin 3x8 at RPE 5/10 | RPE 5/10 | Write at effort 5/10.
held | exercise | begin 3x10 hold 5 s | hold 5 s | Write holding 5 s.
rest between sets | exercise | begin 3x8 rest 60 s | rest 60 s | Write resting 60 s.
times a day | exercise | begin 5 min 2x/day | 2x/day | Write 2 times a day.
daily habit | target | keep "boots" daily | daily | Write every day.
daily session | session | days daily | days daily | Write days every day.
onwards | exercise | training week 5 onwards | onwards | Write on.
weekly | exercise | progress weekly | weekly | Write every week.
working days | session | days weekdays | weekdays | Write Mon, Tue, Wed, Thu, Fri.
weekend | session | days weekends | weekends | Write Sat, Sun.
blood pressure | screening | blood-pressure 148 over 88 | blood-pressure 148 over 88 | Write blood-pressure 148/88 mmHg.
yards | activity | begin 100 yards | yards | lengths are in cm, m, km, inches or miles
percent of nothing that can be meant | rest | room for 20 % | 20 % | A share can't stand here.
fortnightly | session | days fortnightly | fortnightly | once every 2 weeks
every two hours | exercise | begin 5 min every 2 hours | every 2 hours | like 4 times a day
monthly | plan | review every month | every month | Write every 4 weeks
text alone | plan | "remember the boots" | " | No line starts with a text in quotes.
diary: day or month first | diary | 05/03/2027 done "A" | 05/03/2027 | Write 2027-03-05 or 2027-05-03.
diary: a date with short parts | diary | 2027-3-6 done "A" | 2027-3-6 | Write 2027-03-06.
diary: a date with slashes | diary | 2027/03/06 done "A" | 2027/03/06 | Write 2027-03-06.
diary: a day and nothing else | diary | 2027-03-05 | 2027-03-05 | blank, and that is not the same as not done
diary: a time | diary | 2027-03-05 07:30 done "A" | 2027-03-05 07:30 | A diary goes by days
diary: a flare that ended | diary | 2027-03-05 flare ended | 2027-03-05 flare ended | Write flare over.
diary: the end of a flare | diary | 2027-03-05 end of flare | 2027-03-05 end of flare | Write flare over.
diary: an easier week | diary | 2027-03-05 easier week | 2027-03-05 easier week | Write rest
diary: a side without a comma | diary | 2027-03-05 flare of knee left | 2027-03-05 flare of knee left | of knee, left.
diary: side, then joint | diary | 2027-03-05 rest for left knee | 2027-03-05 rest for left knee | rest for knee, left.
diary: a flare in a joint | diary | 2027-03-05 flare in knee | 2027-03-05 flare in knee | Write flare of knee.
diary: not done in another word | diary | 2027-03-05 skipped "A" | 2027-03-05 skipped "A" | Write not done "..."
diary: a reason without quotes | diary | 2027-03-05 not done "A" because tired | because tired | because life "tired"
diary: pain without a scale | diary | 2027-03-05 pain 4 | pain 4 | Write pain 4/10.
diary: pain next morning without a scale | diary | 2027-03-05 done "A" morning 3 | morning 3 | Write morning 3/10.
diary: effort without a scale | diary | 2027-03-05 done "A" effort 5 | effort 5 | effort 5/10 or effort 5/20
diary: a walk without a unit | diary | 2027-03-05 walked 3400 | walked 3400 | Write 3400 steps, 3400 min or 3400 km
diary: no day | diary | told "x" | told | 2027-03-01 told
diary: no name of a person | diary | 2027-03-05 told "x" by Anna | Anna | a code like P-014
"""
ROWS = [tuple(cell.strip() for cell in row.split(" | ")) for row in TABLE.strip().splitlines()]


@pytest.mark.parametrize(("block", "line", "place", "words"), [r[1:] for r in ROWS], ids=[r[0] for r in ROWS])
def test_one_fault_is_one_finding_that_helps(block: str, line: str, place: str, words: str) -> None:
    text = whole(block, line)
    found = findings(text)
    assert [f.message for f in found] == [found[0].message]
    (finding,) = found
    assert finding.rule == "unreadable"
    assert finding.level is Level.UNSAFE
    assert finding.blocks
    assert finding.span
    assert text[finding.span.start : finding.span.end] == place
    assert words in said(finding)


def test_every_known_mistake_is_seen_at_work(monkeypatch: pytest.MonkeyPatch) -> None:
    seen = set()

    def watched(*arguments: Any) -> Mistake | None:
        mistake = recognise(*arguments)
        seen.add(mistake.name if mistake else "")
        return mistake

    monkeypatch.setattr("planlang.syntax.unreadable.recognise", watched)
    for _, block, line, _, _ in ROWS:
        findings(whole(block, line))
    assert {row.name for row in MISTAKES} - seen == set()


@pytest.mark.parametrize(("block", "line"), [r[1:3] for r in ROWS], ids=[r[0] for r in ROWS])
def test_the_rest_is_still_read(block: str, line: str) -> None:
    clean = names(whole(block))
    faulty = names(whole(block, line))
    assert len(faulty) == len(clean) + 1
    extra = iter(faulty)
    assert all(name in extra for name in clean)


@pytest.mark.parametrize(
    "line",
    [
        "for Anna Smith",
        "for P-014 Anna",
        "for Anna P-014",
        'waive no-cue by Anna because "x"',
        "for 'Anna'",
        "for: Anna",
    ],
)
def test_a_persons_name_is_never_repeated(line: str) -> None:
    (finding,) = findings(whole("plan", line))
    assert "Anna" not in said(finding)


def test_every_one_of_275_bad_lines_is_one_finding() -> None:
    lines = [f"exercise heel-raise-{i}\n  kind strength\n  begin 3 x {i + 2}\n  then 3x8\n" for i in range(275)]
    read_text = script("".join(lines))
    assert len(read_text.findings) == 275
    assert len(read_text.lines) == 4 * 275


def test_a_misspelled_header_opens_a_block_whose_lines_bring_no_finding() -> None:
    found = findings('plan "x"\nexersise heel-raise\n  begin 2x8\n  place "front room"\nsession "A"\n  days Mon\n')
    assert [f.message for f in found] == ['No line starts with "exersise".']


def test_a_fault_in_a_misspelled_block_is_still_a_finding() -> None:
    found = findings('plan "x"\nexersise heel-raise\n  begin 3 x 8\n')
    assert len(found) == 2


def test_faults_on_the_first_and_the_last_line_without_a_line_feed() -> None:
    assert len(findings("paln\nlasts")) == 2


def test_at_most_four_words_are_named() -> None:
    for finding in findings("\n".join(f"{word} ?" for word in ("begin", "days", "rise 3", "score", "return", "visit"))):
        assert said(finding).count('", "') < 4


@pytest.mark.parametrize("header", ["", "screening 2027-03-01\n"])
def test_a_line_of_plans_in_a_library_is_sent_to_a_plan_whatever_stands_above_it(header: str) -> None:
    found = findings(f'plan "x"\nlibrary "y"\n{header}not today if "home reading 180/110" then tell us\n')
    assert any(f.message.startswith('"not" belongs in a plan') for f in found)

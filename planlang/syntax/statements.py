"""Every statement of a plan: the blocks it may stand in, and an example. One row a statement; tests read each."""

from __future__ import annotations

from planlang.text.data import frozen

ANYWHERE = "anywhere"


@frozen
class Form:
    """A statement's grammar rule, the blocks it may stand in (`anywhere`: any), and an example line."""

    name: str
    blocks: tuple[str, ...]
    example: str

    @property
    def word(self) -> str:
        """Its first word, as the formatter writes it; empty for a measure's line."""
        return "" if self.name == "baseline" else self.example.split()[0]


HEADERS = ("plan", "screening", "today", "goal", "target", "rest", "pain", "exercise", "activity", "session")
RESERVED = ("library", "template", "blank", "diary", "use", "from", "fill", "change")

_TABLE = """
plan              | plan                    | plan "Two raised beds by spring"
for_person        | plan                    | for P-014, aged 67
about             | plan                    | about knee osteoarthritis, both; hand osteoarthritis, left
starts            | plan                    | starts 2027-03-01
starts_after      | plan                    | starts 1 week after 2027-02-10 "operation"
lasts             | plan                    | lasts 18 weeks
zone              | plan                    | zone Australia/Hobart
written           | plan                    | written 2027-02-22
revision          | plan                    | revision 1
language          | plan                    | language en
state             | plan                    | state draft
operation         | plan                    | operation 2026-12-21 "hip replacement" left
weight_bearing    | plan                    | weight-bearing full
limits            | plan                    | limits "no low chairs" until 2027-02-03 from "surgeon"
joints            | plan exercise activity  | joints knee, left
away              | anywhere                | away 2027-04-19 to 2027-04-25 "school holidays" do session "Band only"
continues         | plan                    | continues "p014-autumn.plan"
screening         | screening               | screening 2027-02-22
by_staff          | screening               | by T-03
clear             | screening               | clear yes for moderate
asked             | screening               | asked heart no, diabetes no, kidney no, symptoms no
falls             | screening               | falls 0 in 12 months
unsteady          | screening               | unsteady no
floor             | screening               | floor gets up alone
blood_pressure    | screening               | blood-pressure 148/88 mmHg
bones             | screening               | bones no known fragility
takes             | screening               | takes rate-slowing, blood-thinner
good_until        | screening               | good until 2028-03-02
agreed            | anywhere                | agreed 2027-02-22 calendar full, diary yes
today             | today                   | today
baseline          | today                   | daily-steps 3200 steps/day over 7 days
has               | today                   | has "sturdy chair"
base              | today                   | base strength 9 weeks
tested            | today                   | tested leg-press 40 kg for 8 reps
weights           | today                   | weights 1, 2, 3, 4 kg
tell              | anywhere                | tell "Sore does not mean harm."
goal              | goal                    | goal "Dig and plant two raised beds in one morning"
by_when           | goal target             | by 2027-08-14
because           | goal target pain exercise activity | because "fresh vegetables, and Saturdays with the crew"
confidence        | goal target             | confidence 7/10
last_done         | goal                    | last done 2012
changed           | goal                    | changed "both knees now, and no hurry"
measured_by       | goal target             | measured by chair-stands from 9 to 12
score             | goal target             | score much-less 8, less 9, expected 11, more 13, much-more 15
target            | target                  | target "Boots and band by the door"
reach             | target                  | reach 3x10 at 2 kg in sit-to-stand
keep              | target                  | keep "boots and band by the door at night" 5 days/week
do_once           | target                  | do "ask the Saturday crew when they start"
rest              | rest                    | rest
room              | rest                    | room for 3 weeks
rest_starts       | rest                    | starts when 2 points above usual for 2 days
first             | rest                    | first 2 days as little as needed
still_do          | rest                    | still do walking 5 min 3 times a day
still_nothing     | rest                    | still do nothing because "surgeon's order"
back_when         | rest                    | back when usual for 2 days
tell_us_if        | rest                    | tell us if "not easing after 10 days"
return_lower      | rest                    | return 1 step lower for 1 week
return_same       | rest                    | return at the same step
expect            | rest                    | expect 1 flare in 8 weeks lasting 1 week
lighter           | rest                    | lighter every 4 weeks by 1 step
spare_empty       | rest                    | spare empty
leave             | rest                    | leave step-up because "kneeling hurts longest"
leave_sign        | anywhere                | leave out red-flag locked because "known, seen by the surgeon" by T-03
pain              | pain                    | pain
accept            | pain                    | accept up to 5/10 during
rise_limit        | pain                    | rise of at most 2 points
settle            | pain                    | settle within 24 hours
not_today         | anywhere                | not today if "home reading 180/110 or more" then tell us
stop              | anywhere                | stop if "the leg will not take weight" then today
exercise          | exercise                | exercise sit-to-stand
activity          | activity                | activity walking
kind              | exercise activity       | kind strength
works             | exercise activity       | works quadriceps, gluteals
tags              | exercise activity       | tags floor, tandem
how               | exercise activity       | how "sitting, slide the heel back and forth"
careful           | exercise activity       | careful "breathe out on the way up"
hold_on           | exercise activity       | hold on to "kitchen worktop"
with_whom         | exercise activity session | with "neighbour"
easier            | exercise activity       | easier 1x6 "higher chair, push with the hands"
begin             | exercise activity       | begin 2x6 "dining chair, hands on thighs"
then              | exercise activity       | then 3x10 at 2 kg
rise              | exercise activity       | rise 300 steps/day every week to 5000 steps/day
progress          | exercise activity       | progress every 2 weeks if "every set done twice running"
progress_deed     | exercise activity       | progress after 2 sessions clean, about every week
stay              | exercise activity       | stay on this step because "it keeps the knee moving"
start_after       | exercise activity       | start after 4 weeks of strength
start_reach       | exercise activity       | start after reach 3x8 in step-up
training          | exercise activity session | training weeks 5 to 10
at_least          | exercise activity       | at least 2x5 min
at_most           | exercise activity       | at most 4500 steps/day
at_most_above     | exercise activity       | at most 25 % above the aim
pause_while       | exercise activity       | pause while "swollen"
tested_anew       | exercise activity       | tested anew every 3 weeks
instead           | exercise activity session | if "wet" do indoor-bike 15 min
instead_session   | session                 | if "unwell" do session "Part one"
session           | session                 | session "Chair and bench"
days              | session                 | days Mon, Wed, Fri
at_times          | session                 | at 07:30 for 35 min
place             | session                 | place "front room"
kit               | session                 | kit "sturdy chair", "2 kg weight" from step 5
warm_up           | session                 | warm-up 3 min "walk about indoors"
cool_down         | session                 | cool-down 5 min
do_exercises      | session                 | do sit-to-stand, tandem-stance, knee-bends
cue               | session                 | cue "after the breakfast dishes"
if_not_done       | session                 | if not done move within the week
rounds            | session                 | rounds 2
resting_between   | session                 | resting 2 min between exercises
visit             | session                 | visit in weeks 1, 2, 4, 8, 12
at_most_visits    | session                 | at most 12 visits
in_turn           | session                 | in turn with "Session B"
prepare           | anywhere                | prepare "borrow a 2 kg weight" by week 6
review_every      | anywhere                | review every 4 weeks
review_at         | anywhere                | review at week 4, week 12, 2028-01-10
after             | anywhere                | after "a walking block in the dunes, from what was reached"
pause_all         | anywhere                | pause all from 2027-05-03 because "waiting for a scan"
waive             | anywhere                | waive no-cue by T-03 because "fixed class times" until 2027-06-01
"""


def _rows() -> dict[str, Form]:
    forms = {}
    for row in _TABLE.strip().splitlines():
        name, blocks, example = (cell.strip() for cell in row.split("|", 2))
        forms[name] = Form(name, tuple(blocks.split()), example)
    return forms


FORMS: dict[str, Form] = _rows()
FIRST_WORDS: tuple[str, ...] = tuple(dict.fromkeys(f.word for f in FORMS.values() if f.word))
"""Every word that a line can start with, a measure's name aside."""


def forms_of(word: str) -> list[Form]:
    """The statements that start with a word (its singular or plural)."""
    return [f for f in FORMS.values() if f.word and _same_word(f.word, word)]


def _same_word(a: str, b: str) -> bool:
    return a == b or a == b + "s" or b == a + "s"

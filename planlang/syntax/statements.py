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
        """Its first word, as the formatter writes it; empty for a measure's line and one that begins with a date."""
        return "" if self.name == "baseline" or self.example[0].isdigit() else self.example.split()[0]


FILES = ("plan", "template", "library", "diary")
"""The headers that say what kind of file it is."""
HEADERS = (*FILES, "screening", "today", "goal", "target", "rest", "pain", "exercise", "activity", "session", "change")

_TABLE = """
plan              | plan                    | plan "Two raised beds by spring"
for_person        | plan                    | for P-014, aged 67
about             | plan template           | about knee osteoarthritis, both; hand osteoarthritis, left
starts            | plan                    | starts 2027-03-01
starts_after      | plan                    | starts 1 week after 2027-02-10 "operation"
lasts             | plan template           | lasts 18 weeks
zone              | plan template           | zone Australia/Hobart
written           | plan                    | written 2027-02-22
revision          | plan                    | revision 1
language          | plan template library   | language en
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
kit               | session exercise activity | kit "sturdy chair", "2 kg weight" from step 5
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
library           | library                 | library "Clinic exercises"
use_library       | plan template           | use library "clinic.plan"
ladder            | exercise activity       | ladder steps 2 to 4
template          | template                | template "Knee base"
blank             | template                | blank daily-steps-now 1000 to 6000 steps/day by 100 "steps a day now"
from_template     | plan template           | from template "knee-base.plan"
fill              | plan template           | fill daily-steps-now 3200 steps/day
change            | change                  | change exercise sit-to-stand
leave_block       | plan template           | leave out exercise hip-hinge because "the back does not like it"
diary             | diary                   | diary for P-014
steps_from        | diary                   | steps from "p014-steps.csv"
diary_done        | diary                   | 2027-03-03 done "Chair and bench" except knee-bends morning 3/10
diary_part        | diary                   | 2027-03-05 part "Chair and bench" of sit-to-stand, knee-bends
diary_extra       | diary                   | 2027-03-06 extra walking 20 min
diary_not_done    | diary                   | 2027-03-05 not done "Chair and bench" because life "visitors"
diary_moved       | diary                   | 2027-03-05 moved "Chair and bench" to 2027-03-06
diary_rest        | diary                   | 2027-03-15 rest for hand, left
diary_flare       | diary                   | 2027-03-15 flare of knee, right
diary_flare_over  | diary                   | 2027-03-22 flare over
diary_illness     | diary                   | 2027-04-05 illness "a cold"
diary_illness_over | diary                  | 2027-04-09 illness over
diary_pause       | diary                   | 2027-04-12 pause "waiting for the result of a scan"
diary_pause_over  | diary                   | 2027-04-19 pause over
diary_pain        | diary                   | 2027-03-16 pain 6/10
diary_morning     | diary                   | 2027-03-17 morning 4/10
diary_walked      | diary                   | 2027-03-22 walked 3400 steps
diary_did         | diary                   | 2027-04-27 did "ask the Saturday crew when they start"
diary_did_exercise | diary                  | 2027-04-02 did cycling 15 min
diary_kept        | diary                   | 2027-04-26 kept "boots and band by the door at night" 5 days
diary_measured    | diary                   | 2027-04-26 measured chair-stands 11 reps
diary_told        | diary                   | 2027-05-02 told "calf sore and swollen" by P-014
diary_acted       | diary                   | 2027-05-02 acted "sent to same-day clinic" by T-03
diary_sign        | diary                   | 2027-05-02 sign calf-clot "since this morning" reported 2027-05-03
diary_fell        | diary                   | 2027-05-04 fell "on the path, no harm done"
diary_gave_way    | diary                   | 2027-05-04 gave way "on the stairs"
diary_confidence  | diary                   | 2027-04-26 confidence 6/10
diary_worry       | diary                   | 2027-04-26 worry "the stairs at the station"
diary_note        | diary                   | 2027-04-26 note "rain all week"
diary_new         | diary                   | 2027-04-26 new medicine "a tablet for blood pressure"
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
    """The statements that start with a word (its singular or plural); with a date, those of a diary."""
    if word[:1].isdigit():
        return [f for f in FORMS.values() if f.example[0].isdigit()]
    return [f for f in FORMS.values() if f.word and _same_word(f.word, word)]


def _same_word(a: str, b: str) -> bool:
    return a == b or a == b + "s" or b == a + "s"

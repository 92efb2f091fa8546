"""When a session is held: R4's Timing (hl7.org/fhir/R4/datatypes.html#Timing)."""

import pytest

from tests.fhir.fhir_made import PLAIN, repeat, request, requests

MINUTES = {"duration": 30, "durationUnit": "min"}


@pytest.mark.parametrize(
    ("days", "expected"),
    [
        ("days Mon, Wed\n at 07:30 for 30 min", {**MINUTES, "dayOfWeek": ["mon", "wed"], "timeOfDay": ["07:30:00"]}),
        ("days every day\n at 07:30, 18:00 for 30 min", {**MINUTES, "timeOfDay": ["07:30:00", "18:00:00"]}),
        ("days every second\n at 07:30 for 30 min", {**MINUTES, "frequency": 1, "period": 2, "periodUnit": "d"}),
        (
            "days once every 4 weeks\n at 07:30 for 30 min",
            {**MINUTES, "frequency": 1, "period": 4, "periodUnit": "wk"},
        ),
    ],
    ids=["named days", "every day", "every second", "seldom"],
)
def test_days_line_becomes_a_rule(days, expected):
    assert repeat(days) == expected


def test_days_of_choice_are_so_often_a_week():
    rule = repeat("days 3 a week, you choose")
    assert (rule["frequency"], rule["period"], rule["periodUnit"]) == (3, 1, "wk")
    assert "frequencyMax" not in rule


def test_a_range_of_days_has_both_ends():
    rule = repeat("days 3 to 4 a week")
    assert (rule["frequency"], rule["frequencyMax"]) == (3, 4)


def test_chosen_days_that_are_the_same_each_week_are_named():
    assert repeat("days 2 a week from Mon, Thu\n at 08:00 for 30 min")["dayOfWeek"] == ["mon", "thu"]


def test_dates_stand_beside_the_rule_with_their_offset_across_a_clock_change():
    """R4: `event` beside `repeat` is how the repeat works out. London's clocks go forward on 28 March 2027."""
    events = request(PLAIN.replace("DAYS", "days Wed\n at 07:30 for 30 min"))["occurrenceTiming"]["event"]
    assert events[3:5] == ["2027-03-24T07:30:00+00:00", "2027-03-31T07:30:00+01:00"]


def test_each_phase_is_a_request_of_its_own_with_its_bounds():
    days = "days Mon training weeks 1 to 3\n days Mon, Fri training week 4 on"
    bounds = [r["occurrenceTiming"]["repeat"]["boundsPeriod"] for r in requests(PLAIN.replace("DAYS", days))]
    assert bounds == [
        {"start": "2027-03-01", "end": "2027-03-21"},
        {"start": "2027-03-22", "end": "2027-04-25"},
    ]


def test_sessions_in_turn_share_their_days():
    text = PLAIN.replace("DAYS", "days Mon, Wed, Fri") + 'session "B"\n in turn with "A"\n do step-up\n'
    rules = [r["occurrenceTiming"]["repeat"] for r in requests(text)]
    assert [(r["frequency"], r["period"]) for r in rules] == [(3, 2), (3, 2)]


def test_code_says_the_whole_rule_in_words():
    code = request(PLAIN.replace("DAYS", "days Mon, Wed\n at 07:30 for 30 min"))["occurrenceTiming"]["code"]
    assert code == {"text": "Mon, Wed at 07:30 for 30 min (Europe/London)"}


def test_a_session_that_is_only_a_visit_has_dates_and_no_rule():
    text = PLAIN.replace("DAYS", "days Mon") + 'session "Call"\n days Tue\n visit in weeks 1, 4\n'
    call = requests(text)[1]
    assert call["occurrenceTiming"]["event"] == ["2027-03-02", "2027-03-23"]


def test_a_session_held_away_has_dates_of_its_own():
    text = PLAIN.replace("DAYS", "days Mon training weeks 1 to 2").replace(
        "  zone", '  away 2027-03-15 to 2027-03-21 "a wedding" do session "A"\n  zone'
    )
    usual, away = (r["occurrenceTiming"] for r in requests(text))
    assert usual["repeat"]["boundsPeriod"] == {"start": "2027-03-01", "end": "2027-03-14"}
    assert away["repeat"]["boundsPeriod"] == {"start": "2027-03-15", "end": "2027-03-21"}
    assert "dayOfWeek" not in away["repeat"]
    assert away["event"] == ["2027-03-15"]

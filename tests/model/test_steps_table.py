"""Tables of daily steps: what is understood, what is refused with its line, and that nothing is guessed."""

from __future__ import annotations

import csv
import io
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planlang.model.steps_table import read_steps
from planlang.text.source import Source


def steps_of(text):
    """The steps by ISO date, and for each finding its line with its message."""
    source = Source("p014-steps.csv", text)
    days, findings = read_steps(source)
    assert all(finding.advice for finding in findings)
    said = [(source.place(f.span).line if f.span else None, f.message) for f in findings]
    return {day.isoformat(): steps for day, steps in days}, said


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("date,steps\n2027-03-01,3200\n", 3200),
        ("2027-03-01,3200", 3200),
        ("\ufeffDate;Steps\r\n2027-03-01;3200\r\n", 3200),
        ("date\tsteps\n2027-03-01\t3200\n", 3200),
        ("day,count\r2027-03-01,3200\r", 3200),
        ("steps,date\n3200,2027-03-01\n", 3200),
        ("date,distance,step count,source\n2027-03-01,2.4,3200,phone\n", 3200),
        ("Datum;Schritte\n2027-03-01;3200\n", 3200),
        ("date,steps\n2027-03-01T23:59:00+11:00,3200\n", 3200),
        ("date,steps\n2027-03-01,0\n", 0),
        ("date,steps\n2027-03-01,3200.0\n", 3200),
        ('date,steps\n2027-03-01,"3200,0"\n', 3200),
        ("date,steps\n2027-03-01,10 684\n", 10684),
        ("date;steps\n2027-03-01;10\u00a0684\n", 10684),
        ("date;steps\n2027-03-01;10\u202f684\n", 10684),
        ("date;steps\n2027-03-01;10'684\n", 10684),
        ('"date","steps"\n"2027-03-01","3200"\n', 3200),
        ("date,steps\n\n2027-03-01,3200\n,\n", 3200),
        ("date,steps\n2027-03-01,3200\n2027-03-01,3200\n", 3200),
    ],
)
def test_what_can_be_read_in_one_way_is_read(text, steps):
    assert steps_of(text) == ({"2027-03-01": steps}, [])


@pytest.mark.parametrize("written", ["03/04/2027", "04.03.2027", "2027/03/04", "4 Mar 2027", "20270304", "2027-3-4"])
def test_a_date_that_is_not_iso_is_refused_with_its_line(written):
    found, said = steps_of(f"date,steps\n2027-03-01,3200\n{written},5000\n")
    assert found == {"2027-03-01": 3200}
    assert said == [(3, f"{written} is not a date that can be read in one way only.")]


@pytest.mark.parametrize("written", ["10,684", "10.684", "3,200"])
def test_thousands_or_decimals_are_not_guessed(written):
    found, said = steps_of(f'date;steps\n2027-03-01;"{written}"\n')
    assert found == {}
    assert said == [
        (2, f"{written} may be {written.replace(',', '').replace('.', '')}, or a number with a decimal mark.")
    ]


def test_a_mark_between_thousands_is_known_by_a_number_that_has_two_of_them():
    found, said = steps_of("date;steps\n2027-03-01;10.684\n2027-03-02;1.000.000\n")
    assert found == {"2027-03-01": 10684}
    assert said == [(3, "1.000.000 steps in a day are more than can be meant.")]


def test_a_comma_of_thousands_that_splits_a_line_is_no_small_number():
    found, said = steps_of("date,steps\n2027-03-01,10,684\n2027-03-02,900\n")
    assert found == {"2027-03-02": 900}
    assert [line for line, _ in said] == [2]
    assert "3 columns" in said[0][1]


@pytest.mark.parametrize("written", ["-5", "\u22125", "abc", "", "1e4", "3200.5", "+5", "3 200 steps", "32\x00"])
def test_what_is_no_count_is_refused(written):
    found, said = steps_of(f"date;steps\n2027-03-01;{written}\n")
    assert found == {}
    assert said[0][0] == 2
    assert "is no number of steps" in said[0][1]


def test_a_day_that_is_not_in_the_calendar_is_refused():
    assert steps_of("date,steps\n2027-02-30,100\n") == ({}, [(2, "There is no 2027-02-30 in the calendar.")])


def test_a_day_with_two_numbers_counts_nowhere():
    found, said = steps_of("date,steps\n2027-03-01,100\n2027-03-02,50\n2027-03-01,200\n")
    assert found == {"2027-03-02": 50}
    assert said == [(4, "2027-03-01 stands here twice, with 100 and 200 steps; neither counts.")]


@pytest.mark.parametrize("text", ["", "\n\n", "hello\n", "a,b,c\n2027-03-01,5,6\n", "date,steps\n"])
def test_a_table_without_days_says_so(text):
    found, said = steps_of(text)
    assert found == {}
    assert len(said) == 1


def test_many_faults_are_said_once_each_up_to_twenty_and_then_counted():
    _, said = steps_of("date,steps\n" + "03/04/2027,1\n" * 50)
    assert len(said) == 21
    assert said[-1] == (None, "30 further lines can't be read.")


def test_a_line_that_the_table_breaks_off_at_is_said():
    found, said = steps_of("date,steps\n2027-03-01,100\n2027-03-02," + "1" * 140_000 + "\n2027-03-03,5\n")
    assert found == {"2027-03-01": 100}
    assert said == [(3, "The table can't be read from line 3 on: a quote has no end, or a line is far too long.")]


@settings(max_examples=60, derandomize=True, deadline=None)
@given(st.dictionaries(st.integers(0, 400), st.integers(0, 60000), min_size=1), st.sampled_from(",;\t"), st.booleans())
def test_what_the_csv_module_writes_is_read_back(counts, separator, header):
    """RFC 4180, as Python's own writer has it."""
    rows = [((date(2027, 1, 1) + timedelta(day)).isoformat(), steps) for day, steps in counts.items()]
    out = io.StringIO()
    writer = csv.writer(out, delimiter=separator)
    if header:
        writer.writerow(("date", "steps"))
    writer.writerows(rows)
    assert steps_of(out.getvalue()) == (dict(rows), [])


@settings(max_examples=150, derandomize=True, deadline=None)
@given(st.text(alphabet=st.sampled_from("date,steps;\t\n\r\"'0123456789-.:T \ufeff\u00a0\x00a"), max_size=80))
def test_any_text_is_read_or_refused(text):
    source = Source("any.csv", text)
    days, findings = read_steps(source)
    assert all(0 <= steps <= 200_000 for _, steps in days)
    assert [day for day, _ in days] == sorted({day for day, _ in days})
    assert days or findings
    assert all(f.span is None or source.place(f.span).line >= 1 for f in findings)

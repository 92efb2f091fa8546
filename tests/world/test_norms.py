"""Norm tables, equations, energy costs and step conversions against what was published."""

from __future__ import annotations

from fractions import Fraction

import pytest

from planlang.model.catalogue import activities, cadences, measures
from planlang.model.records import Norms
from planlang.model.walking import cadence, met_minutes, steps_in, steps_over

AGES = (60, 65, 70, 75, 80, 85, 90)


def norms(measure: str, source: str, table: str = "") -> Norms:
    """The one table of a measure whose source and name begin so."""
    (found,) = [n for n in measures()[measure].norms if n.ground.source.startswith(source) and table in n.table]
    return found


def column(table: Norms, sex: str, field: str) -> list[float]:
    return [float(getattr(row, field)) for row in table.rows if row.sex == sex]


# --- chair stands ----------------------------------------------------------------------------------


@pytest.mark.parametrize(("sex", "below"), [("men", [14, 12, 12, 11, 10, 8, 7]), ("women", [12, 11, 10, 10, 9, 8, 4])])
def test_below_average_chair_stands_of_steadi(sex: str, below: list[float]):
    # CDC STEADI, 30-Second Chair Stand (read in secondary copies)
    assert column(norms("chair-stands", "CDC STEADI"), sex, "low") == below


@pytest.mark.parametrize(
    ("edition", "sex", "low", "high"),
    [
        ("Rikli and Jones 1999", "men", [14, 12, 12, 11, 10, 8, 7], [19, 18, 17, 17, 15, 14, 12]),
        ("Rikli and Jones 2013", "men", [14, 13, 12, 11, 10, 8, 7], [19, 18, 17, 17, 15, 13, 12]),
        ("Rikli and Jones 1999", "women", [12, 11, 10, 10, 9, 8, 4], [17, 16, 15, 15, 14, 13, 11]),
        ("Rikli and Jones 2013", "women", [12, 11, 10, 10, 9, 8, 4], [17, 16, 15, 15, 14, 13, 11]),
    ],
)
def test_middle_half_of_chair_stands(edition: str, sex: str, low: list[float], high: list[float]):
    # Rikli and Jones 1999, J Aging Phys Act 7:162 (n = 7183); manual of 2013: 25th to 75th centile
    table = norms("chair-stands", edition)
    assert (column(table, sex, "low"), column(table, sex, "high")) == (low, high)


def test_ages_of_the_chair_stand_tables_join_without_a_gap():
    for table in measures()["chair-stands"].norms:
        for sex in ("men", "women"):
            assert [row.ages for row in table.rows if row.sex == sex] == [(a, a + 4) for a in AGES]


def test_steadi_s_line_is_the_quarter_of_rikli_and_jones():
    # the two sources agree: below average is below the 25th centile of the edition of 1999
    for sex in ("men", "women"):
        assert column(norms("chair-stands", "CDC STEADI"), sex, "low") == column(
            norms("chair-stands", "Rikli and Jones 1999"), sex, "low"
        )


# --- other tests -----------------------------------------------------------------------------------


def test_timed_up_and_go_by_decade():
    # Bohannon 2006, J Geriatr Phys Ther 29:64: mean and 95 % interval
    table = norms("timed-up-and-go", "Bohannon 2006")
    assert [row.ages for row in table.rows] == [(60, 69), (70, 79), (80, 99)]
    assert column(table, "both", "mean") == [8.1, 9.2, 11.3]
    assert column(table, "both", "low") == [7.1, 8.2, 10.0]
    assert column(table, "both", "high") == [9.0, 10.2, 12.7]


def test_five_chair_stands_worse_than_average():
    # Bohannon 2006, meta-analysis of the five-repetition sit-to-stand
    assert column(norms("five-chair-stands", "Bohannon 2006"), "both", "high") == [11.4, 12.6, 14.8]


def test_single_leg_stance_in_two_sources():
    # Springer et al 2007, J Geriatr Phys Ther 30:8 (rounded); Bohannon 2006, Top Geriatr Rehabil 22:70
    springer, bohannon = norms("single-leg-stance", "Springer"), norms("single-leg-stance", "Bohannon")
    assert column(springer, "both", "mean") == [40, 37, 27, 15, 6]
    assert column(bohannon, "both", "mean") == [27.0, 17.2, 8.5]
    assert springer.rows[-1].ages[0] == bohannon.rows[-1].ages[0] == 80


@pytest.mark.parametrize(
    ("measure", "low", "high", "source"),
    [
        ("chair-stands", 2.5, None, "Gill et al 2022"),
        ("timed-up-and-go", 1.10, 1.14, "Alghadir et al 2015"),
        ("six-minute-walk", 61.3, None, "Kennedy et al 2005"),
        ("stairs", 5.5, None, "Kennedy et al 2005"),
        ("fast-walk", 4.04, None, "Kennedy et al 2005"),
        ("five-chair-stands", 3.6, 4.2, "several"),
        ("named-activity", 3, None, "Stratford et al 1995"),
        ("named-activities", 2, None, "Stratford et al 1995"),
    ],
)
def test_smallest_change_beyond_error(measure: str, low: float, high: float | None, source: str):
    error = measures()[measure].error
    assert error is not None
    assert (float(error.low), error.high and float(error.high)) == (low, high)
    assert error.ground.source.startswith(source)


def test_important_change_of_walking_speed_in_both_units():
    # Gilbert et al 2021, Arthritis Care Res 73:559: 4.1 to 6.9 m/min, which is 0.068 to 0.115 m/s
    change = measures()["walking-speed"].important
    assert change is not None
    assert [round(float(v), 3) for v in (change.low, change.high or 0)] == [round(v / 60, 3) for v in (4.1, 6.9)]


# --- six-minute walk -------------------------------------------------------------------------------


def predicted(author: str, sex: str, height: float, age: int, weight: float) -> float:
    (equation,) = [e for e in measures()["six-minute-walk"].equations if (e.author, e.sex) == (author, sex)]
    return float(equation.predict(Fraction(str(height)), age, Fraction(str(weight))))


PUBLISHED = {
    # ERS/ATS 2014 technical standard on field walking tests, table 5 (h cm, a years, w kg)
    ("Enright and Sherrill 1998", "men"): lambda h, a, w: 7.57 * h - 5.02 * a - 1.76 * w - 309,
    ("Enright and Sherrill 1998", "women"): lambda h, a, w: 2.11 * h - 2.29 * w - 5.78 * a + 667,
    ("Enright 2003", "men"): lambda h, a, w: 510 + 2.2 * h - 0.93 * w - 5.3 * a,
    ("Enright 2003", "women"): lambda h, a, w: 493 + 2.2 * h - 0.93 * w - 5.3 * a,
    ("Troosters 1999", "men"): lambda h, a, w: 218 + 5.14 * h - 5.32 * a - 1.80 * w + 51.31,
    ("Troosters 1999", "women"): lambda h, a, w: 218 + 5.14 * h - 5.32 * a - 1.80 * w,
    ("Gibbons 2001", "men"): lambda h, a, w: 868.8 - 2.99 * a,
    ("Gibbons 2001", "women"): lambda h, a, w: 868.8 - 2.99 * a - 74.7,
    ("Camarri 2006", "men"): lambda h, a, w: 216.90 + 4.12 * h - 1.75 * a - 1.15 * w,
    ("Camarri 2006", "women"): lambda h, a, w: 216.90 + 4.12 * h - 1.75 * a - 1.15 * w - 34.04,
    ("Jenkins 2009", "men"): lambda h, a, w: 867 - 5.71 * a + 1.03 * h,
    ("Jenkins 2009", "women"): lambda h, a, w: 525 - 2.86 * a + 2.71 * h - 6.22 * w / (h / 100) ** 2,
}


@pytest.mark.parametrize(("author", "sex"), PUBLISHED)
@pytest.mark.parametrize("person", [(175.0, 65, 85.0), (162.0, 65, 75.0), (150.0, 84, 48.5), (191.0, 41, 110.0)])
def test_six_minute_walk_as_the_table_prints_it(author: str, sex: str, person: tuple[float, int, float]):
    assert predicted(author, sex, *person) == pytest.approx(PUBLISHED[author, sex](*person), abs=1e-6)


def test_six_minute_walk_of_two_people():
    # our own arithmetic on Enright and Sherrill 1998, Am J Respir Crit Care Med 158:1384; no example is in print
    assert predicted("Enright and Sherrill 1998", "men", 175, 65, 85) == pytest.approx(539.85)
    assert predicted("Enright and Sherrill 1998", "women", 162, 65, 75) == pytest.approx(461.37)


def test_every_equation_in_the_data_is_one_of_the_table():
    assert {(e.author, e.sex) for e in measures()["six-minute-walk"].equations} == set(PUBLISHED)


# --- energy costs ----------------------------------------------------------------------------------

METS = """
17151 2.3 2.0   17152 2.8 2.8   17170 3.0 3.0   17190 3.8 3.5   17200 4.8 4.3   17220 5.5 5.0   17302 4.3 -
17133 4.5 4.0   17070 3.5 3.5   17140 4.5 -     17150 2.3 2.0   17165 3.0 3.0   01018 3.5 3.5   01210 3.5 -
01214 4.0 -     01216 5.0 -     01218 5.8 -     01220 6.0 6.8   01200 6.8 7.0   15670 3.3 3.0   15672 1.5 1.5
15674 6.0 -     15465 3.3 3.3   15570 3.0 -     15615 3.5 -     15680 6.0 6.0   15685 4.5 4.5   03040 3.0 3.0
02071 5.0 4.8   02070 7.3 6.0   02072 7.5 7.0   02120 5.5 5.3   02101 2.3 2.3   02105 2.8 3.0   02150 2.3 2.5
08245 - 3.8     18310 - 6.0
"""
"""Code, METs of 2024, METs of 2011. Herrmann et al 2024, J Sport Health Sci 13:6; Ainsworth et al 2011, Med Sci Sports
Exerc 43:1575; both in secondary copies, the figures that the data mark so from memory."""


def test_energy_costs_by_edition():
    cells = METS.split()
    published = {cells[i]: (cells[i + 1], cells[i + 2]) for i in range(0, len(cells), 3)}
    held = {
        a.code: tuple("-" if (met := a.met(edition)) is None else str(float(met)) for edition in (2024, 2011))
        for a in activities().values()
    }
    assert held == published


def test_brisk_walking_for_half_an_hour_on_five_days_in_both_editions():
    # 5 x 30 min of 3.5 mph: 645 MET-min at 4.3 (2011), 720 at 4.8 (2024); our own arithmetic
    brisk = next(a for a in activities().values() if a.code == "17200")
    assert met_minutes(brisk, Fraction(150), 2011) == 645
    assert met_minutes(brisk, Fraction(150), 2024) == 720


def test_the_week_of_the_guidelines_is_six_hundred():
    # WHO, Global Physical Activity Questionnaire: 150 min x 4 METs = 600 MET-min a week
    four = next(a for a in activities().values() if a.code == "01214")
    assert met_minutes(four, Fraction(150), 2024) == 600
    assert met_minutes(four, Fraction(150), 2011) is None


# --- steps -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("feet", "inches", "steps"), [(5, 5, 2321), (6, 0, 2095)])
def test_steps_to_a_mile(feet: int, inches: int, steps: int):
    # rule of thumb, step length 0.42 of height (a reference page): 5 ft 5 in 2321 steps a mile, 6 ft 2095
    height = Fraction("2.54") * (feet * 12 + inches)
    assert round(steps_over(Fraction("1609.344"), height)) == steps


def test_a_kilometre_is_thirteen_to_sixteen_hundred_steps():
    assert 1250 < steps_over(Fraction(1000), Fraction(190)) < steps_over(Fraction(1000), Fraction(150)) < 1600


def test_without_a_height_there_is_no_step_length():
    with pytest.raises(ValueError, match="0 cm"):
        steps_over(Fraction(1000), Fraction(0))


def test_half_an_hour_is_three_thousand_steps():
    # Tudor-Locke et al 2011, Int J Behav Nutr Phys Act 8:80: 30 min at 100 steps a minute, on top of a day's own steps
    assert steps_in(Fraction(30)) == 3000


@pytest.mark.parametrize(("mets", "rounded", "regression", "roc"), [
    (3, 100, 103.1, 100.3), (4, 110, 116.4, 111.5), (5, 120, 129.6, 116.0), (6, 130, 142.9, 128.6)])  # fmt: skip
def test_cadence_from_sixty_one_on(mets: int, rounded: int, regression: float, roc: float):
    # Tudor-Locke et al 2021, Int J Behav Nutr Phys Act 18:129; 110 and 120 from memory
    assert {cadence(mets, age) for age in (61, 72, 85)} == {rounded}
    (held,) = [c for c in cadences().values() if c.mets == mets and c.ages == (61, 85)]
    assert (float(held.regression), held.roc and float(held.roc)) == (regression, roc)


@pytest.mark.parametrize(("age", "three", "six"), [(30, 102, 129), (50, 101.7, 132.1)])
def test_cadence_of_younger_people(age: int, three: float, six: float):
    found = {c.mets: float(c.regression) for c in cadences().values() if c.ages[0] <= age <= c.ages[1]}
    assert found == {3: three, 6: six}
    assert (cadence(3, age), cadence(6, age)) == (100, 130)


def test_no_cadence_is_made_up():
    assert cadence(5, 30) is None
    assert cadence(3, 90) is None

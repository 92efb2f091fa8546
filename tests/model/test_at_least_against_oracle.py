"""Whether one dose is at least another: the product says what the slow reading says."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings

from planlang.model.compare import at_least
from planlang.model.plan import Baseline, Today
from planlang.model.quantity import Quantity
from tests.oracle import atleast
from tests.strategies import dose_pairs, doses, examples

WEIGHED = Today(measures=(Baseline("body-weight", Quantity(Fraction(80), "kg")),))


@settings(max_examples=examples(200), derandomize=True, deadline=None)
@given(dose_pairs())
def test_at_least_without_baselines(pair):
    x, d = pair
    assert atleast.at_least(x, d, Today()) is bool(at_least(x, d, Today()))


@settings(max_examples=examples(200), derandomize=True, deadline=None)
@given(dose_pairs())
def test_at_least_with_body_weight_known(pair):
    x, d = pair
    assert atleast.at_least(x, d, WEIGHED) is bool(at_least(x, d, WEIGHED))


@settings(max_examples=examples(100), derandomize=True, deadline=None)
@given(doses())
def test_a_dose_is_at_least_itself(dose):
    assert at_least(dose, dose, Today()) is True
    assert atleast.at_least(dose, dose, Today())

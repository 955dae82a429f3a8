"""Present value, annuity, energy rules, lifetimes against outside references."""

import numpy as np
import numpy_financial as npf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import weibull_min

from coldwright.errors import OutOfRange
from coldwright.worth.energy_rules import (
    CUBIC_FOOT_M3,
    RULES,
    adjusted_volume,
    most_energy,
    product_class,
    rule_of,
)
from coldwright.worth.finance import annuity_factor, discount, yearly_payment
from coldwright.worth.lifetimes import MEAN_LIFE_YEARS, SHAPE, remaining_life, scale_of

# Below a hundredth of a percent the reference library loses its digits, at 0 it warns.
RATES = st.floats(1e-4, 0.4)


@given(RATES, st.integers(1, 40), st.floats(1.0, 5000.0))
def test_present_value_is_numpy_financials(rate, years, yearly):
    mine = yearly * float(annuity_factor(rate, years))
    assert mine == pytest.approx(-npf.pv(rate, years, yearly), rel=1e-6)


@given(RATES, st.integers(1, 40), st.floats(1.0, 5000.0))
def test_yearly_payment_is_numpy_financials(rate, years, price):
    theirs = -npf.pmt(rate, years, price)
    assert yearly_payment(price, rate, years) == pytest.approx(theirs, rel=1e-6)


def test_without_a_rate_every_year_counts_the_same():
    assert float(annuity_factor(0.0, 7.5)) == 7.5
    assert float(discount(0.0, 7.5)) == 1.0
    assert yearly_payment(700.0, 0.0, 14.0) == pytest.approx(50.0)
    assert float(annuity_factor(1e-7, 10.0)) == pytest.approx(10.0, rel=1e-5)


@given(RATES, st.integers(0, 40))
def test_discount_is_numpy_financials(rate, years):
    assert float(discount(rate, years)) == pytest.approx(-npf.pv(rate, years, 0.0, 1.0), rel=1e-6)


@given(RATES, st.floats(0.0, 20.0), st.floats(0.0, 20.0))
def test_two_stretches_add_up_to_one(rate, first, second):
    whole = float(annuity_factor(rate, first + second))
    later = discount(rate, first) * annuity_factor(rate, second)
    assert whole == pytest.approx(float(annuity_factor(rate, first) + later), rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("rate", [-0.01, 0.51, float("nan")])
def test_a_rate_that_cannot_be_is_refused(rate):
    for call in (annuity_factor, discount):
        with pytest.raises(OutOfRange, match="discount rate"):
            call(rate, 5.0)


# 42 U.S.C. 6295(b)(1); 10 CFR 430.32(a); 89 FR 3026: class 3 at 20 ft3, worked, nearest kWh.
@pytest.mark.parametrize(
    ("year", "kwh"), [(1990, 941), (1993, 675), (2001, 472), (2014, 395), (2029, 336)]
)
def test_class_3_at_20_cubic_feet(year, kwh):
    assert most_energy(rule_of(year, "3"), 20.0) == kwh


@pytest.mark.parametrize(
    ("year", "name", "slope", "intercept"),
    [
        (1990, "7", 30.9, 547), (1990, "10", 14.8, 223), (1993, "4", 11.8, 501),
        (1993, "9", 14.9, 391), (2001, "5", 4.60, 459.0), (2001, "8", 7.55, 258.3),
        (2014, "1", 7.99, 225.0), (2014, "4", 8.51, 297.8),
    ],
)  # fmt: skip
def test_rules_as_published(year, name, slope, intercept):
    (rule,) = [r for r in RULES if (r.first_year, r.product_class) == (year, name)]
    assert (rule.slope_kwh_ft3, rule.intercept_kwh) == (slope, intercept)


def test_every_rule_says_how_it_is_known_and_the_newest_in_force_is_found():
    assert all(r.known for r in RULES)
    assert rule_of(1989, "3") is None
    assert rule_of(2000, "3").first_year == 1993
    assert rule_of(2020, "3").first_year == 2014


def test_a_2014_rule_takes_its_own_volume_factor():
    fresh, cold = 10 * CUBIC_FOOT_M3, 5 * CUBIC_FOOT_M3
    assert adjusted_volume("top_mount", fresh, cold, 2001) == pytest.approx(10 + 1.63 * 5)
    assert adjusted_volume("top_mount", fresh, cold, 2014) == pytest.approx(10 + 1.76 * 5)
    assert adjusted_volume("chest_freezer", 0.0, cold, 2001) == pytest.approx(1.73 * 5)
    with pytest.raises(OutOfRange):
        adjusted_volume("side_by_side", 40 * CUBIC_FOOT_M3, 0.0, 2014)


def test_half_a_kilowatt_hour_goes_up():
    rule = rule_of(1990, "3")
    assert most_energy(rule, 1.0) == 495  # 494.5


def test_every_kind_has_a_class_with_a_rule():
    for kind in MEAN_LIFE_YEARS:
        for automatic in (False, True):
            assert rule_of(2014, product_class(kind, automatic=automatic)) is not None


def test_a_new_one_lives_its_mean_life():
    u = (np.arange(20000) + 0.5) / 20000
    for mean in MEAN_LIFE_YEARS.values():
        assert np.mean(remaining_life(mean, 0.0, u)) == pytest.approx(mean, rel=2e-3)


@pytest.mark.parametrize("age", [0.0, 5.0, 12.0, 25.0])
def test_remaining_life_is_the_conditional_weibull(age):
    u = (np.arange(500) + 0.5) / 500
    left = remaining_life(17.4, age, u)
    law = weibull_min(SHAPE, scale=scale_of(17.4))
    assert law.sf(left + age) / law.sf(age) == pytest.approx(u, rel=1e-6)
    assert np.all(left >= 0.0)


def test_about_a_third_are_over_20_years_old_when_replaced():
    # Young (2007), abstract, Canada 2003: almost one third of those replaced were over 20 years.
    law = weibull_min(SHAPE, scale=scale_of(17.4))
    assert 0.25 < law.sf(20.0) < 0.40

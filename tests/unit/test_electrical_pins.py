"""Pins from ohms: any order, noise, one missing, and what does not fit together."""

import math
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldwright.electrical.pins import PAIRS, Pattern, name_pins, sum_margin
from coldwright.errors import OutOfRange, Refused

RUN = st.floats(2.0, 40.0)
RATIO = st.floats(1.6, 5.0)


def between(common, run, start, ohms):
    """The readings 1-2, 1-3, 2-3 of a machine with these pins and (run, start) ohms."""
    by_pair = {
        frozenset((common, run)): ohms[0],
        frozenset((common, start)): ohms[1],
        frozenset((run, start)): ohms[0] + ohms[1],
    }
    return tuple(by_pair[frozenset(pair)] for pair in PAIRS)


@pytest.mark.parametrize("pins", list(permutations((1, 2, 3))))
@given(run=RUN, ratio=RATIO, noise=st.tuples(*[st.floats(-0.01, 0.01)] * 3))
def test_any_order_of_consistent_ohms_finds_the_same_pins(pins, run, ratio, noise):
    readings = between(*pins, (run, run * ratio))
    noisy = tuple(r * (1.0 + e) for r, e in zip(readings, noise, strict=True))
    (found,) = name_pins(noisy)
    assert found.pattern is Pattern.WINDINGS
    assert (found.common, found.run, found.start) == pins
    assert found.run_ohm == pytest.approx(run, rel=0.011)
    assert found.computed == ""


@pytest.mark.parametrize("pins", list(permutations((1, 2, 3))))
@pytest.mark.parametrize("missing", (0, 1, 2))
@given(run=RUN, ratio=RATIO)
def test_one_missing_is_computed_and_the_truth_is_among_the_namings(pins, missing, run, ratio):
    readings = list(between(*pins, (run, run * ratio)))
    left_out = readings[missing]
    readings[missing] = None
    found = name_pins(tuple(readings))
    assert sum(p.probability for p in found) == pytest.approx(1.0)
    assert found[0].probability == max(p.probability for p in found)
    assert all(p.computed for p in found)
    assert all(p.run_to_start_ohm == pytest.approx(p.run_ohm + p.start_ohm) for p in found)

    def gap(p):
        return min(abs(r - left_out) for r in (p.run_ohm, p.start_ohm, p.run_to_start_ohm))

    assert min(map(gap, found)) < 1e-9 * max(left_out, 1.0)


def test_a_usual_ratio_is_the_likelier_naming():
    first, second = name_pins((22.0, None, 8.2))
    assert (first.run_to_start_ohm, second.start_ohm) == (
        pytest.approx(30.2),
        pytest.approx(13.8),
    )
    assert first.probability > 2 * second.probability
    assert "sum" in first.note
    assert "difference" in second.note


@given(run=RUN, ratio=RATIO, off=st.floats(1.05, 3.0), sign=st.sampled_from((-1.0, 1.0)))
def test_ohms_that_do_not_add_up_name_nothing(run, ratio, off, sign):
    total = run * (1.0 + ratio)
    largest = total + sign * off * sum_margin(total)
    if largest <= run * ratio:  # then another pair is the largest
        return
    (found,) = name_pins((run, run * ratio, largest))
    assert found.pattern in (Pattern.INCONSISTENT, Pattern.THREE_EQUAL)
    assert found.common == 0


def test_both_numbers_are_told_where_they_do_not_add_up():
    (found,) = name_pins((8.0, 22.0, 50.0))
    assert "50 ohm" in found.note
    assert "30 ohm" in found.note
    assert found.sum_error_ohm == pytest.approx(20.0)


@pytest.mark.parametrize(
    ("readings", "pattern"),
    [
        ((math.inf, math.inf, 30.0), Pattern.ONE_PAIR),
        ((math.inf,) * 3, Pattern.ALL_OPEN),
        ((math.inf, 3.0, 4.0), Pattern.INCONSISTENT),
        ((0.1, 0.2, 0.1), Pattern.SHORTED),
        ((8.0, 8.1, 8.05), Pattern.THREE_EQUAL),
        ((1e6, 8.0, 30.0), Pattern.INCONSISTENT),
    ],
)
def test_patterns_without_names(readings, pattern):
    (found,) = name_pins(readings)
    assert found.pattern is pattern
    assert (found.common, found.run, found.start) == (0, 0, 0)
    assert found.note


def test_lone_pin_is_named_and_left_to_cool():
    (found,) = name_pins((math.inf, 30.0, math.inf))
    assert "Pin 2" in found.note
    assert "cool" in found.note


def test_twins_are_not_told_apart():
    (found,) = name_pins((18.0, 20.0, 38.0))
    assert "too alike" in found.note


def test_what_cannot_be_is_refused():
    with pytest.raises(OutOfRange, match="winding resistance is -3"):
        name_pins((-3.0, 8.0, 11.0))
    with pytest.raises(OutOfRange):
        name_pins((math.nan, 8.0, 11.0))
    with pytest.raises(Refused, match="one resistance"):
        name_pins((8.0, None, None))
    with pytest.raises(Refused, match="one open"):
        name_pins((8.0, math.inf, None))

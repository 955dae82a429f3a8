"""A value that cannot be is not built."""

import math

import pytest

from coldwright.errors import OutOfRange
from coldwright.readings.measured import Measured


def test_a_value_with_its_deviation():
    assert (Measured(255.15, 0.3).value, Measured(255.15, 0.3).sd) == (255.15, 0.3)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_value_must_be_finite(value):
    with pytest.raises(OutOfRange, match="measured value"):
        Measured(value, 0.3)


@pytest.mark.parametrize("sd", [0.0, -0.1, math.nan, math.inf])
def test_deviation_must_be_above_zero(sd):
    with pytest.raises(OutOfRange, match="standard deviation"):
        Measured(255.15, sd)

"""Resistance of copper against temperature, held to published numbers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldwright.electrical.copper import ALUMINIUM, COPPER, REFERENCE_K
from coldwright.errors import OutOfRange

ZERO_C_K = 273.15
# IEC 60028 (1925): annealed copper, constant-mass coefficient at 20 °C.
IEC_60028_PER_K = 0.00393
# IEC 60228, factors that bring a resistance at t °C to 20 °C, as reprinted in a table on the web.
IEC_60228 = {
    5: 1.064, 10: 1.042, 15: 1.020, 20: 1.000, 25: 0.980, 30: 0.962, 35: 0.943, 40: 0.926,
    45: 0.909, 50: 0.893, 55: 0.877, 60: 0.862, 65: 0.847, 70: 0.833, 75: 0.820, 80: 0.806,
    85: 0.794, 90: 0.781, 95: 0.769, 100: 0.758,
}  # fmt: skip
FACTOR_RTOL = 0.005  # the standard's table is 250 / (230 + t), rounded: up to 0.4 % from 234.5


def test_coefficient_at_20_c():
    assert COPPER.coefficient(REFERENCE_K) == pytest.approx(IEC_60028_PER_K, abs=5e-6)
    # IEC 60228 gives 0.00403 per K for aluminium cable; wound aluminium is taken at k = 225
    assert ALUMINIUM.coefficient(REFERENCE_K) == pytest.approx(0.00403, rel=0.02)


@pytest.mark.parametrize(("celsius", "factor"), IEC_60228.items())
def test_correction_to_20_c(celsius, factor):
    found = COPPER.resistance_at(1.0, ZERO_C_K + celsius)
    assert found == pytest.approx(factor, rel=FACTOR_RTOL)


def test_resistance_method_by_its_printed_formula():
    """UL's T = R / r (k + t) - k with k = 234.5 (reprint read); IEC 60335-1, 11.3 from memory."""
    cold, hot, t = 12.4, 15.1, 22.0
    printed = hot / cold * (234.5 + t) - 234.5
    found = COPPER.mean_temperature(hot, cold, ZERO_C_K + t) - ZERO_C_K
    assert found == pytest.approx(printed, abs=1e-9)
    assert found == pytest.approx(77.85, abs=0.01)


def test_constant_of_rotating_machines_moves_the_answer_little():
    """IEC 60034-1 prints k = 235 for copper (from memory)."""
    by_235 = 15.1 / 12.4 * (235.0 + 22.0) - 235.0
    assert COPPER.mean_temperature(15.1, 12.4, 295.15) - ZERO_C_K == pytest.approx(by_235, abs=0.2)


@given(ohm=st.floats(0.5, 100.0), cold=st.floats(250.0, 310.0), hot=st.floats(250.0, 450.0))
def test_there_and_back(ohm, cold, hot):
    warm = COPPER.resistance_at(ohm, cold, hot)
    assert COPPER.mean_temperature(warm, ohm, cold) == pytest.approx(hot, abs=1e-6)
    assert COPPER.resistance_at(warm, hot, cold) == pytest.approx(ohm)
    assert (warm > ohm) == (hot > cold) or warm == pytest.approx(ohm)


def test_what_cannot_be_is_refused():
    with pytest.raises(OutOfRange, match="resistance is -1"):
        COPPER.resistance_at(-1.0, 300.0)
    with pytest.raises(OutOfRange, match="cold resistance"):
        COPPER.mean_temperature(8.0, 0.0, 300.0)
    with pytest.raises(OutOfRange, match="mean winding temperature"):
        COPPER.mean_temperature(80.0, 8.0, 293.15)
    with pytest.raises(OutOfRange, match="winding temperature"):
        COPPER.resistance_at(8.0, 600.0)

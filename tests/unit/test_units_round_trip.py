"""What goes out through the door comes back in as the same value."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldwright import units
from coldwright.errors import BadInput
from coldwright.units import Dimension as D
from coldwright.units import parse, show

SYSTEMS = st.sampled_from(["si", "us"])
AMBIENTS = st.floats(5e4, 1.1e5)


def finite(low, high):
    return st.floats(low, high, allow_nan=False, allow_infinity=False)


@given(finite(150.0, 500.0), SYSTEMS)
def test_temperature(kelvin, system):
    text = show(kelvin, D.TEMPERATURE, system)
    assert parse(text, D.TEMPERATURE) == pytest.approx(kelvin, abs=0.0501)


@given(finite(-100.0, 100.0), SYSTEMS)
def test_temperature_difference(kelvin, system):
    text = show(kelvin, D.TEMPERATURE_DIFFERENCE, system)
    assert parse(text, D.TEMPERATURE_DIFFERENCE) == pytest.approx(kelvin, abs=0.0501)


@given(finite(0.01, 4e6), AMBIENTS, SYSTEMS)
def test_pressure(pascal, ambient, system):
    text = show(pascal, D.PRESSURE, system, ambient_pa=ambient)
    back = units.parse_pressure(text, ambient_pa=ambient)
    # shown to 0.01 bar, 0.1 psi (345 Pa half) or three figures of a deep vacuum
    assert back.pascal_absolute == pytest.approx(pascal, rel=0.0051, abs=501.0)
    assert not back.gauge_assumed


PLAIN = [d for d in D if d not in (D.TEMPERATURE, D.TEMPERATURE_DIFFERENCE, D.PRESSURE, D.KIND)]


@pytest.mark.parametrize("dimension", PLAIN)
@given(value=finite(1e-9, 1e9), system=SYSTEMS, digits=st.integers(2, 12))
def test_plain_quantity(dimension, value, system, digits):
    text = show(value, dimension, system, digits=digits)
    assert parse(text, dimension) == pytest.approx(value, rel=0.5001 * 10.0 ** (1 - digits))


@given(finite(-200.0, 400.0))
def test_celsius_and_fahrenheit(t):
    assert units.celsius_from_kelvin(units.kelvin_from_celsius(t)) == pytest.approx(t, abs=1e-9)
    back = units.fahrenheit_from_kelvin(units.kelvin_from_fahrenheit(t))
    assert back == pytest.approx(t, abs=1e-9)


@given(finite(-0.5, 40.0), AMBIENTS)
def test_gauge_pressures(p, ambient):
    for there, back in (
        (units.pascal_abs_from_bar_gauge, units.bar_gauge_from_pascal_abs),
        (units.pascal_abs_from_psig, units.psig_from_pascal_abs),
        (units.pascal_abs_from_inhg_vacuum, units.inhg_vacuum_from_pascal_abs),
    ):
        assert back(there(p, ambient), ambient) == pytest.approx(p, abs=1e-6)


@given(finite(-100.0, 100.0), finite(-100.0, 100.0))
def test_a_difference_is_the_difference_of_two_temperatures(a, b):
    in_f = units.kelvin_from_fahrenheit(a) - units.kelvin_from_fahrenheit(b)
    assert units.kelvin_difference_from_fahrenheit_difference(a - b) == pytest.approx(
        in_f, abs=1e-9
    )
    in_c = units.kelvin_from_celsius(a) - units.kelvin_from_celsius(b)
    assert units.kelvin_difference_from_celsius_difference(a - b) == pytest.approx(in_c, abs=1e-9)


def refusal(text, dimension):
    """The message if the text is refused, None if it is parsed."""
    try:
        parse(text, dimension, file="f", key="k")
    except BadInput as refused:
        return str(refused)
    return None


@given(st.text(max_size=30), st.sampled_from(list(D)))
def test_any_text_is_parsed_or_refused_in_one_line(text, dimension):
    message = refusal(text, dimension)
    assert message is None or (message.startswith("f: k: read '") and "\n" not in message)

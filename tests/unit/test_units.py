"""The door: what is let in, as what, and what is turned away.

Factors are checked against NIST Special Publication 811 (2008), appendix B.8,
as printed there (seven figures), and against definitions.
"""

import math

import pytest

from coldwright import units
from coldwright.errors import BadInput
from coldwright.units import Basis, dimensions_of, parse, parse_pressure, show
from coldwright.units import Dimension as D

ATM = 101_325.0
PRINTED = 5e-7  # SP 811 prints seven significant figures


@pytest.mark.parametrize(
    ("text", "dimension", "printed"),
    [
        ("1 psi", D.PRESSURE_DIFFERENCE, 6.894757e3),
        ("1 inHg", D.PRESSURE_DIFFERENCE, 3.386389e3),
        ("1 mmHg", D.PRESSURE_DIFFERENCE, 1.333224e2),
        ("1 Torr", D.PRESSURE_DIFFERENCE, 1.333224e2),
        ("1 kgf/cm2", D.PRESSURE_DIFFERENCE, 9.80665e4),
        ("1 atm", D.PRESSURE_DIFFERENCE, 1.01325e5),
        ("1 oz", D.MASS, 2.834952e-2),
        ("1 lb", D.MASS, 4.535924e-1),
        ("1 in", D.LENGTH, 2.54e-2),
        ("1 ft", D.LENGTH, 3.048e-1),
        ("1 ft2", D.AREA, 9.290304e-2),
        ("1 in2", D.AREA, 6.4516e-4),
        ("1 cu ft", D.VOLUME, 2.831685e-2),
        ("1 in3", D.VOLUME, 1.638706e-5),
        ("1 BTU/h", D.POWER, 2.930711e-1),
        ("1 hp", D.POWER, 7.456999e2),
        ("1 PS", D.POWER, 7.354988e2),
        ("1 kcal/h", D.POWER, 1.163),
        ("1 lb/h", D.MASS_FLOW, 1.259979e-4),
        ("1 rpm", D.ROTATIONAL_SPEED, 1.666667e-2),
    ],
)
def test_factor_as_printed_by_nist_sp_811(text, dimension, printed):
    assert parse(text, dimension) == pytest.approx(printed, rel=PRINTED)


@pytest.mark.parametrize(
    ("text", "kelvin"),
    [
        ("-18 °C", 255.15),
        ("-18 C", 255.15),
        ("−18 °C", 255.15),
        ("–18°C", 255.15),
        ("- 18 ºC", 255.15),
        ("-18 ℃", 255.15),
        ("-18 degC", 255.15),
        ("-18 celsius", 255.15),
        ("-17,5 °C", 255.65),
        ("0 degF", 255.372222),
        ("0 °F", 255.372222),
        ("-40 f", 233.15),
        ("255 K", 255.0),
        ("+4 °C", 277.15),
        ("0 K", 0.0),
        ("-273.15 °C", 0.0),
    ],
)
def test_temperature(text, kelvin):
    assert parse(text, D.TEMPERATURE) == pytest.approx(kelvin, abs=1e-6)


@pytest.mark.parametrize("text", ["-273.2 °C", "-1 K", "-460 °F", "-300 °C"])
def test_below_absolute_zero_is_refused(text):
    with pytest.raises(BadInput, match="above absolute zero"):
        parse(text, D.TEMPERATURE)


@pytest.mark.parametrize(
    ("text", "kelvin"), [("5 K", 5.0), ("9 °F", 5.0), ("5 °C", 5.0), ("-9 degF", -5.0)]
)
def test_a_temperature_difference_has_no_offset(text, kelvin):
    assert parse(text, D.TEMPERATURE_DIFFERENCE) == pytest.approx(kelvin)


@pytest.mark.parametrize(
    ("text", "kelvin_per_hour"),
    [("3 K/h", 3.0), ("3 °C/h", 3.0), ("5.4 °F/h", 3.0), ("0.05 K/min", 3.0), ("-9 F/h", -5.0)],
)
def test_a_temperature_rate_has_no_offset(text, kelvin_per_hour):
    assert parse(text, D.TEMPERATURE_RATE) == pytest.approx(kelvin_per_hour / 3600.0)


@pytest.mark.parametrize(
    ("text", "pascal", "basis"),
    [
        ("2 psig", ATM + 2 * 6894.757293, Basis.GAUGE),
        ("2 psi gauge", ATM + 2 * 6894.757293, Basis.GAUGE),
        ("2 psi (g)", ATM + 2 * 6894.757293, Basis.GAUGE),
        ("20 psia", 20 * 6894.757293, Basis.ABSOLUTE),
        ("6 inHg vacuum", ATM - 6 * 3386.389, Basis.VACUUM),
        ('6 "Hg vac', ATM - 6 * 3386.389, Basis.VACUUM),
        ("6 in. Hg vacuum", ATM - 6 * 3386.389, Basis.VACUUM),
        ("0.6 bar absolute", 6e4, Basis.ABSOLUTE),
        ("0,6 bar absolute", 6e4, Basis.ABSOLUTE),
        ("0.6 bara", 6e4, Basis.ABSOLUTE),
        ("0.6 bar(a)", 6e4, Basis.ABSOLUTE),
        ("60 kPa abs", 6e4, Basis.ABSOLUTE),
        ("5 bar gauge", ATM + 5e5, Basis.GAUGE),
        ("5 barg", ATM + 5e5, Basis.GAUGE),
        ("-0.4 bar gauge", ATM - 4e4, Basis.GAUGE),
        ("500 micron", 66.661194, Basis.ABSOLUTE),
        ("500 microns", 66.661194, Basis.ABSOLUTE),
        ("2 Torr", 266.644737, Basis.ABSOLUTE),
        ("-3 inHg", ATM - 3 * 3386.389, Basis.GAUGE_ASSUMED),
        ("0 inHg", ATM, Basis.GAUGE_ASSUMED),
        ("2 bar", ATM + 2e5, Basis.GAUGE_ASSUMED),
        ("5 PSI", ATM + 5 * 6894.757293, Basis.GAUGE_ASSUMED),
        ("30 inHg vacuum", 0.0, Basis.VACUUM),
    ],
)
def test_pressure_and_its_basis(text, pascal, basis):
    pressure = parse_pressure(text)
    assert pressure.pascal_absolute == pytest.approx(pascal, rel=1e-7)
    assert pressure.basis is basis
    assert pressure.gauge_assumed is (basis is Basis.GAUGE_ASSUMED)
    assert parse(text, D.PRESSURE) == pressure.pascal_absolute


def test_gauge_counts_from_the_air_of_the_place():
    assert parse("0 psig", D.PRESSURE, ambient_pa=8e4) == 8e4
    assert parse("0.6 bar absolute", D.PRESSURE, ambient_pa=8e4) == pytest.approx(6e4)
    with pytest.raises(BadInput, match="perfect vacuum"):
        parse("29 inHg vacuum", D.PRESSURE, ambient_pa=8e4)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("-20 psi", "perfect vacuum"),
        ("-1 bar absolute", "perfect vacuum"),
        ("31 inHg vacuum", "perfect vacuum"),
        ("-6 inHg vacuum", "6 inHg vacuum"),
        ("6 inHg", "6 inHg vacuum"),
        ("40 cmHg", "40 cmHg vacuum"),
        ("5", "without a unit"),
        ("5 g", "a mass"),
        ("bar", "a number, then its unit"),
        ("5 bar low", "an unknown unit"),
    ],
)
def test_pressure_refused(text, says):
    with pytest.raises(BadInput) as caught:
        parse_pressure(text, file="job.toml", key="readings.suction_pressure")
    message = str(caught.value)
    assert message.startswith("job.toml: readings.suction_pressure: read '")
    assert says in message
    assert "\n" not in message


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("140 g", D.MASS, 0.14),
        ("0.14kg", D.MASS, 0.14),
        ("0.66 mm", D.LENGTH, 0.00066),
        (".026 in", D.LENGTH, 0.0006604),
        ("1/4 in", D.LENGTH, 0.00635),
        ('1/4"', D.LENGTH, 0.00635),
        ("3 1/2 in", D.LENGTH, 0.0889),
        ("1½ in", D.LENGTH, 0.0381),
        ("½ in", D.LENGTH, 0.0127),
        ("-3 m", D.ALTITUDE, -3.0),
        ("600 cm²", D.AREA, 0.06),
        ("290 l", D.VOLUME, 0.29),
        ("290 L", D.VOLUME, 0.29),
        ("290 litres", D.VOLUME, 0.29),
        ("6.6 cm3", D.VOLUME, 6.6e-6),
        ("6.6 cm³", D.VOLUME, 6.6e-6),
        ("6,6 cc", D.VOLUME, 6.6e-6),
        ("250 ml", D.VOLUME, 250e-6),
        ("1/5 hp", D.POWER, 149.13997),
        ("0.12 kW", D.POWER, 120.0),
        ("850 mA", D.CURRENT, 0.85),
        ("230 V", D.VOLTAGE, 230.0),
        ("12.5 \u03a9", D.RESISTANCE, 12.5),
        ("12.5 \u2126", D.RESISTANCE, 12.5),
        ("2 kohm", D.RESISTANCE, 2000.0),
        ("2 Mohm", D.RESISTANCE, 2e6),
        ("5 mohm", D.RESISTANCE, 0.005),
        ("open", D.RESISTANCE, 1e9),
        ("90 s", D.TIME, 90.0),
        ("8 min", D.TIME, 480.0),
        ("2 h", D.TIME, 7200.0),
        ("1 day", D.TIME, 86_400.0),
        ("12 months", D.TIME, 31_557_600.0),
        ("9 years", D.TIME, 9 * 31_557_600.0),
        ("55 %", D.FRACTION, 0.55),
        ("55%", D.FRACTION, 0.55),
        ("0.55", D.FRACTION, 0.55),
        ("3/5", D.FRACTION, 0.6),
        ("60 Hz", D.FREQUENCY, 60.0),
        ("2950 rpm", D.ROTATIONAL_SPEED, 2950 / 60),
        ("49 1/s", D.ROTATIONAL_SPEED, 49.0),
        ("1.2 kg/h", D.MASS_FLOW, 1.2 / 3600),
        ("0.4 g/s", D.MASS_FLOW, 4e-4),
        ("1.4 W/K", D.CONDUCTANCE, 1.4),
        ("12 W/(m K)", D.CONDUCTANCE_PER_LENGTH, 12.0),
        ("12 W/(m·K)", D.CONDUCTANCE_PER_LENGTH, 12.0),
        ("12 W/mK", D.CONDUCTANCE_PER_LENGTH, 12.0),
        ("25 W/(m2 K)", D.HEAT_TRANSFER_COEFFICIENT, 25.0),
        ("25 W/m²K", D.HEAT_TRANSFER_COEFFICIENT, 25.0),
        ("0.02 K/W", D.THERMAL_RESISTANCE, 0.02),
        ("3e9 1/m4", D.LOSS_COEFFICIENT, 3e9),
        ("45", D.NUMBER, 45.0),
        ("0,660 mm", D.LENGTH, 0.00066),
        ("96\u00a0W", D.POWER, 96.0),
    ],
)
def test_parsed(text, dimension, value):
    assert parse(text, dimension) == pytest.approx(value, rel=1e-7)


@pytest.mark.parametrize(
    ("text", "dimension", "says"),
    [
        ("96 g", D.POWER, "'96 g', a mass; accepted: a power such as '96 W'"),
        ("24 W", D.TEMPERATURE, "'24 W', a power; accepted: a temperature"),
        ("5 K", D.MASS, "'5 K', a temperature; accepted: a mass"),
        ("0.6 bar absolute", D.MASS, "a pressure; accepted: a mass"),
        ("1.6", D.CURRENT, "a number without a unit"),
        ("24", D.TEMPERATURE, "a number without a unit"),
        ("5 furlong", D.LENGTH, "an unknown unit"),
        ("10³ W", D.POWER, "an unknown unit"),
        ("1 200 W", D.POWER, "an unknown unit"),
        ("1,200 W", D.POWER, "1200 or 1.200"),
        ("1.200,5 W", D.POWER, "a number, then its unit"),
        ("1.2.3 W", D.POWER, "a number, then its unit"),
        ("1/0 in", D.LENGTH, "lower part is not zero"),
        ("1e999 W", D.POWER, "a smaller number"),
        ("nan W", D.POWER, "a number, then its unit"),
        ("inf W", D.POWER, "a number, then its unit"),
        ("", D.POWER, "a number, then its unit"),
        ("-5 g", D.MASS, "not below zero"),
        ("-1 m", D.LENGTH, "not below zero"),
        ("-1 ohm", D.RESISTANCE, "not below zero"),
        ("2 MOHM", D.RESISTANCE, "an unknown unit"),  # milli or mega: not guessed
        ("45 min", D.NUMBER, "a time; accepted: a number"),
    ],
)
def test_refused(text, dimension, says):
    with pytest.raises(BadInput) as caught:
        parse(text, dimension, file="job.toml", key="k")
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("dimension", [d for d in D if d is not D.KIND])
def test_every_example_in_a_message_is_accepted(dimension):
    quoted = dimension.example.split("'")[1::2] or [dimension.example.split()[-1]]
    for text in quoted:
        assert math.isfinite(parse(text, dimension))


def test_no_spelling_changes_value_with_case():
    from coldwright.units.spellings import FACTORS, factor_of

    for dimension, table in FACTORS.items():
        for unit, factor in table.items():
            assert factor_of(unit, dimension) == factor
            for written in (unit.upper(), unit.lower()):
                exact = table.get(written, factor)
                assert factor_of(written, dimension) in (exact, None)


def test_dimensions_of_a_unit():
    assert dimensions_of("W") == (D.POWER,)
    assert dimensions_of("bar absolute") == (D.PRESSURE,)
    assert dimensions_of("K")[0] is D.TEMPERATURE
    assert dimensions_of("parsec") == ()


@pytest.mark.parametrize(
    ("value", "dimension", "si", "us"),
    [
        (255.15, D.TEMPERATURE, "-18.0 °C", "-0.4 °F"),
        (273.14, D.TEMPERATURE, "0.0 °C", "32.0 °F"),
        (5.0, D.TEMPERATURE_DIFFERENCE, "5.0 K", "9.0 °F"),
        (3e5, D.PRESSURE, "1.99 bar gauge", "28.8 psig"),
        (8e4, D.PRESSURE, "0.80 bar absolute", "6.3 inHg vacuum"),
        (66.66, D.PRESSURE, "66.7 Pa absolute", "500 micron"),
        (0.14, D.MASS, "140 g", "4.94 oz"),
        (0.00066, D.LENGTH, "0.660 mm", "0.0260 in"),
        (2.9, D.LENGTH, "2.90 m", "9.51 ft"),
        (0.29, D.VOLUME, "290 l", "10.2 cu ft"),
        (6.6e-6, D.VOLUME, "6.60 cm3", "0.403 cu in"),
        (96.0, D.POWER, "96.0 W", "96.0 W"),
        (99.96, D.POWER, "100 W", "100 W"),
        (0.55, D.FRACTION, "55.0 %", "55.0 %"),
        (480.0, D.TIME, "8.00 min", "8.00 min"),
        (math.nan, D.MASS, "not known", "not known"),
    ],
)
def test_shown(value, dimension, si, us):
    assert show(value, dimension, "si") == si
    assert show(value, dimension, "us") == us


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0"), (99.96, "100"), (1234567.0, "1230000"), (0.00012, "0.000120"), (3e9, "3.00e+09")],
)
def test_figures(value, text):
    assert units.figures(value) == text


@pytest.mark.parametrize(
    ("altitude", "pascal"),
    # ICAO Doc 7488 (1993), table of pressures as commonly reprinted; from memory, five figures.
    [(0.0, 101_325.0), (1000.0, 89_874.6), (2000.0, 79_495.2), (5000.0, 54_019.9)],
)
def test_air_pressure_of_the_standard_atmosphere(altitude, pascal):
    assert units.air_pressure_at_altitude(altitude) == pytest.approx(pascal, rel=1e-4)


def test_all_names_can_be_imported():
    assert [name for name in units.__all__ if not hasattr(units, name)] == []


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("6.6 cm3", D.VOLUME, 6.6e-6),
        ("4.76 mm", D.LENGTH, 4.76e-3),
        ("-18 °C", D.TEMPERATURE, 255.15),
        ("140 g", D.MASS, 0.14),
        ("55 %", D.FRACTION, 0.55),
    ],
)
def test_a_decimal_is_rounded_once(text, dimension, value):
    assert parse(text, dimension) == value

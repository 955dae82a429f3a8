"""SI float -> text with a unit, in the technician's own system."""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import Enum

from coldwright.units import formulas as f
from coldwright.units.dimensions import Dimension as D


class System(Enum):
    """Which units a person reads."""

    SI = "si"
    US = "us"


# (from this magnitude up in SI, unit, its worth in SI); the first that fits is taken
_Scale = tuple[tuple[float, str, float], ...]
_BOTH: dict[D, _Scale] = {
    D.POWER: ((0.0, "W", 1.0),),
    D.CURRENT: ((0.0, "A", 1.0),),
    D.VOLTAGE: ((0.0, "V", 1.0),),
    D.RESISTANCE: ((1e6, "Mohm", 1e6), (1e4, "kohm", 1e3), (0.0, "ohm", 1.0)),
    D.TIME: (
        (2.0 * f.SECONDS_PER_YEAR, "year", f.SECONDS_PER_YEAR),
        (172_800.0, "day", 86_400.0),
        (7200.0, "h", 3600.0),
        (120.0, "min", 60.0),
        (0.0, "s", 1.0),
    ),
    D.FRACTION: ((0.0, "%", 1e-2),),
    D.NUMBER: ((0.0, "", 1.0),),
    D.FREQUENCY: ((0.0, "Hz", 1.0),),
    D.ROTATIONAL_SPEED: ((0.0, "rpm", 1.0 / 60.0),),
    D.MASS_FLOW: ((0.0, "kg/h", 1.0 / 3600.0),),
    D.THROUGHPUT: ((0.0, "Pa·m³/s", 1.0),),
    D.CONDUCTANCE: ((0.0, "W/K", 1.0),),
    D.CONDUCTANCE_PER_LENGTH: ((0.0, "W/(m K)", 1.0),),
    D.HEAT_TRANSFER_COEFFICIENT: ((0.0, "W/(m2 K)", 1.0),),
    D.THERMAL_RESISTANCE: ((0.0, "K/W", 1.0),),
    D.LOSS_COEFFICIENT: ((0.0, "1/m4", 1.0),),
}
_SI: dict[D, _Scale] = _BOTH | {
    D.TEMPERATURE_RATE: ((0.0, "K/h", 1.0 / 3600.0),),
    D.PRESSURE_DIFFERENCE: ((1e3, "bar", 1e5), (0.0, "Pa", 1.0)),
    D.MASS: ((1.0, "kg", 1.0), (0.0, "g", 1e-3)),
    D.LENGTH: ((0.1, "m", 1.0), (0.0, "mm", 1e-3)),
    D.ALTITUDE: ((0.0, "m", 1.0),),
    D.AREA: ((0.01, "m2", 1.0), (0.0, "cm2", 1e-4)),
    D.VOLUME: ((1e-3, "l", 1e-3), (0.0, "cm3", 1e-6)),
}
_US: dict[D, _Scale] = _BOTH | {
    D.TEMPERATURE_RATE: ((0.0, "°F/h", 1.0 / 6480.0),),
    D.PRESSURE_DIFFERENCE: ((0.0, "psi", f.PASCAL_PER_PSI),),
    D.MASS: (
        (2.0 * f.KILOGRAM_PER_POUND, "lb", f.KILOGRAM_PER_POUND),
        (0.0, "oz", f.KILOGRAM_PER_OUNCE),
    ),
    D.LENGTH: ((f.METRE_PER_FOOT, "ft", f.METRE_PER_FOOT), (0.0, "in", f.METRE_PER_INCH)),
    D.ALTITUDE: ((0.0, "ft", f.METRE_PER_FOOT),),
    D.AREA: ((f.METRE_PER_FOOT**2, "ft2", f.METRE_PER_FOOT**2), (0.0, "in2", f.METRE_PER_INCH**2)),
    D.VOLUME: ((0.003, "cu ft", f.METRE_PER_FOOT**3), (0.0, "cu in", f.METRE_PER_INCH**3)),
}
_SCALES = {System.SI: _SI, System.US: _US}
_DEEP_VACUUM_PA = 1000.0  # below this a gauge's inches no longer resolve it (judgement of ours)


def show(
    value: float,
    dimension: D,
    system: System | str = System.SI,
    *,
    digits: int = 3,
    ambient_pa: float = f.STANDARD_ATMOSPHERE_PA,
) -> str:
    """A quantity as text that `parse` reads back.

    Parameters
    ----------
    value : float
        Value in `dimension.si_unit`, pressures absolute. [SI]
    dimension : Dimension
        What it is.
    system : System or str
        ``'si'``: °C, bar, g, mm; ``'us'``: °F, psig or inHg vacuum, oz, in.
    digits : int
        Significant figures; temperatures always have one decimal. [-]
    ambient_pa : float
        Air pressure that gauge pressures are counted from. [Pa]

    Returns
    -------
    str
        Number and unit; "not known" where it is not finite.

    Raises
    ------
    ValueError
        If there is no such system of units.

    Examples
    --------
    >>> from coldwright.units import Dimension
    >>> show(293.15, Dimension.TEMPERATURE), show(0.105, Dimension.MASS)
    ('20.0 °C', '105 g')
    """
    system = System(system)
    if not math.isfinite(value):
        return "not known"
    if dimension is D.TEMPERATURE:
        if system is System.SI:
            return f"{_zero(f.celsius_from_kelvin(value)):.1f} °C"
        return f"{_zero(f.fahrenheit_from_kelvin(value)):.1f} °F"
    if dimension is D.TEMPERATURE_DIFFERENCE:
        return f"{_zero(value):.1f} K" if system is System.SI else f"{_zero(value * 1.8):.1f} °F"
    if dimension is D.PRESSURE:
        return _show_pressure(value, system, digits, ambient_pa)
    scale = _SCALES[system][dimension]
    unit, worth = next((unit, worth) for least, unit, worth in scale if abs(value) >= least)
    return f"{figures(value / worth, digits)} {unit}".rstrip()


def on_one_scale(
    values: Sequence[float], dimension: D, system: System | str = System.SI
) -> tuple[tuple[float, ...], str]:
    """Quantities as numbers of one shared unit, for an axis or a column.

    Parameters
    ----------
    values : sequence of float
        Values in `dimension.si_unit`, pressures absolute; NaN stays NaN. [SI]
    dimension : Dimension
        What they are.
    system : System or str
        As in `show`; the unit is the one `show` would take for the largest.

    Returns
    -------
    tuple of (tuple of float, str)
        The numbers in order, and their unit.

    Raises
    ------
    ValueError
        If there is no such system of units.

    Examples
    --------
    >>> from coldwright.units import Dimension
    >>> on_one_scale((50e3, 200e3), Dimension.PRESSURE)
    ((0.5, 2.0), 'bar absolute')
    """
    system = System(system)
    if dimension is D.TEMPERATURE:
        of = f.celsius_from_kelvin if system is System.SI else f.fahrenheit_from_kelvin
        return tuple(of(v) for v in values), "°C" if system is System.SI else "°F"
    if dimension is D.TEMPERATURE_DIFFERENCE:
        factor = 1.0 if system is System.SI else 1.8
        return tuple(v * factor for v in values), "K" if system is System.SI else "°F"
    if dimension is D.PRESSURE:
        worth = 1e5 if system is System.SI else f.PASCAL_PER_PSI
        unit = "bar absolute" if system is System.SI else "psi absolute"
        return tuple(v / worth for v in values), unit
    largest = max((abs(v) for v in values if math.isfinite(v)), default=0.0)
    scale = _SCALES[system][dimension]
    unit, worth = next((unit, worth) for least, unit, worth in scale if largest >= least)
    return tuple(v / worth for v in values), unit


def figures(value: float, digits: int = 3) -> str:
    """A number with that many significant figures, without an exponent where it stays short.

    Parameters
    ----------
    value : float
        The number. [any]
    digits : int
        Significant figures. [-]

    Returns
    -------
    str
        The number, rounded.

    Examples
    --------
    >>> figures(0.123456), figures(99.96), figures(2.0, digits=2)
    ('0.123', '100', '2.0')
    """
    if value == 0.0:
        return "0"
    scientific = f"{value:.{digits - 1}e}"  # rounds first: 99.96 becomes 1.00e+02
    exponent = int(scientific.partition("e")[2])
    if exponent > 6 or exponent < -4:
        return scientific
    return f"{float(scientific):.{max(0, digits - 1 - exponent)}f}"


def _show_pressure(value: float, system: System, digits: int, ambient_pa: float) -> str:
    above = value >= ambient_pa
    if system is System.SI:
        if above:
            return f"{f.bar_gauge_from_pascal_abs(value, ambient_pa):.2f} bar gauge"
        if value >= _DEEP_VACUUM_PA:
            return f"{value * 1e-5:.2f} bar absolute"
        return f"{figures(value, digits)} Pa absolute"
    if above:
        return f"{f.psig_from_pascal_abs(value, ambient_pa):.1f} psig"
    if value >= _DEEP_VACUUM_PA:
        return f"{f.inhg_vacuum_from_pascal_abs(value, ambient_pa):.1f} inHg vacuum"
    return f"{figures(value / f.PASCAL_PER_MICRON, digits)} micron"


def _zero(value: float) -> float:
    """Without the minus sign that a rounded-away negative would show."""
    return 0.0 if abs(value) < 0.05 else value

"""Text with a unit -> SI float. Refuses what cannot be, and says what would be accepted."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import Enum

from coldwright.errors import BadInput, one_line
from coldwright.units import formulas as f
from coldwright.units.dimensions import Dimension as D
from coldwright.units.numbers import NotANumber, split_number
from coldwright.units.spellings import CELSIUS, FACTORS, FAHRENHEIT, degree_of, factor_of, squeeze

OPEN_CIRCUIT_OHM = 1e9  # what 'open' stands for: beyond a field meter's range (judgement of ours)

# A gauge's vacuum scale ends at a round 30 inHg where a perfect vacuum is 29.92 (common
# practice, no published source): so much beyond it, relative to the air pressure, is read as none.
_SCALE_END = 0.015

_NEVER_NEGATIVE = frozenset(
    {
        D.MASS,
        D.LENGTH,
        D.AREA,
        D.VOLUME,
        D.RESISTANCE,
        D.TIME,
        D.FREQUENCY,
        D.ROTATIONAL_SPEED,
        D.MASS_FLOW,
        D.THROUGHPUT,
        D.CONDUCTANCE,
        D.CONDUCTANCE_PER_LENGTH,
        D.HEAT_TRANSFER_COEFFICIENT,
        D.THERMAL_RESISTANCE,
        D.LOSS_COEFFICIENT,
    }
)
_MERCURY_COLUMNS = frozenset({"inhg", '"hg', "inchhg", "incheshg", "mmhg", "cmhg"})
_ALWAYS_ABSOLUTE = frozenset({"micron", "microns", "μmhg", "umhg", "torr"})


class Basis(Enum):
    """From where a pressure was counted."""

    ABSOLUTE = "absolute"
    GAUGE = "gauge"
    VACUUM = "vacuum"
    GAUGE_ASSUMED = "gauge, assumed"


_BASIS_WORDS = {
    "absolute": Basis.ABSOLUTE,
    "abs": Basis.ABSOLUTE,
    "gauge": Basis.GAUGE,
    "gage": Basis.GAUGE,
    "vacuum": Basis.VACUUM,
    "vac": Basis.VACUUM,
    "a": Basis.ABSOLUTE,
    "g": Basis.GAUGE,
}


@dataclass(frozen=True, slots=True)
class Pressure:
    """An absolute pressure and how it was written."""

    pascal_absolute: float
    basis: Basis

    @property
    def gauge_assumed(self) -> bool:
        """True if neither gauge nor absolute was written."""
        return self.basis is Basis.GAUGE_ASSUMED


def parse(
    text: str,
    dimension: D,
    *,
    ambient_pa: float = f.STANDARD_ATMOSPHERE_PA,
    file: str = "input",
    key: str = "",
) -> float:
    """SI value of a written quantity.

    Parameters
    ----------
    text : str
        For example ``'-18 °C'``, ``'6 inHg vacuum'``, ``'0,66 mm'``.
    dimension : Dimension
        What it must be.
    ambient_pa : float
        Air pressure that gauge pressures are counted from. [Pa]
    file, key : str
        Where it was read, for the message.

    Returns
    -------
    float
        The value in `dimension.si_unit`; pressures absolute.

    Raises
    ------
    BadInput
        If it is not a quantity of that dimension, or cannot be at all.
    """
    if dimension is D.PRESSURE:
        return parse_pressure(text, ambient_pa=ambient_pa, file=file, key=key).pascal_absolute
    accepted = f"{dimension.words} such as {dimension.example}"
    if dimension is D.RESISTANCE and text.strip().lower() in ("open", "ol", "o.l."):
        return OPEN_CIRCUIT_OHM
    value, unit = _split(text, accepted, file, key)
    if dimension is D.TEMPERATURE:
        scale = degree_of(unit)
        if scale is None:
            raise BadInput(file, key, _described(text, unit), accepted)
        kelvin = _kelvin(value, scale)
        if kelvin < 0.0:
            raise BadInput(file, key, _quoted(text), "a temperature above absolute zero")
        return kelvin
    factor = factor_of(unit, dimension)
    if factor is None:
        raise BadInput(file, key, _described(text, unit), accepted)
    if value < 0 and dimension in _NEVER_NEGATIVE:
        raise BadInput(file, key, _quoted(text), f"{accepted}, not below zero")
    return _scaled(value, factor)


def parse_pressure(
    text: str,
    *,
    ambient_pa: float = f.STANDARD_ATMOSPHERE_PA,
    file: str = "input",
    key: str = "",
) -> Pressure:
    """Absolute pressure, with the basis as written; a bare unit is taken as gauge.

    Parameters
    ----------
    text : str
        For example ``'2 psig'``, ``'0.6 bar absolute'``, ``'6 inHg vacuum'``, ``'500 micron'``.
    ambient_pa : float
        Air pressure that gauge pressures are counted from. [Pa]
    file, key : str
        Where it was read, for the message.

    Returns
    -------
    Pressure
        Absolute pressure with the basis as it was written. [Pa]

    Raises
    ------
    BadInput
        If it is no pressure, is below a perfect vacuum, or does not say from where
        a column of mercury is counted.

    Examples
    --------
    >>> round(parse_pressure("2 psig").pascal_absolute)
    115115
    """
    accepted = f"a pressure such as {D.PRESSURE.example}"
    value, unit = _split(text, accepted, file, key)
    factor, basis, name = _pressure_unit(unit)
    if factor is None:
        raise BadInput(file, key, _described(text, unit), accepted)
    column = name.lower() in _MERCURY_COLUMNS
    if name.lower() in _ALWAYS_ABSOLUTE and basis in (Basis.GAUGE_ASSUMED, Basis.VACUUM):
        basis = Basis.ABSOLUTE
    if basis is Basis.GAUGE_ASSUMED and column and value > 0:
        raise BadInput(
            file,
            key,
            _quoted(text),
            f"a column of mercury with 'vacuum', 'gauge' or 'absolute', such as '{value:g} {name}"
            " vacuum'",
        )
    if basis is Basis.VACUUM and value < 0:
        downwards = f"a vacuum counted downwards, such as '{-value:g} {name} vacuum'"
        raise BadInput(file, key, _quoted(text), downwards)
    pascal = _scaled(value, factor)
    if basis is Basis.VACUUM:
        pascal = ambient_pa - pascal
        if -_SCALE_END * ambient_pa <= pascal < 0.0:
            pascal = 0.0
    elif basis in (Basis.GAUGE, Basis.GAUGE_ASSUMED):
        pascal = ambient_pa + pascal
    if pascal < 0.0:
        above = f"a pressure not below a perfect vacuum, such as {D.PRESSURE.example}"
        raise BadInput(file, key, _quoted(text), above)
    return Pressure(pascal, basis)


def dimensions_of(unit: str) -> tuple[D, ...]:
    """All dimensions in which a unit as written is known.

    Parameters
    ----------
    unit : str
        For example ``'W'`` or ``'bar absolute'``.

    Returns
    -------
    tuple of Dimension
        All that know the unit; empty where none does.

    Examples
    --------
    >>> [dimension.name for dimension in dimensions_of("bar absolute")]
    ['PRESSURE']
    """
    squeezed = squeeze(unit)
    found = [d for d in FACTORS if factor_of(squeezed, d) is not None]
    if degree_of(squeezed) is not None:
        found.insert(0, D.TEMPERATURE)
    if D.PRESSURE not in found and _pressure_unit(squeezed)[0] is not None:
        found.append(D.PRESSURE)
    return tuple(found)


def _split(text: str, accepted: str, file: str, key: str) -> tuple[Decimal, str]:
    try:
        value, rest = split_number(text)
    except NotANumber as error:
        raise BadInput(file, key, _quoted(text), f"{error}; {accepted}") from None
    return value, squeeze(rest)


def _scaled(value: Decimal, factor: float) -> float:
    """Value times factor, rounded once: 6.6 cm3 is 6.6e-6 m3 to the last bit."""
    return float(value * Decimal(repr(factor)))


def _kelvin(value: Decimal, scale: str) -> float:
    """As `formulas`, rounded once: -18 °C is 255.15 K to the last bit."""
    if scale == CELSIUS:
        return float(value + Decimal("273.15"))
    if scale == FAHRENHEIT:
        return float((value + Decimal("459.67")) / Decimal("1.8"))
    return float(value)


def _pressure_unit(unit: str) -> tuple[float | None, Basis, str]:
    """Factor, basis and bare name of a squeezed pressure unit."""
    factor = factor_of(unit, D.PRESSURE)
    if factor is not None:
        return factor, Basis.GAUGE_ASSUMED, unit
    for word, basis in _BASIS_WORDS.items():
        bare = unit[: -len(word)]
        if unit.lower().endswith(word) and (factor := factor_of(bare, D.PRESSURE)) is not None:
            return factor, basis, bare
    return None, Basis.GAUGE_ASSUMED, unit


def _quoted(text: str) -> str:
    return f"'{one_line(text)}'"


def _described(text: str, unit: str) -> str:
    """What was read, with what it looks like."""
    if not unit:
        return f"{_quoted(text)}, a number without a unit"
    known = dimensions_of(unit)
    return f"{_quoted(text)}, {known[0].words}" if known else f"{_quoted(text)}, an unknown unit"

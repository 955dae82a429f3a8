"""Bubble and dew line of every refrigerant held: pressure and the two densities at a temperature.

The tables ship with the package (`line_tables/`), made by `bench/make_lines.py`
from CoolProp (Bell et al. 2014) through `mixtures`; here they are only read, so
neither CoolProp nor compiled code is needed. Between rows: the cubic through the
four nearest.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from math import exp, log

from coldwright.errors import Refused, require
from coldwright.refrigerant.fact_records import Trust
from coldwright.refrigerant.facts import REFRIGERANTS, refrigerant_facts

COLUMNS = (
    "temperature_k",
    "bubble_pa",
    "dew_pa",
    "liquid_density_kg_m3",
    "vapour_density_kg_m3",
)
STEP_K = 5.0  # between rows


# Bounds are judgements of ours from the deviations listed in docs/refrigerants.md.
TRUST: dict[str, Trust] = {r.name: r.trust for r in REFRIGERANTS if r.trust is not None}


@dataclass(frozen=True, slots=True)
class Lines:
    """Rows of one refrigerant, from cold to hot, and how far to trust them."""

    name: str
    blend: bool
    molar_mass_kg_mol: float
    temperatures_k: tuple[float, ...]
    ln_bubble_pa: tuple[float, ...]
    ln_dew_pa: tuple[float, ...]
    liquid_density_kg_m3: tuple[float, ...]  # on the bubble line
    ln_vapour_density: tuple[float, ...]  # on the dew line, of kg/m3
    trust: Trust

    @property
    def coldest_k(self) -> float:
        """First temperature held."""
        return self.temperatures_k[0]

    @property
    def hottest_k(self) -> float:
        """Last temperature held."""
        return self.temperatures_k[-1]


@cache
def load_lines(name: str) -> Lines:
    """The lines of a refrigerant, by name as in the glossary.

    Parameters
    ----------
    name : str
        Such as "R600a".

    Returns
    -------
    Lines
        Saturation lines over temperature. [SI]

    Raises
    ------
    BadInput
        If nothing is held under that name.
    Refused
        If it is known but has no lines, such as "unknown".

    Examples
    --------
    >>> load_lines("R600a").blend
    False
    """
    facts = refrigerant_facts(name)
    if facts.name not in TRUST or facts.molar_mass_kg_mol is None:
        held = ", ".join(r.name for r in REFRIGERANTS)
        raise Refused(
            f"a refrigerant that is {facts.name} has no saturation line",
            ("its name on the plate or the cylinder", f"lines are held for {held}"),
        )
    text = (files("coldwright.refrigerant") / "line_tables" / f"{facts.name}.csv").read_text(
        "ascii"
    )
    body = [line for line in text.splitlines() if line and not line.startswith("#")]
    if tuple(body[0].split(",")) != COLUMNS:
        raise Refused(f"the table of {facts.name} is not one of this release")
    columns = list(zip(*(map(float, line.split(",")) for line in body[1:]), strict=True))
    return Lines(
        facts.name,
        bool(facts.components),
        facts.molar_mass_kg_mol.value,
        columns[0],
        tuple(log(p) for p in columns[1]),
        tuple(log(p) for p in columns[2]),
        columns[3],
        tuple(log(rho) for rho in columns[4]),
        TRUST[facts.name],
    )


def bubble_pressure(lines: Lines, temperature: float) -> float:
    """Pressure at which liquid of that temperature begins to boil [Pa].

    Parameters
    ----------
    lines : Lines
        Of the refrigerant.
    temperature : float
        Within the lines. [K]

    Returns
    -------
    float
        Absolute pressure. [Pa]

    Raises
    ------
    OutOfRange
        If it lies outside.

    References
    ----------
    .. [1] CoolProp, Bell et al. (2014), by the table of the refrigerant.

    Examples
    --------
    >>> round(bubble_pressure(load_lines("R600a"), 298.15) / 1e5, 2)
    3.51
    """
    return exp(_at(lines, lines.ln_bubble_pa, temperature))


def dew_pressure(lines: Lines, temperature: float) -> float:
    """Pressure at which vapour of that temperature begins to condense [Pa].

    Parameters
    ----------
    lines : Lines
        Of the refrigerant.
    temperature : float
        Within the lines. [K]

    Returns
    -------
    float
        Absolute pressure. [Pa]

    Raises
    ------
    OutOfRange
        If it lies outside.

    References
    ----------
    .. [1] CoolProp, Bell et al. (2014), by the table of the refrigerant.
    """
    return exp(_at(lines, lines.ln_dew_pa, temperature))


def liquid_density(lines: Lines, temperature: float) -> float:
    """Density of liquid at its bubble point [kg/m3].

    Parameters
    ----------
    lines : Lines
        Of the refrigerant.
    temperature : float
        Within the lines. [K]

    Returns
    -------
    float
        Density. [kg/m3]

    Raises
    ------
    OutOfRange
        If it lies outside.

    References
    ----------
    .. [1] CoolProp, Bell et al. (2014), by the table of the refrigerant.

    Examples
    --------
    >>> round(liquid_density(load_lines("R134a"), 298.15))
    1207
    """
    return _at(lines, lines.liquid_density_kg_m3, temperature)


def vapour_density(lines: Lines, temperature: float) -> float:
    """Density of vapour at its dew point [kg/m3].

    Parameters
    ----------
    lines : Lines
        Of the refrigerant.
    temperature : float
        Within the lines. [K]

    Returns
    -------
    float
        Density. [kg/m3]

    Raises
    ------
    OutOfRange
        If it lies outside.

    References
    ----------
    .. [1] CoolProp, Bell et al. (2014), by the table of the refrigerant.
    """
    return exp(_at(lines, lines.ln_vapour_density, temperature))


def bubble_temperature(lines: Lines, pressure: float) -> float:
    """Temperature at which liquid begins to boil at that pressure [K].

    Parameters
    ----------
    lines : Lines
        Of the refrigerant.
    pressure : float
        Within the bubble line. [Pa]

    Returns
    -------
    float
        Temperature. [K]

    Raises
    ------
    OutOfRange
        If it lies outside.

    References
    ----------
    .. [1] The inverse of `bubble_pressure`.
    """
    return _inverse(lines, bubble_pressure, pressure)


def dew_temperature(lines: Lines, pressure: float) -> float:
    """Temperature at which vapour begins to condense at that pressure [K].

    Parameters
    ----------
    lines : Lines
        Of the refrigerant.
    pressure : float
        Within the dew line. [Pa]

    Returns
    -------
    float
        Temperature. [K]

    Raises
    ------
    OutOfRange
        If it lies outside.

    References
    ----------
    .. [1] The inverse of `dew_pressure`.

    Examples
    --------
    >>> round(dew_temperature(load_lines("R134a"), 133.7e3) - 273.15, 1)
    -19.8
    """
    return _inverse(lines, dew_pressure, pressure)


def pressure_span(lines: Lines) -> tuple[float, float]:
    """Least and greatest pressure for which bubble and dew temperature are both held [Pa].

    Parameters
    ----------
    lines : Lines
        Of the refrigerant.

    Returns
    -------
    tuple of float
        Least and greatest, absolute. [Pa]
    """
    return exp(lines.ln_bubble_pa[0]), exp(lines.ln_dew_pa[-1])


def _at(lines: Lines, column: tuple[float, ...], t: float) -> float:
    """Lagrange's cubic through the four rows round t."""
    require("temperature", t, "K", lines.coldest_k, lines.hottest_k)
    i = int((t - lines.coldest_k) / STEP_K) - 1
    i = max(0, min(i, len(column) - 4))
    x = (t - lines.temperatures_k[i]) / STEP_K
    a, b, c, d = column[i : i + 4]
    return (
        -a * (x - 1) * (x - 2) * (x - 3) / 6
        + b * x * (x - 2) * (x - 3) / 2
        - c * x * (x - 1) * (x - 3) / 2
        + d * x * (x - 1) * (x - 2) / 6
    )


def _inverse(lines: Lines, line: Callable[[Lines, float], float], p: float) -> float:
    require("pressure", p, "Pa", *pressure_span(lines))
    low, high = lines.coldest_k, lines.hottest_k
    while high - low > 1e-7:
        middle = 0.5 * (low + high)
        if line(lines, middle) < p:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)

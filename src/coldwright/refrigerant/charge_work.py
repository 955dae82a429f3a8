"""What a technician works out with gauge, thermometer and scale, for pure refrigerants and blends.

All on the nominal composition: after a leak of vapour a blend is no longer what
its cylinder says, and no line here holds for it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from math import sqrt

from coldwright.errors import OutOfRange, require
from coldwright.refrigerant import lines as line
from coldwright.refrigerant.lines import Lines

GAS_CONSTANT = 8.314462618  # CODATA 2018, exact [J/mol/K]
ROOM_K = 298.15  # 25 degC, at which liquid densities are compared
LEAST_MASS_KG = 1e-6  # no scale in the field sees less


@dataclass(frozen=True, slots=True)
class Saturation:
    """Bubble and dew point at one temperature; equal where the refrigerant is pure."""

    temperature_k: float
    bubble_pa: float
    dew_pa: float
    glide_k: float  # dew less bubble temperature at one pressure
    liquid_density_kg_m3: float
    vapour_density_kg_m3: float


class Phase(Enum):
    """What a pressure and a temperature at the same spot say."""

    SUBCOOLED = "subcooled liquid"
    TWO_PHASE = "liquid and vapour together"
    SUPERHEATED = "superheated vapour"


@dataclass(frozen=True, slots=True)
class AtPressure:
    """Bubble and dew temperature at one pressure; with a temperature, what it says there."""

    pressure_pa: float
    bubble_k: float
    dew_k: float
    temperature_k: float | None = None

    @property
    def superheat_k(self) -> float | None:
        """Above the dew point; negative below it."""
        return None if self.temperature_k is None else self.temperature_k - self.dew_k

    @property
    def subcooling_k(self) -> float | None:
        """Below the bubble point; negative above it."""
        return None if self.temperature_k is None else self.bubble_k - self.temperature_k

    @property
    def phase(self) -> Phase | None:
        """Liquid, vapour or both; at saturation, within 0.05 K, both."""
        if self.temperature_k is None:
            return None
        if self.temperature_k > self.dew_k + 0.05:
            return Phase.SUPERHEATED
        if self.temperature_k < self.bubble_k - 0.05:
            return Phase.SUBCOOLED
        return Phase.TWO_PHASE


@dataclass(frozen=True, slots=True)
class Contents:
    """A mass at rest in a volume at one temperature."""

    volume_m3: float
    temperature_k: float
    mass_kg: float
    pressure_pa: float
    liquid_kg: float
    vapour_kg: float
    liquid_share_of_volume: float


def saturation_at(lines: Lines, temperature: float) -> Saturation:
    """Bubble and dew point, glide and densities at a temperature.

    Parameters
    ----------
    lines : Lines
        Of the refrigerant.
    temperature : float
        Within the lines. [K]

    Returns
    -------
    Saturation
        Pressures [Pa], glide [K], densities of liquid and vapour [kg/m3].

    Raises
    ------
    OutOfRange
        If it lies outside.
    """
    bubble, dew = (
        line.bubble_pressure(lines, temperature),
        line.dew_pressure(lines, temperature),
    )
    return Saturation(
        temperature_k=temperature,
        bubble_pa=bubble,
        dew_pa=dew,
        glide_k=_glide(lines, temperature, bubble, dew) if lines.blend else 0.0,
        liquid_density_kg_m3=line.liquid_density(lines, temperature),
        vapour_density_kg_m3=line.vapour_density(lines, temperature),
    )


def at_pressure(lines: Lines, pressure: float, temperature: float | None = None) -> AtPressure:
    """Bubble and dew temperature; with a temperature also superheat and subcooling.

    Parameters
    ----------
    lines : Lines
        Of the refrigerant.
    pressure : float
        Absolute, within the lines. [Pa]
    temperature : float, optional
        Read at the same spot. [K]

    Returns
    -------
    AtPressure
        Bubble and dew temperature; superheat and subcooling where a temperature is given. [K]

    Raises
    ------
    OutOfRange
        If the pressure lies outside.

    Examples
    --------
    >>> from coldwright.refrigerant.lines import load_lines
    >>> found = at_pressure(load_lines("R134a"), 133.7e3)
    >>> round(found.dew_k, 1)
    253.3
    """
    bubble = line.bubble_temperature(lines, pressure)
    return AtPressure(pressure, bubble, line.dew_temperature(lines, pressure), temperature)


def gas_density(lines: Lines, pressure: float, temperature: float) -> float:
    """Density of vapour not above its dew pressure [kg/m3].

    The compressibility falls in proportion to the density, from 1 to that of the dew
    point: the virial series in density cut after its second term; within 0.6 % up to
    45 °C.

    Parameters
    ----------
    lines : Lines
        Of the refrigerant.
    pressure : float
        Absolute, up to the dew pressure. [Pa]
    temperature : float
        Within the lines. [K]

    Returns
    -------
    float
        Density. [kg/m3]

    Raises
    ------
    OutOfRange
        If either lies outside.

    References
    ----------
    .. [1] Virial series in density; its one coefficient from the dew point of the lines, ours.

    Examples
    --------
    >>> from coldwright.refrigerant.lines import load_lines
    >>> round(gas_density(load_lines("R600a"), 101325.0, 298.15), 2)
    2.44
    """
    require("pressure", pressure, "Pa", 0.0, line.dew_pressure(lines, temperature))
    per_density, b = _gas(lines, temperature)
    return (sqrt(1.0 + 4.0 * b * pressure / per_density) - 1.0) / (2.0 * b)


def contents(lines: Lines, volume: float, temperature: float, mass: float) -> Contents:
    """Pressure and the two phases of a mass at rest in a known volume.

    With a blend the pressure between bubble and dew is taken in proportion to the
    share of vapour, which holds within a twentieth of their distance.

    Parameters
    ----------
    lines : Lines
        Of the refrigerant.
    volume : float
        Inside, empty of anything else; above 0. [m³]
    temperature : float
        Of all of it. [K]
    mass : float
        From a milligram to short of filling the volume with liquid. [kg]

    Returns
    -------
    Contents
        Pressure [Pa] and mass of either phase [kg].

    Raises
    ------
    OutOfRange
        If it would be full of liquid: there is then no safe pressure to tell.

    References
    ----------
    .. [1] Mass and volume balance of two phases at rest; the blend's pressure is ours.

    Examples
    --------
    >>> from coldwright.refrigerant.lines import load_lines
    >>> held = contents(load_lines("R600a"), 1e-3, 298.15, 0.05)
    >>> round(held.pressure_pa / 1e5, 2), round(held.liquid_kg, 3)
    (3.51, 0.042)
    """
    require("volume", volume, "m3", 1e-9, 10.0)
    liquid, vapour = (
        line.liquid_density(lines, temperature),
        line.vapour_density(lines, temperature),
    )
    most = liquid * volume
    if not LEAST_MASS_KG <= mass < most:
        raise OutOfRange("mass", mass, LEAST_MASS_KG, most, "kg")
    density = mass / volume
    if density <= vapour:
        per_density, b = _gas(lines, temperature)
        pressure = per_density * density * (1.0 + b * density)
        return Contents(volume, temperature, mass, pressure, 0.0, mass, 0.0)
    share = (1.0 / density - 1.0 / liquid) / (1.0 / vapour - 1.0 / liquid)
    bubble, dew = (
        line.bubble_pressure(lines, temperature),
        line.dew_pressure(lines, temperature),
    )
    liquid_kg = (1.0 - share) * mass
    return Contents(
        volume_m3=volume,
        temperature_k=temperature,
        mass_kg=mass,
        pressure_pa=bubble + share * (dew - bubble),
        liquid_kg=liquid_kg,
        vapour_kg=share * mass,
        liquid_share_of_volume=liquid_kg / liquid / volume,
    )


def equivalent_charge(of: Lines, instead_of: Lines, mass: float) -> float:
    """Mass of one refrigerant that fills the same volume with liquid at 25 °C as another's [kg].

    A check of plausibility; the mass on the plate governs.

    Parameters
    ----------
    of : Lines
        The refrigerant asked for.
    instead_of : Lines
        The refrigerant whose mass is known.
    mass : float
        Of the latter, above 0. [kg]

    Returns
    -------
    float
        Mass of the refrigerant asked for. [kg]

    Raises
    ------
    OutOfRange
        If the mass is below a milligram or above 1000 kg.

    References
    ----------
    .. [1] Equal volume of liquid, ours.

    Examples
    --------
    >>> from coldwright.refrigerant.lines import load_lines
    >>> round(equivalent_charge(load_lines("R600a"), load_lines("R134a"), 0.100), 4)
    0.0456
    """
    require("mass", mass, "kg", LEAST_MASS_KG, 1000.0)
    return mass * line.liquid_density(of, ROOM_K) / line.liquid_density(instead_of, ROOM_K)


def _glide(lines: Lines, temperature: float, bubble: float, dew: float) -> float:
    """At the bubble pressure; where that runs off the hot end, at the dew pressure."""
    low, high = line.pressure_span(lines)
    if bubble <= high:
        glide = line.dew_temperature(lines, max(bubble, low)) - temperature
    else:
        glide = temperature - line.bubble_temperature(lines, min(max(dew, low), high))
    return max(glide, 0.0)


def _gas(lines: Lines, temperature: float) -> tuple[float, float]:
    """Pressure over density of thin gas [J/kg]; b of Z = 1 + b rho [m³/kg], below 0."""
    dew, density = line.dew_pressure(lines, temperature), line.vapour_density(lines, temperature)
    per_density = GAS_CONSTANT * temperature / lines.molar_mass_kg_mol
    return per_density, (dew / (density * per_density) - 1.0) / density

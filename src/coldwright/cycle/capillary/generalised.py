"""Adiabatic capillary by the generalised dimensionless correlation.

A check beside the march, and nothing more: it knows neither the
suction-line exchanger nor choking against the evaporator.

The subcooled and the two-phase branch do not join: just either side of
saturation the two-phase branch gives 20 to 40 % less flow (two cases tried), so
a difference across x = 0 must not be read from it.

Property basis: everything at the inlet temperature. That basis was chosen
because it alone reproduces the handbook's worked example; no text stating it
was read.
"""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.errors import require


@dataclass(frozen=True, slots=True)
class InletProperties:
    """Saturated properties at the capillary's inlet temperature."""

    volume_liquid_m3_kg: float
    volume_vapour_m3_kg: float
    viscosity_liquid_pa_s: float
    viscosity_vapour_pa_s: float
    heat_of_vaporisation_j_kg: float
    specific_heat_liquid_j_kg_k: float


@dataclass(frozen=True, slots=True)
class GeneralisedFlow:
    """Mass flow with what the correlation was not made for."""

    mass_flow_kg_s: float
    branch: str  # "subcooled" or "two-phase"; for display only
    outside_range: tuple[str, ...]  # empty when within the range that was read


SUBCOOLING_RANGE_K = (1.0, 17.0)
QUALITY_RANGE = (0.03, 0.25)
FITTED_REFRIGERANTS = ("R134a", "R22", "R410A")


def subcooled_flow(
    *,
    bore: float,
    length: float,
    pressure: float,
    subcooling: float,
    inlet: InletProperties,
    refrigerant: str = "",
) -> GeneralisedFlow:
    """Mass flow with subcooled liquid at the inlet.

    Parameters
    ----------
    bore : float
        Inside diameter, > 0. [m]
    length : float
        Length, > 0. [m]
    pressure : float
        Inlet pressure, > 0. [Pa]
    subcooling : float
        Saturation temperature at the inlet pressure less inlet temperature, > 0; the
        range read is 1 to 17 K. [K]
    inlet : InletProperties
        Properties at the inlet temperature.
    refrigerant : str, optional
        Name, to say whether the correlation is known to cover it.

    Returns
    -------
    GeneralisedFlow
        Mass flow and range flags.

    Raises
    ------
    OutOfRange
        If a number is not positive.

    References
    ----------
    .. [1] D. A. Wolf, R. R. Bittle, M. B. Pate, Adiabatic capillary tube performance
       with alternative refrigerants, ASHRAE RP-762, 1995; also ASHRAE Handbook,
       Refrigeration, chapter 11. Coefficients from a secondary source that agreed with
       memory; the report was not read.
    """
    _require_positive(bore=bore, length=length, pressure=pressure, subcooling=subcooling)
    pi1, pi2, pi4, pi6, pi7 = _groups(bore, length, pressure, inlet)
    scale = bore / (inlet.volume_liquid_m3_kg * inlet.viscosity_liquid_pa_s)
    pi5 = scale**2 * inlet.specific_heat_liquid_j_kg_k * subcooling
    pi8 = 1.8925 * pi1**-0.484 * pi2**-0.824 * pi4**1.369 * pi5**0.0187 * pi6**0.773 * pi7**0.265
    flags = _flags("subcooling", subcooling, SUBCOOLING_RANGE_K, "K", refrigerant)
    return GeneralisedFlow(pi8 * bore * inlet.viscosity_liquid_pa_s, "subcooled", flags)


def two_phase_flow(
    *,
    bore: float,
    length: float,
    pressure: float,
    quality: float,
    inlet: InletProperties,
    refrigerant: str = "",
) -> GeneralisedFlow:
    """Mass flow with vapour already in the liquid at the inlet.

    Parameters
    ----------
    bore : float
        Inside diameter, > 0. [m]
    length : float
        Length, > 0. [m]
    pressure : float
        Inlet pressure, > 0. [Pa]
    quality : float
        Vapour quality at the inlet, 0 < x < 1; the range read is 0.03 to 0.25. [-]
    inlet : InletProperties
        Properties at the inlet temperature, here saturation at the inlet pressure.
    refrigerant : str, optional
        Name, to say whether the correlation is known to cover it.

    Returns
    -------
    GeneralisedFlow
        Mass flow and range flags.

    Raises
    ------
    OutOfRange
        If a number is not positive, or the quality is not below 1.

    References
    ----------
    .. [1] Wolf, Bittle, Pate (1995), see `subcooled_flow`.
    """
    _require_positive(bore=bore, length=length, pressure=pressure, quality=quality)
    require("quality", quality, "-", 0.0, 1.0)
    pi1, pi2, pi4, pi6, pi7 = _groups(bore, length, pressure, inlet)
    pi8 = (
        187.27
        * pi1**-0.635
        * pi2**-0.189
        * pi4**0.645
        * quality**-0.163
        * pi6**-0.213
        * pi7**-0.483
    )
    flags = _flags("quality", quality, QUALITY_RANGE, "-", refrigerant)
    return GeneralisedFlow(pi8 * bore * inlet.viscosity_liquid_pa_s, "two-phase", flags)


def _groups(
    bore: float, length: float, pressure: float, inlet: InletProperties
) -> tuple[float, float, float, float, float]:
    """The groups both branches share: pi1, pi2, pi4, pi6, pi7."""
    vf, mu = inlet.volume_liquid_m3_kg, inlet.viscosity_liquid_pa_s
    return (
        length / bore,
        bore**2 * inlet.heat_of_vaporisation_j_kg / (vf * mu) ** 2,
        bore**2 * pressure / (vf * mu**2),
        inlet.volume_vapour_m3_kg / vf,
        (mu - inlet.viscosity_vapour_pa_s) / inlet.viscosity_vapour_pa_s,
    )


def _flags(
    name: str, value: float, allowed: tuple[float, float], unit: str, refrigerant: str
) -> tuple[str, ...]:
    flags = []
    if not allowed[0] <= value <= allowed[1]:
        flags.append(f"{name} {value:g} outside {allowed[0]:g} to {allowed[1]:g} [{unit}]")
    if refrigerant and refrigerant not in FITTED_REFRIGERANTS:
        flags.append(f"{refrigerant} is an extrapolation of this correlation")
    return tuple(flags)


def _require_positive(**values: float) -> None:
    units = {"bore": "m", "length": "m", "pressure": "Pa", "subcooling": "K", "quality": "-"}
    for name, value in values.items():
        require(name, value, units[name], 1e-12, 1e12)

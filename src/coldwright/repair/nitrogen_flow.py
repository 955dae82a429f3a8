"""Nitrogen through a capillary: the bench check of a new tube against the old one."""

from __future__ import annotations

from dataclasses import dataclass
from math import log, pi, sqrt

from scipy.optimize import brentq

from coldwright.cycle.friction import churchill
from coldwright.errors import NotSolved, require

GAS_CONSTANT = 296.8  # nitrogen, CODATA 2018 over 28.0134 g/mol [J/kg/K]
VISCOSITY_PA_S = 17.6e-6  # nitrogen at 293 K, Lemmon & Jacobsen (2004), 1 %
FREE_DENSITY = 1.165  # at 20 °C and 101 325 Pa, ideal gas [kg/m3]


@dataclass(frozen=True, slots=True)
class NitrogenFlow:
    """What a flow meter at the open end should show."""

    mass_flow_kg_s: float
    free_litre_per_min: float  # at 20 °C and 1 atm
    choked: bool


def nitrogen_flow(
    bore: float,
    length: float,
    inlet_pressure: float,
    *,
    outlet_pressure: float = 101_325.0,
    temperature: float = 293.15,
    roughness: float = 0.6e-6,
) -> NitrogenFlow:
    """Isothermal flow of nitrogen through a tube open at its end.

    Parameters
    ----------
    bore : float
        Inside diameter. [m]
    length : float
        Length. [m]
    inlet_pressure : float
        Absolute, above the outlet pressure. [Pa]
    outlet_pressure : float
        Absolute, of the room. [Pa]
    temperature : float
        Of gas and tube. [K]
    roughness : float
        Of the wall. [m]

    Returns
    -------
    NitrogenFlow
        Mass flow [kg/s], free flow [L/min], and whether it chokes.

    Raises
    ------
    OutOfRange
        If the inlet pressure is not above the outlet pressure, or a size cannot be.
    NotSolved
        If no flow fits.

    References
    ----------
    .. [1] Isothermal compressible flow in a tube, such as Crane TP-410 (1988), eq. (1-6);
       friction factor of Churchill (1977); choked where the end is at sonic speed of
       isothermal flow.
    """
    require("bore", bore, "m", 1e-4, 1e-2)
    require("length", length, "m", 0.05, 50.0)
    require("inlet pressure", inlet_pressure, "Pa", 1.01 * outlet_pressure, 1e7)
    area = 0.25 * pi * bore**2
    rt = GAS_CONSTANT * temperature

    def excess(flow: float) -> float:
        flux = flow / area
        friction: float = churchill(flow * bore / (area * VISCOSITY_PA_S), roughness / bore)
        end = max(outlet_pressure, flux * sqrt(rt))  # sonic end of isothermal flow
        if end >= inlet_pressure:
            return flux * flux * rt * friction * length / bore
        drop = inlet_pressure**2 - end**2
        return (
            flux * flux * rt * (friction * length / bore + 2.0 * log(inlet_pressure / end)) - drop
        )

    most = 0.999 * area * inlet_pressure / sqrt(rt)
    if excess(most) <= 0.0:
        raise NotSolved("nitrogen flow", (most,), excess(most))
    flow = float(brentq(excess, 1e-12, most, xtol=1e-15, rtol=1e-10))
    return NitrogenFlow(
        flow, flow / FREE_DENSITY * 60_000.0, flow / area * sqrt(rt) > outlet_pressure
    )

"""The generalised capillary correlation as kernels read it, its two branches joined.

It knows no suction-line exchanger and no evaporating pressure: in a running circuit it is
a second opinion on the tube, not a better one.
"""

from __future__ import annotations

from math import exp, log
from typing import NamedTuple

from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import liquid, liquid_temperature
from coldwright.refrigerant.saturation import saturation_all, saturation_pressure

LEAST_SUBCOOLING = 1.0  # end of the subcooled branch [K]
LEAST_QUALITY = 0.03  # start of the two-phase branch
MOST_QUALITY = 0.98


class InletProperties(NamedTuple):
    """Saturated properties at the capillary's inlet temperature."""

    volume_liquid_m3_kg: float
    volume_vapour_m3_kg: float
    viscosity_liquid_pa_s: float
    viscosity_vapour_pa_s: float
    heat_of_vaporisation_j_kg: float
    specific_heat_liquid_j_kg_k: float


class Groups(NamedTuple):
    """Dimensionless groups by their numbers in the source."""

    pi1: float  # length
    pi2: float  # heat of vaporisation
    pi4: float  # inlet pressure
    pi6: float  # volumes
    pi7: float  # viscosities


@kernel
def inlet_of(sat):
    """The properties the correlation reads.

    Parameters
    ----------
    sat : Saturation
        `saturation_all` at the inlet's temperature.

    Returns
    -------
    InletProperties
        In SI. [SI]

    References
    ----------
    .. [1] Definition.
    """
    return InletProperties(sat.v_l, sat.v_v, sat.mu_l, sat.mu_v, sat.h_v - sat.h_l, sat.cp_l)


@kernel
def groups(inlet, pressure, bore, length):
    """The dimensionless groups both branches share.

    Parameters
    ----------
    inlet : InletProperties
        Saturated properties at the inlet's temperature.
    pressure : float
        Before the inlet. [Pa]
    bore, length : float
        Of the tube. [m]

    Returns
    -------
    Groups
        By their numbers in the source. [-]

    References
    ----------
    .. [1] Wolf, Bittle & Pate (1995), see `generalised.subcooled_flow`.
    """
    vf, mu = inlet.volume_liquid_m3_kg, inlet.viscosity_liquid_pa_s
    return Groups(
        length / bore,
        bore**2 * inlet.heat_of_vaporisation_j_kg / (vf * mu) ** 2,
        bore**2 * pressure / (vf * mu**2),
        inlet.volume_vapour_m3_kg / vf,
        (mu - inlet.viscosity_vapour_pa_s) / inlet.viscosity_vapour_pa_s,
    )


@kernel
def subcooled_branch(inlet, pressure, subcooling, bore, length):
    """Flow with subcooled liquid at the inlet.

    Parameters
    ----------
    inlet : InletProperties
        Saturated properties at the inlet's temperature.
    pressure : float
        Before the inlet. [Pa]
    subcooling : float
        Read for 1 to 17. [K]
    bore, length : float
        Of the tube. [m]

    Returns
    -------
    float
        Mass flow. [kg/s]

    References
    ----------
    .. [1] Wolf, Bittle & Pate (1995), see `generalised.subcooled_flow`.
    """
    g = groups(inlet, pressure, bore, length)
    pi5 = (
        (bore / (inlet.volume_liquid_m3_kg * inlet.viscosity_liquid_pa_s)) ** 2
        * inlet.specific_heat_liquid_j_kg_k
        * subcooling
    )
    pi8 = (
        1.8925 * g.pi1**-0.484 * g.pi2**-0.824 * g.pi4**1.369 * pi5**0.0187 * g.pi6**0.773
        * g.pi7**0.265
    )  # fmt: skip
    return pi8 * bore * inlet.viscosity_liquid_pa_s


@kernel
def two_phase_branch(inlet, pressure, quality, bore, length):
    """Flow with vapour in the liquid at the inlet.

    Parameters
    ----------
    inlet : InletProperties
        Saturated properties at the inlet.
    pressure : float
        Before the inlet. [Pa]
    quality : float
        Read for 0.03 to 0.25. [-]
    bore, length : float
        Of the tube. [m]

    Returns
    -------
    float
        Mass flow. [kg/s]

    References
    ----------
    .. [1] Wolf, Bittle & Pate (1995), see `generalised.two_phase_flow`.
    """
    g = groups(inlet, pressure, bore, length)
    pi8 = (
        187.27 * g.pi1**-0.635 * g.pi2**-0.189 * g.pi4**0.645 * quality**-0.163
        * g.pi6**-0.213 * g.pi7**-0.483
    )  # fmt: skip
    return pi8 * bore * inlet.viscosity_liquid_pa_s


@kernel
def generalised_flow(tab, p, h, bore, length):
    """Flow at any inlet; between 1 K of subcooling and a quality of 0.03 a straight line.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Before the inlet. [Pa]
    h : float
        Enthalpy there. [J/kg]
    bore, length : float
        Of the tube. [m]

    Returns
    -------
    float
        Mass flow. [kg/s]

    References
    ----------
    .. [1] `subcooled_branch`, `two_phase_branch`; ln(flow) over enthalpy between (ours).
    """
    s = saturation_all(tab, p)
    t, hl, hv = s.t, s.h_l, s.h_v
    x = (h - hl) / (hv - hl)
    if x >= LEAST_QUALITY:
        return two_phase_branch(inlet_of(s), p, min(x, MOST_QUALITY), bore, length)
    t_one = t - LEAST_SUBCOOLING
    h_one = liquid(tab, p, t_one).h
    if h <= h_one:
        tl = liquid_temperature(tab, p, h)
        cold = saturation_all(tab, saturation_pressure(tab, tl))
        return subcooled_branch(inlet_of(cold), p, t - tl, bore, length)
    near = saturation_all(tab, saturation_pressure(tab, t_one))
    below = log(subcooled_branch(inlet_of(near), p, LEAST_SUBCOOLING, bore, length))
    above = log(two_phase_branch(inlet_of(s), p, LEAST_QUALITY, bore, length))
    share = (h - h_one) / (hl + LEAST_QUALITY * (hv - hl) - h_one)
    return exp(below + share * (above - below))

"""The generalised capillary correlation as kernels read it, its two branches joined.

It knows no suction-line exchanger and no evaporating pressure: in a running circuit it is
a second opinion on the tube, not a better one.
"""

from __future__ import annotations

from math import exp, log

from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import liquid, liquid_temperature
from coldwright.refrigerant.saturation import saturation_all, saturation_pressure

LEAST_SUBCOOLING = 1.0  # end of the subcooled branch [K]
LEAST_QUALITY = 0.03  # start of the two-phase branch
MOST_QUALITY = 0.98


@kernel
def subcooled_branch(s, pressure, subcooling, bore, length):
    """Flow with subcooled liquid at the inlet.

    Parameters
    ----------
    s : tuple
        `saturation_all` at the inlet's temperature.
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
    vf, mu = s[3], s[5]
    scale = bore / (vf * mu)
    pi2 = bore**2 * (s[2] - s[1]) / (vf * mu) ** 2
    pi4 = bore**2 * pressure / (vf * mu**2)
    pi5 = scale**2 * s[9] * subcooling
    pi7 = (mu - s[6]) / s[6]
    pi8 = (
        1.8925 * (length / bore) ** -0.484 * pi2**-0.824 * pi4**1.369 * pi5**0.0187
        * (s[4] / vf) ** 0.773 * pi7**0.265
    )  # fmt: skip
    return pi8 * bore * mu


@kernel
def two_phase_branch(s, pressure, quality, bore, length):
    """Flow with vapour in the liquid at the inlet.

    Parameters
    ----------
    s : tuple
        `saturation_all` at the inlet.
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
    vf, mu = s[3], s[5]
    pi2 = bore**2 * (s[2] - s[1]) / (vf * mu) ** 2
    pi4 = bore**2 * pressure / (vf * mu**2)
    pi7 = (mu - s[6]) / s[6]
    pi8 = (
        187.27 * (length / bore) ** -0.635 * pi2**-0.189 * pi4**0.645 * quality**-0.163
        * (s[4] / vf) ** -0.213 * pi7**-0.483
    )  # fmt: skip
    return pi8 * bore * mu


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
    t, hl, hv = s[0], s[1], s[2]
    x = (h - hl) / (hv - hl)
    if x >= LEAST_QUALITY:
        return two_phase_branch(s, p, min(x, MOST_QUALITY), bore, length)
    t_one = t - LEAST_SUBCOOLING
    h_one = liquid(tab, p, t_one)[0]
    if h <= h_one:
        tl = liquid_temperature(tab, p, h)
        cold = saturation_all(tab, saturation_pressure(tab, tl))
        return subcooled_branch(cold, p, t - tl, bore, length)
    near = saturation_all(tab, saturation_pressure(tab, t_one))
    below = log(subcooled_branch(near, p, LEAST_SUBCOOLING, bore, length))
    above = log(two_phase_branch(s, p, LEAST_QUALITY, bore, length))
    share = (h - h_one) / (hl + LEAST_QUALITY * (hv - hl) - h_one)
    return exp(below + share * (above - below))

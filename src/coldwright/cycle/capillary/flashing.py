"""Delay of flashing: how far liquid in a capillary falls below saturation before it boils.

The stretch of metastable liquid is walked here and `march.march` goes on from
where it ends, so that a tube without the delay costs nothing more. Reckoned with before
the bond only: nothing published tells how liquid flashes while the tube cools it (ours).
"""

from __future__ import annotations

from math import pi

from coldwright.cycle.capillary.states import mixture_volume
from coldwright.cycle.friction import churchill
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import liquid, liquid_temperature
from coldwright.refrigerant.saturation import saturation_all, saturation_march, saturation_pressure

BOLTZMANN = 1.380649e-23  # [J/K], exact (SI 2019)
LEAST_SUBCOOLING = 1.0  # below it the delay fades to none at saturation, ours [K]
NO_ENTRANCE = -1.0  # velocity heads: the march then starts inside the tube
MOST_SHARE = 0.5  # of the saturation pressure, ours
# What the correlation was made from (from memory)
REYNOLDS_RANGE = (4.64e3, 3.76e4)
SUBCOOLING_RANGE_K = (0.0, 17.0)
BORE_RANGE_M = (0.66e-3, 1.17e-3)


@kernel
def under_pressure(tab, p_saturated, flux, bore, subcooling):
    """Pressure below saturation at which metastable liquid begins to boil.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p_saturated : float
        Saturation pressure at the liquid's temperature. [Pa]
    flux : float
        Mass flow over section. [kg/m2/s]
    bore : float
        Inside diameter, made from 0.66 to 1.17 mm. [m]
    subcooling : float
        Of the liquid at the tube's inlet, made from 0 to 17 K; below 1 K it fades to
        nothing at saturation (ours). [K]

    Returns
    -------
    float
        Difference, at most half of `p_saturated` (ours). [Pa]

    References
    ----------
    .. [1] Z. H. Chen, R. Y. Li, S. Lin, Z. Y. Chen, A correlation for metastable flow of
       refrigerant 12 through capillary tubes, ASHRAE Transactions 96(1), 1990, 550-554
       (from memory; the paper was not read). Made with R12; others are an extrapolation.
    """
    if subcooling <= 0.0:
        return 0.0
    s = saturation_all(tab, p_saturated)
    sigma = max(s[13], 1e-5)
    heat = BOLTZMANN * s[0]
    nucleus = (heat / sigma) ** 0.5 * 1e4
    reynolds = flux * bore / s[5]
    cold = max(subcooling, LEAST_SUBCOOLING)
    group = (
        0.679 * s[4] / (s[4] - s[3]) * reynolds**0.914 * (cold / tab.t_critical) ** -0.208
        * (bore / nucleus) ** -3.18
    )  # fmt: skip
    found = group * sigma**1.5 / heat**0.5 * min(subcooling / LEAST_SUBCOOLING, 1.0)
    return min(found, MOST_SHARE * p_saturated)


@kernel
def metastable_inlet(tab, p_in, h_in, p_end, m, bore, roughness, entrance, inlet, share):
    """Liquid stretch of a tube in which flashing is late.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p_in : float
        Pressure before the entrance. [Pa]
    h_in : float
        Specific enthalpy there. [J/kg]
    p_end : float
        Evaporating pressure. [Pa]
    m : float
        Mass flow. [kg/s]
    bore, roughness : float
        Of the tube. [m]
    entrance : float
        Entrance loss in velocity heads. [-]
    inlet : float
        Length up to where the delay is reckoned with. [m]
    share : float
        Of the delay, above 0 to 1. [-]

    Returns
    -------
    tuple
        pressure at its end, the mixture's acceleration taken off [Pa], its length [m],
        1 where there is such a stretch, else 0 with `p_in` and no length.

    References
    ----------
    .. [1] Liquid friction by Churchill (1977) to `under_pressure` below saturation, then
       equilibrium at once, p + G^2 v kept (Bittle & Pate 1996, from memory).
    """
    t, hl, hv, vl, vv, mul, muv = saturation_march(tab, p_in)
    if h_in >= hl:
        return p_in, 0.0, 0.0
    g = m / (0.25 * pi * bore * bore)
    tl = liquid_temperature(tab, p_in, h_in)
    h_l, v, mu = liquid(tab, p_in, tl)
    p = p_in - (1.0 + entrance) * 0.5 * g * g * v
    p_flash = saturation_pressure(tab, tl)
    p_boil = max(p_flash - share * under_pressure(tab, p_flash, g, bore, t - tl), p_end)
    if p <= p_boil:
        return p_in, 0.0, 0.0  # all gone in the mouth: the march says what is short
    gradient = churchill(g * bore / mu, roughness / bore) * g * g * v / (2.0 * bore)
    reach = (p - p_boil) / gradient
    if reach > inlet:
        reach = inlet
    p -= gradient * reach
    if p < p_flash and p > p_end:
        p = max(p - g * g * max(mixture_volume(tab, p, h_in) - v, 0.0), p_end)
    return p, reach, 1.0

"""Heat between the capillary and the suction line bonded to it."""

from __future__ import annotations

from math import exp

from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import liquid_heat_capacity, temperature, vapour

CONDENSING_QUALITY = 0.03  # inlet quality that doubles the capillary's heat capacity, ours


@kernel
def counterflow(ntu, ratio):
    """Effectiveness of a counter-flow exchanger on the gas side.

    Parameters
    ----------
    ntu : float
        Conductance over the gas's heat capacity rate. [-]
    ratio : float
        Gas over liquid heat capacity rate, may pass 1. [-]

    Returns
    -------
    float
        Effectiveness. [-]

    References
    ----------
    .. [1] Incropera et al. (2007), table 11.3, counter-flow.
    """
    d = 1.0 - ratio
    if abs(d) < 1e-6:
        return ntu / (1.0 + ntu)
    e = exp(-ntu * d)
    return (1.0 - e) / (1.0 - ratio * e)


@kernel
def exchange(tab, p_end, h_cold, t_warm, x_warm, conductance, m):
    """Heat per mass that the suction gas takes from the capillary in the bond.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p_end : float
        Suction pressure. [Pa]
    h_cold : float
        Enthalpy of the suction stream entering the bond. [J/kg]
    t_warm : float
        Temperature of the liquid entering the capillary. [K]
    x_warm : float
        Its quality, 0 or below for liquid. [-]
    conductance : float
        Of the whole bond. [W/K]
    m : float
        Mass flow. [kg/s]

    Returns
    -------
    tuple
        heat [J/kg], skew of its flux along the bond [-].

    References
    ----------
    .. [1] Counter-flow effectiveness, Incropera et al. (2007), table 11.3. Where vapour
       enters the capillary its side condenses at falling pressure; its heat capacity
       is then taken larger in proportion to quality (judgement of ours).
    """
    h_most = vapour(tab, p_end, t_warm)[0]
    t_cold = temperature(tab, p_end, h_cold)
    if t_warm - t_cold < 0.01 or h_most <= h_cold:
        return 0.0, 0.0
    cs = (h_most - h_cold) / (t_warm - t_cold)
    cl = liquid_heat_capacity(tab, t_warm) * (1.0 + max(x_warm, 0.0) / CONDENSING_QUALITY)
    ratio = cs / cl
    ntu = conductance / (m * cs)
    return counterflow(ntu, ratio) * (h_most - h_cold), ntu * (1.0 - ratio)

"""A tube heated from one temperature: the oil cooler, and what boils again in a condenser."""

from __future__ import annotations

from math import exp, log, pi

from coldwright.cycle.inventory import two_phase_density
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import (
    liquid,
    liquid_heat_capacity,
    temperature,
    vapour,
    vapour_hvs,
    vapour_temperature,
)


@kernel
def heated(tab, p, sat, m, h_in, ua, t_oil):
    """Heat that refrigerant takes from oil (or air) of one temperature, in up to three zones.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure. [Pa]
    sat : tuple
        `saturation_all` there.
    m : float
        Mass flow. [kg/s]
    h_in : float
        Inlet enthalpy. [J/kg]
    ua : float
        Oil to refrigerant, whole cooler. [W/K]
    t_oil : float
        Oil temperature. [K]

    Returns
    -------
    float
        Heat, negative where the oil is the colder. [W]

    References
    ----------
    .. [1] Effectiveness of one stream against a constant temperature, zone by zone;
       Incropera et al. (2007), ch. 11.
    """
    tc, hl, hv = sat[0], sat[1], sat[2]
    left, h = 1.0, h_in
    if h < hl:
        t = temperature(tab, p, h)
        n = ua / (m * liquid_heat_capacity(tab, t))
        need = log((t_oil - t) / (t_oil - tc)) / n if t_oil > tc else 2.0
        if need >= left or t_oil <= t:
            return m * (liquid(tab, p, min(t_oil + (t - t_oil) * exp(-n), tc))[0] - h_in)
        left -= need
        h = hl
    if h <= hv:
        gain = left * ua * (t_oil - tc) / m
        if h + gain <= hv:
            return m * (max(h + gain, hl) - h_in)
        left -= (hv - h) * m / (ua * (t_oil - tc))
        h = hv
    t = vapour_temperature(tab, p, h)
    cp = vapour_hvs(tab, p, tc, t)[3]
    gain = cp * (t_oil - t) * (1.0 - exp(-left * ua / (m * cp)))
    return m * (max(h + gain, hv) - h_in)


@kernel
def oil_cooler_charge(med, c, p, sat, m, x_in, h_out, t_out):
    """Refrigerant in the oil cooler's tube.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    p : float
        Pressure. [Pa]
    sat : tuple
        `saturation_all` there.
    m : float
        Mass flow. [kg/s]
    x_in : float
        Quality at the inlet, outside 0..1 for one phase. [-]
    h_out, t_out : float
        At the outlet. [J/kg], [K]

    Returns
    -------
    float
        Mass; a superheated or subcooled part counts as saturated. [kg]

    References
    ----------
    .. [1] `inventory.two_phase_density`.
    """
    o = c.oil_cooler
    x_out = (h_out - sat[1]) / (sat[2] - sat[1])
    area = 0.25 * pi * o.tube_bore_m**2
    if x_in >= 1.0 and x_out >= 1.0:
        return area * o.tube_length_m / vapour(med.tables, p, t_out)[1]
    rho = two_phase_density(med.void_code, x_in, x_out, sat, m / area, o.tube_bore_m)
    return area * o.tube_length_m * rho

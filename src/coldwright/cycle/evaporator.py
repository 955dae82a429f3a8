"""Evaporator in zones with moving boundaries.

Each zone has one overall conductance (in-tube coefficient in series with the
outside); single-phase zones are exponentials, two-phase zones linear in
length. Evaporating pressure is uniform; the low side's pressure loss is taken
between evaporator and shell.
"""

from __future__ import annotations

from math import exp, pi

from coldwright.cycle.air_side import evaporator_conductance
from coldwright.cycle.intube import gungor_winterton, single_phase
from coldwright.cycle.inventory import two_phase_density
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import vapour, vapour_temperature

FREEZING = 273.15
FROST_BAND = 1.0  # width over which a wall near 0 degC counts as frosted, ours [K]


@kernel
def evaporate(med, c, p, sat, m, h_in, t_air):
    """Evaporator outlet from its inlet.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    p : float
        Evaporating pressure. [Pa]
    sat : tuple
        `saturation_all` there.
    m : float
        Mass flow. [kg/s]
    h_in : float
        Inlet enthalpy. [J/kg]
    t_air : float
        Air reaching the evaporator. [K]

    Returns
    -------
    tuple
        outlet enthalpy [J/kg], outlet temperature [K], share of the length wetted [-],
        frosted share [-], charge [kg], mean quality of the wetted stretch [-].

    References
    ----------
    .. [1] Zones with moving boundaries; Gungor & Winterton (1987); Gnielinski (2013).
    """
    tab = med.tables
    e = c.evaporator
    te, hl, hv = sat[0], sat[1], sat[2]
    hfg = hv - hl
    area_in = pi * e.tube_bore_m * e.tube_length_m
    flux = m / (0.25 * pi * e.tube_bore_m**2)
    x_in = (h_in - hl) / hfg
    g = evaporator_conductance(e, c.cabinet.air_capacity_w_k, te, t_air)
    a2 = 0.0
    h_out = h_in
    frosted = 0.0
    mass = 0.0
    x_mean = 1.0
    if x_in < 1.0:
        heat_flux = g * max(t_air - te, 0.0) / area_in
        x_mid = min(0.5 * (max(x_in, 0.0) + 1.0), 0.9)
        hi = gungor_winterton(
            x_mid, heat_flux, flux, e.tube_bore_m, 1.0 / sat[3], 1.0 / sat[4], sat[5], sat[11],
            sat[9], hfg,
        )  # fmt: skip
        u2 = 1.0 / (1.0 / (hi * area_in) + 1.0 / g)
        drive = u2 * (t_air - te)
        a2 = m * (hv - h_in) / drive if drive > 0.0 else 2.0
        t_wall = t_air - drive / g
        cold = (FREEZING - t_wall) / FROST_BAND
        wet = min(a2, 1.0)
        frosted = wet / (1.0 + exp(-min(max(cold * 2.0, -30.0), 30.0)))
        if a2 >= 1.0:
            h_out = h_in + drive / m
            x_out = (h_out - hl) / hfg
            rho = two_phase_density(med.void_code, x_in, x_out, sat, flux, e.tube_bore_m)
            return h_out, te, 1.0, frosted, e.volume_m3 * rho, 0.5 * (x_in + x_out)
        rho = two_phase_density(med.void_code, x_in, 1.0, sat, flux, e.tube_bore_m)
        mass = e.volume_m3 * a2 * rho
        x_mean = 0.5 * (x_in + 1.0)
        h_out = hv
    t_start = te if x_in < 1.0 else vapour_temperature(tab, p, h_in)
    hi = single_phase(
        flux * e.tube_bore_m / sat[6], sat[10] * sat[6] / sat[12], sat[12], e.tube_bore_m
    )
    u3 = 1.0 / (1.0 / (hi * area_in) + 1.0 / g)
    t_out = t_air + (t_start - t_air) * exp(-u3 * (1.0 - a2) / (m * sat[10]))
    h_out, v_out, s, cp, mu, k = vapour(tab, p, t_out)
    v_mean = 0.5 * (sat[4] + v_out)
    return h_out, t_out, a2, frosted, mass + e.volume_m3 * (1.0 - a2) / v_mean, x_mean

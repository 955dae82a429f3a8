"""A stretch of the high side: a tube that gives heat to the room and, in part, to the cabinet.

Up to three zones with moving boundaries (vapour, two phases, liquid), each with one
overall conductance; single-phase zones are exponentials, the two-phase zone is linear in
length. A condenser, a section of one, a frame loop and a drain-pan loop are such stretches.
The pressure is uniform.
"""

from __future__ import annotations

from math import exp, log, pi

from coldwright.cycle.air_side import condenser_conductance, wire_and_tube_shape
from coldwright.cycle.high_side.oil_cooling import heated
from coldwright.cycle.intube import shah_condensation_mean, single_phase
from coldwright.cycle.inventory import two_phase_density
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import liquid, temperature, vapour, vapour_temperature

TINY = 1e-12


@kernel
def pass_tube(
    med, p, sat, m, h_in, bore, length, volume, bond, g_v, g_2, g_l, inward, room, inside, x_top, at
):  # fmt: skip
    """Outlet of one stretch from its inlet.

    The wall (condenser surface or flange) is one node that loses to the room and to the
    cabinet; `bond` lies between tube and node.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    p : float
        Pressure. [Pa]
    sat : tuple
        `saturation_all` there.
    m : float
        Mass flow. [kg/s]
    h_in : float
        Inlet enthalpy. [J/kg]
    bore, length : float
        Of the tube. [m]
    volume : float
        Inner. [m3]
    bond : float
        Resistance between tube and wall, whole stretch. [K/W]
    g_v, g_2, g_l : float
        Wall to room in the vapour, two-phase and liquid zone, whole stretch. [W/K]
    inward : float
        Wall to cabinet, whole stretch. [W/K]
    room, inside : float
        Temperatures of room and cabinet. [K]
    x_top : float
        Quality from which the in-tube coefficient is averaged down to 0. [-]
    at : float
        Share of the length at which a temperature is wanted. [-]

    Returns
    -------
    tuple
        outlet enthalpy [J/kg], outlet temperature [K], temperature at `at` [K], inward
        heat [W], charge [kg], wall temperature at the outlet [K].

    References
    ----------
    .. [1] Zones with moving boundaries, effectiveness-NTU by zone; Shah (1979);
       Gnielinski (2013). Boiling takes the condensing coefficient (ours; the air decides).
    """
    tab = med.tables
    tc, hl, hv = sat[0], sat[1], sat[2]
    area_in = pi * bore * length
    flux = m / (0.25 * pi * bore**2)

    # Vapour zone
    t_in = tc
    a1 = 0.0
    rho1 = 1.0 / sat[4]
    h_after = h_in
    sink1 = room
    u1 = 0.0
    if h_in > hv:
        t_in = vapour_temperature(tab, p, h_in)
        hm, vm, sm, cpm, mum, km = vapour(tab, p, 0.5 * (t_in + tc))
        cp1 = (h_in - hv) / max(t_in - tc, 1e-9)
        sink1 = (g_v * room + inward * inside) / (g_v + inward)
        hi = single_phase(flux * bore / mum, cpm * mum / km, km, bore)
        u1 = 1.0 / (1.0 / (hi * area_in) + bond + 1.0 / (g_v + inward))
        if tc - sink1 > 1e-6 and t_in > tc:
            a1 = m * cp1 / u1 * log((t_in - sink1) / (tc - sink1))
        else:
            a1 = 2.0
        rho1 = 1.0 / vm
        h_after = hv
        if a1 >= 1.0:
            n = u1 / (m * cp1)
            t_out = sink1 + (t_in - sink1) * exp(-n)
            h_out = h_in - cp1 * (t_in - t_out)
            t_at = sink1 + (t_in - sink1) * exp(-at * n)
            q_in = m * (h_in - h_out) * inward / max(g_v + inward, TINY)
            if inward > 0.0:
                q_in += inward * g_v / (g_v + inward) * (room - inside)
            t_wall = sink1 + u1 * (t_out - sink1) / (g_v + inward)
            return h_out, t_out, t_at, q_in, volume * rho1, t_wall

    # Two-phase zone
    sink = (g_2 * room + inward * inside) / (g_2 + inward)
    a2 = 0.0
    rho2 = 0.0
    t_start = tc
    x_in = (h_after - hl) / (hv - hl)
    split = inward / max(g_2 + inward, TINY)
    if x_in > 0.0 or tc <= sink:
        hi = shah_condensation_mean(
            x_top, 0.0, flux, bore, sat[5], sat[11], sat[9], p / tab.p_critical
        )
        u2 = 1.0 / (1.0 / (hi * area_in) + bond + 1.0 / (g_2 + inward))
        drive = u2 * (tc - sink)
        if tc <= sink:
            # What a colder stretch before has condensed boils again here
            q = heated(tab, p, sat, m, h_after, (1.0 - a1) * u2, sink)
            h_out = h_after + q / m
            t_out = temperature(tab, p, h_out)
            x_out = (h_out - hl) / (hv - hl)
            rho2 = two_phase_density(med.void_code, x_in, x_out, sat, flux, bore)
            q_in = m * (h_in - h_out) * split + inward * (1.0 - split) * (room - inside)
            t_wall = sink + u2 * (t_out - sink) / (g_2 + inward)
            charge = volume * (a1 * rho1 + (1.0 - a1) * rho2)
            return h_out, t_out, t_out, q_in, charge, t_wall
        a2 = m * (h_after - hl) / drive
    else:
        t_start = temperature(tab, p, h_in)
    t_at = tc
    if a1 > at:
        t_at = sink1 + (t_in - sink1) * exp(-u1 * at / (m * (h_in - hv) / (t_in - tc)))
    if x_in > 0.0:
        if a1 + a2 >= 1.0:
            a2 = 1.0 - a1
            h_out = h_after - drive * a2 / m
            x_out = (h_out - hl) / (hv - hl)
            rho2 = two_phase_density(med.void_code, x_in, x_out, sat, flux, bore)
            q_in = m * (h_in - h_out) * split + inward * (1.0 - split) * (room - inside)
            t_wall = sink + drive / (g_2 + inward)
            return h_out, tc, t_at, q_in, volume * (a1 * rho1 + a2 * rho2), t_wall
        rho2 = two_phase_density(med.void_code, x_in, 0.0, sat, flux, bore)

    # Liquid zone
    a3 = 1.0 - a1 - a2
    sink = (g_l * room + inward * inside) / (g_l + inward)
    hi = single_phase(flux * bore / sat[5], sat[9] * sat[5] / sat[11], sat[11], bore)
    u3 = 1.0 / (1.0 / (hi * area_in) + bond + 1.0 / (g_l + inward))
    n3 = u3 / (m * sat[9])
    t_out = min(sink + (t_start - sink) * exp(-n3 * a3), tc)
    h_out, v_out, mu = liquid(tab, p, t_out)
    if a1 + a2 < at:
        t_at = sink + (t_start - sink) * exp(-n3 * (at - a1 - a2))
    v3 = liquid(tab, p, 0.5 * (t_start + t_out))[1]
    charge = volume * (a1 * rho1 + a2 * rho2 + a3 / v3)
    q_in = m * (h_in - h_out) * split + inward * (1.0 - split) * (room - inside)
    t_wall = sink + u3 * (t_out - sink) / (g_l + inward)
    return h_out, t_out, t_at, q_in, charge, t_wall


@kernel
def section(med, d, p, sat, m, h_in, room, inside, share, x_top, at):
    """A share of the condenser, its outside surface by kind.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    d : record
        `circuit.records.Condenser`.
    p : float
        Condensing pressure. [Pa]
    sat : tuple
        `saturation_all` there.
    m : float
        Mass flow. [kg/s]
    h_in : float
        Inlet enthalpy. [J/kg]
    room : float
        Room temperature. [K]
    inside : float
        Compartment temperature, behind a skin condenser. [K]
    share : float
        Of tube and surface, above 0. [-]
    x_top : float
        As in `pass_tube`. [-]
    at : float
        As in `pass_tube`. [-]

    Returns
    -------
    tuple
        As `pass_tube`.

    References
    ----------
    .. [1] Tagliafico & Tanda (1997); Churchill & Chu (1975); `pass_tube`.
    """
    tc = sat[0]
    shape = wire_and_tube_shape(d)
    g_v = 0.0
    if h_in > sat[2]:
        t_in = vapour_temperature(med.tables, p, h_in)
        g_v = share * condenser_conductance(d, shape, 0.5 * (t_in + max(tc, room)), room)
    g_2 = share * condenser_conductance(d, shape, tc, room)
    g_l = share * condenser_conductance(d, shape, 0.5 * (tc + room), room)
    return pass_tube(
        med, p, sat, m, h_in, d.tube_bore_m, share * d.tube_length_m, share * d.volume_m3, 0.0,
        g_v, g_2, g_l, share * d.inward_conductance_w_k, room, inside, x_top, at,
    )  # fmt: skip

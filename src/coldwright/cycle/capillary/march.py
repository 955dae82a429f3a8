"""Capillary tube: a one-dimensional march from the drier to choking or to the evaporator.

Steady homogeneous flow in a tube of constant bore, on the residual form: for a
given mass flow the march returns the length it needs, so the cycle needs no
nested flow solve.

    momentum   dz = -(dp + G^2 dv) / (f G^2 v / (2 d))
    energy     h + G^2 v^2 / 2 = h0 - q/m
    choking    dp + G^2 dv = 0 along the flow

f is Churchill (1977) at the McAdams (1942) two-phase viscosity. The bonded
stretch loses heat to the suction gas in counter-flow: `exchange` gives the
total by effectiveness and the shape of its flux along the bond, both exact for
liquid against gas; the march then takes that heat as given. (Marching both
streams together is ill-conditioned: see docs/decisions.)
"""

from __future__ import annotations

from math import exp, log, pi

from coldwright.cycle.capillary.states import (
    NEAR_SONIC,
    _any_phase,
    _choking_pressure,
    _fanno,
    _friction,
    _friction_fit,
    _impulse_slope,
    mixture_volume,
)
from coldwright.cycle.friction import churchill
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import (
    liquid,
    liquid_heat_capacity,
    liquid_temperature,
)
from coldwright.refrigerant.saturation import (
    saturation_march,
    saturation_pressure,
)

BOND_STEPS = 8  # over the bonded length; refined against 200 in tests
TWO_PHASE_STEPS = 14  # refined against 400 in tests
MOST_STEPS = 1000  # of either loop; more than any caller asks for
FALL_PER_STEP = 0.12  # largest share of the pressure lost in one step of the bond


@kernel
def pressure_after_loss(tab, p_in, h, p_end, loss_m2):
    """Pressure after a local resistance that takes `loss_m2` = K m^2 from the integral of dp/v.

    The integral form lets liquid flash inside the resistance (a blocked
    drier) and always has an answer. Returns (pressure, deficit): a deficit
    above 0 is the share of the resistance that even the whole fall to `p_end`
    does not feed.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p_in : float
        Pressure before. [Pa]
    h : float
        Specific enthalpy, unchanged by the loss. [J/kg]
    p_end : float
        Lowest pressure that can stand after it. [Pa]
    loss_m2 : float
        Loss coefficient times mass flow squared. [kg2/m4/s2]

    References
    ----------
    .. [1] Darcy-Weisbach with v varying; integral of dp/v = K m^2.
    """
    if loss_m2 <= 0.0:
        return p_in, 0.0
    t, hl, hv, vl, vv, mul, muv = saturation_march(tab, p_in)
    p_flash = p_in
    v = vl
    if h < hl:
        tl = liquid_temperature(tab, p_in, h)
        p_flash = min(saturation_pressure(tab, tl), p_in)
        v = liquid(tab, p_in, tl)[1]
    part = (p_in - max(p_flash, p_end)) / v
    if part >= loss_m2:
        return p_in - loss_m2 * v, 0.0
    if p_flash <= p_end:
        return p_end, 1.0 - part / loss_m2
    total = part
    steps = 12
    ratio = exp(log(p_end / p_flash) / steps)
    p0 = p_flash
    g0 = 1.0 / mixture_volume(tab, p0, h)
    for _ in range(steps):
        p1 = p0 * ratio
        g1 = 1.0 / mixture_volume(tab, p1, h)
        gain = 0.5 * (g0 + g1) * (p0 - p1)
        if total + gain >= loss_m2:
            # Density linear in p inside the step: a quadratic in the pressure fall.
            need = loss_m2 - total
            slope = (g1 - g0) / (p0 - p1)
            fall = 2.0 * need / (g0 + (g0 * g0 + 2.0 * slope * need) ** 0.5)
            return p0 - fall, 0.0
        total += gain
        p0, g0 = p1, g1
    return p_end, 1.0 - total / loss_m2


@kernel
def _heat_share(s, k, whole):
    """Share of the bond's heat given up over the first share s of its length, and its slope."""
    if whole == 0.0:
        return s, 1.0
    e = exp(k * s)
    return (e - 1.0) / whole, k * e / whole


@kernel
def _bond_gradient(tab, p, h0, g2, bore, fr, flux, liq):
    """Pressure gradient in the bond at any phase, and the impulse slope there."""
    v, mu, s, slope = _any_phase(tab, p, h0, g2, liq)
    friction = _friction(fr, mu) * g2 * v / (2.0 * bore)
    # Condensing may win back pressure; a march needs it to fall, if only a little.
    drop = 0.1 * friction + max(0.9 * friction - g2 * s * flux, 0.0)
    # Near choking the slope is held, so that the length stays a continuous function of the
    # flow whether it chokes in the bond or just beyond it.
    return -drop / max(slope, NEAR_SONIC), slope


@kernel
def _adiabatic(tab, p, p_end, h0, g2, bore, fr, steps, reach, choked):
    """Pressure march from p towards p_end, stopped by choking or once `reach` is passed."""
    z = 0.0
    t, v, mu, x, s = _fanno(tab, p, h0, g2)
    # Steps are spent between here and where choking is due: v is nearly linear in 1/p
    # along the flow, so G^2 dv/dp = -1 has a closed form.
    p_try = max(0.4 * p, p_end)
    k = 1e-9
    if p_try < p:
        k = max((_fanno(tab, p_try, h0, g2)[1] - v) / (p / p_try - 1.0), 1e-9)
    p_goal = max(min(0.85 * (g2 * k * p) ** 0.5, 0.9 * p), p_end)
    ratio = (p_goal / p) ** (1.0 / steps)
    f0 = _friction(fr, mu) * g2 * v / (2.0 * bore)
    for _ in range(MOST_STEPS):
        if not (p > p_end and z < reach):
            break
        p1 = max(p * ratio, p_end)
        t1, v1, mu1, x1, s1 = _fanno(tab, p1, h0, g2)
        f1 = _friction(fr, mu1) * g2 * v1 / (2.0 * bore)
        dv = g2 * (v1 - v)
        # Choking inside the step: the impulse p + G^2 v turns up. Looked for only
        # where the flow is fast enough that it can.
        if dv > 0.6 * (p - p1):
            slope1 = _impulse_slope(tab, p1, h0, g2)
            if slope1 <= 0.0:
                pc = _choking_pressure(tab, p1, slope1, p, h0, g2)
                t1, v1, mu1, x1, s1 = _fanno(tab, pc, h0, g2)
                f1 = _friction(fr, mu1) * g2 * v1 / (2.0 * bore)
                z += ((p - pc) - g2 * (v1 - v)) / (0.5 * (f0 + f1))
                return z, pc, x1, 1.0
        dz = ((p - p1) - dv) / (0.5 * (f0 + f1))
        if z + dz > reach:
            # Stop at the border: pressure linear in length over the last step.
            p += (p1 - p) * (reach - z) / dz
            return reach, p, x, choked
        z += dz
        p, v, f0, x = p1, v1, f1, x1
    return z, p, x, choked


@kernel
def march(
    tab, p_in, h_in, p_end, heat, m, bore, roughness, entrance, inlet, bonded, skew,
    bond_steps, two_phase_steps,
):  # fmt: skip
    """Length a capillary needs for a flow, with the heat it gives the suction gas.

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
    heat : float
        Given up to the suction gas over the bond, 0 = adiabatic. [J/kg]
    m : float
        Mass flow. [kg/s]
    bore : float
        Inner diameter. [m]
    roughness : float
        Absolute roughness. [m]
    entrance : float
        Entrance loss in velocity heads. [-]
    inlet : float
        Length before the bond. [m]
    bonded : float
        Bonded length. [m]
    skew : float
        Shape of the flux along the bond, from `exchange`. [-]
    bond_steps : int
        Steps over the bonded length. [-]
    two_phase_steps : int
        Pressure steps from flash to the end. [-]

    Returns
    -------
    tuple
        length needed [m], liquid length [m], exit pressure [Pa], exit
        stagnation enthalpy [J/kg], exit quality [-], heat to the suction gas [W], choked (0/1).

    References
    ----------
    .. [1] Stoecker & Jones, Refrigeration and Air Conditioning (1982), ch. 13
       (homogeneous march); Churchill (1977); McAdams et al. (1942).
    """
    area = 0.25 * pi * bore * bore
    g = m / area
    g2 = g * g
    rr = roughness / bore
    z = 0.0
    q_total = 0.0
    bond_end = inlet + bonded
    bond = heat > 0.0 and bonded > 0.0

    t, hl, hv, vl, vv, mul, muv = saturation_march(tab, p_in)
    h0 = h_in
    p = p_in
    two_phase_inlet = h_in >= hl
    at_mouth = two_phase_inlet  # vapour from the first millimetre
    # Liquid by its enthalpy alone: T as a quadratic (good to 0.05 K), v and mu linear.
    t_ref = liquid_temperature(tab, p_in, min(h_in, hl))
    cp0 = liquid_heat_capacity(tab, t_ref)
    cp1 = liquid_heat_capacity(tab, t_ref - 30.0)
    ref_l, ref_v, ref_mu = liquid(tab, saturation_pressure(tab, t_ref), t_ref)
    cold = liquid(tab, saturation_pressure(tab, t_ref - 30.0), t_ref - 30.0)
    span = ref_l - cold[0]
    liq = (
        min(h_in, hl), t_ref, cp0, 0.5 * (cp0 - cp1) / 30.0 / cp0, ref_v,
        (ref_v - cold[1]) / span, ref_mu, (ref_mu - cold[2]) / span,
    )  # fmt: skip
    if not two_phase_inlet:
        tl = t_ref
        h_l, v, mu = liquid(tab, p_in, tl)
        p = p_in - (1.0 + entrance) * 0.5 * g2 * v
        h0 = h_in
        f = churchill(g * bore / mu, rr)
        grad = f * g2 * v / (2.0 * bore)
        p_flash = saturation_pressure(tab, tl)
        target = max(p_flash, p_end)
        if p <= p_end:
            z += (p - p_end) / grad  # the entrance alone takes more than there is: negative
            p = p_end
        elif p <= p_flash:
            at_mouth = True
        else:
            reach = (p - target) / grad
            if reach <= inlet or not bond:
                z += reach
                p = target
            else:
                z = inlet  # still liquid where the bond begins
                p -= grad * inlet
    else:
        v = vl + (h_in - hl) / (hv - hl) * (vv - vl)
        p = p_in - (1.0 + entrance) * 0.5 * g2 * v
        if p < p_end:
            z += (p - p_end) / (0.02 * g2 * v / (2.0 * bore))
            p = p_end
    z_liquid = z
    x = 0.0
    choked = 0.0
    fr = _friction_fit(g * bore, rr, mul, max(muv, 0.02 * mul))
    if at_mouth and p > p_end:
        # Faster than sound at the mouth: no length passes this flow; a negative
        # length, growing with the excess, keeps the residual monotonic.
        t, v, mu, x, s = _fanno(tab, p, h0, g2)
        z += (
            min(_impulse_slope(tab, p, h0, g2), 0.0) * p * 2.0 * bore / (_friction(fr, mu) * g2 * v)
        )
    heating = bond
    if heating and z < inlet and p > p_end:
        dz, p, x, choked = _adiabatic(
            tab, p, p_end, h0, g2, bore, fr, two_phase_steps, inlet - z, choked
        )
        z += dz
    if heating and choked == 0.0 and z < bond_end:
        step = bonded / bond_steps
        k = min(max(skew, -8.0), 8.0)
        whole = exp(k) - 1.0 if abs(k) > 1e-4 else 0.0
        given, rate = _heat_share((z - inlet) / bonded, k, whole)
        for _ in range(MOST_STEPS):
            if z >= bond_end * (1.0 - 1e-12) or not p > p_end * (1.0 + 1e-10):
                break
            dp0, slope = _bond_gradient(
                tab, p, h_in - heat * given, g2, bore, fr, heat * rate / bonded, liq
            )
            dz = min(min(step, bond_end - z), -FALL_PER_STEP * p / dp0)
            middle = _heat_share((z + 0.5 * dz - inlet) / bonded, k, whole)[0]
            end, rate = _heat_share((z + dz - inlet) / bonded, k, whole)
            dp1, slope = _bond_gradient(
                tab, p + 0.5 * dz * dp0, h_in - heat * middle, g2, bore, fr,
                heat * (end - given) / dz, liq,
            )  # fmt: skip
            if p + dz * dp1 < p_end:
                dz = (p_end - p) / dp1
                end, rate = _heat_share((z + dz - inlet) / bonded, k, whole)
                if slope < NEAR_SONIC:
                    choked = 1.0
            z += dz
            p += dz * dp1
            given = end
            h0 = h_in - heat * end
            if h0 < saturation_march(tab, p)[1]:
                z_liquid = z
        q_total = m * (h_in - h0)
    if choked == 0.0 and p > p_end:
        if h0 < saturation_march(tab, p)[1]:
            # Liquid to its flash point at constant temperature
            tl = liquid_temperature(tab, p, h0)
            target = min(max(saturation_pressure(tab, tl), p_end), p)
            v = liq[4] + (h0 - liq[0]) * liq[5]
            mu = liq[6] + (h0 - liq[0]) * liq[7]
            z += (p - target) / (churchill(g * bore / mu, rr) * g2 * v / (2.0 * bore))
            z_liquid = z
            p = target
        if p > p_end * (1.0 + 1e-12):
            dz, p, x, choked = _adiabatic(
                tab, p, p_end, h0, g2, bore, fr, two_phase_steps, 1e9, choked
            )
            z += dz
    elif choked == 0.0:
        x = _fanno(tab, p, h0, g2)[3]
    return z, z_liquid, p, h0, x, q_total, choked

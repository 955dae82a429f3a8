"""Capillary tube: a one-dimensional march from the drier to choking or to the evaporator.

Steady homogeneous flow in a tube of constant bore, on the residual form: for a
given mass flow the march returns the length it needs, so the cycle needs no
nested flow solve.

    momentum   dz = -(dp + G^2 dv) / (f G^2 v / (2 d))
    energy     h + G^2 v^2 / 2 = h0 - q/m
    choking    dp + G^2 dv = 0 along the flow

f is Churchill (1977) at the McAdams (1942) two-phase viscosity. The bonded
stretch loses heat to the suction gas in counter-flow; the gas state is known
at its warm end, so both streams are marched together from there.
"""

from __future__ import annotations

from math import exp, log, pi

from numba import njit

from coldwright.cycle.friction import churchill
from coldwright.refrigerant.kernels import (
    liquid,
    liquid_heat_capacity,
    liquid_temperature,
    saturation_march,
    saturation_pressure,
    saturation_temperature,
    vapour_temperature,
)

BOND_STEPS = 6  # over the bonded length; refined against 200 in tests
TWO_PHASE_STEPS = 14  # refined against 400 in tests
CHOKE_ITERATIONS = 12
MOST_STEPS = 2000  # of either loop; only a state that is not a number gets there
FALL_PER_STEP = 0.12  # largest share of the pressure lost in one step of the bond
NEAR_SONIC = 0.15  # impulse slope at which the bond is left to the pressure march
ROUNDING = 0.004  # quality over which the onset of vapour is rounded; judgement of ours
LIQUID_HEAT = 1600.0  # of liquid condensed again; 1400 (R134a) to 2500 (R600a) [J/kg/K]


@njit(cache=True, nogil=True)
def mixture_volume(tab, p, h):
    """Homogeneous specific volume at any phase.

    Above saturated vapour the two-phase line is carried on: its slope
    (v_g - v_f)/h_fg is within a fifth of the gas's own, which matters only in
    circuits that are almost empty.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure. [Pa]
    h : float
        Specific enthalpy. [J/kg]

    Returns
    -------
    float
        Specific volume. [m3/kg]

    References
    ----------
    .. [1] Homogeneous mixture; definition.
    """
    t, hl, hv, vl, vv, mul, muv = saturation_march(tab, p)
    x = (h - hl) / (hv - hl)
    if x <= 0.0:
        return vl
    return vl + x * (vv - vl)


@njit(cache=True, nogil=True)
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


@njit(cache=True, nogil=True)
def _fanno(tab, p, h0, g2):
    """Static state at p on the flow with stagnation enthalpy h0: (T, v, mu, x, dv/dh)."""
    t, hl, hv, vl, vv, mul, muv = saturation_march(tab, p)
    dv, dh = vv - vl, hv - hl
    # hl + x dh + g2/2 (vl + x dv)^2 = h0, a quadratic in x
    a = 0.5 * g2 * dv * dv
    b = dh + g2 * vl * dv
    c = hl + 0.5 * g2 * vl * vl - h0
    x = -2.0 * c / (b + (max(b * b - 4.0 * a * c, 0.0)) ** 0.5)
    # Rounded at saturation, so that rates stay continuous where vapour appears or,
    # cooled by the bond, vanishes again; below it the liquid is colder than saturation.
    root = (x * x + ROUNDING * ROUNDING) ** 0.5
    wet = 0.5 * (x + root)
    t += (x - wet) * dh / LIQUID_HEAT
    x = wet
    v = vl + x * dv
    y = min(x, 1.0)
    mu = 1.0 / (y / muv + (1.0 - y) / mul)  # McAdams et al. (1942)
    return t, v, mu, x, dv / dh * wet / root


@njit(cache=True, nogil=True)
def _friction_fit(gd, rr, mu_a, mu_c):
    """Churchill's factor as a quadratic in ln(mu) over the flow's viscosities (within 1e-4)."""
    la, lc = log(mu_a), log(mu_c)
    lb = 0.5 * (la + lc)
    fa, fb, fc = churchill(gd / mu_a, rr), churchill(gd / exp(lb), rr), churchill(gd / mu_c, rr)
    h = lb - la
    return la, fa, (4.0 * fb - 3.0 * fa - fc) / (2.0 * h), (fa - 2.0 * fb + fc) / (2.0 * h * h)


@njit(cache=True, nogil=True)
def _friction(fit, mu):
    d = log(mu) - fit[0]
    return fit[1] + d * (fit[2] + d * fit[3])


@njit(cache=True, nogil=True)
def _liquid_t(t_in, dt_linear, curve):
    return t_in + dt_linear * (1.0 - curve * dt_linear)


@njit(cache=True, nogil=True)
def _impulse_slope(tab, p, h0, g2):
    """d(p + G^2 v)/dp along the flow; 0 at choking, negative beyond it."""
    step = 1e-5 * p
    return 1.0 + g2 * (_fanno(tab, p + step, h0, g2)[1] - _fanno(tab, p, h0, g2)[1]) / step


@njit(cache=True, nogil=True)
def _choking_pressure(tab, low, slope_low, high, h0, g2):
    """Root of the impulse slope by false position with halving (Illinois).

    The impulse is flat there, so a pressure good to 1e-5 gives a length good to 1e-9.
    """
    slope_high = _impulse_slope(tab, high, h0, g2)
    if slope_high <= 0.0:
        return high
    pc = high
    for _ in range(CHOKE_ITERATIONS):
        pc = high - slope_high * (high - low) / (slope_high - slope_low)
        slope = _impulse_slope(tab, pc, h0, g2)
        if abs(slope) < 1e-6:
            break
        if slope > 0.0:
            high, slope_high = pc, slope
            slope_low *= 0.5
        else:
            low, slope_low = pc, slope
            slope_high *= 0.5
    return pc


@njit(cache=True, nogil=True)
def _bond_rates(tab, p, h0, hs, g2, m, bore, fr, bond, te, hv_end, cp_gas):
    """Pressure gradient, heat per length and impulse slope of two-phase flow in the bond."""
    step = 1e-4 * p
    t, v, mu, x, s = _fanno(tab, p, h0, g2)
    v_up = _fanno(tab, p + step, h0, g2)[1]
    slope = 1.0 + g2 * (v_up - v) / step
    ts = te if hs <= hv_end else te + (hs - hv_end) / cp_gas
    q = bond * max(t - ts, 0.0)
    friction = _friction(fr, mu) * g2 * v / (2.0 * bore)
    drop = friction - g2 * s * q / m
    # Condensing may win back pressure; a march needs it to fall, if only a little.
    drop = 0.1 * friction + max(drop - 0.1 * friction, 0.0)
    return -drop / max(slope, 0.5 * NEAR_SONIC), q, slope


@njit(cache=True, nogil=True)
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


@njit(cache=True, nogil=True)
def march(
    tab, p_in, h_in, p_end, h_suction, m, bore, roughness, entrance, inlet, bonded, bond,
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
    h_suction : float
        Enthalpy of the suction gas where it leaves the bond (warm end). [J/kg]
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
        Bonded length, 0 = adiabatic. [m]
    bond : float
        Conductance to the suction gas per length. [W/m/K]
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
    te = saturation_temperature(tab, p_end)
    se = saturation_march(tab, p_end)
    hv_end = se[2]
    cp_gas = 1.0
    if h_suction > hv_end:
        # One mean heat capacity over the exchanger, from both ends' state.
        cp_gas = (h_suction - hv_end) / (vapour_temperature(tab, p_end, h_suction) - te)
    hs = h_suction
    z = 0.0
    q_total = 0.0
    bond_end = inlet + bonded

    t, hl, hv, vl, vv, mul, muv = saturation_march(tab, p_in)
    h0 = h_in
    p = p_in
    two_phase_inlet = h_in >= hl
    if not two_phase_inlet:
        tl = liquid_temperature(tab, p_in, h_in)
        h_l, v, mu = liquid(tab, p_in, tl)
        p = p_in - (1.0 + entrance) * 0.5 * g2 * v
        h0 = h_in
        f = churchill(g * bore / mu, rr)
        grad = f * g2 * v / (2.0 * bore)
        p_flash = saturation_pressure(tab, tl)
        target = max(p_flash, p_end)
        if p <= target:
            z_liquid = (p - target) / grad  # entrance alone reaches flash: negative share
            z += min(z_liquid, 0.0)
            p = target
        else:
            reach = (p - target) / grad
            if reach <= inlet or bonded <= 0.0 or bond <= 0.0:
                z += reach
                p = target
            else:
                z = inlet
                p -= grad * inlet
                # T(h) of the liquid as a quadratic about the inlet, good to 0.05 K.
                cp0 = liquid_heat_capacity(tab, tl)
                curve = 0.5 * (cp0 - liquid_heat_capacity(tab, tl - 30.0)) / 30.0 / cp0
                t_in = tl
                dz = bonded / bond_steps
                done = False
                target0 = target
                for _ in range(bond_steps):
                    # Heun step: gradients from the start, then from the mean state.
                    ts = te if hs <= hv_end else te + (hs - hv_end) / cp_gas
                    q1 = bond * max(tl - ts, 0.0) * dz
                    tm = _liquid_t(t_in, (h0 - 0.5 * q1 / m - h_in) / cp0, curve)
                    hsm = hs - 0.5 * q1 / m
                    tsm = te if hsm <= hv_end else te + (hsm - hv_end) / cp_gas
                    q = bond * max(tm - tsm, 0.0) * dz
                    h_l, v, mu = liquid(tab, p, tm)
                    f = churchill(g * bore / mu, rr)
                    grad = f * g2 * v / (2.0 * bore)
                    p1 = p - grad * dz
                    h1 = h0 - q / m
                    t1 = _liquid_t(t_in, (h1 - h_in) / cp0, curve)
                    target1 = max(saturation_pressure(tab, t1), p_end)
                    if p1 <= target1:
                        share = (p - target0) / ((p - target0) - (p1 - target1))
                        share = min(max(share, 0.0), 1.0)
                        z += share * dz
                        h0 -= share * q / m
                        hs -= share * q / m
                        q_total += share * q
                        p = max(target0 + share * (target1 - target0), p_end)
                        done = True
                        break
                    z += dz
                    p, h0, tl, target0 = p1, h1, t1, target1
                    hs -= q / m
                    q_total += q
                if not done:
                    h_l, v, mu = liquid(tab, p, tl)
                    f = churchill(g * bore / mu, rr)
                    grad = f * g2 * v / (2.0 * bore)
                    target = max(saturation_pressure(tab, tl), p_end)
                    z += (p - target) / grad
                    p = target
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
    if two_phase_inlet and p > p_end:
        # Faster than sound at the mouth: no length passes this flow; a negative
        # length, growing with the excess, keeps the residual monotonic.
        t, v, mu, x, s = _fanno(tab, p, h0, g2)
        z += (
            min(_impulse_slope(tab, p, h0, g2), 0.0) * p * 2.0 * bore / (_friction(fr, mu) * g2 * v)
        )
    heating = bond > 0.0 and bonded > 0.0 and z >= 0.0
    if heating and z < inlet and p > p_end:
        dz, p, x, choked = _adiabatic(
            tab, p, p_end, h0, g2, bore, fr, two_phase_steps, inlet - z, choked
        )
        z += dz
    if heating and choked == 0.0 and z < bond_end:
        step = bonded / bond_steps
        for _ in range(MOST_STEPS):
            if z >= bond_end * (1.0 - 1e-12) or not p > p_end * (1.0 + 1e-10):
                break
            dp0, q0, slope = _bond_rates(tab, p, h0, hs, g2, m, bore, fr, bond, te, hv_end, cp_gas)
            if slope < NEAR_SONIC:
                break  # centimetres from choking: what heat is left there is nothing
            dz = min(min(step, bond_end - z), -FALL_PER_STEP * p / dp0)
            qm = 0.5 * dz * q0 / m
            dp1, q1, slope = _bond_rates(
                tab, p + 0.5 * dz * dp0, h0 - qm, hs - qm, g2, m, bore, fr, bond, te, hv_end, cp_gas
            )
            if p + dz * dp1 < p_end:
                dz = (p_end - p) / dp1
            z += dz
            p += dz * dp1
            h0 -= dz * q1 / m
            hs -= dz * q1 / m
            q_total += dz * q1
    if choked == 0.0 and p > p_end:
        dz, p, x, choked = _adiabatic(tab, p, p_end, h0, g2, bore, fr, two_phase_steps, 1e9, choked)
        z += dz
    elif choked == 0.0:
        x = _fanno(tab, p, h0, g2)[3]
    return z, z_liquid, p, h0, x, q_total, choked

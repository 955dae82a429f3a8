"""States of homogeneous flow at one point of the capillary: Fanno line, friction, choking."""

from __future__ import annotations

from math import exp, log

from coldwright.cycle.friction import churchill
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.saturation import saturation_march, saturation_march_slopes

CHOKE_ITERATIONS = 12
NEAR_SONIC = 0.6  # least impulse slope a step of the bond reckons with; judgement of ours
ROUNDING = 0.004  # quality over which the onset of vapour is rounded; judgement of ours


@kernel
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


@kernel
def _fanno(tab, p, h0, g2):
    """Static state at p on the flow with stagnation enthalpy h0: (T, v, mu, x, dv/dh)."""
    t, hl, hv, vl, vv, mul, muv = saturation_march(tab, p)
    dv, dh = vv - vl, hv - hl
    # hl + x dh + g2/2 (vl + x dv)^2 = h0, a quadratic in x
    a = 0.5 * g2 * dv * dv
    b = dh + g2 * vl * dv
    c = hl + 0.5 * g2 * vl * vl - h0
    x = -2.0 * c / (b + (max(b * b - 4.0 * a * c, 0.0)) ** 0.5)
    x = max(x, 0.0)
    v = vl + x * dv
    y = min(x, 1.0)
    mu = 1.0 / (y / muv + (1.0 - y) / mul)  # McAdams et al. (1942)
    return t, v, mu, x, dv / dh


@kernel
def _friction_fit(gd, rr, mu_a, mu_c):
    """Churchill's factor, its logarithm a quadratic in ln(mu) over the flow's viscosities."""
    la, lc = log(mu_a), log(mu_c)
    lb = 0.5 * (la + lc)
    fa = log(churchill(gd / mu_a, rr))
    fb = log(churchill(gd / exp(lb), rr))
    fc = log(churchill(gd / mu_c, rr))
    h = lb - la
    return la, fa, (4.0 * fb - 3.0 * fa - fc) / (2.0 * h), (fa - 2.0 * fb + fc) / (2.0 * h * h)


@kernel
def _friction(fit, mu):
    d = log(mu) - fit[0]
    return exp(fit[1] + d * (fit[2] + d * fit[3]))


@kernel
def _any_phase(tab, p, h0, g2, liq):
    """As `_fanno`, but liquid below saturation keeps its own volume and viscosity.

    Rounded at saturation, so that a march stays continuous where vapour appears or,
    cooled by the bond, vanishes again. Returns (v, mu, dv/dh, impulse slope).
    """
    t, hl, hv, vl, vv, mul, muv, hl1, hv1, vl1, vv1 = saturation_march_slopes(tab, p)
    dv, dh = vv - vl, hv - hl
    dv1, dh1 = vv1 - vl1, hv1 - hl1
    b = dh + g2 * vl * dv
    c = hl + 0.5 * g2 * vl * vl - h0
    a, a1 = 0.0, 0.0
    if c < 0.0:
        a, a1 = 0.5 * g2 * dv * dv, g2 * dv * dv1
        x = -2.0 * c / (b + (max(b * b - 4.0 * a * c, 0.0)) ** 0.5)
    else:
        x = -c / b
    b1 = dh1 + g2 * (vl1 * dv + vl * dv1)
    c1 = hl1 + g2 * vl * vl1
    x1 = -(c1 + x * (b1 + x * a1)) / (b + 2.0 * a * x)
    root = (x * x + ROUNDING * ROUNDING) ** 0.5
    wet = 0.5 * (x + root)
    wet1 = wet / root * x1
    under = (x - wet) * dh  # enthalpy below saturation
    v = vl + under * liq[5] + wet * dv
    v1 = vl1 + ((x1 - wet1) * dh + (x - wet) * dh1) * liq[5] + wet1 * dv + wet * dv1
    y = min(wet, 1.0)
    mu = 1.0 / (y / muv + (1.0 - y) / (mul + under * liq[7]))
    return v, mu, dv / dh * wet / root, 1.0 + g2 * v1


@kernel
def _impulse_slope(tab, p, h0, g2):
    """d(p + G^2 v)/dp along the flow; 0 at choking, negative beyond it."""
    t, hl, hv, vl, vv, mul, muv, hl1, hv1, vl1, vv1 = saturation_march_slopes(tab, p)
    dv, dh = vv - vl, hv - hl
    a = 0.5 * g2 * dv * dv
    b = dh + g2 * vl * dv
    c = hl + 0.5 * g2 * vl * vl - h0
    x = -2.0 * c / (b + (max(b * b - 4.0 * a * c, 0.0)) ** 0.5)
    if x <= 0.0:
        return 1.0 + g2 * vl1
    dv1 = vv1 - vl1
    v = vl + x * dv
    still = vl1 + x * dv1  # at constant quality
    x1 = -(hl1 + x * (hv1 - hl1) + g2 * v * still) / (dh + g2 * v * dv)
    return 1.0 + g2 * (still + x1 * dv)


@kernel
def _choking_pressure(tab, low, slope_low, high, h0, g2):
    """Root of the impulse slope by false position with halving (Illinois).

    The impulse is flat there, so a pressure good to 1e-5 gives a length good to 1e-9.
    """
    slope_high = _impulse_slope(tab, high, h0, g2)
    if slope_high <= 0.0:
        return high
    pc = high
    side = 0
    for _ in range(CHOKE_ITERATIONS):
        pc = high - slope_high * (high - low) / (slope_high - slope_low)
        slope = _impulse_slope(tab, pc, h0, g2)
        if abs(slope) < 1e-5:
            break
        if slope > 0.0:
            high, slope_high = pc, slope
            if side > 0:
                slope_low *= 0.5
            side = 1
        else:
            low, slope_low = pc, slope
            if side < 0:
                slope_high *= 0.5
            side = -1
    return pc

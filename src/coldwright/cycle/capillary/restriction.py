"""What a restriction of a given severity is made of.

Severity is the share of the healthy flow that is left at equal conditions. The
conditions are fixed here, so that the same severity means the same blockage.
"""

from __future__ import annotations

from math import exp, log, pi

from coldwright.cycle.capillary.march import BOND_STEPS, TWO_PHASE_STEPS, march, pressure_after_loss
from coldwright.cycle.friction import churchill
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import liquid
from coldwright.refrigerant.saturation import saturation_pressure

# Reference: condensing 40 degC, 5 K subcooling, evaporating -25 degC (judgement of ours)
REFERENCE_CONDENSING = 313.15
REFERENCE_SUBCOOLING = 5.0
REFERENCE_EVAPORATING = 248.15
STRETCH = 0.05  # length of the narrowed stretch, judgement of ours [m]


@kernel
def _needed(tab, p, h, pe, m, cap):
    return march(
        tab, p, h, pe, 0.0, m, cap.bore_m, cap.roughness_m, cap.entrance_loss_fraction,
        0.0, 0.0, 0.0, BOND_STEPS, TWO_PHASE_STEPS,
    )[0]  # fmt: skip


@kernel
def reference_flow(tab, cap):
    """Flow of the capillary without exchange at the reference conditions.

    Parameters
    ----------
    tab : Tables
        Property tables.
    cap : record
        `circuit.records.Capillary`.

    Returns
    -------
    float
        Mass flow. [kg/s]

    References
    ----------
    .. [1] `march.march`.
    """
    pc = saturation_pressure(tab, REFERENCE_CONDENSING)
    pe = saturation_pressure(tab, REFERENCE_EVAPORATING)
    h = liquid(tab, pc, REFERENCE_CONDENSING - REFERENCE_SUBCOOLING)[0]
    area = 0.25 * pi * cap.bore_m**2
    x = log(2500.0 * area)
    old, old_y = x, 0.0
    for i in range(20):
        y = log(max(_needed(tab, pc, h, pe, exp(x), cap), 1e-4) / cap.length_m)
        if abs(y) < 1e-7:
            break
        slope = -2.0
        if i > 0 and x != old:
            slope = min(max((y - old_y) / (x - old), -8.0), -0.7)
        old, old_y = x, y
        x -= min(max(y / slope, -0.6), 0.6)
    return exp(x)


@kernel
def loss_for_share(tab, cap, share):
    """Loss coefficient before the capillary that leaves `share` of the reference flow.

    Parameters
    ----------
    tab : Tables
        Property tables.
    cap : record
        `circuit.records.Capillary`.
    share : float
        Flow left, 0 < share < 1. [-]

    Returns
    -------
    tuple
        loss coefficient K [1/m4], flow [kg/s].

    References
    ----------
    .. [1] `march.pressure_after_loss`, inverted by bisection.
    """
    pc = saturation_pressure(tab, REFERENCE_CONDENSING)
    pe = saturation_pressure(tab, REFERENCE_EVAPORATING)
    h, v, mu = liquid(tab, pc, REFERENCE_CONDENSING - REFERENCE_SUBCOOLING)
    m = share * reference_flow(tab, cap)
    # Pressure that drives this flow through the sound tube
    a, b = log(pe * 1.001), log(pc)
    for _ in range(26):
        x = 0.5 * (a + b)
        if _needed(tab, exp(x), h, pe, m, cap) > cap.length_m:
            b = x
        else:
            a = x
    p1 = exp(0.5 * (a + b))
    # Coefficient that falls from pc to p1; ln K is bracketed by all-liquid and all-gas losses
    low = log(max((pc - p1) / (m * m * v), 1.0)) - 6.0
    high = low + 8.0
    for _ in range(40):
        x = 0.5 * (low + high)
        p, deficit = pressure_after_loss(tab, pc, h, pe, exp(x) * m * m)
        if p < p1 or deficit > 0.0:
            high = x
        else:
            low = x
    return exp(0.5 * (low + high)), m


@kernel
def stretch_for_loss(tab, cap, loss, m):
    """Bore of a short stretch with the given loss coefficient at flow m.

    Parameters
    ----------
    tab : Tables
        Property tables.
    cap : record
        `circuit.records.Capillary`.
    loss : float
        Loss coefficient. [1/m4]
    m : float
        Mass flow. [kg/s]

    Returns
    -------
    float
        Bore. [m]

    References
    ----------
    .. [1] As `feed.restriction_coefficient`.
    """
    mu = liquid(tab, saturation_pressure(tab, REFERENCE_CONDENSING), 308.15)[2]
    a, b = log(0.02 * cap.bore_m), log(1.5 * cap.bore_m)
    for _ in range(40):
        d = exp(0.5 * (a + b))
        area = 0.25 * pi * d * d
        f = churchill(m / area * d / mu, cap.roughness_m / d)
        if (f * STRETCH / d + 1.5) / (2.0 * area * area) > loss:
            a = log(d)
        else:
            b = log(d)
    return exp(0.5 * (a + b))


@kernel
def restrict_range(first, last, tab, c, share, in_drier):
    """Restrict circuits first..last-1 in place, in the drier or at the capillary's inlet.

    Parameters
    ----------
    first, last : int
        Range of members. [-]
    tab : Tables
        Property tables.
    c : ndarray
        Circuits, shape (n,), changed in place.
    share : ndarray
        Flow left, shape (n,). [-]
    in_drier : bool
        Drier rather than capillary.

    References
    ----------
    .. [1] `loss_for_share`, `stretch_for_loss`.
    """
    for i in range(first, last):
        loss, m = loss_for_share(tab, c[i].capillary, share[i])
        if in_drier:
            c[i].drier.loss_coefficient_1_m4 += loss
        else:
            c[i].capillary.stretch_bore_m = stretch_for_loss(tab, c[i].capillary, loss, m)
            c[i].capillary.stretch_length_m = STRETCH

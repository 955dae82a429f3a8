"""Nested brackets, the last resort: charge against condensing pressure, flow against suction's.

They rest on the physics' own monotonic relations and so need no good start, and they
tell where a charge does not fit below the highest pressure of the tables.
"""

from __future__ import annotations

from math import log

import numpy as np

from coldwright.cycle.solver.newton import AT_BOTH, AT_PRESSURE, limits, newton
from coldwright.cycle.solver.residuals import residuals
from coldwright.cycle.state import NO
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.saturation import saturation_pressure

MOST_CALLS = 2500  # of residuals in one nested bracket


@kernel
def _next(a, fa, b, fb, side):
    """Next trial inside a bracket: Anderson & Bjorck (1973) weights are kept by the caller."""
    x = b - fb * (b - a) / (fb - fa)
    margin = 1e-3 * (b - a)
    if not (a + margin < x < b - margin) or side > 2 or side < -2:
        x = 0.5 * (a + b)
    return x


@kernel
def _flow_root(med, c, s, u, path, out, low, high):
    """Shell pressure at given condensing pressure where the capillary passes the pump's flow.

    Where the flow chokes inside the bond the length needed all but jumps with the flow. The
    tube is critical there: a bracket closed on the change of sign is the answer.
    """
    r = np.empty(5)
    a, b = low, high
    calls, side = 0, 0
    fa, fb = 3.0, -3.0
    f = 1.0
    for k in range(60):
        if k > 0:
            u[0] = 0.5 * (a + b) if k < 4 else _next(a, fa, b, fb, side)
        u[0] = min(max(u[0], low), high)
        res, n = newton(med, c, s, u, AT_BOTH, NO, path, out)
        residuals(med, c, s, u, NO, r, out)
        calls += n + 1
        f = r[0]
        if abs(f) < 1e-8 or abs(b - a) < 1e-10:
            break
        # More shell pressure, more pumped flow, less length needed
        if f < 0.0:
            b, fb = u[0], max(f, -3.0)
            fa *= 0.5 if side < 0 else 1.0
            side = min(side, 0) - 1
        else:
            a, fa = u[0], min(f, 3.0)
            fb *= 0.5 if side > 0 else 1.0
            side = max(side, 0) + 1
    return abs(b - a) < 1e-8 or abs(f) < 1e-7, calls


@kernel
def _charge_at(med, c, s, u, path, out, low, r):
    """Fill `r` at the condensing pressure u[1] with all but the charge solved.

    Returns (whether the flows agree, residual calls).
    """
    near = u.copy()
    res, calls = newton(med, c, s, u, AT_PRESSURE, NO, path, out)
    flows = res < 1e-7
    if not flows:
        u[:] = near
        flows, n = _flow_root(med, c, s, u, path, out, low, u[1] - 0.02)
        calls += n
    residuals(med, c, s, u, NO, r, out)
    return flows, calls + 1


@kernel
def bracketed(med, c, s, u, path, out):
    """Solve by bracketing the condensing pressure, for imposed compartment temperatures.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    s : record
        `circuit.records.Surroundings`.
    u : ndarray
        Start in, solution out, shape (5,). [-]
    path : tuple
        As in `newton.newton`; only handed on.
    out : record
        `cycle.state.RunningState`.

    Returns
    -------
    tuple
        largest residual, a closed jump of the capillary's length counting as none [-],
        residual calls [-], whether the charge fits below the table's top pressure.

    References
    ----------
    .. [1] Halving and false position, Dahlquist & Bjorck (1974).
    """
    low, high, r = np.empty(5), np.empty(5), np.empty(5)
    limits(med, low, high)
    bottom = max(log(saturation_pressure(med.tables, s.room_k - 30.0)), low[1])
    top = high[1] - 0.01
    a, b, fa, fb = bottom, top, -2.0, 2.0
    has_a, has_b = False, False
    u[1] = min(max(u[1], bottom), top)
    stride = 0.05
    calls, side = 0, 0
    flows = False
    for _ in range(60):
        flows, n = _charge_at(med, c, s, u, path, out, low[0], r)
        calls += n
        f = r[2]
        if abs(f) < 1e-8 or calls > MOST_CALLS:
            break
        # More condensing pressure, more liquid in the condenser
        if f > 0.0:
            b, fb, has_b = u[1], min(f, 2.0), True
            fa *= 0.5 if side < 0 else 1.0
            side = min(side, 0) - 1
            if u[1] <= bottom:
                break
        else:
            a, fa, has_a = u[1], max(f, -2.0), True
            fb *= 0.5 if side > 0 else 1.0
            side = max(side, 0) + 1
            if u[1] >= top:
                return max(max(abs(r[1]), abs(r[3])), 0.0 if flows else abs(r[0])), calls, False
        if has_a and has_b:
            if b - a < 1e-11:
                break
            u[1] = _next(a, fa, b, fb, side)
        else:
            # Walk to the other side by growing strides: each start lies near the last answer
            u[1] = min(a + stride, top) if has_a else max(b - stride, bottom)
            stride *= 1.7
    worst = max(max(abs(r[1]), abs(r[2])), abs(r[3]))
    if not flows:
        worst = max(worst, abs(r[0]))
    return worst, calls, True

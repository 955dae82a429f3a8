"""Following a solution from one circuit to another by the length of the curve of states.

With the same charge a circuit can have a state with a flooded and one with a starved
evaporator, because the suction line's exchange gives back what the evaporator leaves.
Stepping in the fault's severity falls off where such a fold turns back; stepping in the
curve's own length does not. The capillary is judged by its flow here (see `residuals`).
"""

from __future__ import annotations

import numpy as np

from coldwright.cycle.solver.newton import (
    AT_PRESSURE,
    DIFFERENCE,
    IMPOSED,
    ON_CURVE,
    STEP_LIMIT,
    evaluate,
    limits,
    newton,
    solve_linear,
)
from coldwright.cycle.state import YES
from coldwright.refrigerant.compiled import kernel

MOST_TRACED = 2000  # residual calls along one curve
MOST_POINTS = 120  # of one curve
FIRST_STRIDE = 0.3  # in step limits
LONGEST_STRIDE = 2.0
KINK = 0.02  # stride at which a kink is suspected
LEAP = 0.3  # stride of a jump
ACROSS = (2, 3, 1, 0, 4)  # unknowns along which a kink is crossed, in turn
SOLVED_TO = 1e-6


@kernel
def _direction(med, c, s, u, path, r, out, way):
    """Unit direction of the curve at `u` towards the end of the path."""
    r1, trial = np.empty(5), u.copy()
    jac = np.zeros((5, 5))
    evaluate(med, c, s, u, ON_CURVE, YES, path, r, out)
    for j in range(5):
        trial[:] = u
        trial[j] += DIFFERENCE
        evaluate(med, c, s, trial, ON_CURVE, YES, path, r1, out)
        for i in range(4):
            jac[i, j] = (r1[i] - r[i]) / DIFFERENCE
    jac[4, 4] = 1.0
    way[:] = 0.0
    way[4] = 1.0
    if not solve_linear(jac, way, 5):
        return False
    size = 0.0
    for i in range(5):
        size += (way[i] / STEP_LIMIT[i]) ** 2
    size = size**0.5
    for i in range(5):
        way[i] /= size
    return size < 1e6


@kernel
def _progress(u, trial, way):
    """Step from u to trial in step limits: its part along `way`, its whole length."""
    ahead, far = 0.0, 0.0
    for i in range(5):
        step = (trial[i] - u[i]) / STEP_LIMIT[i]
        far += step * step
        ahead += step * way[i] / STEP_LIMIT[i]
    return ahead, max(far**0.5, 1e-300)


@kernel
def _at_share(med, c, s, u, share, path, out):
    """Solve at a given share of the path, from u."""
    plane = path[6]
    plane[:] = 0.0
    plane[0, 4] = 1.0 / STEP_LIMIT[4]
    plane[1, 4] = share
    u[4] = share
    return newton(med, c, s, u, ON_CURVE, YES, path, out)


@kernel
def traced(med, c, s, u, path, out):
    """Follow the solution along a path, temperatures imposed.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`; the path's end when done.
    s : record
        `circuit.records.Surroundings`; likewise.
    u : ndarray
        Solution at the path's start in, at its end out, shape (5,). [-]
    path : tuple
        As in `newton.newton`.
    out : record
        `cycle.state.RunningState`.

    Returns
    -------
    tuple
        largest residual [-], residual calls [-], whether the condensing pressure stayed
        below the table's top.

    References
    ----------
    .. [1] Pseudo-arclength continuation, Keller (1977), in Applications of Bifurcation
       Theory.
    """
    air = u[4]
    res, calls, fits = _trace(med, c, s, u, path, out)
    u[4] = air
    path[4][:] = path[2]
    path[5][:] = path[3]
    if res < SOLVED_TO:
        res, n = newton(med, c, s, u, IMPOSED if fits else AT_PRESSURE, YES, path, out)
        calls += n
    return res, calls, fits


@kernel
def _trace(med, c, s, u, path, out):
    plane = path[6]
    low, high, r = np.empty(5), np.empty(5), np.empty(5)
    limits(med, low, high)
    top = high[1] - 0.01
    way, trial, there = np.zeros(5), u.copy(), u.copy()
    u[4] = 0.0
    if not _direction(med, c, s, u, path, r, out, way):
        return 1.0, 6, True
    calls = 6
    stride = FIRST_STRIDE
    for _ in range(MOST_POINTS):
        if calls > MOST_TRACED:
            break
        for i in range(5):
            trial[i] = u[i] + stride * way[i]
        if trial[1] > top:
            # The overload opens on the way; what the state is there does not depend on it.
            u[1] = top
            path[4][:] = path[2]
            path[5][:] = path[3]
            res, n = newton(med, c, s, u, AT_PRESSURE, YES, path, out)
            return res, calls + n, False
        if trial[4] > 1.0:
            there[:] = trial
            res, n = _at_share(med, c, s, there, 1.0, path, out)
            calls += n
            if res < SOLVED_TO and _progress(u, there, way)[1] < 3.0 * stride:
                u[:] = there
                return res, calls, True
        for i in range(5):
            plane[0, i] = way[i] / STEP_LIMIT[i] ** 2
            plane[1, i] = trial[i]
        res, n = newton(med, c, s, trial, ON_CURVE, YES, path, out)
        calls += n
        ahead, far = _progress(u, trial, way)
        if (res > SOLVED_TO or ahead < 0.6 * far) and stride > KINK:
            stride = max(stride * 0.35, KINK)
            continue
        if res > SOLVED_TO:
            # A kink turns the curve back: cross it along one unknown, as it lies where the
            # refrigerant at an outlet turns from one phase to two; at last jump over it.
            for k in range(10):
                j = ACROSS[k % 5]
                plane[:] = 0.0
                plane[0, j] = 1.0 / STEP_LIMIT[j]
                trial[:] = u
                step = KINK if k < 5 else LEAP
                trial[j] += step * STEP_LIMIT[j] * (1.0 if way[j] > 0.0 else -1.0)
                plane[1, j] = trial[j]
                res, n = newton(med, c, s, trial, ON_CURVE, YES, path, out)
                calls += n
                ahead, far = _progress(u, trial, way)
                if res < SOLVED_TO and far < 2.0:
                    break
                res = 1.0
        if res > SOLVED_TO:
            break
        if trial[4] >= 1.0 and u[4] < 1.0:
            # Passed the end: close in on it from both sides
            there[:] = trial
            for _k in range(12):
                share = (1.0 - u[4]) / (there[4] - u[4])
                for i in range(5):
                    trial[i] = u[i] + share * (there[i] - u[i])
                res, n = _at_share(med, c, s, trial, 1.0, path, out)
                calls += n
                if res < SOLVED_TO:
                    u[:] = trial
                    return res, calls, True
                for i in range(5):
                    plane[0, i] = (there[i] - u[i]) / STEP_LIMIT[i] ** 2
                    trial[i] = 0.5 * (u[i] + there[i])
                    plane[1, i] = trial[i]
                res, n = newton(med, c, s, trial, ON_CURVE, YES, path, out)
                calls += n
                if res > SOLVED_TO:
                    break
                if trial[4] < 1.0:
                    u[:] = trial
                else:
                    there[:] = trial
            break
        for i in range(5):
            way[i] = (trial[i] - u[i]) / far
            u[i] = trial[i]
        stride = min(stride * (1.8 if n < 14 else 0.9), LONGEST_STRIDE)
    return 1.0, calls, True

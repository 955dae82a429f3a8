"""Damped quasi-Newton solution of the closed circuit and of parts of it.

Broyden updates save most of the residual calls of Newton's method.
"""

from __future__ import annotations

from math import exp, log

import numpy as np

from coldwright.cycle.solver.residuals import residuals, residuals_by_flow
from coldwright.cycle.state import NO, YES
from coldwright.refrigerant.compiled import kernel

TOLERANCE = 1e-8
ACCEPTED = 1e-6  # closure the model promises
DIFFERENCE = 1e-6
MOST_STEPS = 30
MOST_CALLS = 100  # of residuals; 99.5 % of the solves that end well take fewer
FEW_STEPS = 18  # of a part problem inside a bracket
MOST_FORCED = 3  # steps taken against the test before a start is given up
# Part problems of `newton`; floats for the reason of `state.NO`
IMPOSED, FLOATING, AT_PRESSURE, AT_BOTH, ON_CURVE = 0.0, 1.0, 2.0, 3.0, 4.0
# Longest step of each unknown: ln p low, ln p high, enthalpy, quality, air / 100 K (ours)
STEP_LIMIT = (0.5, 0.3, 0.25, 0.2, 0.1)


@kernel
def solve_linear(a, b, n):
    """Solve a x = b in place by elimination with row pivoting; False if singular.

    Parameters
    ----------
    a : ndarray
        Matrix, at least (n, n); overwritten. [-]
    b : ndarray
        Right side, at least (n,); becomes x. [-]
    n : int
        Size. [-]

    References
    ----------
    .. [1] Golub & Van Loan (1996), alg. 3.4.1.
    """
    for i in range(n):
        pivot = i
        for k in range(i + 1, n):
            if abs(a[k, i]) > abs(a[pivot, i]):
                pivot = k
        if abs(a[pivot, i]) < 1e-14:
            return False
        if pivot != i:
            for j in range(n):
                a[i, j], a[pivot, j] = a[pivot, j], a[i, j]
            b[i], b[pivot] = b[pivot], b[i]
        for k in range(i + 1, n):
            f = a[k, i] / a[i, i]
            if f != 0.0:
                for j in range(i, n):
                    a[k, j] -= f * a[i, j]
                b[k] -= f * b[i]
    for i in range(n - 1, -1, -1):
        total = b[i]
        for j in range(i + 1, n):
            total -= a[i, j] * b[j]
        b[i] = total / a[i, i]
    return True


@kernel
def limits(med, low, high):
    """Bounds of the unknowns, shapes (5,): table edges for pressures, wide for the rest.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    low : ndarray
        Lower bounds out. [-]
    high : ndarray
        Upper bounds out. [-]

    References
    ----------
    .. [1] Ranges of `refrigerant.tables`.
    """
    tab = med.tables
    first = tab.ln_p_first
    last = first + tab.ln_p_step * tab.saturation.shape[0]
    low[0], high[0] = first + 0.01, last - 0.3
    low[1], high[1] = first + 1.0, last - 0.01
    low[2], high[2] = -1.05, 1.5
    low[3], high[3] = -8.0, 4.0  # near the critical point the unit shrinks
    low[4], high[4] = 1.8, 4.4


@kernel
def _correction(jac, r, iu, ir, n, work, du):
    """du = -J^-1 r and its length in units of the step limits; False if J is singular."""
    for i in range(n):
        du[i] = -r[ir[i]]
        for j in range(n):
            work[i, j] = jac[i, j]
    if not solve_linear(work, du, n):
        return False, 0.0
    size = 0.0
    for i in range(n):
        a = abs(du[i]) / STEP_LIMIT[iu[i]]
        if not a < 1e12:
            return False, 0.0
        size = max(size, a)
    return True, size


@kernel
def choose(part, iu, ir):
    """Indices of unknowns and residuals of a part problem; how many.

    Parameters
    ----------
    part : float
        IMPOSED, FLOATING, AT_PRESSURE, AT_BOTH or ON_CURVE. [-]
    iu, ir : ndarray
        Indices out, shape (5,). [-]

    References
    ----------
    .. [1] Bookkeeping of ours.
    """
    held = part in (AT_PRESSURE, AT_BOTH)
    n = 0
    for k in range(5):
        if k == 4 and part != FLOATING and part != ON_CURVE:
            continue
        if (held and k == 1) or (part == AT_BOTH and k == 0):
            continue
        iu[n] = k
        n += 1
    n = 0
    for k in range(5):
        if k == 4 and part != FLOATING and part != ON_CURVE:
            continue
        if (held and k == 2) or (part == AT_BOTH and k == 0):
            continue
        ir[n] = k
        n += 1
    return n


@kernel
def blend(a, b, share, out):
    """Fields between a and b: geometric where both are positive, else linear.

    Parameters
    ----------
    a, b : ndarray
        Flat records. [SI]
    share : float
        0 at a, 1 at b, a little beyond allowed. [-]
    out : ndarray
        Flat record out. [SI]

    References
    ----------
    .. [1] Interpolation of ours.
    """
    for i in range(a.shape[0]):
        if a[i] == b[i]:
            out[i] = a[i]
        elif a[i] > 0.0 and b[i] > 0.0:
            out[i] = exp((1.0 - share) * log(a[i]) + share * log(b[i]))
        else:
            out[i] = (1.0 - share) * a[i] + share * b[i]


@kernel
def evaluate(med, c, s, u, part, by_flow, path, r, out):
    """Residuals of a part problem; on a curve the circuit follows u[4] and r[4] is a plane.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    s : record
        `circuit.records.Surroundings`.
    u : ndarray
        Unknowns, shape (5,); on a curve u[4] is the share of the way. [-]
    part : float
        Part problem. [-]
    by_flow : float
        YES where the capillary is judged by its flow, NO by its length. [-]
    path : tuple
        As in `newton`.
    r : ndarray
        Residuals out, shape (5,). [-]
    out : record
        `cycle.state.RunningState`.

    References
    ----------
    .. [1] `residuals.residuals`.
    """
    if part == ON_CURVE:
        c0, s0, c1, s1, c_flat, s_flat, plane = path
        blend(c0, c1, u[4], c_flat)
        blend(s0, s1, u[4], s_flat)
        if by_flow == YES:
            residuals_by_flow(med, c, s, u, NO, r, out)
        else:
            residuals(med, c, s, u, NO, r, out)
        r[4] = 0.0
        for i in range(5):
            r[4] += plane[0, i] * (u[i] - plane[1, i])
        return
    floating = YES if part == FLOATING else NO
    if by_flow == YES:
        residuals_by_flow(med, c, s, u, floating, r, out)
    else:
        residuals(med, c, s, u, floating, r, out)


@kernel
def _norm_of(r, ir, n):
    worst = 0.0
    for i in range(n):
        a = abs(r[ir[i]])
        if not a < 1e300:
            return 1e300
        worst = max(worst, a)
    return worst


@kernel
def newton(med, c, s, u, part, by_flow, path, out):
    """Solve from guess `u` (changed in place): damped Newton with Broyden updates.

    Damping follows the natural monotonicity test: a step is taken when the next
    simplified Newton correction is shorter, which, unlike the size of the
    residuals, does not depend on how they are scaled.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    s : record
        `circuit.records.Surroundings`.
    u : ndarray
        Guess in, solution out, shape (5,). [-]
    part : float
        IMPOSED, FLOATING, AT_PRESSURE (condensing pressure held, charge free), AT_BOTH
        (both pressures held, flow and charge free) or ON_CURVE (circuit and surroundings
        free along a path, in a plane). [-]
    by_flow : float
        As in `evaluate`. [-]
    path : tuple
        Flat circuit and surroundings at the path's start and end, flat views of `c` and
        `s`, and the plane (normal, base point; shape (2, 5)); read only ON_CURVE.
    out : record
        `cycle.state.RunningState`, filled at the last point.

    Returns
    -------
    tuple
        largest residual [-], residual calls [-].

    References
    ----------
    .. [1] Deuflhard (2004), Newton Methods for Nonlinear Problems, ch. 3 (NLEQ-ERR).
    .. [2] Broyden (1965), Math. Comp. 19, 577.
    """
    iu, ir = np.empty(5, np.int64), np.empty(5, np.int64)
    n = choose(part, iu, ir)
    low, high = np.empty(5), np.empty(5)
    limits(med, low, high)
    if part == ON_CURVE:
        low[4], high[4] = -30.0, 30.0  # a fold may lead far back before it goes on
    r, r1, du, du1, trial = np.empty(5), np.empty(5), np.empty(5), np.empty(5), np.empty(5)
    jac, work = np.empty((5, 5)), np.empty((5, 5))
    for i in range(5):
        u[i] = min(max(u[i], low[i]), high[i])
        trial[i] = u[i]
    evaluate(med, c, s, u, part, by_flow, path, r, out)
    calls = 1
    best = _norm_of(r, ir, n)
    fresh, stale = False, False
    damp = 1.0
    forced = 0
    for _ in range(MOST_STEPS if part < AT_PRESSURE else FEW_STEPS):
        if best < TOLERANCE or calls > MOST_CALLS:
            break
        if not fresh:
            for j in range(n):
                for i in range(5):
                    trial[i] = u[i]
                ju = iu[j]
                h = DIFFERENCE if u[ju] + DIFFERENCE < high[ju] else -DIFFERENCE
                trial[ju] = u[ju] + h
                evaluate(med, c, s, trial, part, by_flow, path, r1, out)
                calls += 1
                for i in range(n):
                    jac[i, j] = (r1[ir[i]] - r[ir[i]]) / h
        ok, size = _correction(jac, r, iu, ir, n, work, du)
        if not ok:
            if fresh:
                fresh = False
                continue
            break
        scale = min(damp, 1.0 / max(size, 1e-12))
        accepted = False
        for _cut in range(7):
            for i in range(n):
                k = iu[i]
                trial[k] = min(max(u[k] + scale * du[i], low[k]), high[k])
            if part != AT_BOTH and trial[1] < trial[0] + 0.01:
                trial[0] = trial[1] - 0.01
            evaluate(med, c, s, trial, part, by_flow, path, r1, out)
            calls += 1
            new = _norm_of(r1, ir, n)
            ok, size1 = _correction(jac, r1, iu, ir, n, work, du1)
            if new < 1e299 and ok and (size1 <= (1.0 - 0.25 * scale) * size or new < TOLERANCE):
                accepted = True
                break
            scale *= 0.4
            if fresh:
                break
        if not accepted:
            if fresh:
                fresh = False  # the updated Jacobian is stale: make a true one
                damp = 1.0
                continue
            # Stuck by the test: take a short step all the same, kinks are local.
            forced += 1
            if forced > MOST_FORCED:
                stale = True
                break
            scale = max(scale, 0.02)
            for i in range(n):
                k = iu[i]
                trial[k] = min(max(u[k] + scale * du[i], low[k]), high[k])
            evaluate(med, c, s, trial, part, by_flow, path, r1, out)
            calls += 1
            new = _norm_of(r1, ir, n)
            size1 = size
        contraction = size1 / max(size, 1e-300)
        dot = 0.0
        for i in range(n):
            du[i] = trial[iu[i]] - u[iu[i]]
            dot += du[i] * du[i]
        fresh = accepted and scale > 0.9 and contraction < 0.5 and dot > 0.0
        if fresh:
            for i in range(n):
                miss = r1[ir[i]] - r[ir[i]]
                for j in range(n):
                    miss -= jac[i, j] * du[j]
                for j in range(n):
                    jac[i, j] += miss * du[j] / dot
        damp = 1.0 if contraction < 0.5 else min(1.0, 2.5 * scale)
        for i in range(5):
            u[i] = trial[i]
            r[i] = r1[i]
        best = new
    if best < TOLERANCE and calls > 1 and not stale:
        return best, calls  # `out` was filled by the last trial, which is the solution
    evaluate(med, c, s, u, part, by_flow, path, r, out)
    return _norm_of(r, ir, n), calls + 1

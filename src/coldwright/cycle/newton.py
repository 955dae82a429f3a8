"""Solvers of the closed circuit: damped quasi-Newton, then nested brackets.

Broyden updates save most of the residual calls of Newton's method. Where it stalls (a kink between regimes), nested brackets on
the physics' own monotonic relations always end: flow against suction pressure,
charge against condensing pressure.
"""

from __future__ import annotations

from math import log

import numpy as np
from numba import njit

from coldwright.cycle.loop import residuals
from coldwright.refrigerant.kernels import saturation_pressure

TOLERANCE = 1e-9
ACCEPTED = 1e-6  # closure the model promises
DIFFERENCE = 1e-6
MOST_STEPS = 30
# Longest step of each unknown: ln p low, ln p high, enthalpy, quality, air / 100 K (ours)
STEP_LIMIT = (0.5, 0.3, 0.25, 0.2, 0.1)


@njit(cache=True, nogil=True)
def _norm(r, n):
    worst = 0.0
    for i in range(n):
        a = abs(r[i])
        if not a < 1e300:
            return 1e300
        if a > worst:
            worst = a
    return worst


@njit(cache=True, nogil=True)
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


@njit(cache=True, nogil=True)
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
    low[2], high[2] = -1.1, 1.5
    low[3], high[3] = -0.9, 1.6
    low[4], high[4] = 1.8, 3.4


@njit(cache=True, nogil=True)
def _correction(jac, r, n, work, du):
    """du = -J^-1 r and its length in units of the step limits; False if J is singular."""
    for i in range(n):
        du[i] = -r[i]
        for j in range(n):
            work[i, j] = jac[i, j]
    if not solve_linear(work, du, n):
        return False, 0.0
    size = 0.0
    for i in range(n):
        a = abs(du[i]) / STEP_LIMIT[i]
        if not a < 1e12:
            return False, 0.0
        size = max(size, a)
    return True, size


@njit(cache=True, nogil=True)
def newton(med, c, s, u, floating, out):
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
    floating : bool
        Whether the cabinet's balance is solved.
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
    n = 5 if floating else 4
    low, high = np.empty(5), np.empty(5)
    limits(med, low, high)
    r, r1, du, du1, trial = np.empty(5), np.empty(5), np.empty(5), np.empty(5), np.empty(5)
    jac, work = np.empty((5, 5)), np.empty((5, 5))
    for i in range(5):
        u[i] = min(max(u[i], low[i]), high[i])
        trial[i] = u[i]
    residuals(med, c, s, u, floating, r, out)
    calls = 1
    best = _norm(r, n)
    fresh = False
    damp = 1.0
    for _ in range(MOST_STEPS):
        if best < TOLERANCE:
            break
        if not fresh:
            for j in range(n):
                for i in range(5):
                    trial[i] = u[i]
                h = DIFFERENCE if u[j] + DIFFERENCE < high[j] else -DIFFERENCE
                trial[j] = u[j] + h
                residuals(med, c, s, trial, floating, r1, out)
                calls += 1
                for i in range(n):
                    jac[i, j] = (r1[i] - r[i]) / h
        ok, size = _correction(jac, r, n, work, du)
        if not ok:
            if fresh:
                fresh = False
                continue
            break
        scale = min(damp, 1.0 / max(size, 1e-12))
        accepted = False
        for _cut in range(7):
            for i in range(n):
                trial[i] = min(max(u[i] + scale * du[i], low[i]), high[i])
            if trial[1] < trial[0] + 0.01:
                trial[0] = trial[1] - 0.01
            residuals(med, c, s, trial, floating, r1, out)
            calls += 1
            new = _norm(r1, n)
            ok, size1 = _correction(jac, r1, n, work, du1)
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
            scale = max(scale, 0.02)
            for i in range(n):
                trial[i] = min(max(u[i] + scale * du[i], low[i]), high[i])
            residuals(med, c, s, trial, floating, r1, out)
            calls += 1
            new = _norm(r1, n)
            size1 = size
        contraction = size1 / max(size, 1e-300)
        dot = 0.0
        for i in range(n):
            du[i] = trial[i] - u[i]
            dot += du[i] * du[i]
        fresh = accepted and scale > 0.9 and contraction < 0.5 and dot > 0.0
        if fresh:
            for i in range(n):
                miss = r1[i] - r[i]
                for j in range(n):
                    miss -= jac[i, j] * du[j]
                for j in range(n):
                    jac[i, j] += miss * du[j] / dot
        damp = 1.0 if contraction < 0.5 else min(1.0, 2.5 * scale)
        for i in range(n):
            u[i] = trial[i]
            r[i] = r1[i]
        best = new
    residuals(med, c, s, u, floating, r, out)
    return _norm(r, n), calls + 1


@njit(cache=True, nogil=True)
def _exchange_root(med, c, s, u, floating, r, out, calls):
    """Enthalpy after the bond at given pressures (r[1] = 0), by false position."""
    a, b = -0.6, 1.0
    u[2] = a
    residuals(med, c, s, u, floating, r, out)
    fa = r[1]
    u[2] = b
    residuals(med, c, s, u, floating, r, out)
    fb = r[1]
    calls += 2
    # r[1] falls as the warm end's enthalpy rises
    for _ in range(40):
        if fa * fb > 0.0:
            u[2] = a if abs(fa) < abs(fb) else b
            break
        x = b - fb * (b - a) / (fb - fa)
        u[2] = x
        residuals(med, c, s, u, floating, r, out)
        calls += 1
        f = r[1]
        if abs(f) < 1e-10 or abs(b - a) < 1e-12:
            break
        if f * fb < 0.0:
            a, fa = b, fb
        else:
            fa *= 0.5
        b, fb = x, f
    return calls


@njit(cache=True, nogil=True)
def _flow_root(med, c, s, u, floating, r, out, calls, low, high):
    """Shell pressure at given condensing pressure (r[0] = 0): halving, then false position."""
    a, b = low, high
    u[0] = a
    calls = _exchange_root(med, c, s, u, floating, r, out, calls)
    fa = r[0]
    u[0] = b
    calls = _exchange_root(med, c, s, u, floating, r, out, calls)
    fb = r[0]
    if fa * fb > 0.0:
        u[0] = a if abs(fa) < abs(fb) else b
        return _exchange_root(med, c, s, u, floating, r, out, calls)
    for k in range(60):
        x = 0.5 * (a + b) if k % 3 == 0 else b - fb * (b - a) / (fb - fa)
        u[0] = x
        calls = _exchange_root(med, c, s, u, floating, r, out, calls)
        f = r[0]
        if abs(f) < 1e-9 or abs(b - a) < 1e-12:
            break
        if f * fa < 0.0:
            b, fb = x, f
        else:
            a, fa = x, f
    return calls


@njit(cache=True, nogil=True)
def bracketed(med, c, s, u, out, coarse):
    """Solve by nested brackets, for imposed compartment temperatures.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    s : record
        `circuit.records.Surroundings`.
    u : ndarray
        Solution out, shape (5,). [-]
    out : record
        `cycle.state.RunningState`.
    coarse : float
        Charge residual at which to stop; a following `newton` polishes. [-]

    Returns
    -------
    tuple
        largest residual [-], residual calls [-].

    References
    ----------
    .. [1] False position with halving (Illinois), Dahlquist & Bjorck (1974).
    """
    low, high, r = np.empty(5), np.empty(5), np.empty(5)
    limits(med, low, high)
    calls = 0
    a = log(saturation_pressure(med.tables, s.room_k - 25.0))
    b = high[1]
    u[1] = a
    calls = _flow_root(med, c, s, u, False, r, out, calls, low[0], min(a - 0.02, high[0]))
    fa = r[2]
    u[1] = b
    calls = _flow_root(med, c, s, u, False, r, out, calls, low[0], min(b - 0.02, high[0]))
    fb = r[2]
    if fa * fb > 0.0:
        return _norm(r, 3), calls
    for k in range(50):
        x = 0.5 * (a + b) if k % 2 == 0 else b - fb * (b - a) / (fb - fa)
        u[1] = x
        calls = _flow_root(med, c, s, u, False, r, out, calls, low[0], min(x - 0.02, high[0]))
        f = r[2]
        if abs(f) < coarse:
            break
        if f * fa < 0.0:
            b, fb = x, f
        else:
            a, fa = x, f
    return _norm(r, 3), calls

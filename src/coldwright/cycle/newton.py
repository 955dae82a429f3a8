"""Solvers of the closed circuit: damped quasi-Newton, then nested brackets.

Broyden updates save most of the residual calls of Newton's method. Where it stalls
(a kink between regimes), nested brackets on
the physics' own monotonic relations always end: flow against suction pressure,
charge against condensing pressure.
"""

from __future__ import annotations

from math import log

import numpy as np
from numba import njit

from coldwright.cycle.loop import residuals
from coldwright.refrigerant.kernels import saturation_pressure

TOLERANCE = 1e-8
ACCEPTED = 1e-6  # closure the model promises
DIFFERENCE = 1e-6
MOST_STEPS = 30
MOST_CALLS = 4000  # of residuals in one nested bracket
FEW_STEPS = 14  # of a part problem inside a bracket
MOST_TRACED = 2500  # residual calls along one curve
MOST_POINTS = 150  # of one curve
FIRST_STRIDE = 0.1  # along a curve, in step limits
NO_PLANE = np.zeros((2, 5))
MOST_FORCED = 3  # steps taken against the test before a start is given up
# Part problems of `newton`
IMPOSED, FLOATING, AT_PRESSURE, AT_BOTH, AT_OUTLET, ON_CURVE = 0, 1, 2, 3, 4, 5
# Longest step of each unknown: ln p low, ln p high, enthalpy, quality, air / 100 K (ours)
STEP_LIMIT = (0.5, 0.3, 0.25, 0.2, 0.1)


@njit(cache=True, nogil=True, error_model="numpy")
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


@njit(cache=True, nogil=True, error_model="numpy")
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
    low[4], high[4] = 1.8, 3.4


@njit(cache=True, nogil=True, error_model="numpy")
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


@njit(cache=True, nogil=True, error_model="numpy")
def choose(part, iu, ir):
    """Indices of unknowns and residuals of a part problem; how many.

    Parameters
    ----------
    part : int
        IMPOSED, FLOATING, AT_PRESSURE, AT_BOTH, AT_OUTLET or ON_CURVE. [-]
    iu, ir : ndarray
        Indices out, shape (5,). [-]

    References
    ----------
    .. [1] Bookkeeping of ours.
    """
    n = 0
    for k in range(5):
        if k == 4 and part != FLOATING:
            continue
        if part == AT_OUTLET and k == 3:
            continue
        if part in (AT_PRESSURE, AT_BOTH) and k == 1:
            continue
        if part == AT_BOTH and k == 0:
            continue
        iu[n] = k
        n += 1
    n = 0
    for k in range(5):
        if k == 4 and part != FLOATING:
            continue
        if AT_PRESSURE <= part < ON_CURVE and k == 2:
            continue
        if part == AT_BOTH and k == 0:
            continue
        ir[n] = k
        n += 1
    return n


@njit(cache=True, nogil=True, error_model="numpy")
def _norm_of(r, ir, n):
    worst = 0.0
    for i in range(n):
        a = abs(r[ir[i]])
        if not a < 1e300:
            return 1e300
        worst = max(worst, a)
    return worst


@njit(cache=True, nogil=True, error_model="numpy")
def _evaluate(med, c, s, u, part, plane, r, out):
    """Residuals, the charge's replaced by the distance from a plane where that is asked."""
    residuals(med, c, s, u, part == FLOATING, r, out)
    if part == ON_CURVE:
        r[2] = 0.0
        for i in range(4):
            r[2] += plane[0, i] * (u[i] - plane[1, i])


@njit(cache=True, nogil=True, error_model="numpy")
def newton(med, c, s, u, part, plane, out):
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
    part : int
        IMPOSED, FLOATING, AT_PRESSURE (condensing pressure held, charge free), AT_BOTH
        (both pressures held, flow and charge free), AT_OUTLET (state at the condenser's
        outlet held, charge free) or ON_CURVE (in a plane, charge free). [-]
    plane : ndarray
        Normal and base point of that plane, shape (2, 5); read only ON_CURVE. [-]
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
    r, r1, du, du1, trial = np.empty(5), np.empty(5), np.empty(5), np.empty(5), np.empty(5)
    jac, work = np.empty((5, 5)), np.empty((5, 5))
    for i in range(5):
        u[i] = min(max(u[i], low[i]), high[i])
        trial[i] = u[i]
    _evaluate(med, c, s, u, part, plane, r, out)
    calls = 1
    best = _norm_of(r, ir, n)
    fresh, stale = False, False
    damp = 1.0
    forced = 0
    for _ in range(MOST_STEPS if part < AT_PRESSURE else FEW_STEPS):
        if best < TOLERANCE:
            break
        if not fresh:
            for j in range(n):
                for i in range(5):
                    trial[i] = u[i]
                ju = iu[j]
                h = DIFFERENCE if u[ju] + DIFFERENCE < high[ju] else -DIFFERENCE
                trial[ju] = u[ju] + h
                _evaluate(med, c, s, trial, part, plane, r1, out)
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
            _evaluate(med, c, s, trial, part, plane, r1, out)
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
            _evaluate(med, c, s, trial, part, plane, r1, out)
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
    _evaluate(med, c, s, u, part, plane, r, out)
    return _norm_of(r, ir, n), calls + 1


@njit(cache=True, nogil=True, error_model="numpy")
def _next(a, fa, b, fb, side):
    """Next trial inside a bracket: Anderson & Bjorck (1973) weights are kept by the caller."""
    x = b - fb * (b - a) / (fb - fa)
    margin = 1e-3 * (b - a)
    if not (a + margin < x < b - margin) or side > 2 or side < -2:
        x = 0.5 * (a + b)
    return x


@njit(cache=True, nogil=True, error_model="numpy")
def _flow_root(med, c, s, u, out, low, high):
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
        res, n = newton(med, c, s, u, AT_BOTH, NO_PLANE, out)
        residuals(med, c, s, u, False, r, out)
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


@njit(cache=True, nogil=True, error_model="numpy")
def _charge_at(med, c, s, u, out, low, r):
    """Fill `r` at the condensing pressure u[1] with all but the charge solved.

    Returns (whether the flows agree, residual calls).
    """
    near = u.copy()
    res, calls = newton(med, c, s, u, AT_PRESSURE, NO_PLANE, out)
    flows = res < 1e-7
    if not flows:
        u[:] = near
        flows, n = _flow_root(med, c, s, u, out, low, u[1] - 0.02)
        calls += n
    residuals(med, c, s, u, False, r, out)
    return flows, calls + 1


@njit(cache=True, nogil=True, error_model="numpy")
def _on_curve(med, c, s, u, out):
    """A state of this circuit with any charge, near `u`: (which unknown was held, calls).

    Holds the outlet state of the condenser, or else its pressure; -1 where neither works.
    """
    keep = u.copy()
    res, calls = newton(med, c, s, u, AT_OUTLET, NO_PLANE, out)
    if res < 1e-6:
        return 3, calls
    u[:] = keep
    res, n = newton(med, c, s, u, AT_PRESSURE, NO_PLANE, out)
    if res < 1e-6:
        return 1, calls + n
    u[:] = keep
    return -1, calls + n


@njit(cache=True, nogil=True, error_model="numpy")
def _direction(med, c, s, u, held, r, out, way):
    """Unit direction along the curve at `u` in which the charge grows; residuals in `r`."""
    r1, trial = np.empty(5), u.copy()
    jac, slope = np.zeros((5, 5)), np.empty(5)
    residuals(med, c, s, u, False, r, out)
    for j in range(4):
        trial[:] = u
        trial[j] += DIFFERENCE
        residuals(med, c, s, trial, False, r1, out)
        jac[0, j] = (r1[0] - r[0]) / DIFFERENCE
        jac[1, j] = (r1[1] - r[1]) / DIFFERENCE
        jac[2, j] = (r1[3] - r[3]) / DIFFERENCE
        slope[j] = (r1[2] - r[2]) / DIFFERENCE
    jac[3, held] = 1.0
    way[:] = 0.0
    way[3] = 1.0
    if not solve_linear(jac, way, 4):
        return False
    size, gain = 0.0, 0.0
    for i in range(4):
        size += (way[i] / STEP_LIMIT[i]) ** 2
        gain += slope[i] * way[i]
    size = size**0.5 * (1.0 if gain > 0.0 else -1.0)
    for i in range(5):
        way[i] /= size
    return True


@njit(cache=True, nogil=True, error_model="numpy")
def traced(med, c, s, u, out):
    """Solve by tracing the circuit's states through all charges until this charge is met.

    At one charge a circuit can have a state with a flooded and one with a starved evaporator;
    a curve through the states has no such jumps, so it is followed by its own length.

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
    out : record
        `cycle.state.RunningState`.

    Returns
    -------
    tuple
        largest residual [-], residual calls [-], whether the charge fits below the
        table's top pressure.

    References
    ----------
    .. [1] Pseudo-arclength continuation, Keller (1977), in Applications of Bifurcation
       Theory.
    """
    low, high, r = np.empty(5), np.empty(5), np.empty(5)
    limits(med, low, high)
    held, calls = _on_curve(med, c, s, u, out)
    if held < 0:
        return 1.0, calls, True
    way, trial, plane = np.zeros(5), u.copy(), np.zeros((2, 5))
    if not _direction(med, c, s, u, held, r, out, way):
        return 1.0, calls + 5, True
    calls += 5
    f = r[2]
    if f > 0.0:
        for i in range(4):
            way[i] = -way[i]
    stride = FIRST_STRIDE
    for _ in range(MOST_POINTS):
        for i in range(4):
            trial[i] = u[i] + stride * way[i]
            plane[0, i] = way[i] / STEP_LIMIT[i] ** 2
            plane[1, i] = trial[i]
        if trial[1] > high[1] - 0.02:
            if f < 0.0:
                # Table's top: the state there, with what charge it holds
                u[1] = high[1] - 0.02
                res, n = newton(med, c, s, u, AT_PRESSURE, NO_PLANE, out)
                return res, calls + n, False
            return 1.0, calls, True
        res, n = newton(med, c, s, trial, ON_CURVE, plane, out)
        calls += n
        if calls > MOST_TRACED:
            return 1.0, calls, True
        ahead, far = 0.0, 0.0
        for i in range(4):
            step = (trial[i] - u[i]) / STEP_LIMIT[i]
            far += step * step
            ahead += step * way[i] / STEP_LIMIT[i]
        far = far**0.5
        if res > 1e-6 or ahead < 0.5 * far:  # lost, or a sharp bend: shorter
            stride *= 0.35
            if stride < 1e-5:
                return 1.0, calls, True
            continue
        residuals(med, c, s, trial, False, r, out)
        calls += 1
        if (r[2] > 0.0) != (f > 0.0):
            return _between(med, c, s, u, f, trial, r[2], plane, out, calls)
        f = r[2]
        for i in range(4):
            way[i] = (trial[i] - u[i]) / far
            u[i] = trial[i]
        stride = min(stride * (1.7 if n < 12 else 0.9), 1.0)
    return 1.0, calls, True


@njit(cache=True, nogil=True, error_model="numpy")
def _between(med, c, s, u, fa, ub, fb, plane, out, calls):
    """Last part of `traced`: the charge lies between two points of the curve."""
    ua, ub = u.copy(), ub.copy()
    r = np.empty(5)
    side = 0
    worst = 1.0
    for k in range(50):
        share = min(max(fa / (fa - fb), 0.01), 0.99) if -3 < side < 3 else 0.5
        for i in range(4):
            u[i] = ua[i] + share * (ub[i] - ua[i])
            plane[1, i] = u[i]
            plane[0, i] = (ub[i] - ua[i]) / STEP_LIMIT[i] ** 2
        if k % 4 == 0:
            near = u.copy()
            res, n = newton(med, c, s, near, IMPOSED, plane, out)
            calls += n
            if res < ACCEPTED:
                u[:] = near
                return res, calls, True
        far = 0.0
        for i in range(4):
            far += ((ub[i] - ua[i]) / STEP_LIMIT[i]) ** 2
        for i in range(4):
            plane[0, i] /= max(far**0.5, 1e-300)
        newton(med, c, s, u, ON_CURVE, plane, out)
        residuals(med, c, s, u, False, r, out)
        calls += 10
        worst = max(max(abs(r[0]), abs(r[1])), max(abs(r[2]), abs(r[3])))
        if worst < ACCEPTED or calls > MOST_TRACED:
            break
        if (r[2] > 0.0) == (fa > 0.0):
            ua[:] = u
            fa = r[2]
            fb *= 0.5 if side > 0 else 1.0
            side = max(side, 0) + 1
        else:
            ub[:] = u
            fb = r[2]
            fa *= 0.5 if side < 0 else 1.0
            side = min(side, 0) - 1
    return worst, calls, True


@njit(cache=True, nogil=True, error_model="numpy")
def bracketed(med, c, s, u, out):
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
        flows, n = _charge_at(med, c, s, u, out, low[0], r)
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

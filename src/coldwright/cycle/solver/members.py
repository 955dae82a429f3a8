"""From any healthy solution to any faulty one: direct step, traced curve, brackets.

A member is always known in one solved state (its design point). Its fault and
today's room are reached by a direct quasi-Newton solve, else by following the
solution while the change is applied in parts, else by nested brackets.
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, log

import numpy as np

from coldwright.cycle.air_side import compartments
from coldwright.cycle.batches import in_batches
from coldwright.cycle.medium import Medium, require_medium
from coldwright.cycle.solver.brackets import bracketed
from coldwright.cycle.solver.newton import ACCEPTED, AT_PRESSURE, FLOATING, IMPOSED, limits, newton
from coldwright.cycle.solver.pumped_down import pumped_down
from coldwright.cycle.solver.residuals import residuals
from coldwright.cycle.solver.trace import traced
from coldwright.cycle.state import NO, SOLVED, STATE, TRIPPED, UNSOLVED, YES
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.saturation import saturation_pressure, saturation_temperature

FLOAT_STEPS = 40
TRIP_BAND = 0.5  # air temperature to which the onset of tripping is found [K]
NUDGE = (-0.03, 0.0, 0.05, -0.01, 0.0)  # seen between the branches of narrow folds, ours
MOST_CALLS = 8000  # a member that costs more is given up and counted


@kernel
def overfull(med, c, s, u, path, out):
    """Whether even the table's top pressure does not hold the charge; `out` is the state there.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    s : record
        `circuit.records.Surroundings`.
    u : ndarray
        Start in, state at that pressure out, shape (5,). [-]
    path : tuple
        As in `newton.newton`; only handed on.
    out : record
        `cycle.state.RunningState`.

    Returns
    -------
    tuple
        whether, residual calls [-].

    References
    ----------
    .. [1] Mass balance.
    """
    low, high, r = np.empty(5), np.empty(5), np.empty(5)
    limits(med, low, high)
    u[1] = high[1] - 0.01
    res, calls = newton(med, c, s, u, AT_PRESSURE, NO, path, out)
    if not res < ACCEPTED:
        return False, calls
    residuals(med, c, s, u, NO, r, out)
    return r[2] < 0.0, calls + 1


@kernel
def follow(med, c, s, u, path, out):
    """Solve at the end of a path whose start is solved at `u`, temperatures imposed.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`; set to the path's end.
    s : record
        `circuit.records.Surroundings`; likewise.
    u : ndarray
        Solution at the start in, at the end out, shape (5,). [-]
    path : tuple
        As in `newton.newton`.
    out : record
        `cycle.state.RunningState`.

    Returns
    -------
    tuple
        largest residual, -1 where the overload opens [-], residual calls [-].

    References
    ----------
    .. [1] `newton.newton`, `trace.traced`, `brackets.bracketed`, in this order.
    """
    keep = u.copy()
    c0, s0, c1, s1, c_flat, s_flat, plane = path
    c_flat[:] = c1
    s_flat[:] = s0
    room_before = s.room_k
    s_flat[:] = s1
    # A condenser keeps about its rise above the room.
    tab = med.tables
    rise = saturation_temperature(tab, exp(u[1])) - room_before
    u[1] = log(saturation_pressure(tab, s.room_k + rise))
    res, calls = newton(med, c, s, u, IMPOSED, NO, path, out)
    if res < ACCEPTED:
        return res, calls
    u[:] = keep
    res, n = newton(med, c, s, u, IMPOSED, YES, path, out)
    calls += n
    if res < ACCEPTED:
        return res, calls
    u[:] = keep
    trips, n = overfull(med, c, s, u, path, out)
    calls += n
    if trips:
        return -1.0, calls
    u[:] = keep
    res, n, fits = traced(med, c, s, u, path, out)
    calls += n
    if res < ACCEPTED:
        return (res if fits else -1.0), calls
    # A fold too narrow to trace has its other branch a short way off.
    for way in (1.0, -1.0):
        for i in range(5):
            u[i] = keep[i] + way * NUDGE[i]
        res, n = newton(med, c, s, u, IMPOSED, NO, path, out)
        calls += n
        if res < ACCEPTED:
            return res, calls
    u[:] = keep
    res, n, fits = bracketed(med, c, s, u, path, out)
    if not fits:
        # Even the highest pressure of the table does not hold the charge: the state at
        # that pressure, charge left free, is what the overload sees before it opens.
        return (-1.0 if res < 1e-4 else res), calls + n
    return res, calls + n


@kernel
def float_cabinet(med, c, s, u, path, out):
    """Let the compartments settle where capacity is short: all unknowns, else a bracket.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    s : record
        `circuit.records.Surroundings`; its compartment temperatures are changed.
    u : ndarray
        Solution with imposed temperatures in, with floating ones out. [-]
    path : tuple
        As in `newton.newton`; the circuit stays at its end.
    out : record
        `cycle.state.RunningState`.

    Returns
    -------
    tuple
        largest residual [-], residual calls [-].

    References
    ----------
    .. [1] `air_side.compartments`; false position with halving.
    """
    keep = u.copy()
    cap = c.cabinet.air_capacity_w_k * c.evaporator.air_factor_fraction
    share = c.cabinet.air_share_fraction
    air = share * s.fresh_food_k + (1.0 - share) * s.freezer_k
    start = 0.01 * (air - max(out.cooling_w, 0.0) / max(cap, 1.0) + 2.0)
    u[4] = start
    res, calls = newton(med, c, s, u, FLOATING, NO, path, out)
    if res < ACCEPTED:
        return res, calls
    u[:] = keep
    u[4] = start
    res, n = newton(med, c, s, u, FLOATING, YES, path, out)
    calls += n
    if res < ACCEPTED:
        return res, calls
    # Outer bracket on the air leaving the evaporator, inner solves with imposed temperatures.
    # As cooling falls short of the load, the air settles warmer than it is: walk upwards.
    u[:] = keep
    near, here, there = keep.copy(), path[3].copy(), path[3].copy()
    k = c.cabinet
    load = (
        k.heater_power_w + k.opening_power_w + s.heat_load_w + k.evaporator_fan_power_w
    )  # fmt: skip
    walls = k.fresh_food_conductance_w_k + k.freezer_conductance_w_k
    warmest = s.room_k + load / walls + 5.0
    a = min(100.0 * start - 6.0, warmest - 10.0)
    b, fa, fb = warmest, 0.0, 0.0
    has_a, has_b, trips = False, False, False
    stride, side = 5.0, 0
    x = a
    for _ in range(FLOAT_STEPS):
        tf, tz, ret, ld, duty = compartments(c, s, x, YES)
        s.fresh_food_k, s.freezer_k = tf, tz
        there[:] = path[5]
        res, n = newton(med, c, s, u, IMPOSED, NO, path, out)
        calls += n
        fits = True
        if res > ACCEPTED:
            u[:] = near
            res, n = newton(med, c, s, u, IMPOSED, YES, path, out)
            calls += n
        if res > ACCEPTED:
            u[:] = near
            trips_here, n = overfull(med, c, s, u, path, out)
            calls += n
            if trips_here:
                res, fits = 0.0, False
        if res > ACCEPTED:
            u[:] = near
            res, n, fits = traced(
                med, c, s, u, (path[2], here, path[2], there, path[4], path[5], path[6]), out
            )
            calls += n
        if res > ACCEPTED:
            u[:] = near
            res, n, fits = bracketed(med, c, s, u, path, out)
            calls += n
        if res > ACCEPTED or calls > MOST_CALLS:
            return max(res, 2.0 * ACCEPTED), calls
        if not fits:
            # In air this warm the overload opens; look for a balance in colder air.
            b, has_b, trips = x, True, True
            if not has_a or b - a < TRIP_BAND:
                return -1.0, calls
            u[:] = near
            x = 0.5 * (a + b)
            continue
        f = (out.cooling_w - out.inward_heat_w - duty) / (abs(out.cooling_w) + 20.0)
        if abs(f) < 1e-7 or (has_a and has_b and b - a < 1e-9):
            u[4] = 0.01 * x
            return max(res, min(abs(f), 0.9 * ACCEPTED)), calls
        # Warmer air: more cooling, less duty
        if f > 0.0:
            b, fb, has_b, trips = x, f, True, False
            fa *= 0.5 if side < 0 else 1.0
            side = min(side, 0) - 1
        else:
            a, fa, has_a = x, f, True
            near[:] = u
            here[:] = there
            fb *= 0.5 if side > 0 else 1.0
            side = max(side, 0) + 1
            if trips and b - a < TRIP_BAND:
                return -1.0, calls
        if has_a and has_b:
            x = 0.5 * (a + b)
            if not trips and -3 < side < 3:
                x = min(max(b - fb * (b - a) / (fb - fa), a + 1e-3 * (b - a)), b - 1e-3 * (b - a))
        elif has_a:
            if x >= warmest:
                return 1.0, calls
            x = min(x + stride, warmest)
            stride *= 1.5
        else:
            x -= stride
            stride *= 1.5
    return 1.0, calls


@kernel
def solve_member(
    med, c0, s0, c1, s1, c_flat, s_flat, c_rec, s_rec, settled, blocked, u, out
):  # fmt: skip
    """Running state of one faulty member; fills `out` with its status.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c0, s0 : ndarray
        Flat circuit and surroundings solved at `u`. [SI]
    c1, s1 : ndarray
        Flat circuit and surroundings wanted. [SI]
    c_flat, s_flat, c_rec, s_rec
        Scratch, as in `follow`.
    settled : bool
        Thermostat in charge: run fraction below 1, or compartments float.
    blocked : bool
        No flow through the capillary.
    u : ndarray
        Unknowns, in and out, shape (5,). [-]
    out : record
        `cycle.state.RunningState`.

    References
    ----------
    .. [1] This module.
    """
    if blocked:
        c_flat[:] = c1
        s_flat[:] = s1
        pumped_down(med, c_rec, s_rec, settled, out)
        return
    path = (c0, s0, c1, s1, c_flat, s_flat, np.zeros((2, 5)))
    res, calls = follow(med, c_rec, s_rec, u, path, out)
    if 0.0 <= res < ACCEPTED and settled and out.cooling_w < out.load_w:
        res, n = float_cabinet(med, c_rec, s_rec, u, path, out)
        calls += n
        out.run_fraction = 1.0
    tripped = res < 0.0
    res = max(res, 0.0)
    out.residual = res
    out.iterations = calls
    tab = med.tables
    top = tab.ln_p_first + tab.ln_p_step * tab.saturation.shape[0]
    edge = log(out.condensing_pressure_pa) > top - 0.02
    edge = edge or log(out.suction_pressure_pa) < tab.ln_p_first + 0.02
    out.outside_range_code = 1.0 if edge else 0.0
    out.status_code = SOLVED if res < ACCEPTED else UNSOLVED
    if tripped:
        out.status_code = TRIPPED


@kernel
def solve_range(
    first, last, med, c0, s0, c1, s1, c_flat, s_flat, c_rec, s_rec, settled, blocked, u, out
):  # fmt: skip
    """`solve_member` over members first..last-1.

    Parameters
    ----------
    first, last : int
        Range of members. [-]
    med : Medium
        Refrigerant, oil, void model.
    c0, s0, c1, s1, c_flat, s_flat : ndarray
        Flat circuits and surroundings, shape (n, fields). [SI]
    c_rec, s_rec : ndarray
        Records over the memory of `c_flat`, `s_flat`, shape (n,).
    settled, blocked : ndarray
        Booleans, shape (n,).
    u : ndarray
        Unknowns, shape (n, 5). [-]
    out : ndarray
        States, shape (n,).

    References
    ----------
    .. [1] `solve_member`.
    """
    for i in range(first, last):
        solve_member(
            med, c0[i], s0[i], c1[i], s1[i], c_flat[i], s_flat[i], c_rec[i], s_rec[i],
            settled[i], blocked[i], u[i], out[i],
        )  # fmt: skip


def solve_members(
    med: Medium,
    design: tuple[np.ndarray, np.ndarray],
    wanted: tuple[np.ndarray, np.ndarray],
    unknowns: np.ndarray,
    *,
    settled: np.ndarray | bool,
    blocked: np.ndarray | bool = False,
    progress: Callable[[int, int], None] | None = None,
) -> np.ndarray:
    """Running states of many circuits of one refrigerant, each from a solved one.

    Parameters
    ----------
    med : Medium
        What all of them are filled with.
    design : tuple of ndarray
        Circuits and surroundings solved at `unknowns`, dtypes CIRCUIT and SURROUNDINGS,
        shape (n,). [SI]
    wanted : tuple of ndarray
        Those asked for, of the same shape. [SI]
    unknowns : ndarray
        Solution of `design`, shape (n, 5). [-]
    settled : ndarray or bool
        Thermostat in charge, broadcast to (n,).
    blocked : ndarray or bool
        No flow through the capillary, broadcast to (n,).
    progress : callable, optional
        Told (done, count).

    Returns
    -------
    ndarray
        States, dtype STATE, shape (n,); one that was not found has status UNSOLVED. [SI]

    Raises
    ------
    Refused
        If a circuit holds another refrigerant or names another void model.

    References
    ----------
    .. [1] `solve_member`.
    """
    require_medium(med, design[0], wanted[0])
    n = unknowns.shape[0]
    c_work, s_work = wanted[0].copy(), wanted[1].copy()
    views = [flat(np.ascontiguousarray(a)) for a in (*design, *wanted)]
    views += [flat(c_work), flat(s_work)]
    held, stuck = (np.array(np.broadcast_to(a, (n,)), bool) for a in (settled, blocked))
    u, found = unknowns.copy(), np.zeros(n, STATE)

    def loop(first: int, last: int) -> None:
        solve_range(first, last, med, *views, c_work, s_work, held, stuck, u, found)

    in_batches(loop, n, progress)
    return found


def flat(records: np.ndarray) -> np.ndarray:
    """The same memory as plain floats.

    Parameters
    ----------
    records : ndarray
        Of records of floats, contiguous, shape (n,).

    Returns
    -------
    ndarray
        A view, shape (n, fields). [SI]
    """
    return records.view(np.float64).reshape(records.shape[0], -1)


def still(circuits: np.ndarray, surroundings: np.ndarray) -> tuple[np.ndarray, ...]:
    """A path of `newton.newton` that does not move.

    Parameters
    ----------
    circuits, surroundings : ndarray
        Dtypes CIRCUIT and SURROUNDINGS, shape (1,). [SI]

    Returns
    -------
    tuple of ndarray
        Views of their memory, and a plane nothing is cut by. [SI]
    """
    c, s = flat(circuits)[0], flat(surroundings)[0]
    return c, s, c, s, c, s, np.zeros((2, 5))

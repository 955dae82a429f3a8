"""One appliance over time, from its plan to its result."""

from __future__ import annotations

from collections.abc import Callable
from math import nan

from coldwright.circuit.records import Circuit, Surroundings
from coldwright.cycle.solver.running import Running, solve_running
from coldwright.errors import require
from coldwright.transient.books import Marched
from coldwright.transient.march import March
from coldwright.transient.masses import Masses
from coldwright.transient.records import Plan, PullDown
from coldwright.transient.summary import DAY_S, daily, losses, reached

FEWEST_HOURS, MOST_HOURS = 0.25, 240.0
LONGEST_STEP_S = (1.0, 120.0)


def pull_down(
    circuit: Circuit,
    surroundings: Surroundings,
    masses: Masses,
    plan: Plan,
    progress: Callable[[str], None] | None = None,
) -> PullDown:
    """An appliance over hours.

    Parameters
    ----------
    circuit : Circuit
        The circuit with its refrigerant, models and cabinet, faults applied.
    surroundings : Surroundings
        Room and added load; compartment temperatures in it are not read.
    masses : Masses
        Heat capacities, from `masses.masses_of`.
    plan : Plan
        How long, from where, with what.
    progress : callable, optional
        Is told the hour reached.

    Returns
    -------
    PullDown
        Samples, cycles, energy and what they add up to.

    Raises
    ------
    OutOfRange
        If the time, the room or the charge lies outside.
    NotSolved
        If no running state was found at all, or for too long.

    References
    ----------
    .. [1] Quasi-steady refrigerant side along a network of heat capacities: the approach of
       Hermes & Melo (2008), Int. J. Refrig. 31, 1112 (abstract) and Jakobsen (1995, from
       memory), simplified; start and stop: `pump`, `rest`.
    """
    require("hours", plan.hours, "h", FEWEST_HOURS, MOST_HOURS)
    require("step", plan.longest_step_s, "s", *LONGEST_STEP_S)
    free = Surroundings(
        surroundings.room_k, surroundings.supply_v, nan, nan, surroundings.heat_load_w
    )
    known: Running | None = None
    if plan.runs:
        known = solve_running(circuit, free, settled=True, blocked=plan.blocked)
    marched = March(circuit, free, masses, plan, known).run(progress)
    cabinet = circuit.cabinet
    half = 0.5 * (plan.thermostat.cut_in_k - plan.thermostat.cut_out_k)
    state = None if known is None else known.state
    steady_j = nan
    if state is not None:
        always = cabinet.controls_power_w + cabinet.heater_power_w
        running = state.appliance_power_w - cabinet.controls_power_w
        steady_j = DAY_S * (always + state.run_fraction * running)
    return PullDown(
        samples=marched.samples,
        cycles=marched.cycles,
        pull_down_s=marched.first_stop_s if plan.warm_start else nan,
        fresh_food_reached_s=reached(
            marched.samples, lambda s: s.fresh_food_k, cabinet.fresh_food_set_k + half
        ),
        freezer_reached_s=reached(
            marched.samples, lambda s: s.freezer_k, cabinet.freezer_set_k + half
        ),
        energy_j=marched.energy_j,
        run_s=marched.run_s,
        daily=daily(marched),
        steady=state,
        steady_energy_j_day=steady_j,
        losses=losses(marched, circuit, free) if plan.runs and not plan.blocked else None,
        defrosts=marched.defrosts,
        balance=marched.balance,
        trips=marched.trips,
        early_restarts=marched.early_restarts,
        unsolved_s=marched.unsolved_s,
        solves=marched.solves,
        fallbacks=marched.fallbacks,
        notes=_notes(marched, plan),
    )


def _notes(marched: Marched, plan: Plan) -> tuple[str, ...]:
    notes = []
    if not plan.runs:
        notes.append("The compressor does not start: the cabinet drifts to the room.")
    elif marched.first_stop_s != marched.first_stop_s:
        notes.append("The thermostat never stopped the compressor in this time.")
    if marched.trips:
        notes.append(f"The overload opened {marched.trips} times; it is taken to stay open 5 min.")
    if marched.early_restarts:
        notes.append(
            f"{marched.early_restarts} starts came before the pressures were level: a compressor "
            "of low starting torque may hum and trip then."
        )
    if marched.unsolved_s > 0.0:
        notes.append(
            f"{marched.unsolved_s / 60.0:.1f} min were bridged with the state before, where no "
            "running state was found."
        )
    return tuple(notes)

"""What the march means: daily figures, losses of cycling, when the settings were reached."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise
from math import nan

from coldwright.circuit.records import Circuit, Surroundings
from coldwright.cycle.solver.running import solve_running
from coldwright.cycle.state import SOLVED
from coldwright.errors import NotSolved
from coldwright.transient.books import Marched
from coldwright.transient.records import Cycle, Daily, Losses, Phase, Sample

DAY_S = 86400.0
SKIPPED = 1  # first cycle after the pull-down is not yet like the others


def settled_cycles(marched: Marched) -> tuple[Cycle, ...]:
    """Whole cycles that stand for an ordinary day.

    Where the heater defrosts, whole intervals between defrosts; else the later half.

    Parameters
    ----------
    marched : Marched
        A run.
    """
    after = [c for c in marched.cycles if c.start_s >= marched.first_stop_s]
    defrosted = [i for i, c in enumerate(after) if c.defrosted]
    if len(defrosted) >= 2:
        return tuple(after[defrosted[0] + 1 : defrosted[-1] + 1])
    if len(after) > 2:
        after = after[max(SKIPPED, len(after) // 2) :]
    return tuple(after)


def daily(marched: Marched) -> Daily | None:
    """Means of an ordinary day; None where no whole cycle followed the pull-down.

    Parameters
    ----------
    marched : Marched
        A run.
    """
    cycles = settled_cycles(marched)
    if not cycles:
        return None
    seconds = sum(c.run_s + c.off_s for c in cycles)
    window = _between(marched.samples, cycles)
    return Daily(
        cycles=len(cycles),
        run_fraction=sum(c.run_s for c in cycles) / seconds,
        cycles_per_hour=3600.0 * len(cycles) / seconds,
        energy_j_day=sum(c.energy_j for c in cycles) / seconds * DAY_S,
        fresh_food_k=_mean(window, lambda s: s.fresh_food_k),
        freezer_k=_mean(window, lambda s: s.freezer_k),
    )


def losses(marched: Marched, circuit: Circuit, surroundings: Surroundings) -> Losses | None:
    """Cycling against the quasi-steady machine in the air it had while running.

    Parameters
    ----------
    marched : Marched
        A run.
    circuit : Circuit
        The circuit.
    surroundings : Surroundings
        Room and added load.

    Returns
    -------
    Losses or None
        None where no whole cycle followed the pull-down, or no such state was found.

    References
    ----------
    .. [1] The comparison is that of Coulter & Bullard (1995), ACRC TR-77 (abstract).
    """
    cycles = settled_cycles(marched)
    if not cycles:
        return None
    running = [
        (s, t) for s, t in _between(marched.samples, cycles) if s.phase is Phase.RUNNING
    ]  # fmt: skip
    freezer = _mean(running, lambda s: s.freezer_k)
    fresh = _mean(running, lambda s: s.fresh_food_k)
    air = replace(
        surroundings, freezer_k=freezer, fresh_food_k=freezer if fresh != fresh else fresh
    )  # fmt: skip
    try:
        found = solve_running(circuit, air, settled=False).state
    except NotSolved:
        return None
    if found.status_code != SOLVED or found.cooling_w <= 0.0:
        return None
    run = sum(c.run_s for c in cycles)
    heat, migrated = sum(c.cooling_j for c in cycles), sum(c.migration_heat_j for c in cycles)
    capacity, power = (heat - migrated) / run, sum(c.compressor_j for c in cycles) / run
    return Losses(
        capacity_loss_fraction=1.0 - capacity / found.cooling_w,
        power_rise_fraction=power / found.compressor_power_w - 1.0,
        efficiency_loss_fraction=1.0
        - capacity / power * found.compressor_power_w / found.cooling_w,
        migration_load_fraction=migrated / (heat - migrated),
        displaced_charge_fraction=sum(c.displaced_kg for c in cycles)
        / len(cycles)
        / circuit.charge_kg,
    )


def reached(samples: Sequence[Sample], of: Callable[[Sample], float], target_k: float) -> float:
    """When a temperature first fell to its target; NaN where it did not. [s]

    Parameters
    ----------
    samples : sequence of Sample
        In order of time.
    of : callable
        The temperature of a sample.
    target_k : float
        Target. [K]
    """
    return next((s.time_s for s in samples if of(s) <= target_k), nan)


def _between(samples: Sequence[Sample], cycles: Sequence[Cycle]) -> list[tuple[Sample, float]]:
    """Samples of those cycles, each with the time it stands for."""
    last = cycles[-1]
    first, end = cycles[0].start_s, last.start_s + last.run_s + last.off_s
    return [
        (a, b.time_s - a.time_s) for a, b in pairwise(samples) if first <= a.time_s < end - 1e-6
    ]  # fmt: skip


def _mean(weighted: Sequence[tuple[Sample, float]], of: Callable[[Sample], float]) -> float:
    total = sum(t for _, t in weighted)
    return sum(of(s) * t for s, t in weighted) / total if total > 0.0 else nan

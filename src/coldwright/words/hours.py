"""An appliance over hours: pull-down, an ordinary day, losses, the course in a dozen lines."""

from __future__ import annotations

import math
from collections.abc import Sequence

from coldwright.logged.over_time import Beside
from coldwright.transient.hours import Hours
from coldwright.units import Dimension as D
from coldwright.units import System, show
from coldwright.words.report import Fact, Facts, Points, Section, Table, Text, section
from coldwright.words.wording import capital, percent

KWH = 3.6e6  # [J]
ROWS = 12  # of the course that is told


def hours(
    found: Hours, beside: Sequence[Beside] = (), system: System = System.SI
) -> tuple[Section, ...]:
    """All that a run over hours says.

    Parameters
    ----------
    found : Hours
        The run.
    beside : sequence of Beside
        How far what was logged lies from it.
    system : System
        Units.

    Returns
    -------
    tuple of Section
        Sections in the order of reading.
    """
    day = found.result.daily
    told = Text("None yet: no whole cycle followed in this time." if day is None else "")
    warm = found.plan.warm_start
    return (
        *section("Pull-down" if warm else "Begin", Facts(_pull_down(found))),
        *section("An ordinary day", told, Facts(_day(found, system))),
        *section("What cycling costs", Facts(_losses(found))),
        *section("Defrosts", Facts(_defrosts(found))),
        *section("Beside the log", Facts(_beside(beside, system))),
        *section("The course", _course(found, system), folded=True),
        *section("Notes", Points((*found.notes, _evidence(found)), "quiet")),
    )


def _clock(seconds: float) -> str:
    """Hours and minutes; 'not reached' where there is none."""
    if math.isnan(seconds):
        return "not reached"
    minutes = round(seconds / 60.0)
    return f"{minutes // 60} h {minutes % 60:02d} min" if minutes >= 60 else f"{minutes} min"


def _pull_down(found: Hours) -> tuple[Fact, ...]:
    r = found.result
    if not found.plan.warm_start:
        return (Fact("All at its setting", f"for {_clock(r.samples[-1].time_s)}"),)
    fresh = () if math.isnan(found.fresh_food_set_k) else (
        Fact("Fresh food cold after", _clock(r.fresh_food_reached_s)),)  # fmt: skip
    return (
        *fresh,
        Fact("Freezer cold after", _clock(r.freezer_reached_s)),
        Fact("First stop after", _clock(r.pull_down_s)),
        Fact("Energy in all", f"{r.energy_j / KWH:.2f} kWh"),
    )


def _day(found: Hours, system: System) -> tuple[Fact, ...]:
    day, steady = found.result.daily, found.result.steady
    if day is None:
        return ()
    rows = [
        Fact("Energy", f"{day.energy_j_day / KWH:.2f} kWh a day"),
        Fact("Runs", f"{percent(day.run_fraction)} of the time"),
        Fact("Starts", f"{day.cycles_per_hour:.1f} an hour"),
    ]
    if not math.isnan(found.fresh_food_set_k):
        rows.append(Fact("Fresh food", show(day.fresh_food_k, D.TEMPERATURE, system)))
    rows.append(Fact("Freezer", show(day.freezer_k, D.TEMPERATURE, system)))
    if steady is not None:
        energy = f"{found.result.steady_energy_j_day / KWH:.2f} kWh a day"
        rows.append(Fact("Steady model", f"{percent(steady.run_fraction)}, {energy}"))
    return tuple(rows)


def _losses(found: Hours) -> tuple[Fact, ...]:
    losses = found.result.losses
    if losses is None:
        return ()
    return (
        Fact("Capacity", _change(-losses.capacity_loss_fraction)),
        Fact("Power while running", _change(losses.power_rise_fraction)),
        Fact("Efficiency", _change(-losses.efficiency_loss_fraction)),
        Fact("Heat by migration", f"{100.0 * losses.migration_load_fraction:.1f} % of the load"),
        Fact("Moved at a start", f"{100.0 * losses.displaced_charge_fraction:.0f} % of the charge"),
    )


def _change(fraction: float) -> str:
    return f"{100.0 * fraction:+.1f} %"


def _defrosts(found: Hours) -> tuple[Fact, ...]:
    d = found.result.defrosts
    if found.plan.defrost is None:
        return ()
    if d.count == 0:
        return (Fact("None", "the run time stayed below the interval"),)
    return (
        Fact("Count", str(d.count)),
        Fact("Heater on", f"{d.mean_s / 60.0:.0f} min each"),
        Fact("Energy", f"{d.energy_j / KWH:.2f} kWh"),
        Fact("Frost melted", f"{1e3 * d.melted_kg:.0f} g"),
    )


def _beside(beside: Sequence[Beside], system: System) -> tuple[Fact, ...]:
    def kelvin(difference: float) -> str:
        return show(difference, D.TEMPERATURE_DIFFERENCE, system)

    return tuple(
        Fact(
            capital(b.words),
            f"logged less simulated {kelvin(b.mean_difference_k)} in the mean, "
            f"{kelvin(b.largest_difference_k)} at most, {b.points} points",
        )
        for b in beside
    )


def _course(found: Hours, system: System) -> Table:
    """Samples at equal times."""
    samples = found.result.samples
    rows = []
    for i in range(ROWS + 1):
        at = samples[-1].time_s * i / ROWS
        s = next(s for s in samples if s.time_s >= at - 1e-6)
        cells = ("" if math.isnan(t) else show(t, D.TEMPERATURE, system)
                 for t in (s.fresh_food_k, s.freezer_k, s.evaporator_k))  # fmt: skip
        rows.append((f"{s.time_s / 3600.0:.1f} h", *cells, f"{s.power_w:.0f} W", s.phase.value))
    return Table(("after", "fresh", "freezer", "evap.", "power", "does"), tuple(rows))


def _evidence(found: Hours) -> str:
    r = found.result
    return (
        f"Heat closes to {abs(r.balance.relative_error):.0e}; {r.solves} running states, "
        f"{r.fallbacks} of them by the long way."
    )

"""A run over hours as text on a phone."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from coldwright.cli import words
from coldwright.cli.text import capital, items, percent, table, wrapped
from coldwright.units import Dimension as D
from coldwright.units import System, show

if TYPE_CHECKING:
    from coldwright.logged.over_time import Beside
    from coldwright.transient.hours import Hours
    from coldwright.transient.records import Losses
    from coldwright.usecases.pulldown import Asked

KWH = 3.6e6  # [J]
ROWS = 12  # of the course that is printed


def hours_lines(
    title: str, asked: Asked, found: Hours, beside: Sequence[Beside], system: System
) -> list[str]:
    """Pull-down, an ordinary day, losses, the course in a dozen lines."""
    lines = wrapped(title)
    for name, severity in asked.faults:
        how = "" if math.isnan(severity) else words.simulated_severity(name, severity, system)
        lines += wrapped(f"Fault: {words.fault(name)}" + (f": {how}" if how else ""))
    lines += ["", "PULL-DOWN" if asked.warm_start else "BEGIN", *table(_pull_down(asked, found))]
    lines += ["", "AN ORDINARY DAY", *_day(found, system)]
    if found.result.losses is not None:
        lines += ["", "WHAT CYCLING COSTS", *table(_losses(found.result.losses))]
    if found.plan.defrost is not None:
        lines += ["", "DEFROSTS", *table(_defrosts(found))]
    if beside:
        lines += ["", "BESIDE THE LOG", *table(_beside(beside, system))]
    lines += ["", "THE COURSE", *_course(found, system)]
    told = (*found.notes, _evidence(found))
    return [*lines, "", "NOTES", *items(told)]


def _clock(seconds: float) -> str:
    """Hours and minutes; 'not reached' where there is none."""
    if math.isnan(seconds):
        return "not reached"
    minutes = round(seconds / 60.0)
    return f"{minutes // 60} h {minutes % 60:02d} min" if minutes >= 60 else f"{minutes} min"


def _pull_down(asked: Asked, found: Hours) -> list[tuple[str, str]]:
    r = found.result
    if not asked.warm_start:
        return [("All at its setting", f"for {_clock(r.samples[-1].time_s)}")]
    rows = []
    if not math.isnan(found.fresh_food_set_k):
        rows.append(("Fresh food cold after", _clock(r.fresh_food_reached_s)))
    rows.append(("Freezer cold after", _clock(r.freezer_reached_s)))
    rows.append(("First stop after", _clock(r.pull_down_s)))
    rows.append(("Energy in all", f"{r.energy_j / KWH:.2f} kWh"))
    return rows


def _day(found: Hours, system: System) -> list[str]:
    day = found.result.daily
    if day is None:
        return wrapped("None yet: no whole cycle followed in this time.")
    rows = [
        ("Energy", f"{day.energy_j_day / KWH:.2f} kWh a day"),
        ("Runs", f"{percent(day.run_fraction)} of the time"),
        ("Starts", f"{day.cycles_per_hour:.1f} an hour"),
    ]
    if not math.isnan(found.fresh_food_set_k):
        rows.append(("Fresh food", show(day.fresh_food_k, D.TEMPERATURE, system)))
    rows.append(("Freezer", show(day.freezer_k, D.TEMPERATURE, system)))
    steady = found.result.steady
    if steady is not None:
        told = f"{percent(steady.run_fraction)}, "
        told += f"{found.result.steady_energy_j_day / KWH:.2f} kWh a day"
        rows.append(("Steady model", told))
    return table(rows)


def _losses(losses: Losses) -> list[tuple[str, str]]:
    return [
        ("Capacity", _change(-losses.capacity_loss_fraction)),
        ("Power while running", _change(losses.power_rise_fraction)),
        ("Efficiency", _change(-losses.efficiency_loss_fraction)),
        ("Heat by migration", f"{100.0 * losses.migration_load_fraction:.1f} % of the load"),
        ("Moved at a start", f"{100.0 * losses.displaced_charge_fraction:.0f} % of the charge"),
    ]


def _change(fraction: float) -> str:
    return f"{100.0 * fraction:+.1f} %"


def _defrosts(found: Hours) -> list[tuple[str, str]]:
    d = found.result.defrosts
    if d.count == 0:
        return [("None", "the run time stayed below the interval")]
    return [
        ("Count", str(d.count)),
        ("Heater on", f"{d.mean_s / 60.0:.0f} min each"),
        ("Energy", f"{d.energy_j / KWH:.2f} kWh"),
        ("Frost melted", f"{1e3 * d.melted_kg:.0f} g"),
    ]


def _beside(beside: Sequence[Beside], system: System) -> list[tuple[str, str]]:
    return [
        (
            capital(b.words),
            f"logged less simulated {_kelvin(b.mean_difference_k, system)} in the mean, "
            f"{_kelvin(b.largest_difference_k, system)} at most, {b.points} points",
        )
        for b in beside
    ]


def _kelvin(difference: float, system: System) -> str:
    return show(difference, D.TEMPERATURE_DIFFERENCE, system)


def _course(found: Hours, system: System) -> list[str]:
    """Samples at equal times."""
    samples = found.result.samples
    end = samples[-1].time_s
    head = f"{'after':>9}{'fresh':>9}{'freezer':>9}{'evap.':>9}{'power':>8}  does"
    lines = [head]
    for i in range(ROWS + 1):
        at = end * i / ROWS
        s = next(s for s in samples if s.time_s >= at - 1e-6)
        cells = (_short(t, system) for t in (s.fresh_food_k, s.freezer_k, s.evaporator_k))
        row = f"{s.time_s / 3600.0:>7.1f} h" + "".join(cell.rjust(9) for cell in cells)
        lines.append(row + f"{s.power_w:>6.0f} W  {s.phase.value}")
    return lines


def _short(kelvin: float, system: System) -> str:
    return "" if math.isnan(kelvin) else show(kelvin, D.TEMPERATURE, system)


def _evidence(found: Hours) -> str:
    r = found.result
    return (
        f"Heat closes to {abs(r.balance.relative_error):.0e}; {r.solves} running states, "
        f"{r.fallbacks} of them by the long way."
    )

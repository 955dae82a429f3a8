"""A simulated state as text: grouped, in plain words, on a phone."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from coldwright.cli.sweep import Case, Point, Sweep
from coldwright.cli.text import capital, items, table, wrapped
from coldwright.units import Dimension as D
from coldwright.units import System, show
from coldwright.words import phrases as words

DIFFERENCES_BELOW_K = 60.0

if TYPE_CHECKING:
    from coldwright.cycle.simulation import Simulation

# Longest first; a name that ends in none of these is a bare number.
_SUFFIXES = (
    ("_kg_s", D.MASS_FLOW),
    ("_fraction", D.FRACTION),
    ("_pa", D.PRESSURE),
    ("_kg", D.MASS),
    ("_w", D.POWER),
    ("_k", D.TEMPERATURE),
    ("_s", D.TIME),
)
_DIFFERENCES = ("superheat_k", "subcooling_k", "margin_running_k", "margin_over_cycle_k")
_RUNNING = (
    (
        "PRESSURES",
        "suction_pressure_pa evaporating_pressure_pa evaporating_k condensing_pressure_pa "
        "condensing_k",
    ),
    ("POWER AND CAPACITY", "compressor_power_w appliance_power_w cooling_w load_w run_fraction"),
    (
        "WHAT A THERMOMETER READS",
        "shell_k discharge_line_k condenser_inlet_k condenser_middle_k condenser_outlet_k "
        "drier_inlet_k drier_outlet_k evaporator_inlet_k evaporator_outlet_k suction_line_k "
        "door_frame_k door_frame_outlet_k fresh_food_k freezer_k",
    ),
    (
        "REFRIGERANT",
        "mass_flow_kg_s subcooling_k superheat_k evaporator_wetted_fraction frosted_fraction",
    ),
    (
        "LOOPS OF THE HIGH SIDE",
        "oil_cooler_heat_w frame_heat_w drain_pan_heat_w frame_inward_w charge_frame_loop_kg",
    ),
    ("AIR INSIDE", "gas_pressure_pa"),
    (
        "WHERE THE CHARGE IS",
        "charge_condenser_kg charge_loops_kg charge_liquid_line_kg charge_evaporator_kg "
        "charge_low_side_kg charge_shell_kg charge_oil_kg",
    ),
)
_LABELS = {
    "run_fraction": "Share of the time it runs",
    "load_w": "Heat load",
    "door_frame_k": "Door frame",
    "door_frame_outlet_k": "Door frame, loop's end",
    "frame_heat_w": "Frame loop gives",
    "frame_inward_w": "Past the frame inward",
    "drain_pan_heat_w": "Drain-pan loop gives",
    "oil_cooler_heat_w": "Oil cooler takes",
    "gas_pressure_pa": "Its own pressure",
    "running_k": "Running, coldest",
    "resting_k": "Without heat",
    "over_cycle_k": "Mean over the cycle",
    "dew_point_k": "Dew point of the room",
    "margin_running_k": "Above it, running",
    "margin_over_cycle_k": "Above it, mean",
    "sweats_from_humidity_fraction": "Sweats from humidity",
}
_NOT_WHERE_ZERO = frozenset(
    {
        "oil_cooler_heat_w", "frame_heat_w", "drain_pan_heat_w", "frame_inward_w",
        "charge_loops_kg", "charge_frame_loop_kg", "gas_pressure_pa",
    }
)  # fmt: skip
_CHANGING = (
    "condensing_k", "evaporating_k", "subcooling_k", "compressor_power_w", "cooling_w", "load_w",
    "run_fraction",
)  # fmt: skip
_FRAME_CHANGING = ("over_cycle_k", "margin_over_cycle_k", "sweats_from_humidity_fraction")
_COLUMNS = (
    ("evap.", "evaporating_k"),
    ("cond.", "condensing_k"),
    ("flow", "mass_flow_kg_s"),
    ("power", "compressor_power_w"),
    ("cooling", "cooling_w"),
    ("runs", "run_fraction"),
)
_FIRST, _COLUMN = 11, 8  # characters


def simulation_lines(case: Case, result: Simulation, system: System) -> list[str]:
    """Running and standing state in groups.

    Parameters
    ----------
    case : Case
        The circuit that was simulated.
    result : Simulation
        What came of it.
    system : System
        Units to show.

    Returns
    -------
    list of str
        Lines.
    """
    lines = _title(case, system)
    for title, group in _RUNNING:
        told = [name for name in group.split() if not _absent(result.running, name)]
        if told:
            lines += ["", title, *_rows(result.running, told, system)]
    if result.door_frame is not None:
        told = [f.name for f in dataclasses.fields(result.door_frame)]
        told = [name for name in told if not _absent(result.door_frame, name)]
        lines += ["", "DOOR FRAME", *_rows(result.door_frame, told, system)]
    if result.before is not None:
        lines += ["", "WHAT CHANGES WITHOUT THE LOOP", *_changes(result.before, result, system)]
    rest = [f.name for f in dataclasses.fields(result.standing)]
    names = [
        name for name in rest if not (name in _NOT_WHERE_ZERO and _absent(result.standing, name))
    ]
    lines += ["", "AT REST", *_rows(result.standing, names, system)]
    lines += ["", "NOTES", *items((*_flags(result), *_fitted(result), _evidence(result)))]
    if result.outside:
        lines += ["", "OUTSIDE WHAT IT WAS MADE FROM", *items(outside_words(result, system))]
    lines += ["", "MODELS", *items(result.models)]
    return lines


def sweep_lines(case: Case, sweep: Sweep, points: Sequence[Point], system: System) -> list[str]:
    """Main results against the value that is varied.

    Parameters
    ----------
    case : Case
        The circuit before it is varied.
    sweep : Sweep
        What is varied.
    points : sequence of Point
        Results along it.
    system : System
        Units to show.

    Returns
    -------
    list of str
        Lines.
    """
    shown = [_cell(value, sweep.dimension, system) for value in sweep.values]
    head = sweep.key.rpartition(".")[2][:_FIRST].ljust(_FIRST)
    head += "".join(title.rjust(_COLUMN) for title, _ in _COLUMNS)
    units = shown[0][1].ljust(_FIRST)
    units += "".join(_unit(name, system).rjust(_COLUMN) for _, name in _COLUMNS)
    lines = [*_title(case, system), "", *wrapped(f"Varied: {sweep.key}"), head, units]
    for (number, _), point in zip(shown, points, strict=True):
        if point.result is None:
            lines.append(f"{number.ljust(_FIRST)}  not solved")
        else:
            running = point.result.running
            cells = (_field_cell(running, name, system)[0] for _, name in _COLUMNS)
            lines.append(number.ljust(_FIRST) + "".join(c.rjust(_COLUMN) for c in cells))
    solved = [p.result for p in points if p.result is not None]
    flags = {flag for result in solved for flag in _flags(result)}
    # What lies outside along the whole sweep is no news of it: only what comes and goes
    beyond = [{f"{one.model}: {one.quantity}" for one in result.outside} for result in solved]
    if beyond:
        always = beyond[0].intersection(*beyond)
        some = set().union(*beyond) - always
        flags |= {f"outside what it was made from: {words_}." for words_ in some}
    return lines + (
        ["", *items(f"At some points: {flag}" for flag in sorted(flags))] if flags else []
    )


def _absent(record: Any, name: str) -> bool:
    """Whether a value says nothing: no number, or no heat and mass of a loop that is not there."""
    value = float(getattr(record, name))
    return math.isnan(value) or (value == 0.0 and name in _NOT_WHERE_ZERO)


def _changes(before: Simulation, after: Simulation, system: System) -> list[str]:
    """Before and after side by side, with the charge first."""
    rows = [
        ("Charge", _cell(before.charge_kg, D.MASS, system), _cell(after.charge_kg, D.MASS, system))
    ]
    pairs: list[tuple[Any, Any, str]] = [(before.running, after.running, n) for n in _CHANGING]
    pairs += [(before.door_frame, after.door_frame, name) for name in _FRAME_CHANGING]
    for old, new, name in pairs:
        if old is not None and new is not None and not math.isnan(getattr(old, name)):
            cells = _field_cell(old, name, system), _field_cell(new, name, system)
            rows.append((_label(name), *cells))
    return table((label, f"{a[0]} to {b[0]} {b[1]}".rstrip()) for label, a, b in rows)


def _title(case: Case, system: System) -> list[str]:
    lines = wrapped(case.job.title or case.job.source)
    for name, severity in case.faults:
        how = "" if math.isnan(severity) else words.simulated_severity(name, severity, system)
        lines += wrapped(f"Fault: {words.fault(name)}" + (f": {how}" if how else ""))
    if case.without is not None:
        lines += wrapped(f"Without its {words.plain(case.without)}")
    if case.charge_kg is not None:
        lines += wrapped(f"Charge: {show(case.charge_kg, D.MASS, system)}")
    return lines


def _rows(record: Any, names: Iterable[str], system: System) -> list[str]:
    return table(
        (_label(name), " ".join(_field_cell(record, name, system)).rstrip()) for name in names
    )


def _dimension(name: str) -> tuple[str, D]:
    """The name without its unit, and what it is."""
    for suffix, dimension in _SUFFIXES:
        if name.endswith(suffix):
            stem = name.removesuffix(suffix)
            return stem, D.TEMPERATURE_DIFFERENCE if name in _DIFFERENCES else dimension
    return name, D.NUMBER


def _label(name: str) -> str:
    if name in _LABELS:
        return _LABELS[name]
    words_of = _dimension(name)[0].replace("_", " ")
    if words_of.startswith("charge "):
        words_of = words_of.replace("charge ", "charge in ", 1)
    return capital(words_of)


def _field_cell(record: Any, name: str, system: System) -> tuple[str, str]:
    value = getattr(record, name)
    if isinstance(value, bool):
        return ("yes" if value else "no"), ""
    return _cell(float(value), _dimension(name)[1], system)


def _cell(value: float, dimension: D, system: System) -> tuple[str, str]:
    """Number and unit apart."""
    number, _, unit = show(value, dimension, system).partition(" ")
    return number, unit


def _unit(name: str, system: System) -> str:
    return _cell(273.15, _dimension(name)[1], system)[1]


def _flags(result: Simulation) -> list[str]:
    from coldwright.cycle.state import PUMPED_DOWN, TRIPPED

    running = result.running
    flags = []
    if running.status_code == PUMPED_DOWN:
        flags.append("No flow: the compressor has pumped the low side down.")
    if running.status_code == TRIPPED:
        flags.append("The overload opens: the condensing pressure is past the tables.")
    if running.outside_range_code:
        flags.append("A state left the property tables: take the numbers as rough.")
    if any(one.model.startswith("compressor") for one in result.outside):
        flags.append("Beyond the range of its ten coefficients: take the numbers as rough.")
    if result.thawed is not None:
        flags.append(
            "Ice comes and goes: thawed, it runs on until the capillary's outlet freezes again."
        )
    frame = result.door_frame
    if frame is not None and frame.margin_over_cycle_k < 0.0:
        flags.append("The door frame sweats.")
    if running.mass_flow_kg_s > 0.0 and running.evaporator_outlet_quality < 1.0:
        flags.append("Liquid leaves the evaporator.")
    return flags


def outside_words(result: Simulation, system: System) -> list[str]:
    """Each quantity beyond a correlation's stated range, with the range.

    Parameters
    ----------
    result : Simulation
        What came of it.
    system : System
        Units to show.

    Returns
    -------
    list of str
        One line for each.
    """
    told = []
    for one in result.outside:
        if not one.unit:
            told.append(f"{capital(one.model)}: {one.quantity}.")
            continue
        here, low, high = (_si(v, one.unit, system) for v in (one.value, one.low, one.high))
        told.append(f"{capital(one.model)}: {one.quantity} {here}; made for {low} to {high}.")
    return told


def _si(value: float, unit: str, system: System) -> str:
    """A number of one SI unit, in the user's units where there are any."""
    # Differences of temperature are told as spans by their size: none lies near absolute zero
    if unit == "K" and value < DIFFERENCES_BELOW_K:
        return show(value, D.TEMPERATURE_DIFFERENCE, system)
    dimension = {"K": D.TEMPERATURE, "Pa": D.PRESSURE, "m": D.LENGTH}.get(unit)
    if dimension is None:
        return f"{value:.3g}" + ("" if unit == "-" else f" {unit}")
    return show(value, dimension, system)


def _fitted(result: Simulation) -> list[str]:
    if result.fit is None:
        return []
    flow, power = (
        100.0 * part for part in (result.fit.worst_flow_fraction, result.fit.worst_power_fraction)
    )
    return [
        f"The ten coefficients fit the physical compressor within {flow:.2g} % of flow and "
        f"{power:.2g} % of power over their field."
    ]


def _evidence(result: Simulation) -> str:
    running = result.running
    return f"Solved to {running.residual:.0e} in {running.iterations:.0f} iterations."

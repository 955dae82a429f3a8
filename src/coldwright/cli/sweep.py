"""One value of a simulation varied over a span."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from coldwright.circuit.files import geometry_keys, parse_geometry_value
from coldwright.cli.options import COMMAND_LINE, pair, quantity, span
from coldwright.errors import BadInput, nearest
from coldwright.readings.job import Job
from coldwright.units import Dimension as D

if TYPE_CHECKING:
    from coldwright.cycle.model_choice import ModelChoice
    from coldwright.cycle.simulation import Simulation

EXAMPLE = "capillary.bore=0.6..0.8mm"
CHARGE, ROOM = "charge", "room.temperature"


@dataclass(frozen=True, slots=True)
class Case:
    """What one simulation is asked; severities and charge in SI."""

    job: Job
    faults: tuple[tuple[str, float], ...]
    charge_kg: float | None
    without: str | None = None
    choice: ModelChoice | None = None


@dataclass(frozen=True, slots=True)
class Sweep:
    """Key, its dimension, and the values it takes in SI."""

    key: str
    dimension: D
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Point:
    """One value with what came of it; `result` is None and `not_solved` says why where nothing."""

    value: float
    result: Simulation | None
    not_solved: str


def cases_of(case: Case, text: str, points: int) -> tuple[Sweep, tuple[Case, ...]]:
    """The sweep that `--vary` asks for, and one case for each of its values.

    Parameters
    ----------
    case : Case
        What stays the same.
    text : str
        KEY=A..B with a unit; KEY a key of the circuit, ``charge`` or ``room.temperature``.
    points : int
        How many values, both ends counted. [-]

    Returns
    -------
    tuple
        The sweep, values in SI, and its cases.

    Raises
    ------
    BadInput
        If it is no sweep.
    """
    key, written = pair("--vary", text, EXAMPLE)
    ends = span("--vary", written, EXAMPLE)
    dimension = _dimension(key)
    if key == CHARGE and case.charge_kg is not None:
        raise BadInput(COMMAND_LINE, "--vary charge, --charge", "both", "one of the two")
    first, last = (_value(key, dimension, end) for end in ends)
    if first == last:
        raise BadInput(COMMAND_LINE, "--vary", f"'{text}'", "two ends that differ")
    steps = points - 1
    values = (*(first + (last - first) * n / steps for n in range(steps)), last)
    return Sweep(key, dimension, values), tuple(_changed(case, key, value) for value in values)


def _dimension(key: str) -> D:
    if key == CHARGE:
        return D.MASS
    if key == ROOM:
        return D.TEMPERATURE
    known = {name: kind for name, kind in geometry_keys().items() if kind is not D.KIND}
    if key not in known:
        accepted = f"{CHARGE}, {ROOM} or a number of the circuit such as capillary.bore"
        every = (CHARGE, ROOM, *known)
        raise BadInput(COMMAND_LINE, "--vary", f"'{key}'", accepted, nearest(key, every))
    return known[key]


def _value(key: str, dimension: D, text: str) -> float:
    if key in (CHARGE, ROOM):
        return quantity("--vary", text, dimension)
    return parse_geometry_value(key, text, file=COMMAND_LINE)


def _changed(case: Case, key: str, value: float) -> Case:
    if key == CHARGE:
        return replace(case, charge_kg=value)
    if key == ROOM:
        return replace(
            case, job=replace(case.job, room=replace(case.job.room, temperature_k=value))
        )
    kept = tuple((dict(case.job.circuit.geometry) | {key: value}).items())
    return replace(case, job=replace(case.job, circuit=replace(case.job.circuit, geometry=kept)))

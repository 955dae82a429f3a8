"""What a simulation of one circuit returns."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.cycle.compressor.fit import PolynomialFit
from coldwright.cycle.high_side.door_frame import DoorFrame
from coldwright.cycle.model_choice import (
    AS_FILED,
    ModelChoice,
)
from coldwright.cycle.ranges import Outside
from coldwright.cycle.standstill.standing import StandingState
from coldwright.cycle.state import RunningState


@dataclass(frozen=True, slots=True)
class Simulation:
    """Running and standing state, and the names of the models behind them."""

    running: RunningState
    standing: StandingState
    models: tuple[str, ...]
    charge_kg: float  # before any fault
    layout: str
    high_side: tuple[str, ...]  # its stretches in the order of flow
    door_frame: DoorFrame | None  # None where the circuit describes none
    thawed: RunningState | None  # between two blockages, where ice comes and goes
    before: Simulation | None  # with the loop, where one was taken out
    outside: tuple[Outside, ...] = ()  # of correlations, by name
    chosen: ModelChoice = AS_FILED
    fit: PolynomialFit | None = None  # where ten coefficients were fitted for this

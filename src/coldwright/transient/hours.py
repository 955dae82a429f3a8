"""What a run over hours returns."""

from __future__ import annotations

from dataclasses import dataclass, field

from coldwright.transient.records import (
    Plan,
    PullDown,
)


@dataclass(frozen=True, slots=True)
class Hours:
    """A run over time with what it was made from."""

    result: PullDown
    plan: Plan
    room_k: float
    fresh_food_set_k: float  # NaN where there is no such compartment
    freezer_set_k: float
    notes: tuple[str, ...] = field(default=())

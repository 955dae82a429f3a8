"""What the electrical readings of one compressor come to."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.diagnosis.result import NextCheck, WhichOdds
from coldwright.electrical.pins import Pins


@dataclass(frozen=True, slots=True)
class Finding:
    """What one part's reading says, and how sure that is."""

    part: str
    name: str
    outcome: str
    probability: float
    sentence: str


@dataclass(frozen=True, slots=True)
class WindingsAnswer:
    """All that the electrical readings say."""

    namings: tuple[Pins, ...]  # the likeliest first; empty where the pins were named
    run_at_20c_ohm: float
    start_at_20c_ohm: float
    mean_winding_temperature_k: float  # by the resistance method; NaN without a cold reading
    most_starting_a: float  # bound by resistance alone; NaN where not known
    running_to_plate_fraction: float
    findings: tuple[Finding, ...]
    which: tuple[WhichOdds, ...]  # given that the compressor does not run
    notes: tuple[str, ...]
    next_checks: tuple[NextCheck, ...]
    cautions: tuple[str, ...]

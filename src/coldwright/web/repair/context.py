"""What the templates of mending are given: frozen, typed, everything already in words."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.words.report import Fact


@dataclass(frozen=True, slots=True)
class Choice:
    """One alternative beside the others. Bar ends and mark are percent of the widest."""

    name: str
    says: str
    money: str
    spread: str
    now: str
    works: str
    again: str
    cheapest: str
    work: str
    co2e: str
    bar_from: str
    bar_width: str
    bar_mark: str
    best: bool
    bench_url: str


@dataclass(frozen=True, slots=True)
class After:
    """One circuit as it would be afterwards."""

    name: str
    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class RepairPart:
    """repair/_repair.html"""

    job_url: str
    answer: str
    causes: tuple[str, ...]
    years: str
    choices: tuple[Choice, ...]
    others: tuple[str, ...]
    flips: tuple[str, ...]
    after: tuple[After, ...]
    frame_from: str
    frame: tuple[str, ...]
    refrigerants: tuple[str, ...]
    missing: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RepairPage:
    """repair/repair.html"""

    title: str
    summary: str
    part: RepairPart


@dataclass(frozen=True, slots=True)
class OwnerPage:
    """repair/owner.html"""

    title: str
    shop: str
    job_url: str
    found: str
    answer: str
    why: tuple[str, ...]
    years: str
    choices: tuple[Choice, ...]
    flips: tuple[str, ...]
    frame: str
    assumed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step with its cautions."""

    number: int
    title: str
    time: str
    done: bool
    cautions: tuple[str, ...]
    do: tuple[str, ...]
    tools: str
    hold: str
    source: str


@dataclass(frozen=True, slots=True)
class OfferRow:
    """One way to make a joint."""

    method: str
    only_when: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class JointRow:
    """One joint."""

    number: int
    title: str
    offers: tuple[OfferRow, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BenchPage:
    """repair/bench.html"""

    title: str
    alternative: str
    why: str
    job_url: str
    appliance: tuple[Fact, ...]
    charge: str
    time: str
    steps: tuple[StepRow, ...]
    joints: tuple[JointRow, ...]
    never: tuple[str, ...]
    ways: tuple[OfferRow, ...]  # how each way is done, once for all joints
    parts: tuple[Fact, ...]
    frame: tuple[str, ...]
    notes: tuple[str, ...]
    fine: str

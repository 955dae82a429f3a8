"""What a diagnosis returns. Frozen; every client (command line, page) reads only this."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from coldwright.faults.record import Joined, Together
from coldwright.readings.course import Course


@dataclass(frozen=True, slots=True)
class SeverityInterval:
    """Central 80 % interval of a fault's severity. `unit` is 'fraction', 'W' or 'mol'."""

    low: float
    median: float
    high: float
    unit: str


@dataclass(frozen=True, slots=True)
class WhichOdds:
    """Odds of one kind within a fault (for example which part stops the compressor)."""

    which: str
    probability: float


@dataclass(frozen=True, slots=True)
class FaultOdds:
    """One fault's probability [-], or that of two at once; all of a diagnosis sum to one."""

    JOINED: ClassVar[Joined] = {"faults": "fault"}

    faults: Together
    probability: float
    severity: SeverityInterval | None  # of the first of a pair
    which: tuple[WhichOdds, ...]
    second: SeverityInterval | None = None  # of the second of a pair


@dataclass(frozen=True, slots=True)
class Expectation:
    """What one leading fault would give for a reading, in the reading's SI unit."""

    JOINED: ClassVar[Joined] = {"faults": "fault"}

    faults: Together
    low: float  # 10 % quantile
    median: float
    high: float  # 90 % quantile


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a reading moves the odds. `value` is SI; `weight_bits` > 0 favours the first fault."""

    JOINED: ClassVar[Joined] = {"favours": "favours"}

    reading: str
    value: float
    entered: str
    expectations: tuple[Expectation, ...]
    favours: Together
    weight_bits: float
    sentence: str


@dataclass(frozen=True, slots=True)
class Speaks:
    """One reading or sign that speaks for or against a fault. `bits` > 0 speaks for it.

    `mine` and `rival` say what this fault and its strongest rival here would show, the
    instrument's error counted; for a sign all three points are its chance. None where the
    reading is of an electrical part.
    """

    reading: str
    value: float
    entered: str
    bits: float
    mine: Expectation | None
    rival: Expectation | None
    sentence: str


@dataclass(frozen=True, slots=True)
class Argument:
    """A fault in question with what speaks most for it and most against it."""

    JOINED: ClassVar[Joined] = {"faults": "fault"}

    faults: Together
    probability: float
    for_it: tuple[Speaks, ...]
    against_it: tuple[Speaks, ...]


@dataclass(frozen=True, slots=True)
class MindChange:
    """A check not yet made that would overturn the leading fault, and what it would show.

    Overturned between `low` and `high` (SI; None is open), or by the sign's answer `seen`.
    """

    JOINED: ClassVar[Joined] = {"faults": "fault", "rival": "rival"}

    faults: Together  # a restriction of drier or capillary counts as one
    check: str
    minutes: float
    low: float | None
    high: float | None
    seen: bool | None
    chance: float  # that it shows that, under the present odds
    odds_now: float
    odds_limit: float  # most that is left of it there
    odds_mean: float
    rival: Together  # who would lead
    sentence: str


@dataclass(frozen=True, slots=True)
class CheckValue:
    """What a check is worth in the shop's money, before and after what it costs."""

    gross: float  # expected value of sample information
    minutes_cost: float
    risk: float  # of opening a circuit that may be sound
    net: float
    turns: float  # chance that another alternative is best afterwards
    turns_to: str  # the likeliest of those, in words; empty where none


@dataclass(frozen=True, slots=True)
class Decision:
    """The choice as it stands, by the shop's prices and the present odds."""

    alternative: str  # identifier of the cheapest
    title: str
    expected: float  # over the years compared, energy by the published rules
    second_title: str
    second: float
    currency: str
    opening_risk: float  # price of opening a circuit that turns out sound
    sound_probability: float  # that it would
    any_check_pays: bool


@dataclass(frozen=True, slots=True)
class NextCheck:
    """A check worth doing next. `check` is a reading or sign identifier."""

    check: str
    information_bits: float
    minutes: float
    opens_circuit: bool
    how: str
    cautions: tuple[str, ...]
    value: CheckValue | None = None  # None where prices are missing, or of an electrical part


@dataclass(frozen=True, slots=True)
class PlannedCheck:
    """One step of the plan: what it adds to the steps before it."""

    check: str
    added_bits: float
    minutes: float


@dataclass(frozen=True, slots=True)
class LookFirst:
    """Something to look at before any instrument. `seen` and `unseen` say what each would show;
    `unseen` is empty where no sign records it."""

    look: str  # a sign's identifier where `is_sign`
    name: str
    minutes: float
    how: str
    seen: str
    unseen: str
    information_bits: float
    is_sign: bool
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Fit:
    """How well the best fault explains all readings together.

    `surprise` is the probability of readings at least this unlikely if the
    model and the best mixture of faults were right. [-] `suspect` names the
    reading to check first when `explained` is False.
    """

    surprise: float
    explained: bool
    suspect: str | None
    message: str


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """Odds, reasons and next checks for one job."""

    job: str  # path or name as given
    title: str
    faults: tuple[FaultOdds, ...]  # sorted, most probable first
    restriction_probability: float  # drier_restricted + capillary_restricted
    sealed_circuit_probability: float
    open_circuit_advised: bool
    reasons: tuple[Reason, ...]
    next_checks: tuple[NextCheck, ...]
    plan: tuple[PlannedCheck, ...]
    cautions: tuple[str, ...]
    notes: tuple[str, ...]  # readings taken as gauge, readings not used, widened odds...
    fit: Fit | None
    refused: str | None  # why no sealed-circuit odds are given; faults is then empty
    members: int
    effective_members: float
    unsolved: int
    seed: int
    model: str
    parameter_set: str
    look_first: tuple[LookFirst, ...] = ()  # what no instrument is needed for
    log: Course | None = None  # what the job's log shows and gave
    arguments: tuple[Argument, ...] = ()  # leading faults, most probable first
    mind_changes: tuple[MindChange, ...] = ()  # most likely first
    log_evidence: float | None = None  # ln of the density of all readings and signs [-]
    decision: Decision | None = None  # None where an essential price is missing

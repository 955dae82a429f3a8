"""Findings as evidence: a factor per hypothesis and way, never tempered, and the odds of parts.

P(answers | fault) is the sum over the fault's parts (`catalogue.sides`) of share times the
product over the answers; of two faults at once, each with its own part, a finding is there
if either brings it. A compressor that does not run keeps its states with the electrical
readings, see `electrical.evidence`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from itertools import product

from coldwright.catalogue.earlier_work import MENDS, finding_of
from coldwright.catalogue.finding import Finding
from coldwright.catalogue.findings import COVERS, FINDINGS
from coldwright.catalogue.sides import PARTS, Part, parts_of
from coldwright.diagnosis.circumstances import circumstances
from coldwright.electrical.evidence import NOT_RUNNING
from coldwright.faults.record import Together
from coldwright.readings.job import Done, Job
from coldwright.readings.keys import SIGNS

# Of appliances of a kind whose evaporator was not seen, those with a fan through it; ours
_FAN_USUAL = {"chest_freezer": 0.02, "single_door": 0.15, "compact": 0.08, "upright_freezer": 0.6}
_FAN_OTHERS = 0.8
LEAST = 1e-12


@dataclass(frozen=True, slots=True)
class Answer:
    """One finding, seen or looked for and not seen; `told` names it in plain words."""

    key: str
    seen: bool
    told: str
    confirmed: bool = False
    finding: Finding | None = None  # of earlier work, where no sign records it

    @property
    def model(self) -> Finding:
        """Its numbers."""
        return self.finding if self.finding is not None else FINDINGS[self.key]

    def likelihood(self, parts: tuple[Part, ...]) -> float:
        """Probability of this answer where these parts are at fault. [-]"""
        there = max(self.model.present(part) for part in parts)
        p = self.model.reported(there, self.confirmed)
        return p if self.seen else 1.0 - p


@dataclass(frozen=True, slots=True)
class FindingEvidence:
    """All findings of a job; `fan` is the chance that a fan blows through the evaporator."""

    answers: tuple[Answer, ...] = ()
    fan: float = _FAN_OTHERS

    @property
    def keys(self) -> tuple[str, ...]:
        """Identifiers of what was answered."""
        return tuple(a.key for a in self.answers)

    def answer(self, key: str) -> Answer | None:
        """The answer of that key, None where there is none."""
        return next((a for a in self.answers if a.key == key), None)

    def without(self, key: str) -> FindingEvidence:
        """The same with one answer left out."""
        if key not in self.keys:
            return self
        return replace(self, answers=tuple(a for a in self.answers if a.key != key))

    def log_factor(self, faults: Together, way: str = "") -> float:
        """ln P(answers | hypothesis), 0 for a compressor that does not run. [-]

        Parameters
        ----------
        faults : tuple of str
            One fault, or two at once.
        way : str
            Way of a fault that has several, such as 'control:damper_shut'.
        """
        if not self.answers or NOT_RUNNING in faults:
            return 0.0
        return math.log(max(_total(self, faults, way), LEAST))

    def state_logs(self) -> tuple[tuple[str, float], ...]:
        """ln P(answers | state) of every state of a compressor that does not run. [-]"""
        if not self.answers:
            return ()
        return tuple(
            (p.identifier, math.log(max(_of_parts(self, (p,)), LEAST)))
            for p in parts_of(NOT_RUNNING)
        )

    def parts(self, fault: str, way: str = "") -> dict[str, float]:
        """Probability of each part, given the fault and all answers; empty where it has none. [-]

        Parameters
        ----------
        fault : str
            A single fault.
        way : str
            One of its ways, where it has parts by way.
        """
        found = shares(fault, self.fan, way)
        if len(found) < 2:
            return {}
        weights = {part: share * _of_parts(self, (PARTS[part],)) for part, share in found}
        whole = sum(weights.values()) or 1.0
        return {part: w / whole for part, w in weights.items()}

    def chance(self, key: str, faults: Together, way: str = "") -> float:
        """Probability that a finding not yet looked for is seen, given all answers. [-]

        Parameters
        ----------
        key : str
            A key of `FINDINGS`.
        faults, way
            As in `log_factor`.
        """
        asked = replace(self, answers=(*self.without(key).answers, Answer(key, True, key)))
        return _total(asked, faults, way) / max(_total(self.without(key), faults, way), LEAST)


NO_FINDINGS = FindingEvidence()


@cache
def shares(fault: str, fan: float, way: str = "") -> tuple[tuple[str, float], ...]:
    """Parts of a single fault with their shares, as the evaporator allows; they sum to one.

    Parameters
    ----------
    fault : str
        A single fault.
    fan : float
        Chance that a fan blows through the evaporator. [-]
    way : str
        One of its ways; empty for all.

    Returns
    -------
    tuple of (str, float)
        Parts with their shares; they sum to one. [-]
    """
    found = parts_of(fault, way)
    weights = [p.share * (fan if p.fan_only else 1.0) for p in found]
    whole = sum(weights)
    return tuple((p.identifier, w / whole) for p, w in zip(found, weights, strict=True) if w > 0.0)


@cache
def _total(evidence: FindingEvidence, faults: Together, way: str) -> float:
    sides = [shares(fault, evidence.fan, way) for fault in faults]
    total = 0.0
    for combination in product(*sides):
        share = math.prod(s for _, s in combination)
        total += share * _of_parts(evidence, tuple(PARTS[p] for p, _ in combination))
    return total


def _of_parts(evidence: FindingEvidence, parts: tuple[Part, ...]) -> float:
    return math.prod(a.likelihood(parts) for a in evidence.answers)


def findings_of(job: Job, room_k: float = math.nan) -> FindingEvidence:
    """Findings of a job: signs that are findings, the history, earlier work, use and place.

    Parameters
    ----------
    job : Job
        As entered. A finding whose question back was answered with no is left out.
    room_k : float
        Room, where it is known. [K]

    Returns
    -------
    FindingEvidence
        Answers in the order of the job.
    """
    answers = [
        Answer(s.key, s.seen, SIGNS[s.key].label, bool(s.confirmed))
        for s in job.signs
        if s.key in FINDINGS and s.confirmed is not False and not _no_fan(job, s.key)
    ]
    answers += [
        Answer(key, seen, told, True)
        for key, seen, told in circumstances(job, room_k)
        if key not in {a.key for a in answers}
    ]
    answers += [_of_work(n, done) for n, done in enumerate(job.history.done) if _told(done)]
    covered = {name for a in answers for name in COVERS.get((a.key, a.seen), ())}
    kept = [
        a for a in answers
        if (a.model.no_counts or a.seen) and not (a.key in covered and _repeats(a))
    ]  # fmt: skip
    return FindingEvidence(tuple(kept), fan_chance(job))


def _repeats(answer: Answer) -> bool:
    """Whether a covered answer says nothing new: runs and silent cannot both be seen."""
    return not answer.seen or answer.key in ("no_air_at_vents", "weak_air_at_vents", "lamp_dead",
                                             "evaporator_fan_stopped",
                                             "cools_again_after_warming")  # fmt: skip


def _no_fan(job: Job, key: str) -> bool:
    """A fan that is not there cannot be seen to stop."""
    coil = FINDINGS[key].fan
    if not coil:
        return False
    seen = getattr(job.circuit, coil)
    if seen is None and coil == "evaporator" and job.plate.kind == "chest_freezer":
        return True
    return seen not in (None, "fan")


def fan_chance(job: Job) -> float:
    """Chance that a fan blows through the evaporator: as seen, else as usual for the kind. [-]

    Returns
    -------
    float
        Probability that the evaporator has a fan. [-]
    """
    if job.circuit.evaporator is not None:
        return 1.0 if job.circuit.evaporator == "fan" else 0.0
    return _FAN_USUAL.get(job.plate.kind, _FAN_OTHERS)


def _told(done: Done) -> bool:
    return done.work in MENDS and done.helped is not None


def _of_work(number: int, done: Done) -> Answer:
    held = done.helped is True and done.held_weeks is None
    words = done.work.replace("_", " ")
    end = "helped" if held else "helped for a time" if done.helped else "no change"
    finding = finding_of(done.work, held or not done.helped)
    return Answer(f"done_{number + 1}", bool(done.helped), f"{words}: {end}", True, finding)

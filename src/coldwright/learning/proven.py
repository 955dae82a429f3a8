"""Proven jobs: those whose outcome may count, and why the others may not."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from coldwright.catalogue.pairs import prior_with_pairs
from coldwright.diagnosis.subject import subject_of
from coldwright.errors import Refused
from coldwright.faults.record import Together
from coldwright.readings.job import Job
from coldwright.readings.outcome import INSIDE

if TYPE_CHECKING:
    from coldwright.learning.intentions import Told


@dataclass(frozen=True, slots=True)
class ProvenJob:
    """One job that counts."""

    source: str
    title: str
    refrigerant: str
    kind: str
    found: tuple[str, ...]
    factors: tuple[float, ...]  # complaint and history, in the order of `base_of`
    content: str  # digest of the job without its outcome and its file's name
    body: str  # the same without its title too


@dataclass(frozen=True, slots=True)
class Uncounted:
    """A job that does not count, and why."""

    source: str
    reason: str


@dataclass(frozen=True, slots=True)
class Proven:
    """Everything a shop has proven. `without_outcome` counts the jobs that say nothing yet."""

    jobs: tuple[ProvenJob, ...] = ()
    uncounted: tuple[Uncounted, ...] = ()
    without_outcome: tuple[tuple[str, int], ...] = ()  # by refrigerant
    told: tuple[Told, ...] = ()  # what jobs say of their families, as far as worked out

    @property
    def mark(self) -> str:
        """Names what is known; equal jobs, in any order, have equal marks."""
        text = "|".join(sorted(f"{j.content}{j.found}" for j in self.jobs))
        text += "|".join(sorted(repr(t) for t in self.told))
        return hashlib.sha256(text.encode()).hexdigest()[:16]

    def without(self, job: Job) -> Proven:
        """The same without a job itself: its outcome is no evidence for its own odds."""
        body = content_of(replace(job, title=""))
        stem = Path(job.source).stem

        def itself(other: ProvenJob) -> bool:
            named = Path(other.source).stem == stem or (job.title and job.title == other.title)
            return other.body == body and bool(named)

        jobs = tuple(j for j in self.jobs if not itself(j))
        kept = {j.content for j in jobs}
        return replace(self, jobs=jobs, told=tuple(t for t in self.told if t.content in kept))

    def unknown(self, refrigerant: str) -> int:
        """Jobs of a refrigerant that have no outcome yet. [-]"""
        return dict(self.without_outcome).get(refrigerant, 0)


NOTHING_PROVEN = Proven()


@cache
def base_of(refrigerant: str) -> Mapping[Together, float]:
    """Shares of faults and pairs by the catalogue: no complaint, nothing told.

    Parameters
    ----------
    refrigerant : str
        A pair may be commoner with one than with another.

    Returns
    -------
    mapping
        Share of each hypothesis, they sum to one; read only. [-]
    """
    return MappingProxyType(prior_with_pairs(refrigerant=refrigerant))


def content_of(job: Job) -> str:
    """Digest of what a job says by hand, wherever its file lies, without outcome and log.

    Parameters
    ----------
    job : Job
        The job, read and checked.

    Returns
    -------
    str
        16 hexadecimal digits.
    """
    said = (
        job.title, job.plate, job.circuit, job.room, job.history,
        tuple(r for r in job.readings if r.log is None), job.tried, job.leak, job.mending,
    )  # fmt: skip
    return hashlib.sha256(repr(said).encode()).hexdigest()[:16]


def proven_of(jobs: Iterable[Job], unread: Iterable[Uncounted] = ()) -> Proven:
    """Sort jobs into those that count and those that do not.

    Counted once: jobs that say the same but for the name of their file.

    Parameters
    ----------
    jobs : iterable of Job
        In any order.
    unread : iterable of Uncounted
        Files that are no jobs.

    Returns
    -------
    Proven
        What counts, and what does not with the reason.
    """
    counted: dict[str, ProvenJob] = {}
    uncounted = list(unread)
    silent: dict[str, int] = {}
    clashing: set[str] = set()
    for job in sorted(jobs, key=lambda j: j.source):
        if job.outcome is None:
            name = job.plate.refrigerant
            silent[name] = silent.get(name, 0) + 1
            continue
        reason = _why_not(job)
        made = None if reason else _proven(job)
        if isinstance(made, ProvenJob):
            twin = counted.get(made.content)
            if twin is None:
                counted[made.content] = made
                continue
            if set(twin.found) != set(made.found):
                clashing.add(made.content)
                reason = f"says the same as {twin.source} but another outcome: neither counts"
            else:
                reason = (
                    f"says the same as {twin.source}: counted once; two jobs alike need a title"
                )
        uncounted.append(Uncounted(job.source, reason or str(made)))
    for content in clashing:
        twin = counted.pop(content)
        uncounted.append(Uncounted(twin.source, "another file says the same but another outcome"))
    return Proven(
        tuple(counted.values()),
        tuple(sorted(uncounted, key=lambda u: u.source)),
        tuple(sorted(silent.items())),
    )


def _why_not(job: Job) -> str:
    outcome = job.outcome
    if outcome is None:
        return "no outcome"
    if job.plate.refrigerant == "unknown":
        return "refrigerant unknown: shares are kept for each refrigerant alone"
    inside = [fault for fault in outcome.found if fault in INSIDE]
    if outcome.proven_by == "seen" and inside:
        return (
            f"{inside[0].replace('_', ' ')} is not proven by seeing: only by opening or by a"
            " repair that held"
        )
    base = base_of(job.plate.refrigerant)
    missing = [fault for fault in outcome.found if (fault,) not in base]
    return f"the odds hold no {missing[0].replace('_', ' ')} yet" if missing else ""


def _proven(job: Job) -> ProvenJob | str:
    try:
        prior = dict(subject_of(job).prior)
    except Refused as refused:
        return f"not modelled: {refused.reason}"
    found = job.outcome.found if job.outcome is not None else ()
    factors = tuple(prior[fault] / share for fault, share in base_of(job.plate.refrigerant).items())
    return ProvenJob(
        job.source, job.title, job.plate.refrigerant, job.plate.kind, found, factors,
        content_of(job), content_of(replace(job, title="")),
    )  # fmt: skip

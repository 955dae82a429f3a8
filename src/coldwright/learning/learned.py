"""Shares for one refrigerant and kind: refrigerants never mixed, kinds partly pooled.

Two levels. The shares of a refrigerant: Dirichlet about the catalogue's, worth A jobs, updated
by the jobs of its other kinds. The shares of one kind: Dirichlet about those, worth B jobs. By
the variances of the two (law of total variance), a kind's prior is worth
A' B / (A' + B + 1) jobs, A' = A + jobs of the other kinds; then its own jobs update it. However
many jobs other kinds bring, they are worth B of its own at most.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from coldwright.faults.record import Joined, Together
from coldwright.learning.proven import Proven, ProvenJob, base_of
from coldwright.learning.shares import updated

CATALOGUE_WORTH = 60.0  # jobs the catalogue's shares are worth for a refrigerant, ours
KINDS_WORTH = 120.0  # jobs of one kind that a refrigerant's shares are worth at most, ours


@dataclass(frozen=True, slots=True)
class LearnedShare:
    """One fault: its share before any complaint, by the catalogue and after the jobs."""

    JOINED: ClassVar[Joined] = {"faults": "fault"}

    faults: Together
    before: float
    after: float
    low: float  # 5 %
    high: float  # 95 %
    found_in_kind: float  # jobs; a pair counts half for each of its faults
    found_in_refrigerant: float
    rests_on: float  # jobs, the catalogue's own worth included


@dataclass(frozen=True, slots=True)
class Learned:
    """What the jobs of one refrigerant say of one kind of appliance."""

    refrigerant: str
    kind: str
    jobs_of_kind: int
    jobs_of_refrigerant: int
    jobs_elsewhere: int  # of other refrigerants: they count nothing here
    without_outcome: int  # jobs of this refrigerant that are not proven
    starting_worth: float  # jobs the starting point is worth
    shares: tuple[LearnedShare, ...]

    def applied(
        self, prior: Sequence[tuple[Together, float]]
    ) -> tuple[tuple[Together, float], ...]:
        """A job's prior odds with the learned shares in place of the catalogue's.

        Complaint and history act on the new shares as on the old ones.

        Parameters
        ----------
        prior : sequence of (tuple, float)
            Hypothesis and probability, complaint and history in. [-]
        """
        moved = {s.faults: s.after / s.before for s in self.shares}
        odds = {fault: p * moved[fault] for fault, p in prior}
        whole = sum(odds.values())
        return tuple((fault, p / whole) for fault, p in odds.items())

    @property
    def sentence(self) -> str:
        """What the prior odds rest on."""
        told = self.refrigerant
        if self.jobs_of_refrigerant == 0:
            said = f"Prior odds rest on the catalogue: no proven job of {told} yet"
        else:
            jobs = "job" if self.jobs_of_refrigerant == 1 else "jobs"
            said = (
                f"Prior odds rest on {self.jobs_of_refrigerant} proven {jobs} of {told}"
                f" ({self.jobs_of_kind} of this kind) beside the catalogue, whose shares count"
                f" as {self.starting_worth_alone:.0f} jobs"
            )
        if self.jobs_elsewhere:
            said += f"; {self.jobs_elsewhere} of other refrigerants do not count"
        return said + "."

    @property
    def starting_worth_alone(self) -> float:
        """Jobs the catalogue is worth for one kind where nothing is proven. [-]"""
        return kind_worth(CATALOGUE_WORTH)


def kind_worth(refrigerant_worth: float) -> float:
    """Jobs that a refrigerant's shares are worth as the prior of one kind.

    Parameters
    ----------
    refrigerant_worth : float
        Jobs behind the refrigerant's shares. [-]

    Returns
    -------
    float
        Number of jobs. [-]

    Examples
    --------
    >>> 0.0 < kind_worth(10.0) < 10.0
    True
    """
    return refrigerant_worth * KINDS_WORTH / (refrigerant_worth + KINDS_WORTH + 1.0)


def learned(proven: Proven, refrigerant: str, kind: str) -> Learned:
    """Shares of the faults for a refrigerant and a kind.

    Parameters
    ----------
    proven : Proven
        The shop's jobs.
    refrigerant : str
        Known by name.
    kind : str
        Kind of appliance.

    Returns
    -------
    Learned
        Shares of the faults, they sum to one. [-]
    """
    mine = [j for j in proven.jobs if j.refrigerant == refrigerant]
    same = [j for j in mine if j.kind == kind]
    others = [j for j in mine if j.kind != kind]
    shares_of = base_of(refrigerant)
    base = np.array(list(shares_of.values()))
    wide = updated(base, CATALOGUE_WORTH, *_arrays(others, shares_of))
    worth = kind_worth(CATALOGUE_WORTH + len(others))
    narrow = updated(wide.mean, worth, *_arrays(same, shares_of))
    low, high = narrow.interval()
    shares = tuple(
        LearnedShare(
            fault, float(before / base.sum()), float(narrow.mean[i]), float(low[i]),
            float(high[i]), float(narrow.found[i]), float(narrow.found[i] + wide.found[i]),
            float(narrow.worth[i]),
        )
        for i, (fault, before) in enumerate(shares_of.items())
    )  # fmt: skip
    return Learned(
        refrigerant, kind, len(same), len(mine), len(proven.jobs) - len(mine),
        proven.unknown(refrigerant), worth, shares,
    )  # fmt: skip


def _arrays(
    jobs: Sequence[ProvenJob], base: Mapping[Together, float]
) -> tuple[np.ndarray, np.ndarray]:
    """Found faults and factors of jobs, shapes (n, faults and pairs)."""
    places = {name: i for i, name in enumerate(base)}
    found = np.zeros((len(jobs), len(base)))
    for row, job in zip(found, jobs, strict=True):
        known = next((found for found in (job.found, job.found[::-1]) if found in places), None)
        counted = [(fault,) for fault in job.found] if known is None else [known]
        for one in counted:
            row[places[one]] += 1.0 / len(counted)
    factors = np.array([j.factors for j in jobs]).reshape(len(jobs), len(base))
    return found, factors

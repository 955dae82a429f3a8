"""A shop's proven jobs put before a diagnosis."""

from __future__ import annotations

from dataclasses import dataclass, replace

from coldwright.case.background import SEED, THIS_YEAR, Background, Refinement
from coldwright.diagnosis.ensemble import MEMBERS
from coldwright.diagnosis.subject import Subject
from coldwright.learning.intentions import shift_of
from coldwright.learning.learned import learned
from coldwright.learning.proven import Proven
from coldwright.readings.job import Job
from coldwright.readings.shop import NO_SHOP, Shop

_UNKNOWN = (
    "Refrigerant unknown: proven jobs count for one refrigerant each, so the catalogue's shares"
    " stand."
)


@dataclass(frozen=True, slots=True)
class Experience:
    """What a shop has proven, as it moves the odds before any reading."""

    proven: Proven

    @property
    def mark(self) -> str:
        """Names the proven jobs."""
        return self.proven.mark

    def applied(self, subject: Subject, job: Job) -> Subject:
        """The subject with the shop's shares in its prior; the job's own outcome left out.

        Parameters
        ----------
        subject : Subject
            From the job, by the catalogue.
        job : Job
            The job.

        Returns
        -------
        Subject
            The same one where no other job counts.
        """
        others = self.proven.without(job)
        if not others.jobs:
            return subject
        if job.plate.refrigerant == "unknown":
            return replace(subject, notes=(*subject.notes, _UNKNOWN))
        known = learned(others, job.plate.refrigerant, job.plate.kind)
        moved = shift_of(others.told, job.plate.refrigerant, job.plate.kind)
        notes, appliance = (*subject.notes, known.sentence), subject.known
        if moved.jobs:
            notes = (*notes, moved.sentence)
            appliance = replace(appliance, family=moved.applied(appliance.family))
        return replace(subject, known=appliance, prior=known.applied(subject.prior), notes=notes)


def background_of(
    *,
    seed: int = SEED,
    members: int = MEMBERS,
    refine: bool = True,
    shop: Shop = NO_SHOP,
    this_year: int = THIS_YEAR,
    proven: Proven | None = None,
) -> Background:
    """The background of a diagnosis from what a client names.

    Parameters
    ----------
    seed : int
        Of the ensemble; the same seed gives the same answer. [-]
    members : int
        Simulated appliances. [-]
    refine : bool
        Draw members nearer where too few carry weight.
    shop : Shop
        Rates and prices.
    this_year : int
        For an age where only the year of manufacture is known. [a]
    proven : Proven, optional
        Jobs whose outcome is known; they move the odds before the readings.

    Returns
    -------
    Background
        For `Case`.

    Examples
    --------
    >>> background_of(members=500).experience is None
    True
    """
    experience = None if proven is None else Experience(proven)
    return Background(seed, members, refine, Refinement(), experience, shop, this_year)

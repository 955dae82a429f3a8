"""What a diagnosis stands on beside the job: the shop, what it has proven, what is assumed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from coldwright.catalogue.unmeasured import UNMEASURED, Unmeasured
from coldwright.diagnosis.ensemble import MEMBERS
from coldwright.diagnosis.posterior import ENOUGH, PARTICLES
from coldwright.diagnosis.subject import Subject
from coldwright.faults.record import Together
from coldwright.readings.job import Job
from coldwright.readings.shop import NO_SHOP, Shop

SEED = 20260101
THIS_YEAR = 2026  # where no clock is asked


class Prior(Protocol):
    """What moves the odds before any reading, such as the shop's proven jobs."""

    @property
    def mark(self) -> str:
        """Names all that it says."""
        ...

    def applied(self, subject: Subject, job: Job) -> Subject:
        """The subject as it stands after that; the job's own outcome is left out."""
        ...


@dataclass(frozen=True, slots=True)
class Refinement:
    """When members are drawn nearer the evidence, and how many."""

    particles: int = PARTICLES  # per fault in question and round
    enough: float = ENOUGH  # effective members of a fault at which no more are drawn
    again: int = 2 * PARTICLES  # in one more round, where the usual number has left too few


@dataclass(frozen=True, slots=True)
class Background:
    """The one place for what a diagnosis takes as given beside the job."""

    seed: int = SEED
    members: int = MEMBERS
    refine: bool = True  # draw members nearer where too few carry weight
    refinement: Refinement = Refinement()
    experience: Prior | None = None
    shop: Shop = NO_SHOP
    this_year: int = THIS_YEAR  # for an age where only the year of manufacture is known
    unmeasured: Unmeasured = UNMEASURED
    only: tuple[Together, ...] = ()  # hypotheses drawn; all where empty

    @property
    def mark(self) -> str:
        """Names all of it that a posterior depends on."""
        told = "" if self.experience is None else self.experience.mark
        return repr(
            (self.seed, self.members, self.refine, self.refinement, told, self.unmeasured,
             self.only)
        )  # fmt: skip


USUAL = Background()

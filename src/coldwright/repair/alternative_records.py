"""One thing that can be done about a job, or why it cannot."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from math import prod

from coldwright.faults.record import Together
from coldwright.repair.changes import Change
from coldwright.repair.joint_records import JointPlan
from coldwright.repair.step_records import Step


class Ending(Enum):
    """What becomes of the appliance."""

    KEPT = "kept"
    REPLACED = "replaced"
    LEFT = "left"  # nothing is done
    SCRAPPED = "scrapped"  # without a new one


@dataclass(frozen=True, slots=True)
class Alternative:
    """One alternative with its work."""

    identifier: str
    title: str
    says: str  # to the owner, one sentence
    ending: Ending
    mends: tuple[tuple[str, float], ...]  # cause, chance that it then works
    opens_circuit: bool
    steps: tuple[Step, ...]
    joints: tuple[JointPlan, ...]
    items: tuple[tuple[str, float], ...]  # price key, how many
    comeback_per_year: float
    change: Change | None
    notes: tuple[str, ...] = ()
    both: tuple[str, ...] = ()  # identifiers of the two repairs it is made of, where it is

    @property
    def parts(self) -> tuple[str, ...]:
        """The repairs it is made of; itself where it is one."""
        return self.both or (self.identifier,)

    @property
    def minutes(self) -> float:
        """Minutes at work, of what is not done yet."""
        return sum(s.minutes for s in self.steps if not s.done)

    @property
    def waiting_minutes(self) -> float:
        """Minutes of waiting."""
        return sum(s.waiting_minutes for s in self.steps if not s.done)

    def chance(self, causes: Together) -> float:
        """Chance that it works afterwards if these were the causes, all mended. [-]"""
        known = dict(self.mends)
        return prod(known.get(one, 0.0) for one in causes)


@dataclass(frozen=True, slots=True)
class NotOffered:
    """An alternative that does not exist here, and why."""

    identifier: str
    title: str
    why: str

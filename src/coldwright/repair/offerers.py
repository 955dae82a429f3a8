"""Each alternative as an object that looks at the situation and offers itself, or says why not.

Chances and comeback rates are judgements of ours: no study of repairs of household
circuits with numbers was found.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from coldwright.faults.registry import FAULTS
from coldwright.readings.mending import JointSeen
from coldwright.repair import work
from coldwright.repair.alternative_records import Alternative, Ending, NotOffered
from coldwright.repair.changes import AsBuilt, Change, NewCompressor, WithoutFrameLoop
from coldwright.repair.joint_records import Joint, JointPlan
from coldwright.repair.joints import plan_joint
from coldwright.repair.places import joint_at, joint_between, with_seen
from coldwright.repair.sheets import closed_circuit, emptied, opened_circuit
from coldwright.repair.situation import Situation
from coldwright.repair.step_records import Step

# Beside its own cause, a circuit opened, dried, fitted with a new drier and charged by mass
# is also rid of these.
ALSO_MENDED = tuple(
    (name, fault.rid_by_opening) for name, fault in FAULTS.items() if fault.rid_by_opening > 0.0
)
OPENED_COMEBACK = 0.02  # per year beside the joints: moisture, debris, the next weak spot
CLOSED_COMEBACK = 0.03
STILL_LEAKS = 0.3  # of those not tight at first, after the pressure test and a second making
MATERIALS = (("drier", 1.0), ("nitrogen", 1.0))


class Offerer(Protocol):
    """What every kind of alternative offers."""

    def consider(
        self, s: Situation, seen: Sequence[JointSeen], share: float
    ) -> Alternative | NotOffered:
        """The alternative in this situation; `share` is the frame loop's of the high side."""
        ...


@dataclass(frozen=True, slots=True)
class Opened:
    """A repair that opens the circuit."""

    identifier: str
    title: str
    says: str
    causes: tuple[tuple[str, float], ...]
    special: tuple[Step, ...] = ()
    items: tuple[tuple[str, float], ...] = ()
    search: bool = False

    def consider(
        self, s: Situation, seen: Sequence[JointSeen], share: float
    ) -> Alternative | NotOffered:
        """Built from the situation, or not offered."""
        why = self.barred(s)
        if why:
            return NotOffered(self.identifier, self.title, why)
        plans = tuple(
            plan_joint(joint, s.surrounding) for joint in with_seen(s, self.joints(s, seen), seen)
        )
        change = self.change(share)
        special = (work.find_leak(s), *self.special) if self.search else self.special
        tight = _all_succeed(plans)
        own = tuple((cause, chance * tight) for cause, chance in self.causes)
        named = {cause for cause, _ in own}
        also = tuple((c, p * tight if c != "nothing_wrong" else p) for c, p in ALSO_MENDED
                     if c not in named)  # fmt: skip
        grams = (s.charge_kg or 0.1) * 10.0
        return Alternative(
            self.identifier, self.title, self.says, Ending.KEPT, (*own, *also), True,
            opened_circuit(s, plans, special=special, changed=change.moves_charge), plans,
            (*self.items, *MATERIALS, ("joint_material", float(len(plans))),
             ("refrigerant_per_100g", grams)),
            OPENED_COMEBACK + sum(p.offers[0].comeback_per_year for p in plans if p.offers),
            change, self.notes(s),
        )  # fmt: skip

    def barred(self, s: Situation) -> str:
        """Why it does not exist here, empty where it does."""
        return ""

    def joints(self, s: Situation, seen: Sequence[JointSeen]) -> tuple[Joint, ...]:
        """Joints it makes."""
        return work.drier_joints(s)

    def change(self, share: float) -> Change:
        """What it does to the circuit."""
        return AsBuilt()

    def notes(self, s: Situation) -> tuple[str, ...]:
        """What to know of it here."""
        return ()


class MendTube(Opened):
    """A joint or tube that can be reached."""

    def joints(self, s: Situation, seen: Sequence[JointSeen]) -> tuple[Joint, ...]:
        """The place measured, else the joint of the suction line, and those of a new drier."""
        done = {joint.place for joint in work.drier_joints(s)}
        at = [one.place for one in seen if one.place not in done] or ["suction_line_joint"]
        return (*(joint_at(s, place) for place in at), *work.drier_joints(s))


class BypassLoop(Opened):
    """The door-frame loop left out."""

    def barred(self, s: Situation) -> str:
        """Only where there is a loop."""
        return "" if s.frame_loop else "no door-frame loop is known in this circuit"

    def joints(self, s: Situation, seen: Sequence[JointSeen]) -> tuple[Joint, ...]:
        """Bridge from condenser to drier."""
        bridge = joint_between(s, "condenser", "bridge", "condenser_joint")
        return (bridge, *work.drier_joints(s, "bridge"))

    def change(self, share: float) -> Change:
        """The loop's share of the condenser goes."""
        return WithoutFrameLoop(share)

    def notes(self, s: Situation) -> tuple[str, ...]:
        """Sweating."""
        return ("The door frame loses its warmth: see the dew-point table of this sheet.",)


class NewEvaporator(Opened):
    """A new coil."""

    def barred(self, s: Situation) -> str:
        """Not where it is foamed in."""
        if s.buried("evaporator"):
            return "the evaporator is behind the liner, in foam: it cannot be changed"
        return ""

    def joints(self, s: Situation, seen: Sequence[JointSeen]) -> tuple[Joint, ...]:
        """Capillary in, suction out."""
        return (
            joint_between(s, "capillary", "evaporator", "capillary_joint"),
            joint_between(s, "evaporator", "suction_line", "evaporator_joint"),
            *(j for j in work.drier_joints(s) if j.place != "capillary_joint"),
        )


class MendAluminium(NewEvaporator):
    """A crimped or special repair of an aluminium evaporator."""

    def barred(self, s: Situation) -> str:
        """Only aluminium, only where it can be reached."""
        if s.metal_of("evaporator")[0] != "aluminium":
            return "the evaporator is not aluminium: mend the tube as any other"
        return NewEvaporator.barred(self, s)

    def joints(self, s: Situation, seen: Sequence[JointSeen]) -> tuple[Joint, ...]:
        """Across the cut, twice."""
        return (joint_at(s, "evaporator"), *work.drier_joints(s))


class ChangeCompressor(Opened):
    """Another compressor."""

    def joints(self, s: Situation, seen: Sequence[JointSeen]) -> tuple[Joint, ...]:
        """Suction, discharge, drier; two more with an oil cooler."""
        cooler: tuple[Joint, ...] = ()
        if "oil_cooler" in s.layout:
            cooler = (joint_at(s, "oil_cooler_joint"),) * 2
        return (
            joint_between(s, "suction_line", "compressor", "suction_line_joint"),
            joint_between(s, "compressor", "discharge_line", "compressor_joint"),
            *cooler,
            *work.drier_joints(s),
        )

    def change(self, share: float) -> Change:
        """Efficiencies of today."""
        return NewCompressor(2020.0)


@dataclass(frozen=True, slots=True)
class Closed:
    """A repair that opens nothing."""

    identifier: str
    title: str
    says: str
    causes: tuple[tuple[str, float], ...]
    special: tuple[Step, ...]
    items: tuple[tuple[str, float], ...] = ()

    def consider(
        self, s: Situation, seen: Sequence[JointSeen], share: float
    ) -> Alternative | NotOffered:
        """Always there."""
        return Alternative(
            self.identifier, self.title, self.says, Ending.KEPT,
            (*self.causes, ("nothing_wrong", 1.0)), False, closed_circuit(s, self.special), (),
            self.items, CLOSED_COMEBACK, AsBuilt(),
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class NoRepair:
    """Replace, leave, or scrap."""

    identifier: str
    title: str
    says: str
    ending: Ending

    def consider(
        self, s: Situation, seen: Sequence[JointSeen], share: float
    ) -> Alternative | NotOffered:
        """Always there."""
        steps = () if self.ending is Ending.LEFT else emptied(s)
        return Alternative(
            self.identifier, self.title, self.says, self.ending, (("nothing_wrong", 1.0),),
            self.ending is not Ending.LEFT, steps, (), (), 0.0, None,
        )  # fmt: skip


def _all_succeed(plans: Sequence[JointPlan]) -> float:
    chance = 1.0
    for plan in plans:
        chance *= plan.offers[0].first_time_success if plan.offers else 0.0
    # One that is not tight shows in the pressure test and is made again once.
    return 1.0 - (1.0 - chance) * STILL_LEAKS

"""A joint to be made, and the plan for it. SI throughout."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from coldwright.errors import require
from coldwright.repair.metals import Metal

# Tubes of household circuits; a slip of the pen lies outside (judgement of ours).
OUTSIDE_RANGE_M = (1.0e-3, 25.0e-3)
WALL_RANGE_M = (0.2e-3, 3.0e-3)
USUAL_WALL_M = 0.75e-3  # common practice, no published source
CAPILLARY_BELOW_M = 3.2e-3  # outside diameter under which a tube is a capillary; ours


class CircuitState(Enum):
    """What is inside the circuit now."""

    CHARGED = "charged"
    RECOVERED = "recovered"  # refrigerant taken out, oil still gives some off
    FLUSHED = "flushed"  # purged with nitrogen and evacuated, repeated; still closed
    OPEN = "open"  # flushed, cut open, nitrogen flows through


@dataclass(frozen=True, slots=True)
class Joint:
    """Two tube ends at a place; a size that cannot be raises `OutOfRange`."""

    place: str  # a place of the glossary
    metals: tuple[Metal, Metal]
    outside_m: tuple[float, float]
    wall_m: tuple[float, float] = (USUAL_WALL_M, USUAL_WALL_M)
    buried: bool = False  # in foam or behind the liner
    assumed: bool = False  # metals or sizes are the usual ones, not seen

    def __post_init__(self) -> None:
        for value in self.outside_m:
            require("outside diameter", value, "m", *OUTSIDE_RANGE_M)
        for value in self.wall_m:
            require("wall", value, "m", *WALL_RANGE_M)

    @property
    def inner_m(self) -> float:
        """Outside diameter of the tube that goes into the other."""
        return min(self.outside_m)

    @property
    def capillary(self) -> bool:
        """Whether one of the two is a capillary."""
        return self.inner_m < CAPILLARY_BELOW_M


@dataclass(frozen=True, slots=True)
class Surrounding:
    """What decides, beside the tubes, how a joint may be made."""

    flammable: bool  # refrigerant that burns, or is not known
    state: CircuitState
    fluorocarbon: bool = True  # or not known: what a flame makes of it poisons


@dataclass(frozen=True, slots=True)
class Offer:
    """One way to make the joint."""

    method: str
    fillers: tuple[str, ...]
    flows_k: tuple[float, ...]  # liquidus of each filler, information values
    flux: str
    heat_low_k: float  # NaN where no heat is used
    heat_high_k: float
    clearance_low_m: float  # per side; NaN where it is the ring's own matter
    clearance_high_m: float
    socket_low_m: float  # bore the inner tube should find; NaN for a ring
    socket_high_m: float
    fit: str  # what the outer end needs to have that bore
    overlap_m: float
    filler_kg: float
    rod_m: float  # the same filler as a length of 2 mm rod
    flame: bool
    nitrogen: str
    only_when: str  # empty where it may be done as the circuit stands
    comeback_per_year: float  # rate of leaking again, judgement of ours
    first_time_success: float
    how: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True)
class Barred:
    """A way that must not be taken, and why."""

    method: str
    why: str
    source: str


@dataclass(frozen=True, slots=True)
class JointPlan:
    """Offers in the order to be tried, and what is barred."""

    joint: Joint
    offers: tuple[Offer, ...]
    barred: tuple[Barred, ...]
    cautions: tuple[str, ...]
    notes: tuple[str, ...]

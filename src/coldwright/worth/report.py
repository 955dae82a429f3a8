"""What `repair` returns. Frozen; command line and pages read only this."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.readings.shop import Shop
from coldwright.repair.alternative_records import Alternative, Ending, NotOffered
from coldwright.repair.capillary_stock import CapillaryReplacement
from coldwright.repair.causes import Cause
from coldwright.repair.compressor_match import CompressorOffer, CompressorWanted
from coldwright.repair.dew import FrameDew
from coldwright.repair.drier import DrierChoice
from coldwright.repair.joint_records import JointPlan
from coldwright.repair.refrigerant_change import ChangeOfRefrigerant
from coldwright.repair.simulated import Band, Simulated
from coldwright.repair.situation import Situation
from coldwright.worth.flips import Flip
from coldwright.worth.verdict import Spread, Verdict, Worth
from coldwright.worth.world import World


@dataclass(frozen=True, slots=True)
class Considered:
    """One alternative with what it is worth and what its circuit would do."""

    alternative: Alternative
    worth: Worth
    simulated: Simulated | None


@dataclass(frozen=True, slots=True)
class Yardstick:
    """Energy a year beside the published rules. NaN where there is none."""

    old_model_kwh: float
    old_rule_kwh: float
    old_rule: str
    new_kwh: float
    new_from: str
    new_rule_kwh: float
    new_rule: str


@dataclass(frozen=True, slots=True)
class Spreads:
    """Spread over the members of what was not measured; None where it was, or is not known."""

    displacement_m3: Band | None = None
    capillary_bore_m: Band | None = None
    capillary_length_m: Band | None = None


NOT_SPREAD = Spreads()


@dataclass(frozen=True, slots=True)
class Parts:
    """Parts for this circuit; None where nothing honest can be said."""

    drier: DrierChoice
    capillary: CapillaryReplacement | None
    compressor: CompressorWanted | None
    compressor_stock: tuple[CompressorOffer, ...]
    refrigerants: tuple[ChangeOfRefrigerant, ...]
    spreads: Spreads = NOT_SPREAD


@dataclass(frozen=True, slots=True)
class RepairReport:
    """Alternatives, worth, joints, parts and steps of one job."""

    job: str
    title: str
    situation: Situation
    shop: Shop
    world: World
    causes: tuple[Cause, ...]
    settled: str | None
    considered: tuple[Considered, ...]  # in the verdict's order
    not_offered: tuple[NotOffered, ...]
    verdict: Verdict
    flips: tuple[Flip, ...]
    chosen: str  # whose sheet is shown
    chosen_why: str
    joints_asked: tuple[JointPlan, ...]
    parts: Parts
    dew: FrameDew | None
    yardstick: Yardstick
    life_left: Spread  # years it would still last in good order
    missing: tuple[tuple[str, str], ...]  # price not given, effect
    notes: tuple[str, ...]
    seed: int
    model: str

    def of(self, identifier: str) -> Considered:
        """The alternative of that name."""
        return next(c for c in self.considered if c.alternative.identifier == identifier)

    @property
    def parts_needed(self) -> bool:
        """Whether the work of the sheet needs parts of the circuit."""
        chosen = self.sheet.alternative
        return chosen.opens_circuit and chosen.ending is Ending.KEPT

    @property
    def sheet(self) -> Considered:
        """The one whose sheet is shown."""
        return self.of(self.chosen)

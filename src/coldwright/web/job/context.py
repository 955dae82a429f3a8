"""What the templates of this folder are given: frozen, typed, everything already in words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from coldwright.web.drawing.records import Drawing
from coldwright.web.pieces import FieldGroup
from coldwright.words.report import Caution, Fact

if TYPE_CHECKING:
    from coldwright.web.leak.context import LeakPart, PendingLeak
    from coldwright.web.log.context import LogPart
    from coldwright.web.odds.context import OddsPage, PendingOdds
    from coldwright.web.outcome.context import OutcomePart
    from coldwright.web.readings.context import ReadingsPart
    from coldwright.web.refrigerant.context import RefrigerantPart
    from coldwright.web.signs.context import SignsPart


@dataclass(frozen=True, slots=True)
class AppliancePart:
    """job/_appliance.html"""

    state: str
    facts: tuple[Fact, ...]
    groups: tuple[FieldGroup, ...]
    error: str


@dataclass(frozen=True, slots=True)
class JobPage:
    """job/job.html"""

    url: str
    title: str
    invented: bool
    summary: str
    cautions: tuple[Caution, ...]
    cautions_state: str
    appliance: AppliancePart
    refrigerant: RefrigerantPart
    drawing: Drawing
    readings: ReadingsPart
    signs: SignsPart
    odds: OddsPage | PendingOdds
    leak: LeakPart | PendingLeak
    outcome: OutcomePart
    log: LogPart

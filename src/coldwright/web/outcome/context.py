"""What the part "What was found" of a job's page is given."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.web.pieces import Field
from coldwright.words.report import Fact


@dataclass(frozen=True, slots=True)
class ShareRow:
    """A fault's share before any complaint, by the catalogue and after the shop's jobs."""

    name: str
    share: str
    found: str


@dataclass(frozen=True, slots=True)
class OutcomePart:
    """outcome/_outcome.html"""

    state: str
    facts: tuple[Fact, ...]  # empty where nothing was entered
    fields: tuple[Field, ...]
    error: str
    learned: str  # what the shop's proven jobs do to the odds here; empty where none
    shares: tuple[ShareRow, ...]

"""What the templates of this folder are given: frozen, typed, everything already in words."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.web.pieces import Field
from coldwright.words.report import Caution, Section


@dataclass(frozen=True, slots=True)
class LeakTried:
    """A step of the search as kept."""

    what: str
    result: str
    remove_url: str


@dataclass(frozen=True, slots=True)
class LeakForm:
    """The form that keeps a step of the search."""

    url: str
    next_step: str
    place: Field
    method: Field
    minutes: Field
    error: str


@dataclass(frozen=True, slots=True)
class LeakPart:
    """leak/_leak.html"""

    state: str
    outcome: str  # found, or left by exclusion; empty while searching
    where: tuple[Section, ...]
    plan: tuple[Section, ...]
    tried: tuple[LeakTried, ...]
    form: LeakForm
    cautions: tuple[Caution, ...]

    @property
    def settled(self) -> bool:
        """The plan is there."""
        return True


@dataclass(frozen=True, slots=True)
class PendingLeak:
    """leak/_leak_pending.html: not asked for yet, or not possible and why."""

    state: str
    now_url: str
    block_url: str
    error: str

    @property
    def settled(self) -> bool:
        """The plan is not there."""
        return False

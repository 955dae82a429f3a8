"""What the templates of this folder are given: frozen, typed, everything already in words."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.web.pieces import Field
from coldwright.words.report import Caution, Fact


@dataclass(frozen=True, slots=True)
class LeakPlace:
    """A place with its chance; `now` is the bar's width in percent."""

    name: str
    percent: str
    now: str


@dataclass(frozen=True, slots=True)
class LeakRound:
    """Steps that need the same thing inside the circuit."""

    title: str
    methods: tuple[Fact, ...]
    worth: str
    after_yes: str
    cautions: tuple[Caution, ...]


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
    pace: str
    places: tuple[LeakPlace, ...]
    rest: str
    rounds: tuple[LeakRound, ...]
    promise: str
    tried: tuple[LeakTried, ...]
    form: LeakForm
    sight: tuple[str, ...]
    barred: tuple[Fact, ...]
    notes: tuple[str, ...]
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

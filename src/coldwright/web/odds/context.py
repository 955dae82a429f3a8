"""What the templates of this folder are given: frozen, typed, everything already in words."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.words.report import Caution, Fact


@dataclass(frozen=True, slots=True)
class OddsRow:
    """One fault's bar. `now` and `was` are widths in percent; `was` is empty if it did not move."""

    name: str
    percent: str
    now: str
    was: str
    moved: str
    severity: str
    which: str


@dataclass(frozen=True, slots=True)
class ReasonRow:
    """A reading or sign and what it says."""

    what: str
    sentence: str
    favours: str


@dataclass(frozen=True, slots=True)
class ArgumentRow:
    """A fault in question with the sentences for and against it."""

    name: str
    percent: str
    for_it: tuple[str, ...]
    against_it: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MindRow:
    """A check that would overturn the leading fault, and where it is entered."""

    sentence: str
    name: str
    entry_url: str


@dataclass(frozen=True, slots=True)
class CheckRow:
    """A check worth doing next and where to enter its outcome."""

    name: str
    how: str
    worth: str
    value: str
    opens_circuit: bool
    cautions: tuple[Caution, ...]
    entry_url: str
    block_url: str  # the entry form alone; empty where the outcome is a sign


@dataclass(frozen=True, slots=True)
class LookRow:
    """Something to look at before any instrument; `unseen` is empty where no sign records it."""

    name: str
    minutes: str
    how: str
    seen: str
    unseen: str
    cautions: tuple[Caution, ...]
    entry_url: str  # empty where there is nothing to enter


@dataclass(frozen=True, slots=True)
class ElectricalPart:
    """odds/_electrical.html: windings, start device, overload, supply."""

    pins_url: str  # where unnamed pins are named
    state: str
    open: bool
    cautions: tuple[Caution, ...]
    numbers: tuple[Fact, ...]
    findings: tuple[Fact, ...]
    which: str
    notes: tuple[str, ...]
    checks: tuple[CheckRow, ...]


@dataclass(frozen=True, slots=True)
class OddsPage:
    """odds/_odds.html: all that one diagnosis says."""

    state: str
    since: str
    moves: tuple[str, ...]
    rows: tuple[OddsRow, ...]
    small: str
    restriction: str
    sealed: str
    opening: str
    refused: str
    misfit: str
    suspect: str
    suspect_url: str
    reasons_state: str
    reasons: tuple[ReasonRow, ...]
    arguments: tuple[ArgumentRow, ...]
    minds: tuple[MindRow, ...]
    looks: tuple[LookRow, ...]
    checks: tuple[CheckRow, ...]
    choice: str
    plan: str
    electrical: ElectricalPart
    cautions: tuple[str, ...]
    notes: tuple[str, ...]
    fine_print: tuple[Fact, ...]
    whole_url: str = ""  # where the whole diagnosis comes from, while this is a first look

    @property
    def settled(self) -> bool:
        """The odds are there."""
        return True


@dataclass(frozen=True, slots=True)
class PendingOdds:
    """odds/_odds_pending.html: not worked out yet, or not possible and why."""

    since: str
    now_url: str
    error: str

    @property
    def settled(self) -> bool:
        """The odds are not there yet."""
        return False

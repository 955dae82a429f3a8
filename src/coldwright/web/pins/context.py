"""What pins/pins.html shows."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.words.report import Caution, Fact


@dataclass(frozen=True, slots=True)
class OhmField:
    """One of the three resistances between pins nobody has named."""

    name: str
    label: str
    value: str  # as typed
    error: str


@dataclass(frozen=True, slots=True)
class Naming:
    """Which pin is which, and what that makes of the three resistances."""

    title: str
    facts: tuple[Fact, ...]
    entries: tuple[tuple[str, str], ...]  # reading and what would be entered; empty: not sure


@dataclass(frozen=True, slots=True)
class PinsPage:
    """pins/pins.html"""

    url: str
    title: str
    cautions: tuple[Caution, ...]
    fields: tuple[OhmField, ...]
    error: str
    namings: tuple[Naming, ...]  # empty before three were read
    findings: tuple[Fact, ...]
    notes: tuple[str, ...]

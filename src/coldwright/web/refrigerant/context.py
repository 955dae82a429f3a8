"""What the templates of this folder are given: frozen, typed, everything already in words."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.words.report import Caution, Fact


@dataclass(frozen=True, slots=True)
class RefrigerantPart:
    """refrigerant/_refrigerant.html"""

    state: str
    facts: tuple[Fact, ...]
    cautions: tuple[Caution, ...]
    notes: tuple[str, ...]

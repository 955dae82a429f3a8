"""What the templates of this folder are given: frozen, typed, everything already in words."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from coldwright.web.pieces import Choice
from coldwright.words.report import Fact


@dataclass(frozen=True, slots=True)
class HoursPage:
    """hours/hours.html"""

    url: str
    title: str
    faults: tuple[Choice, ...]
    severity: str
    lengths: tuple[Choice, ...]
    error: str
    facts: tuple[Fact, ...]  # empty before it was asked for
    figure: Markup
    notes: tuple[str, ...]

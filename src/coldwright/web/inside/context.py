"""What the page of the circuit's inside is told."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup


@dataclass(frozen=True, slots=True)
class Beside:
    """One quantity with the fault and sound."""

    name: str
    with_it: str
    sound: str


@dataclass(frozen=True, slots=True)
class InsidePage:
    """inside/inside.html and inside/_inside.html; `error` says why where nothing is there."""

    url: str
    title: str
    told: str
    rows: tuple[Beside, ...]
    figures: tuple[Markup, ...]  # empty where nothing flows
    error: str

"""What is told, in sections: frozen, in words, for whichever client shows it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution where its step is shown."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Fact:
    """A name and what is known under it."""

    name: str
    value: str

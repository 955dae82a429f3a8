"""What the templates of this folder are given: frozen, typed, everything already in words."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.web.pieces import Choice


@dataclass(frozen=True, slots=True)
class SignRow:
    """A sign and whether it was seen; `seen` is 'yes', 'no' or empty for not checked."""

    key: str
    label: str
    seen: str
    said: str
    asked: bool
    places: tuple[Choice, ...]
    error: str
    heading: str = ""  # of the group that begins with this row


@dataclass(frozen=True, slots=True)
class SignsPart:
    """signs/_signs.html"""

    state: str
    open: bool
    rows: tuple[SignRow, ...]

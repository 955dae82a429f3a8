"""What the templates of this folder are given: frozen, typed, everything already in words."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.web.pieces import Field, FieldGroup


@dataclass(frozen=True, slots=True)
class JobRow:
    """A job in the list."""

    url: str
    title: str
    summary: str
    fault: str


@dataclass(frozen=True, slots=True)
class JobsPage:
    """jobs/jobs.html"""

    own: tuple[JobRow, ...]
    invented: tuple[JobRow, ...]
    kind: Field
    refrigerant: Field
    title: Field
    more: tuple[FieldGroup, ...]
    error: str

"""What the templates of this folder are given: frozen, typed, everything already in words."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.web.pieces import ChoiceGroup, Field
from coldwright.words.report import Caution


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """A reading as entered."""

    key: str
    label: str
    entered: str
    uncertainty: str
    note: str
    logged: bool  # from the job's log: nothing to remove


@dataclass(frozen=True, slots=True)
class ReadingForm:
    """readings/_reading_form.html"""

    groups: tuple[ChoiceGroup, ...]
    key_error: str
    value: Field
    uncertainty: Field
    note: Field
    cautions: tuple[Caution, ...]
    replaces: str
    focus: str  # the field the hand goes to next: 'key', 'value', 'uncertainty' or empty


@dataclass(frozen=True, slots=True)
class ReadingsPart:
    """readings/_readings.html"""

    state: str
    rows: tuple[ReadingRow, ...]
    form: ReadingForm

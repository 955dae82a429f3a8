"""The readings of a job and the form that takes one more."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.errors import BadInput
from coldwright.readings import keys
from coldwright.readings.job import Job, Reading
from coldwright.readings.jobfile import JobFile
from coldwright.units import Dimension
from coldwright.web.fields import example, said
from coldwright.web.pieces import Choice, ChoiceGroup, Field
from coldwright.web.readings.context import ReadingForm, ReadingRow, ReadingsPart
from coldwright.words.cautions import at_reading
from coldwright.words.wording import capital, count

# As the page lists them, in the order of their first reading; what opens the circuit last
GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = tuple(
    (title, tuple(name for name, r in keys.READINGS.items() if r.group == title))
    for title in dict.fromkeys(r.group for r in keys.READINGS.values())
)


@dataclass(frozen=True, slots=True)
class Draft:
    """What stands in the form: texts as typed and what was wrong with each."""

    key: str = ""
    value: str = ""
    uncertainty: str = ""
    note: str = ""
    key_error: str = ""
    value_error: str = ""
    uncertainty_error: str = ""

    @property
    def focus(self) -> str:
        """The field the hand goes to next."""
        if self.key_error:
            return "key"
        if self.uncertainty_error:
            return "uncertainty"
        return "value" if self.key else ""


def draft_for(file: JobFile, key: str) -> Draft:
    """The form ready for that reading, with what was entered before; empty for an unknown one.

    Parameters
    ----------
    file : JobFile
        The job file.
    key : str
        Identifier of the reading.

    Returns
    -------
    Draft
        The draft.
    """
    if key not in keys.READINGS:
        return Draft()
    value, uncertainty, note = _as_written(file, key)
    return Draft(key, value, uncertainty, note)


def refused(draft: Draft, error: BadInput) -> Draft:
    """The draft with the error at the field it belongs to.

    Parameters
    ----------
    draft : Draft
        What the user wrote.
    error : BadInput
        What was refused.

    Returns
    -------
    Draft
        A new draft.
    """
    at_uncertainty = error.key.endswith(".uncertainty")
    return Draft(
        draft.key,
        draft.value,
        draft.uncertainty,
        draft.note,
        value_error="" if at_uncertainty else said(error),
        uncertainty_error=said(error) if at_uncertainty else "",
    )


def readings_part(file: JobFile, draft: Draft) -> ReadingsPart:
    """Every reading as entered, and the form.

    Parameters
    ----------
    file : JobFile
        The job file.
    draft : Draft
        What the user wrote.

    Returns
    -------
    ReadingsPart
        The part's record.
    """
    rows = tuple(_row(file, reading) for reading in file.job.readings)
    logged = sum(row.logged for row in rows)
    state = f"{count(len(rows) - logged, 'reading', 'readings')} entered"
    if logged:
        state += f", {logged} from the log"
    return ReadingsPart(state, rows, reading_form(file.job, draft))


def reading_form(job: Job, draft: Draft) -> ReadingForm:
    """The form that takes one reading.

    Parameters
    ----------
    job : Job
        The job, read and checked.
    draft : Draft
        What the user wrote.

    Returns
    -------
    ReadingForm
        The form's record.
    """
    known = keys.READINGS.get(draft.key)
    hint = _hint(known) if known else "With its unit, such as '54 °C'."
    cautions = (
        at_reading(known.identifier, known.opens_circuit, job.plate.refrigerant) if known else ()
    )
    present = job.reading(draft.key)
    return ReadingForm(
        groups=tuple(_group(title, identifiers, draft.key) for title, identifiers in GROUPS),
        key_error=draft.key_error,
        value=Field("value", "Value with its unit", draft.value, hint, draft.value_error, ()),
        uncertainty=Field(
            "uncertainty",
            "Uncertainty, if you know it",
            draft.uncertainty,
            "One standard deviation, such as '1 K'. Left empty: the instrument's own.",
            draft.uncertainty_error,
            (),
        ),
        note=Field("note", "Note", draft.note, "", "", ()),
        cautions=cautions,
        replaces=f"Replaces {present.entered}." if present is not None else "",
        focus=draft.focus,
    )


def _hint(key: keys.ReadingKey) -> str:
    short = " C or F will do for the degree." if key.dimension is Dimension.TEMPERATURE else ""
    return example(key.dimension) + short


def _group(title: str, identifiers: tuple[str, ...], chosen: str) -> ChoiceGroup:
    choices = (Choice(i, capital(keys.READINGS[i].label), i == chosen) for i in identifiers)
    return ChoiceGroup(title, tuple(choices))


def _row(file: JobFile, reading: Reading) -> ReadingRow:
    _, uncertainty, note = _as_written(file, reading.key)
    if reading.log is not None:
        note = reading.note
    notes = [note] if note else []
    if reading.gauge_assumed:
        notes.append("no word on gauge or absolute: taken as gauge")
    return ReadingRow(
        reading.key,
        capital(keys.READINGS[reading.key].label),
        reading.entered,
        f"± {uncertainty}" if uncertainty else "",
        "; ".join(notes),
        reading.log is not None,
    )


def _as_written(file: JobFile, key: str) -> tuple[str, str, str]:
    """Value, uncertainty and note of a reading as they stand in the file."""
    raw = file.tables.get("readings", {}).get(key)
    if raw is None:
        return "", "", ""
    if isinstance(raw, dict):
        return tuple(str(raw.get(part, "")) for part in ("value", "uncertainty", "note"))  # type: ignore[return-value]
    return str(raw), "", ""

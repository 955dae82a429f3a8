"""The fields of a job file that describe the appliance, as a form and back."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, cast

import tomlkit

from coldwright.errors import BadInput
from coldwright.readings import keys
from coldwright.readings.jobfile import JobFile
from coldwright.readings.mending import EFFECTS, WRITTEN
from coldwright.readings.mending_section import STATES
from coldwright.units import Dimension
from coldwright.web.pieces import Choice, Field, FieldGroup
from coldwright.words.report import Fact
from coldwright.words.wording import capital, plain

_YES_NO = ("yes", "no")


@dataclass(frozen=True, slots=True)
class Entry:
    """One key that a form can set. `words` are the accepted ones, empty where text is."""

    section: str
    key: str
    label: str
    hint: str = ""
    words: tuple[str, ...] = ()
    none: str = "not stated"
    many: bool = False  # any number of the words, as a list in the file
    within: str = ""  # the table inside the section that holds the key

    @property
    def name(self) -> str:
        """Its name in a form: table and key as in the file."""
        return ".".join(part for part in (self.section, self.within, self.key) if part)

    def look_up(self, tables: Mapping[str, Any]) -> object:
        """The raw value in the file, None where there is none."""
        table = tables.get(self.section, {})
        return (table.get(self.within, {}) if self.within else table).get(self.key)

    def put(self, file: JobFile, text: str) -> None:
        """Put the text of the form into the file; an empty one takes the key out."""
        if self.within:
            inner = tomlkit.inline_table()
            inner.update(file.tables.get(self.section, {}).get(self.within, {}))
            inner.pop(self.key, None)
            inner.update({self.key: text} if text else {})
            if inner:
                file.set_value(self.section, self.within, cast(Any, inner))
            else:
                file.remove(self.section, self.within)
        elif text:
            file.set_value(self.section, self.key, cast(Any, self._value(text)))
        else:
            file.remove(self.section, self.key)

    def _value(self, text: str) -> object:
        if self.many:
            return text.split()
        if self.words == _YES_NO and text in _YES_NO:
            return text == "yes"
        return int(text) if self.key == "year" and text.isdecimal() else text


def example(dimension: Dimension) -> str:
    """How a quantity may be written, as a sentence.

    Returns
    -------
    str
        One sentence.
    """
    text = dimension.example
    return f"Such as {text}." if text.startswith("'") else f"{capital(text)}."


def _quantities(section: str, known: Mapping[str, keys.QuantityKey]) -> tuple[Entry, ...]:
    return tuple(
        Entry(section, key, capital(quantity.label), example(quantity.dimension))
        for key, quantity in known.items()
    )


KIND = Entry("plate", "kind", "Kind of appliance", words=tuple(keys.KINDS), none="choose")
REFRIGERANT = Entry(
    "plate",
    "refrigerant",
    "Refrigerant on the plate",
    words=keys.REFRIGERANTS,
    none="not stated: treated as flammable",
)
_GROUPS: tuple[tuple[str, tuple[Entry, ...]], ...] = (
    (
        "Rating plate",
        (
            *_quantities("plate", keys.PLATE_QUANTITIES),
            Entry("plate", "year", "Year of manufacture", "Such as 2004."),
            Entry("plate", "climate_class", "Climate class", words=keys.CLIMATE_CLASSES),
            Entry(
                "plate",
                "charge_applies",
                "Does the plate charge hold for the circuit as it stands?",
                words=_YES_NO,
            ),
        ),
    ),
    (
        "Circuit as seen",
        (
            Entry("circuit", "condenser", "Condenser", words=keys.CONDENSERS),
            Entry("circuit", "evaporator", "Evaporator", words=keys.EVAPORATORS),
            Entry("circuit", "layout", "Layout of the high side", words=keys.LAYOUTS),
            Entry(
                "circuit",
                "frame_loop_position",
                "Door-frame loop comes",
                words=keys.FRAME_LOOP_POSITIONS,
            ),
            Entry("circuit", "evaporators", "Evaporators", words=keys.EVAPORATOR_COUNTS),
            Entry("circuit", "compressor_drive", "Compressor drive", words=keys.COMPRESSOR_DRIVES),
            *_quantities("circuit", keys.CIRCUIT_QUANTITIES),
        ),
    ),
    ("Room", _quantities("room", keys.ROOM_QUANTITIES)),
    (
        "What the owner says",
        (
            Entry("history", "complaint", "Complaint", words=tuple(keys.COMPLAINTS)),
            Entry("history", "earlier_repair", "Circuit repaired before?", words=_YES_NO),
            *_quantities("history", keys.HISTORY_QUANTITIES),
        ),
    ),
    (
        "For a leak search",
        (
            *_quantities("leak", keys.LEAK_QUANTITIES),
            Entry("leak", "air_drawn_in", "Has it drawn in air?", words=_YES_NO),
            Entry("leak", "left_on_tap", "A piercing valve left on?", words=_YES_NO),
            Entry("leak", "draught", "Draught where it stands", words=keys.DRAUGHTS),
            Entry("leak", "circuit_holds", "Inside the circuit now", words=keys.CIRCUIT_HOLDS),
            *(
                Entry("leak", key, label, words=keys.MATERIALS)
                for key, label in (
                    ("evaporator_material", "Evaporator is of"),
                    ("frame_loop_material", "Door-frame loop is of"),
                )
            ),
        ),
    ),
    (
        "How the readings were taken",
        (
            *_quantities("taken", keys.TAKEN_QUANTITIES),
            Entry("taken", "settled", "Settled?", f"Yes means: {keys.SETTLED_MEANS}.", _YES_NO),
            Entry(
                "taken",
                "also_running",
                "Running besides the compressor when power was read",
                words=keys.ALSO_RUNNING,
                many=True,
            ),
            Entry(
                "taken",
                "tools",
                "Tools at hand",
                "Next checks ask for nothing beyond them.",
                keys.TOOL_KITS,
                "all of them",
            ),
            *(
                Entry("taken", key, label, words=words, within="instrument")
                for key, label, words in (
                    ("thermometer", "Thermometer", keys.THERMOMETERS),
                    ("gauge", "Pressure gauge", keys.GAUGES),
                    ("meter", "Power meter", keys.METERS),
                )
            ),
        ),
    ),
)
_GROUPS += (
    (
        "Mending and prices of this job",
        (
            Entry("repair", "state", "The circuit is now", words=STATES, none="charged"),
            *(
                Entry("worth", key, label, f"A number; left empty, {EFFECTS[WRITTEN[key]]}.")
                for key, label in (
                    ("new_appliance", "Price of a new one like it"),
                    ("electricity_per_kwh", "Price of electricity per kWh"),
                    ("labour_per_hour", "Hourly rate for this job"),
                )
            ),
        ),
    ),
)
ENTRIES = (KIND, REFRIGERANT, *(entry for _, entries in _GROUPS for entry in entries))


def entered(file: JobFile) -> dict[str, str]:
    """Form text of every key of the file that a form can set, by the entry's name.

    Returns
    -------
    dict
        Text by field name.
    """
    tables: dict[str, Any] = file.tables
    found: dict[str, str] = {}
    for entry in ENTRIES:
        value = entry.look_up(tables)
        if value is not None:
            found[entry.name] = _as_text(value)
    return found


def revision(file: JobFile) -> str:
    """Names what the details form shows: another when anything of it was changed meanwhile.

    Parameters
    ----------
    file : JobFile
        The job.

    Returns
    -------
    str
        16 hexadecimal digits.
    """
    return hashlib.sha256(repr(sorted(entered(file).items())).encode()).hexdigest()[:16]


def stale(file: JobFile, raw: Mapping[str, str]) -> dict[str, str]:
    """What a form would put back that was changed since it was opened, by field; else empty.

    Parameters
    ----------
    file : JobFile
        As it is kept now.
    raw : mapping
        The form; one without a revision is taken as it comes.

    Returns
    -------
    dict
        Message by field name.
    """
    if raw.get("revision", "") in ("", revision(file)):
        return {}
    now, values = entered(file), typed(raw)
    return {
        e.name: f"Kept meanwhile: {now.get(e.name) or 'nothing'}. To put yours, keep these again."
        for e in ENTRIES
        if e.name in values and values[e.name].strip() != now.get(e.name, "")
    }


def _as_text(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return " ".join(map(str, value)) if isinstance(value, list) else str(value)


def typed(raw: Mapping[str, str]) -> dict[str, str]:
    """A form as it came, the ticks of each list gathered under the list's name.

    Returns
    -------
    dict
        Text by field name.
    """
    values = dict(raw)
    for entry in ENTRIES:
        if entry.many and entry.name in raw:
            ticked = (word for word in entry.words if raw.get(f"{entry.name}.{word}"))
            values[entry.name] = " ".join(ticked)
    return values


def field(entry: Entry, values: Mapping[str, str], errors: Mapping[str, str]) -> Field:
    """An entry as a form's field with its present text and what was wrong with it.

    Returns
    -------
    Field
        The field.
    """
    value = values.get(entry.name, "")
    choices: tuple[Choice, ...] = ()
    if entry.many:
        choices = tuple(Choice(w, plain(w), w in value.split()) for w in entry.words)
    elif entry.words:
        none = Choice("", entry.none, value == "")
        choices = (none, *(Choice(word, plain(word), word == value) for word in entry.words))
    error = errors.get(entry.name, "")
    return Field(entry.name, entry.label, value, entry.hint, error, choices, entry.many)


def groups(
    values: Mapping[str, str], errors: Mapping[str, str], *, with_main: bool
) -> tuple[FieldGroup, ...]:
    """The whole form; `with_main` puts kind and refrigerant before the rest of the plate.

    Returns
    -------
    tuple of FieldGroup
        Groups in the order of the form.
    """
    made = []
    for number, (title, entries) in enumerate(_GROUPS):
        shown = (KIND, REFRIGERANT, *entries) if with_main and number == 0 else entries
        made.append(FieldGroup(title, tuple(field(entry, values, errors) for entry in shown)))
    return tuple(made)


def facts(values: Mapping[str, str]) -> tuple[Fact, ...]:
    """What is known, in the order of the form.

    Returns
    -------
    tuple of Fact
        Label and text of each that is known.
    """
    return tuple(
        Fact(entry.label, _in_words(entry, values[entry.name]))
        for entry in ENTRIES
        if entry.name in values
    )


def _in_words(entry: Entry, text: str) -> str:
    if entry.many:
        return capital(", ".join(plain(word) for word in text.split())) or "Nothing"
    return capital(plain(text)) if entry.words else text


def put(file: JobFile, raw: Mapping[str, str]) -> dict[str, str]:
    """Put a form's fields into the file; the errors by field name, empty if all were kept.

    A field left empty is taken out of the file; one unchanged is not touched, so that
    the file keeps how it was written.

    Parameters
    ----------
    file : JobFile
        The job file.
    raw : mapping
        The form as it came.

    Returns
    -------
    dict
        Message by field name.
    """
    errors: dict[str, str] = {}
    before, values = entered(file), typed(raw)
    for entry in ENTRIES:
        text = values.get(entry.name, before.get(entry.name, "")).strip()
        if text == before.get(entry.name, ""):
            continue
        try:
            entry.put(file, text)
        except BadInput as error:
            errors[entry.name] = said(error)
    return errors


def said(error: BadInput) -> str:
    """What was read and what is accepted, without the file's place.

    Returns
    -------
    str
        One sentence or two.
    """
    tail = f" Did you mean {error.suggestion}?" if error.suggestion else ""
    return f"Read {error.read}. Accepted: {error.accepted}.{tail}"


def first_errors(errors: Mapping[str, str], entries: Iterable[Entry] = ENTRIES) -> str:
    """One line for the head of a form that was not kept.

    Returns
    -------
    str
        One line; empty where nothing is wrong.
    """
    labels = [entry.label for entry in entries if entry.name in errors]
    return f"Not kept. Look again at: {', '.join(labels)}." if labels else ""

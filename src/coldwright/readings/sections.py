"""The tables of a job file, one function per table -> one frozen record."""

from __future__ import annotations

import re
from typing import Any

from coldwright.circuit.files import geometry_kinds, parse_geometry
from coldwright.readings import keys
from coldwright.readings.by_hand import felt
from coldwright.readings.job import (
    CircuitSeen,
    Done,
    History,
    Instruments,
    Job,
    LeakSeen,
    Plate,
    Reading,
    Room,
    Sign,
    Taken,
    Tried,
)
from coldwright.readings.kind_ranges import within_kind
from coldwright.readings.mending_section import mending_of
from coldwright.readings.outcome import outcome_of
from coldwright.readings.reader import Reader, Table
from coldwright.units import STANDARD_ATMOSPHERE_PA, Dimension, air_pressure_at_altitude

SECTIONS = ("plate", "circuit", "room", "history", "taken", "readings", "signs", "leak", "tried",
            "repair", "worth", "outcome")  # fmt: skip
_VOLTAGE_SPAN = re.compile(r"\s*(\d+(?:\.\d+)?)\s*[-–/]\s*(\d+(?:\.\d+)?)\s*(V[^0-9]*)")


def job_from_table(table: Table, source: str) -> Job:
    """A job from the whole file's table.

    Parameters
    ----------
    table : mapping
        The file as plain Python values.
    source : str
        Where it was read, for messages and results.

    Returns
    -------
    Job
        As written, in SI.

    Raises
    ------
    BadInput
        Naming the file, the key, what was read and what is accepted.
    """
    reader = Reader(source)
    reader.known("", table, ("title", *SECTIONS))
    if "plate" not in table:
        raise reader.fail("plate", None, "a table [plate] with at least kind", "[plate]")
    room = _room(reader, _section(reader, table, "room"))
    reader = Reader(source, room.air_pressure_pa)
    plate = _plate(reader, _section(reader, table, "plate"))
    circuit = _circuit(reader, _section(reader, table, "circuit"))
    within_kind(reader, plate, circuit)
    return Job(
        source=source,
        title=reader.text("title", table.get("title", "")),
        plate=plate,
        circuit=circuit,
        room=room,
        history=_history(reader, _section(reader, table, "history")),
        taken=_taken(reader, _section(reader, table, "taken")),
        readings=_readings(reader, _section(reader, table, "readings")),
        signs=_signs(reader, _section(reader, table, "signs")),
        tried=_tried(reader, table.get("tried", [])),
        leak=_leak(reader, _section(reader, table, "leak")),
        mending=mending_of(
            reader, _section(reader, table, "repair"), _section(reader, table, "worth")
        ),
        outcome=outcome_of(reader, _section(reader, table, "outcome")),
    )


def _section(reader: Reader, table: Table, name: str) -> Table:
    return reader.table(name, table.get(name, {}))


def _quantities(
    reader: Reader, section: str, table: Table, known: Any, unit: dict[str, str]
) -> dict[str, Any]:
    """Record fields of the quantities present: identifier plus unit -> SI value."""
    return {
        identifier + unit[identifier]: reader.quantity(
            f"{section}.{identifier}", table[identifier], key
        )
        for identifier, key in known.items()
        if identifier in table
    }


def _plate(reader: Reader, table: Table) -> Plate:
    others = ("kind", "year", "refrigerant", "charge_applies", "climate_class")
    reader.known("plate", table, (*others, *keys.PLATE_QUANTITIES))
    if "kind" not in table:
        raise reader.fail("plate.kind", None, "one of " + ", ".join(keys.KINDS))
    kind = reader.choice("plate.kind", table["kind"], keys.KINDS)
    fields: dict[str, Any] = {}
    if "year" in table:
        fields["year"] = reader.whole_number("plate.year", table["year"], 1930, 2100)
    if "refrigerant" in table:
        fields["refrigerant"] = reader.refrigerant("plate.refrigerant", table["refrigerant"])
    if "charge_applies" in table:
        fields["charge_applies"] = reader.flag("plate.charge_applies", table["charge_applies"])
    if "climate_class" in table:
        raw = table["climate_class"]
        raw = raw.strip().upper().replace("/", "-") if isinstance(raw, str) else raw
        fields["climate_class"] = reader.choice("plate.climate_class", raw, keys.CLIMATE_CLASSES)
    unit = {
        "charge": "_kg",
        "voltage": "_v",
        "frequency": "_hz",
        "current": "_a",
        "power": "_w",
        "volume_fresh_food": "_m3",
        "volume_freezer": "_m3",
    }
    if "voltage" in table:
        table = {**table, "voltage": _middle_of_span(table["voltage"])}
    return Plate(kind, **fields, **_quantities(reader, "plate", table, keys.PLATE_QUANTITIES, unit))


def _middle_of_span(raw: object) -> object:
    """A plate's '220-240 V' as its middle; anything else as it is."""
    span = _VOLTAGE_SPAN.fullmatch(raw) if isinstance(raw, str) else None
    return raw if span is None else f"{(float(span[1]) + float(span[2])) / 2:g} {span[3]}"


# Keys of a segment's table that also answer a question of [circuit]
_SEEN_AS = {
    "condenser.kind": "condenser",
    "evaporator.kind": "evaporator",
    "frame_loop.position": "frame_loop_position",
}


def _circuit(reader: Reader, table: Table) -> CircuitSeen:
    choices = {
        "layout": keys.LAYOUTS,
        "condenser": keys.CONDENSERS,
        "evaporator": keys.EVAPORATORS,
        "evaporators": keys.EVAPORATOR_COUNTS,
        "compressor_drive": keys.COMPRESSOR_DRIVES,
        "frame_loop_position": keys.FRAME_LOOP_POSITIONS,
    }
    tables = {name: raw for name, raw in table.items() if isinstance(raw, dict)}
    named = {name: raw for name, raw in table.items() if name not in tables}
    reader.known("circuit", named, (*choices, *keys.CIRCUIT_QUANTITIES))
    geometry = parse_geometry(tables, file=reader.file)
    fields: dict[str, Any] = {
        name: reader.choice(f"circuit.{name}", raw, choices[name])
        for name, raw in named.items()
        if name in choices
    }
    values = dict(geometry)
    for key, kinds in geometry_kinds().items():
        seen_as = _SEEN_AS.get(key)
        if key in values and seen_as is not None:
            fields[seen_as] = kinds(int(values[key])).name.lower()
    unit = {"displacement": "_m3"}
    quantities = _quantities(reader, "circuit", named, keys.CIRCUIT_QUANTITIES, unit)
    if "compressor.displacement" in values:
        quantities.setdefault("displacement_m3", values["compressor.displacement"])
    return CircuitSeen(**fields, **quantities, geometry=geometry)


def _room(reader: Reader, table: Table) -> Room:
    reader.known("room", table, keys.ROOM_QUANTITIES)
    unit = {"temperature": "_k", "humidity": "_fraction", "altitude": "_m"}
    fields = _quantities(reader, "room", table, keys.ROOM_QUANTITIES, unit)
    altitude = fields.get("altitude_m")
    pressure = STANDARD_ATMOSPHERE_PA if altitude is None else air_pressure_at_altitude(altitude)
    return Room(**fields, air_pressure_pa=pressure)


def _history(reader: Reader, table: Table) -> History:
    others = ("complaint", "earlier_repair", "done")
    reader.known("history", table, (*others, *keys.HISTORY_QUANTITIES))
    fields: dict[str, Any] = {}
    if "complaint" in table:
        fields["complaint"] = reader.choice(
            "history.complaint", table["complaint"], keys.COMPLAINTS
        )
    if "earlier_repair" in table:
        fields["earlier_repair"] = reader.flag("history.earlier_repair", table["earlier_repair"])
    fields["done"] = _done(reader, table.get("done", []))
    unit = dict.fromkeys(keys.HISTORY_QUANTITIES, "") | {"age": "_s", "charge_added": "_kg"}
    return History(**fields, **_quantities(reader, "history", table, keys.HISTORY_QUANTITIES, unit))


def _done(reader: Reader, raw: object) -> tuple[Done, ...]:
    wanted = "a list of { work, helped, held_weeks, date, note }"
    if not isinstance(raw, list):
        raise reader.fail("history.done", raw, wanted)
    rows = []
    for number, item in enumerate(raw, start=1):
        path = f"history.done[{number}]"
        table = reader.table(path, item)
        reader.known(path, table, ("work", "helped", "date", "note", *keys.DONE_QUANTITIES))
        if "work" not in table:
            raise reader.fail(f"{path}.work", None, "one of " + ", ".join(keys.WORK))
        helped = reader.flag(f"{path}.helped", table["helped"]) if "helped" in table else None
        held = _quantities(reader, path, table, keys.DONE_QUANTITIES, {"held_weeks": ""})
        if held and helped is False:
            raise reader.fail(f"{path}.held_weeks", table["held_weeks"], "nothing: helped is false")
        date = table.get("date", "")
        rows.append(
            Done(
                reader.choice(f"{path}.work", table["work"], keys.WORK),
                True if held else helped,
                held.get("held_weeks"),
                date if isinstance(date, str) else str(date),
                reader.text(f"{path}.note", table.get("note", "")),
            )
        )
    return tuple(rows)


def _taken(reader: Reader, table: Table) -> Taken:
    others = ("settled", "also_running", "instrument", "tools", "log")
    reader.known("taken", table, (*others, *keys.TAKEN_QUANTITIES))
    fields: dict[str, Any] = {}
    if "settled" in table:
        fields["settled"] = reader.flag("taken.settled", table["settled"])
    if "also_running" in table:
        raw = table["also_running"]
        if not isinstance(raw, list):
            raise reader.fail(
                "taken.also_running", raw, "a list of " + ", ".join(keys.ALSO_RUNNING)
            )
        fields["also_running"] = tuple(
            reader.choice("taken.also_running", item, keys.ALSO_RUNNING) for item in raw
        )
    if "log" in table:
        fields["log"] = reader.text("taken.log", table["log"])
    if "tools" in table:
        fields["tools"] = reader.choice("taken.tools", table["tools"], keys.TOOL_KITS)
    if "instrument" in table:
        fields["instrument"] = _instruments(
            reader, reader.table("taken.instrument", table["instrument"])
        )
    kelvin = ("standing_evaporator_temperature", "defrost_peak_temperature")
    unit = dict.fromkeys(keys.TAKEN_QUANTITIES, "") | dict.fromkeys(kelvin, "_k")
    return Taken(**fields, **_quantities(reader, "taken", table, keys.TAKEN_QUANTITIES, unit))


def _instruments(reader: Reader, table: Table) -> Instruments:
    choices = {"thermometer": keys.THERMOMETERS, "gauge": keys.GAUGES, "meter": keys.METERS}
    reader.known("taken.instrument", table, choices)
    return Instruments(
        **{
            name: reader.choice(f"taken.instrument.{name}", raw, choices[name])
            for name, raw in table.items()
        }
    )


def reading_of(
    key: str, value: object, *, source: str, air_pressure_pa: float, note: str = ""
) -> Reading:
    """One reading from what was written, outside any file.

    Parameters
    ----------
    key : str
        An identifier of `keys.READINGS`.
    value : object
        As written, such as '-18 °C'.
    source : str
        Named in a refusal.
    air_pressure_pa : float
        That gauge pressures count from. [Pa]
    note : str
        Kept with it.

    Returns
    -------
    Reading
        In SI.

    Raises
    ------
    BadInput
        If there is no such reading, or the value cannot be read.
    """
    reader = Reader(source, air_pressure_pa)
    table = {"value": value, "note": note} if note else value
    (read,) = _readings(reader, {key: table})
    return read


def _readings(reader: Reader, table: Table) -> tuple[Reading, ...]:
    reader.known("readings", table, keys.READINGS)
    return tuple(_reading(reader, identifier, raw) for identifier, raw in table.items())


def _reading(reader: Reader, identifier: str, raw: object) -> Reading:
    path, key = f"readings.{identifier}", keys.READINGS[identifier]
    sd, note, entered = None, "", raw
    table = raw if isinstance(raw, dict) else None
    if table is not None:
        reader.known(path, table, ("value", "uncertainty", "note"))
        if "value" not in table:
            raise reader.fail(f"{path}.value", None, f"a value such as {key.dimension.example}")
        entered, note = table["value"], reader.text(f"{path}.note", table.get("note", ""))
    hand = felt(entered) if key.dimension is Dimension.TEMPERATURE else None
    if hand is not None:
        value, sd = hand
        assumed = False
    else:
        value, assumed = reader.pressure_or_quantity(path, entered, key)
    if table is not None and "uncertainty" in table:
        sd = reader.uncertainty(f"{path}.uncertainty", table["uncertainty"], key, value)
    return Reading(identifier, value, sd, str(entered), note, assumed, by_hand=hand is not None)


def _signs(reader: Reader, table: Table) -> tuple[Sign, ...]:
    reader.known("signs", table, keys.SIGNS)
    return tuple(_sign(reader, identifier, raw) for identifier, raw in table.items())


def _sign(reader: Reader, identifier: str, raw: object) -> Sign:
    path = f"signs.{identifier}"
    if not isinstance(raw, dict):
        return Sign(identifier, reader.flag(path, raw))
    places = ("place",) if keys.SIGNS[identifier].takes_place else ()
    reader.known(path, raw, ("seen", "confirmed", *places))
    if "seen" not in raw:
        raise reader.fail(f"{path}.seen", None, "true or false")
    place = None
    if "place" in raw:
        place = reader.choice(f"{path}.place", raw["place"], keys.PLACES)
    confirmed = None
    if "confirmed" in raw:
        confirmed = reader.flag(f"{path}.confirmed", raw["confirmed"])
    return Sign(identifier, reader.flag(f"{path}.seen", raw["seen"]), place, confirmed)


def _leak(reader: Reader, table: Table) -> LeakSeen:
    choices = {
        "draught": keys.DRAUGHTS,
        "circuit_holds": keys.CIRCUIT_HOLDS,
        "evaporator_material": keys.MATERIALS,
        "frame_loop_material": keys.MATERIALS,
    }
    flags = ("air_drawn_in", "left_on_tap")
    reader.known("leak", table, (*choices, *flags, "instruments", *keys.LEAK_QUANTITIES))
    fields: dict[str, Any] = {
        name: reader.choice(f"leak.{name}", table[name], allowed)
        for name, allowed in choices.items()
        if name in table
    }
    fields |= {n: reader.flag(f"leak.{n}", table[n]) for n in flags if n in table}
    if "instruments" in table:
        raw = table["instruments"]
        if not isinstance(raw, list):
            raise reader.fail("leak.instruments", raw, "a list of " + ", ".join(keys.LEAK_METHODS))
        fields["instruments"] = tuple(
            reader.choice("leak.instruments", item, keys.LEAK_METHODS) for item in raw
        )
    unit = {
        "mass_lost": "_kg",
        "volume": "_m3",
        "plate_pressure_high": "_pa",
        "plate_pressure_low": "_pa",
    }
    return LeakSeen(**fields, **_quantities(reader, "leak", table, keys.LEAK_QUANTITIES, unit))


def _tried(reader: Reader, raw: object) -> tuple[Tried, ...]:
    wanted = "a list of { place, method, minutes, found }"
    if not isinstance(raw, list):
        raise reader.fail("tried", raw, wanted)
    minutes = keys.TAKEN_QUANTITIES["minutes_since_start"]
    steps = []
    for number, item in enumerate(raw, start=1):
        path = f"tried[{number}]"
        table = reader.table(path, item)
        fields = ("place", "method", "minutes", "found")
        reader.known(path, table, fields)
        for name in fields:
            if name not in table:
                raise reader.fail(f"{path}.{name}", None, wanted)
        steps.append(
            Tried(
                reader.choice(f"{path}.place", table["place"], keys.LEAK_PLACES),
                reader.choice(f"{path}.method", table["method"], keys.LEAK_METHODS),
                reader.quantity(f"{path}.minutes", table["minutes"], minutes),
                reader.flag(f"{path}.found", table["found"]),
            )
        )
    return tuple(steps)

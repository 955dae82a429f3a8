"""Tables [repair] and [worth] of a job file -> one frozen record; prices also for the shop file."""

from __future__ import annotations

import math
from typing import Any

from coldwright.errors import BadInput
from coldwright.readings import keys
from coldwright.readings.mending import EFFECTS, WRITTEN, JointSeen, Mending, Prices
from coldwright.readings.reader import Reader, Table
from coldwright.units import Dimension as D
from coldwright.units import parse

STATES = ("charged", "recovered", "flushed", "open")
METALS = ("copper", "brass", "steel", "stainless_steel", "aluminium", "unknown")
_METAL_LEFT_OUT = (
    "; left out, the usual metal of that place is taken and the sheet says to scrape and look"
)
_LENGTH = keys.QuantityKey("outside", D.LENGTH, 1e-3, 25e-3, "outside diameter of a tube")
_WALL = keys.QuantityKey("wall", D.LENGTH, 2e-4, 3e-3, "wall of a tube")
_LOOP = keys.QuantityKey("frame_loop_length", D.LENGTH, 0.5, 15.0, "length of the door-frame loop")
_KNOWN = ("state", "alternative", "cause", "metals", "joints", "frame_loop_length")


def mending_of(reader: Reader, repair: Table, worth: Table) -> Mending:
    """The mending's record.

    Parameters
    ----------
    reader : Reader
        Of the job file.
    repair, worth : mapping
        Tables as read.

    Returns
    -------
    Mending
        What was found, made and priced. [SI]

    Raises
    ------
    BadInput
        Naming key, what was read, what is accepted, and what happens when it is left out.
    """
    reader.known("repair", repair, _KNOWN)
    fields: dict[str, Any] = {}
    if "state" in repair:
        fields["state"] = reader.choice("repair.state", repair["state"], STATES)
    for name in ("alternative", "cause"):
        if name in repair:
            fields[name] = reader.text(f"repair.{name}", repair[name])
    if "metals" in repair:
        table = reader.table("repair.metals", repair["metals"])
        reader.known("repair.metals", table, keys.SEGMENTS)
        fields["metals"] = tuple(
            (segment, _metal(reader, f"repair.metals.{segment}", raw))
            for segment, raw in table.items()
        )
    if "joints" in repair:
        fields["joints"] = _joints(reader, repair["joints"])
    if "frame_loop_length" in repair:
        fields["frame_loop_length_m"] = reader.quantity(
            "repair.frame_loop_length", repair["frame_loop_length"], _LOOP
        )
    return Mending(**fields, prices=prices_of(reader, "worth", worth))


def prices_of(reader: Reader, section: str, table: Table) -> Prices:
    """Prices of a table, each 0 or more.

    Parameters
    ----------
    reader : Reader
        Of the file.
    section : str
        The table's name, for messages.
    table : mapping
        As read.

    Returns
    -------
    Prices
        Those that are given. [the shop's currency]

    Raises
    ------
    BadInput
        If a key is unknown or a price is no number or negative; says the effect of
        leaving it out.
    """
    reader.known(section, table, WRITTEN)
    return Prices(
        **{WRITTEN[key]: _price(reader, f"{section}.{key}", key, raw) for key, raw in table.items()}
    )


def _price(reader: Reader, path: str, key: str, raw: object) -> float:
    effect = EFFECTS[WRITTEN[key]]
    accepted = f"a number of 0 or more by the unit in its name; left out, {effect}"
    if key == "discount_rate":
        accepted = f"a yearly rate from 0 % to 50 %, such as '3 %'; left out, {effect}"
        known = keys.QuantityKey(key, D.FRACTION, -math.inf, math.inf, "yearly rate")
        value = reader.quantity(path, raw, known)
        if not 0.0 <= value <= 0.5:
            raise reader.fail(path, raw, accepted)
        return value
    if isinstance(raw, str):  # as a form gives it
        try:
            raw = parse(raw, D.NUMBER, file=reader.file, key=path)
        except BadInput:
            raise reader.fail(path, raw, accepted) from None
    number = isinstance(raw, int | float) and not isinstance(raw, bool)
    if not number or not math.isfinite(float(raw)) or float(raw) < 0.0:  # type: ignore[arg-type]
        raise reader.fail(path, raw, accepted)
    return float(raw)  # type: ignore[arg-type]


def _metal(reader: Reader, path: str, raw: object) -> str:
    plain = raw.strip().lower().replace(" ", "_").replace("-", "_") if isinstance(raw, str) else raw
    if plain == "aluminum":
        plain = "aluminium"
    if plain in METALS:
        return str(plain)
    raise reader.fail(path, raw, f"one of {', '.join(METALS)}{_METAL_LEFT_OUT}")


def _joints(reader: Reader, raw: object) -> tuple[JointSeen, ...]:
    wanted = "a list of { place, metals = [a, b], outside = [a, b], wall = [a, b] }"
    if not isinstance(raw, list):
        raise reader.fail("repair.joints", raw, wanted)
    found = []
    for number, item in enumerate(raw, start=1):
        path = f"repair.joints[{number}]"
        table = reader.table(path, item)
        reader.known(path, table, ("place", "metals", "outside", "wall"))
        if "place" not in table:
            raise reader.fail(f"{path}.place", None, wanted)
        place = reader.choice(f"{path}.place", table["place"], keys.PLACES)
        metals = _pair(reader, f"{path}.metals", table.get("metals"))
        both = None
        if metals is not None:
            both = (_metal(reader, f"{path}.metals", metals[0]),
                    _metal(reader, f"{path}.metals", metals[1]))  # fmt: skip
        found.append(
            JointSeen(
                place,
                both,
                _sizes(reader, f"{path}.outside", table.get("outside"), _LENGTH),
                _sizes(reader, f"{path}.wall", table.get("wall"), _WALL),
            )
        )
    return tuple(found)


def _pair(reader: Reader, path: str, raw: object) -> tuple[object, object] | None:
    if raw is None:
        return None
    if isinstance(raw, list) and len(raw) == 2:
        return raw[0], raw[1]
    raise reader.fail(path, raw, "a list of two, one for each tube")


def _sizes(
    reader: Reader, path: str, raw: object, key: keys.QuantityKey
) -> tuple[float, float] | None:
    pair = _pair(reader, path, raw)
    if pair is None:
        return None
    return reader.quantity(path, pair[0], key), reader.quantity(path, pair[1], key)

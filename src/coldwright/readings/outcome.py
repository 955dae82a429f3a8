"""Table [outcome] of a job file: what was found in the end, and how it is known."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from coldwright.faults.registry import FAULTS
from coldwright.readings import keys
from coldwright.readings.reader import Reader, Table
from coldwright.units import Dimension as D

# Faults that can be found
FINDABLE = tuple(FAULTS)
# Only opening, or a repair that held, shows what was wrong inside the sealed circuit.
INSIDE = frozenset(name for name, fault in FAULTS.items() if fault.sealed)
PROVEN_BY: Mapping[str, str] = MappingProxyType(
    {
        "opened": "opened and found",
        "repaired_and_held": "repaired, and it held",
        "seen": "seen from outside",
    }
)
_PART = keys.QuantityKey("severity", D.FRACTION, 0.0, 2.0, "severity, as in the glossary")
_WATT = keys.QuantityKey("severity", D.POWER, 0.0, 1000.0, "heat above normal")
_BY_UNIT = {"fraction": _PART, "W": _WATT}
_SEVERITY: Mapping[str, keys.QuantityKey] = MappingProxyType(
    {n: _BY_UNIT[f.unit] for n, f in FAULTS.items() if f.unit in _BY_UNIT}
)
_KNOWN = ("found", "severity", "proven_by", "date")


@dataclass(frozen=True, slots=True)
class Outcome:
    """What was found. `found` is one fault, or two for a pair; `severity` is SI."""

    found: tuple[str, ...]
    proven_by: str
    severity: float | None = None
    date: str = ""  # ISO 8601, empty where not given


def outcome_of(reader: Reader, table: Table) -> Outcome | None:
    """The outcome's record; None where the table is absent or empty.

    Parameters
    ----------
    reader : Reader
        Of the job file.
    table : mapping
        As read.

    Raises
    ------
    BadInput
        Naming the key, what was read and what is accepted.
    """
    reader.known("outcome", table, _KNOWN)
    if not table:
        return None
    found = _found(reader, table.get("found"))
    if "proven_by" not in table:
        raise reader.fail("outcome.proven_by", None, "one of " + ", ".join(PROVEN_BY))
    proven_by = reader.choice("outcome.proven_by", table["proven_by"], PROVEN_BY)
    severity = None
    if "severity" in table:
        key = _SEVERITY.get(found[0]) if len(found) == 1 else None
        if key is None:
            raise reader.fail(
                "outcome.severity", table["severity"], f"no severity beside {' and '.join(found)}"
            )
        severity = reader.quantity("outcome.severity", table["severity"], key)
    date = _date(reader, table["date"]) if "date" in table else ""
    return Outcome(found, proven_by, severity, date)


def _found(reader: Reader, raw: object) -> tuple[str, ...]:
    wanted = "a fault such as 'undercharge', or a list of two"
    if raw is None:
        raise reader.fail("outcome.found", None, wanted)
    items: list[Any] = raw if isinstance(raw, list) else [raw]
    if not 1 <= len(items) <= 2:
        raise reader.fail("outcome.found", raw, wanted)
    found = tuple(reader.choice("outcome.found", item, FINDABLE) for item in items)
    if len(found) == 2 and (found[0] == found[1] or "nothing_wrong" in found):
        raise reader.fail("outcome.found", ", ".join(found), "two different faults")
    return found


def _date(reader: Reader, raw: object) -> str:
    wanted = "a date such as 2026-05-12"
    if isinstance(raw, datetime.datetime):
        return raw.date().isoformat()
    if isinstance(raw, datetime.date):
        return raw.isoformat()
    try:
        return datetime.date.fromisoformat(reader.text("outcome.date", raw).strip()).isoformat()
    except ValueError:
        raise reader.fail("outcome.date", raw, wanted) from None

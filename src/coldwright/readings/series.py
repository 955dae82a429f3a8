"""A log of readings over time, as a logger exports it: CSV, the unit in each column's head.

``time [min], freezer_temperature [°C], appliance_power [W]`` and lines of numbers; or ``time``
alone over ISO 8601 stamps such as 2026-05-12 14:30. Fields split by comma, semicolon or tab; with
the latter two a decimal comma will do. A cell may be empty.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import numpy as np

from coldwright.errors import BadInput, nearest, one_line
from coldwright.last_net import readable
from coldwright.plain_file import read_plain
from coldwright.readings.keys import READINGS
from coldwright.units import Dimension as D
from coldwright.units import parse

_POWERS = ("appliance_power", "compressor_power", "appliance_current", "compressor_current")
LOGGED = (
    *(key for key, known in READINGS.items() if known.dimension is D.TEMPERATURE),
    *_POWERS,
)
EXAMPLE = "time [min], freezer_temperature [°C]"
LONGEST = 200_000  # lines
_LARGEST_BYTES = 50_000_000
_HEAD = re.compile(r"\s*([a-z_]+)\s*(?:[\[(]([^\])]+)[\])])?\s*", re.IGNORECASE)
_SLASHES = re.compile(r"^(\d{4})/(\d{2})/(\d{2})")


@dataclass(frozen=True, slots=True)
class Column:
    """One reading over time; NaN where a line has none. `unit` is the head's."""

    key: str
    values: np.ndarray  # SI
    unit: str


@dataclass(frozen=True, slots=True)
class Series:
    """A log. `started` is the first line's stamp, empty where the times are elapsed ones."""

    source: str
    started: str
    time_s: np.ndarray  # rising
    columns: tuple[Column, ...]

    def column(self, key: str) -> Column | None:
        """The column of that reading, None where it was not logged."""
        return next((c for c in self.columns if c.key == key), None)

    def values(self, key: str) -> np.ndarray:
        """Values of a reading; NaN all along where it was not logged. [SI]"""
        found = self.column(key)
        return np.full(self.time_s.shape, np.nan) if found is None else found.values


def load_series(path: Path) -> Series:
    """Read a log.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    Series
        Times from its first line [s] and the columns. [SI]

    Raises
    ------
    BadInput
        If the file, a head or a number cannot be used; names file, line and column.
    """
    source = readable(str(path))
    try:
        text = read_plain(path, _LARGEST_BYTES, "a CSV file in UTF-8").decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadInput(source, "", one_line(str(error)), "a CSV file in UTF-8") from None
    return series_from_text(text, source)


def series_from_text(text: str, source: str) -> Series:
    """A log from its text.

    Parameters
    ----------
    text : str
        The whole file.
    source : str
        Name for messages.

    Returns
    -------
    Series
        Times from its first line [s] and the columns. [SI]

    Raises
    ------
    BadInput
        As `load_series`.
    """
    rows = text.removeprefix("\ufeff").replace("\0", "?").splitlines()
    separator = next((s for s in ("\t", ";") if rows and s in rows[0]), ",")
    try:
        lines = list(csv.reader(rows, delimiter=separator))
    except csv.Error as error:
        raise BadInput(source, "", one_line(str(error)), "a CSV file in UTF-8") from None
    if not lines:
        raise BadInput(source, "", "nothing", f"a head such as '{EXAMPLE}' and lines of numbers")
    heads = [_head(source, cell) for cell in lines[0]]
    names = [name for name, _ in heads]
    if "time" not in names or len(names) < 2 or len(set(names)) < len(names):
        read = ", ".join(names) or "nothing"
        raise BadInput(source, "head", read, f"time and a reading, each once: '{EXAMPLE}'")
    if len(lines) - 1 > LONGEST:
        raise BadInput(source, "", f"{len(lines) - 1} lines", f"at most {LONGEST}")
    table = list(_cells(source, lines, len(heads)))
    numbers = [number for number, _ in table]
    at = names.index("time")
    stamps = [cells[at] for _, cells in table]
    times, started = _times(source, numbers, stamps, heads[at][1])
    decimal_comma = separator != ","
    columns = tuple(
        Column(name, _values(source, numbers, (c[i] for _, c in table), name, unit,
                             decimal_comma), unit)
        for i, (name, unit) in enumerate(heads)
        if i != at
    )  # fmt: skip
    return Series(source, started, times, columns)


def _head(source: str, cell: str) -> tuple[str, str]:
    found = _HEAD.fullmatch(cell)
    name = found[1].lower() if found else cell.strip()
    unit = (found[2] or "").strip() if found else ""
    if found is None or (name != "time" and (name not in LOGGED or not unit)):
        known = ("time", *LOGGED)
        suggestion = None if name in known else nearest(name, known)
        near = suggestion or "freezer_temperature"
        accepted = f"time and readings with their unit, such as '{near} [unit]'"
        raise BadInput(source, "head", f"'{one_line(cell)}'", accepted, suggestion)
    return name, unit


def _cells(source: str, lines: list[list[str]], wide: int) -> Iterable[tuple[int, list[str]]]:
    for number, cells in enumerate(lines[1:], start=2):
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) != wide:
            where = f"line {number}"
            raise BadInput(source, where, f"{len(cells)} columns", f"{wide} as in the head")
        yield number, cells


def _times(source: str, numbers: list[int], cells: list[str], unit: str) -> tuple[np.ndarray, str]:
    """Times in seconds, and the first stamp where they are stamps."""
    started = ""
    if unit and unit.lower() not in ("iso", "iso 8601", "utc"):
        times = _values(source, numbers, cells, "time", unit, True)
    else:
        stamps = [_stamp(source, n, cell) for n, cell in zip(numbers, cells, strict=True)]
        aware = {stamp.tzinfo is not None for stamp in stamps}
        if len(aware) > 1:
            raise BadInput(
                source, "time", "stamps with and without a time zone", "one kind throughout"
            )
        started = stamps[0].isoformat(sep=" ") if stamps else ""
        times = np.array([(stamp - stamps[0]).total_seconds() for stamp in stamps])
    if len(times) < 2:
        read = "1 line" if len(times) == 1 else "no line"
        raise BadInput(source, "time", read, "two lines or more, time rising")
    for i, gap in enumerate(np.diff(times)):
        if not gap > 0.0:
            read = f"'{one_line(cells[i + 1])}' after '{one_line(cells[i])}'"
            raise BadInput(source, f"line {numbers[i + 1]}, time", read, "time rising")
    return times, started


def _stamp(source: str, line: int, cell: str) -> datetime:
    try:
        return datetime.fromisoformat(_SLASHES.sub(r"\1-\2-\3", cell.strip()))
    except ValueError:
        accepted = "a stamp such as 2026-05-12 14:30, or time [min] in the head and numbers"
        read = f"'{one_line(cell)}'"
        raise BadInput(source, f"line {line}, time", read, accepted) from None


def _values(
    source: str,
    numbers: list[int],
    cells: Iterable[str],
    name: str,
    unit: str,
    decimal_comma: bool,
) -> np.ndarray:
    """A column in SI; the unit is parsed once, since every unit here is a scale and an origin."""
    dimension = D.TIME if name == "time" else READINGS[name].dimension
    try:
        origin = parse(f"0 {unit}", dimension)
        worth = parse(f"1 {unit}", dimension) - origin
    except BadInput:
        accepted = f"a unit for {dimension.words} such as in {dimension.example}"
        raise BadInput(source, f"head, {name}", f"[{one_line(unit)}]", accepted) from None
    low, high = (
        (-math.inf, math.inf) if name == "time" else (READINGS[name].low, READINGS[name].high)
    )
    out = np.full(len(numbers), np.nan)
    for i, cell in enumerate(cells):
        text = cell.strip().replace("−", "-")
        if not text and name != "time":
            continue
        try:
            value = float(text.replace(",", ".") if decimal_comma else text) * worth + origin
        except ValueError:
            value = math.nan
        if not (math.isfinite(value) and low <= value <= high):
            read = f"'{one_line(cell)}'" if text else "nothing"
            accepted = f"a number in {unit} that can be {READINGS[name].label}" if (
                name != "time") else f"a time in {unit}"  # fmt: skip
            raise BadInput(source, f"line {numbers[i]}, {name}", read, accepted)
        out[i] = value
    return out

"""A log of a pressure or vacuum hold: text or two points -> SI points with what is wrong with them.

One line of names (`time`, `pressure` and perhaps `temperature`), each with its unit in
brackets or a unit in every cell; fields split by comma, semicolon or tab; `#` starts a comment.
Time is elapsed (`12 min`), a clock (`14:35`) or a date with a clock.
"""

from __future__ import annotations

import itertools
import re
import statistics
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from coldwright.errors import BadInput, one_line
from coldwright.plain_file import read_plain
from coldwright.units import STANDARD_ATMOSPHERE_PA, Basis, Dimension, parse, parse_pressure

COLUMNS = ("time", "pressure", "temperature")
_WANTED = "a log: a line of names (time, pressure, temperature), then one line for each reading"
_HEAD = re.compile(r"\s*([A-Za-z_]+)\s*(?:[\[(]([^\])]*)[\])])?\s*")
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?::(\d{2}))?")
_BARE = re.compile(r"[-+−]?\d+(?:[.,]\d+)?(?:[eE][-+]?\d+)?")
_UNIT_JUMPS = (14.504, 10.0, 100.0, 1000.0)  # psi in bar, and powers of ten
_JUMP_WITHIN = 0.03
_GAP = 5.0  # times the usual step; ours
_DAY_S = 86_400.0
_LARGEST_BYTES = 5_000_000


@dataclass(frozen=True, slots=True)
class HoldLog:
    """Readings in order of time. `temperatures_k` is empty where none was logged."""

    source: str
    times_s: tuple[float, ...]  # from the first
    pressures_pa: tuple[float, ...]  # absolute
    temperatures_k: tuple[float, ...] = ()
    gauge: bool = False  # read as gauge: the air pressure's own changes are in it
    gaps_s: tuple[tuple[float, float], ...] = ()  # from, to
    notes: tuple[str, ...] = field(default=())

    @property
    def span_s(self) -> float:
        """Time from the first reading to the last [s]."""
        return self.times_s[-1] - self.times_s[0]

    def part(self, start_s: float, end_s: float) -> HoldLog:
        """The readings of a stretch of time, without the rest.

        Parameters
        ----------
        start_s : float
            From. [s]
        end_s : float
            To. [s]
        """
        keep = [i for i, t in enumerate(self.times_s) if start_s <= t <= end_s]
        first = self.times_s[keep[0]] if keep else 0.0
        return HoldLog(
            self.source,
            tuple(self.times_s[i] - first for i in keep),
            tuple(self.pressures_pa[i] for i in keep),
            tuple(self.temperatures_k[i] for i in keep) if self.temperatures_k else (),
            self.gauge,
            (),
            self.notes,
        )


def load_hold_log(path: Path, ambient_pa: float = STANDARD_ATMOSPHERE_PA) -> HoldLog:
    """Read a log file.

    Parameters
    ----------
    path : Path
        The file.
    ambient_pa : float
        Air pressure that gauge pressures are counted from. [Pa]

    Returns
    -------
    HoldLog
        Times from its first reading [s], absolute pressures [Pa], temperatures [K].

    Raises
    ------
    BadInput
        Naming file, line, what was read and what is accepted.
    """
    file = str(path)
    data = read_plain(path, _LARGEST_BYTES, _WANTED)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise BadInput(file, "", "bytes that are no UTF-8 text", _WANTED) from None
    if not text.strip() or "\0" in text:
        raise BadInput(file, "", "a binary file" if "\0" in text else "an empty file", _WANTED)
    return hold_log_from_text(text, file, ambient_pa)


def hold_log_from_text(
    text: str, source: str, ambient_pa: float = STANDARD_ATMOSPHERE_PA
) -> HoldLog:
    r"""A log from its text.

    Parameters
    ----------
    text : str
        The whole file.
    source : str
        Name for messages.
    ambient_pa : float
        Air pressure that gauge pressures are counted from. [Pa]

    Returns
    -------
    HoldLog
        As `load_hold_log`.

    Raises
    ------
    BadInput
        As `load_hold_log`.

    Examples
    --------
    >>> log = hold_log_from_text("time [min],pressure [bar]\n0,5.00\n10,4.99\n", "hall.csv")
    >>> log.times_s
    (0.0, 600.0)
    """
    rows = list(_rows(text))
    if not rows:
        raise BadInput(source, "", "no line", _WANTED)
    separator = next((s for s in ("\t", ";", ",") if s in rows[0][1]), ",")
    columns = _columns(source, rows[0], separator)
    table = [(n, _cells(source, n, line, separator, len(columns))) for n, line in rows[1:]]
    if len(table) < 2:
        raise BadInput(source, "", f"{len(table)} readings", "at least two readings")
    place = {name: i for i, (name, _) in enumerate(columns)}
    units = dict(columns)
    notes: list[str] = []
    cells = {name: [(n, row[i]) for n, row in table] for name, i in place.items()}
    pressures, gauge = _pressures(source, cells["pressure"], units["pressure"], ambient_pa, notes)
    temperatures: list[float] = []
    if "temperature" in cells and any(c for _, c in cells["temperature"]):
        temperatures = _temperatures(source, cells["temperature"], units["temperature"])
    times = _times(source, cells["time"], units["time"])
    keep = _longest_run(times, [n for n, _ in table], notes)
    if keep.stop - keep.start < 2:
        raise BadInput(
            source, "time", "a clock that never runs forward", "readings in the order of time"
        )
    first = times[keep.start]
    chosen = [t - first for t in times[keep]]
    return HoldLog(
        source,
        tuple(chosen),
        tuple(pressures[keep]),
        tuple(temperatures[keep]),
        gauge,
        tuple(_gaps(chosen, notes)),
        tuple(notes),
    )


def _rows(text: str) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(text.splitlines(), start=1):
        plain = line.partition("#")[0].strip()
        if plain:
            yield number, plain


def _columns(source: str, row: tuple[int, str], separator: str) -> list[tuple[str, str]]:
    columns = []
    for cell in row[1].split(separator):
        match = _HEAD.fullmatch(cell)
        name = match[1].lower() if match else ""
        if match is None or name not in COLUMNS:
            read = f"'{one_line(cell.strip())}'"
            raise BadInput(source, f"line {row[0]}", read, "names out of " + ", ".join(COLUMNS))
        columns.append((name, (match[2] or "").strip()))
    names = [name for name, _ in columns]
    for name in ("time", "pressure"):
        if names.count(name) != 1:
            read = f"{names.count(name)} columns named {name}"
            raise BadInput(source, f"line {row[0]}", read, _WANTED)
    return columns


def _cells(source: str, number: int, line: str, separator: str, wanted: int) -> list[str]:
    cells = [cell.strip() for cell in line.split(separator)]
    if len(cells) != wanted:
        read = f"{len(cells)} fields"
        raise BadInput(source, f"line {number}", read, f"{wanted} fields, as the first line names")
    return cells


def _with_unit(source: str, where: str, cell: str, unit: str, example: str) -> str:
    """The cell with the column's unit; a cell with a unit of its own beside it is refused."""
    bare = _BARE.fullmatch(cell) is not None
    if bare and unit:
        return f"{cell} {unit}"
    if not bare and unit and not cell.endswith(unit):
        raise BadInput(source, where, f"'{one_line(cell)}'", f"a number in {unit}, as the column")
    if bare:
        accepted = f"a unit in the first line, such as {example}, or in every cell"
        raise BadInput(source, where, f"'{cell}', a number without a unit", accepted)
    return cell


def _same_unit(source: str, column: str, written: list[tuple[int, str]]) -> None:
    """Refuse a column whose cells carry different units."""
    units = [(n, _BARE.sub("", cell, count=1).replace(" ", "").lower()) for n, cell in written]
    first = units[0][1]
    for (number, unit), (_, cell) in zip(units, written, strict=True):
        if unit != first:
            raise BadInput(
                source,
                f"line {number}: {column}",
                f"'{one_line(cell)}' in a column that began in {first}",
                "one unit in the whole column",
            )


def _pressures(
    source: str, cells: list[tuple[int, str]], unit: str, ambient_pa: float, notes: list[str]
) -> tuple[list[float], bool]:
    example = "'pressure [bar gauge]'"
    written = [(n, _with_unit(source, f"line {n}: pressure", c, unit, example)) for n, c in cells]
    _same_unit(source, "pressure", written)
    found, basis, before = [], Basis.ABSOLUTE, None
    for number, text in written:
        where = f"line {number}: pressure"
        read = parse_pressure(text, ambient_pa=ambient_pa, file=source, key=where)
        above = read.pascal_absolute > 1.2 * ambient_pa
        if above and before is not None and _looks_like_another_unit(before, text):
            raise BadInput(
                source, where, f"'{text}' after '{before}'",
                "one unit in the whole column: this looks like another one",
            )  # fmt: skip
        before = text if above or before is None else before
        basis = read.basis
        found.append(read.pascal_absolute)
    if basis is Basis.GAUGE_ASSUMED:
        notes.append("Pressures without a word are taken as gauge.")
    return found, basis is not Basis.ABSOLUTE


def _looks_like_another_unit(before: str, now: str) -> bool:
    numbers = [_BARE.match(text) for text in (before, now)]
    if numbers[0] is None or numbers[1] is None:
        return False
    first, last = (abs(float(n[0].replace(",", ".").replace("−", "-"))) for n in numbers if n)
    if min(first, last) <= 0.0:
        return False
    ratio = max(first, last) / min(first, last)
    return any(abs(ratio / jump - 1.0) < _JUMP_WITHIN for jump in _UNIT_JUMPS)


def _temperatures(source: str, cells: list[tuple[int, str]], unit: str) -> list[float]:
    example = "'temperature [°C]'"
    written = []
    for n, cell in cells:
        where = f"line {n}: temperature"
        if not cell:
            raise BadInput(source, where, "nothing", "a temperature in every line, or in none")
        written.append((n, _with_unit(source, where, cell, unit, example)))
    _same_unit(source, "temperature", written)
    found = []
    for n, text in written:
        where = f"line {n}: temperature"
        value = parse(text, Dimension.TEMPERATURE, file=source, key=where)
        if not 258.0 <= value <= 328.0:
            raise BadInput(
                source, where, f"'{one_line(text)}'", "-15 to 55 °C where a hold is made"
            )
        found.append(value)
    return found


def _times(source: str, cells: list[tuple[int, str]], unit: str) -> list[float]:
    found: list[float] = []
    days, clock_before = 0, None
    for n, cell in cells:
        where = f"line {n}: time"
        clock = _CLOCK.fullmatch(cell)
        if clock is not None and unit == "":
            hours, minutes, seconds = (int(g or 0) for g in clock.groups())
            if hours > 23 or minutes > 59 or seconds > 59:
                raise BadInput(source, where, f"'{cell}'", "a clock from 00:00 to 23:59")
            now = hours * 3600.0 + minutes * 60.0 + seconds
            if clock_before is not None and now < clock_before - _DAY_S / 2.0:
                days += 1  # past midnight
            clock_before = now
            found.append(now + days * _DAY_S)
            continue
        try:
            stamp = datetime.fromisoformat(cell) if "-" in cell and ":" in cell else None
        except ValueError:
            stamp = None
        if stamp is not None:
            found.append(stamp.timestamp())
            continue
        text = _with_unit(source, where, cell, unit, "'time [min]'")
        found.append(parse(text, Dimension.TIME, file=source, key=where))
    return found


def _longest_run(times: list[float], lines: list[int], notes: list[str]) -> slice:
    """The longest stretch in which the clock runs forward; says what is left out."""
    cuts = [i for i in range(1, len(times)) if times[i] <= times[i - 1]]
    if not cuts:
        return slice(0, len(times))
    edges = [0, *cuts, len(times)]
    start, stop = max(itertools.pairwise(edges), key=lambda e: times[e[1] - 1] - times[e[0]])
    where = ", ".join(str(lines[i]) for i in cuts[:3])
    notes.append(
        f"The clock was set back or stood still (line {where}): how long lies between the parts "
        f"is not known, so only lines {lines[start]} to {lines[stop - 1]} are read."
    )
    return slice(start, stop)


def _gaps(times: list[float], notes: list[str]) -> Iterator[tuple[float, float]]:
    steps = [b - a for a, b in itertools.pairwise(times)]
    if len(steps) < 4:
        return
    usual = statistics.median(steps)
    for start, step in zip(times, steps, strict=False):
        if step > _GAP * usual:
            notes.append(
                f"Nothing was logged for {step / 60.0:.0f} min from {start / 60.0:.0f} min on: "
                "what happened then (a valve, a knock, a warm spell) cannot be seen."
            )
            yield start, start + step

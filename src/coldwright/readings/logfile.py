"""A log of temperatures over time, as a logger exports it: CSV, the unit in each column's head.

``time [min], fresh_food_temperature [°C], freezer_temperature [°C]`` and lines of numbers.
"""

from __future__ import annotations

import csv
import math
import re
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from coldwright.errors import BadInput, nearest, one_line
from coldwright.units import Dimension as D
from coldwright.units import parse

COLUMNS = {
    "time": D.TIME,
    "fresh_food_temperature": D.TEMPERATURE,
    "freezer_temperature": D.TEMPERATURE,
}
EXAMPLE = "time [min], freezer_temperature [°C]"
LONGEST = 200_000  # lines
_HEAD = re.compile(r"\s*([a-z_]+)\s*\[([^\]]+)\]\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Log:
    """Logged temperatures; NaN where a line or a column has none."""

    source: str
    time_s: tuple[float, ...]
    fresh_food_k: tuple[float, ...]
    freezer_k: tuple[float, ...]


def load_log(path: Path) -> Log:
    """Read a log.

    Raises
    ------
    BadInput
        If the file, a head or a number cannot be used; names file, line and column.
    """
    source = str(path)
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise BadInput(source, "", one_line(str(error)), "a CSV file in UTF-8") from error
    lines = list(csv.reader(text.splitlines()))
    if not lines:
        raise BadInput(source, "", "nothing", f"a head such as '{EXAMPLE}' and lines of numbers")
    heads = [_head(source, cell) for cell in lines[0]]
    names = [name for name, _ in heads]
    if "time" not in names or len(names) < 2 or len(set(names)) < len(names):
        read = ", ".join(names) or "nothing"
        raise BadInput(source, "head", read, f"time and a temperature, each once: '{EXAMPLE}'")
    if len(lines) - 1 > LONGEST:
        raise BadInput(source, "", f"{len(lines) - 1} lines", f"at most {LONGEST}")
    columns: dict[str, list[float]] = {name: [] for name in names}
    for number, cells in enumerate(lines[1:], start=2):
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) != len(heads):
            where = f"line {number}"
            raise BadInput(source, where, f"{len(cells)} columns", f"{len(heads)} as in the head")
        for (name, unit), cell in zip(heads, cells, strict=True):
            columns[name].append(_number(source, number, name, unit, cell))
    times = columns["time"]
    if len(times) < 2 or any(b <= a for a, b in pairwise(times)):
        raise BadInput(source, "time", f"{len(times)} lines", "two lines or more, time rising")
    empty = [math.nan] * len(times)
    return Log(
        source, tuple(times), tuple(columns.get("fresh_food_temperature", empty)),
        tuple(columns.get("freezer_temperature", empty)),
    )  # fmt: skip


def _head(source: str, cell: str) -> tuple[str, str]:
    found = _HEAD.fullmatch(cell)
    name = found[1].lower() if found else cell.strip()
    if found is None or name not in COLUMNS:
        accepted = "columns " + ", ".join(f"{n} [unit]" for n in COLUMNS)
        raise BadInput(source, "head", f"'{one_line(cell)}'", accepted, nearest(name, COLUMNS))
    return name, found[2].strip()


def _number(source: str, line: int, name: str, unit: str, cell: str) -> float:
    key = f"line {line}, {name}"
    if not cell.strip():
        if name == "time":
            raise BadInput(source, key, "nothing", "a time")
        return math.nan
    return parse(f"{cell.strip()} {unit}", COLUMNS[name], file=source, key=key)

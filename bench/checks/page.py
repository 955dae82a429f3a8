"""docs/checks.md from the rows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from functools import cache
from pathlib import Path

from bench.checks import (
    capillary,
    charge,
    closures,
    compressor,
    doubt,
    faults,
    gas,
    hours,
    loops,
    properties,
    simple_cycle,
    unmodelled,
)
from bench.checks.row import Known, Part, Row, Verdict

PAGE = Path(__file__).parents[2] / "docs" / "checks.md"
DIAGRAM, ALONG = "figures/hall-pressure-enthalpy.svg", "figures/hall-along-the-tube.svg"
MODULES = (
    charge, faults, gas, loops, hours, compressor, capillary, closures, properties, simple_cycle,
    doubt, unmodelled,
)  # fmt: skip
# A row that only says a formula was written down right, or a table read right
OF_ARITHMETIC = (Known.COMPUTED,)


@cache
def all_parts() -> tuple[Part, ...]:
    """Every part of the page, computed once."""
    return tuple(part for module in MODULES for part in module.parts())


def all_rows() -> tuple[Row, ...]:
    """Every row of every part."""
    return tuple(row for part in all_parts() for row in part.rows)


def page(parts: Iterable[Part]) -> str:
    """The whole page."""
    parts = tuple(parts)
    rows = tuple(row for part in parts for row in part.rows)
    lines = [
        "# What the model is held to",
        "",
        "Published figures beside what the model gives, shown whether they "
        "flatter it or not. `make checks` writes this page; a test computes it again. The rows "
        "that are firm stand in `tests/golden/test_held_to.py` with their source.",
        "",
        "**No measured household appliance is among them.** Most figures about whole appliances "
        "are end points read in abstracts: the machine behind them is known only in part, so "
        "signs are held firmly and sizes are told. Where a band is marked *ours* nobody "
        "published one.",
        "",
        *_summary(rows),
        "",
        "## What is unkind",
        "",
        *_unkind(rows),
    ]
    lines += [
        "",
        "## One of the appliances",
        "",
        "The R134a top mount most sizes are told of (invented), in health. Lines join the "
        "places the result holds; dotted across the shell and the capillary, where the way between "
        "them is not a straight one.",
        "",
        f"![Pressure and enthalpy of the running circuit]({DIAGRAM})",
        "",
        f"![Temperatures along the tube]({ALONG})",
    ]
    for part in parts:
        lines += [
            "",
            f"## {part.title}",
            "",
            part.words,
            "",
            *_table(part.rows),
            *_notes(part.rows),
        ]
    return "\n".join(lines) + "\n"


def _summary(rows: tuple[Row, ...]) -> list[str]:
    count = Counter(
        (row.verdict, row.source.known in OF_ARITHMETIC) for row in rows
    )  # of (verdict, arithmetic)
    lines = ["| | kind | unkind | not yet |", "|---|---|---|---|"]
    for label, arithmetic in (
        ("published figures, texts and common practice", False),
        ("reference libraries and another hand's arithmetic", True),
    ):
        cells = [str(count[v, arithmetic]) for v in Verdict]
        lines.append(f"| {label} | {' | '.join(cells)} |")
    return lines


def _unkind(rows: tuple[Row, ...]) -> list[str]:
    by_note: dict[str, list[Row]] = {}
    for row in rows:
        if row.verdict is Verdict.UNKIND:
            by_note.setdefault(row.note, []).append(row)
    lines = []
    for note, bad in by_note.items():
        told = "; ".join(
            f"**{row.held}**: published {row.published}, ours {_ours(row)}" for row in bad
        )
        lines.append(f"- {told}. {note}".rstrip())
    return lines or ["Nothing."]


def _ours(row: Row) -> str:
    return f"off by {row.deviation}" if row.ours == "see deviation" else row.ours


def _table(rows: tuple[Row, ...]) -> list[str]:
    if all(row.verdict is Verdict.NOT_YET for row in rows):
        return _missing(rows)
    lines = [
        "| what is held | source (how known) | published | ours | deviation | allowed | verdict |",
        "|---|---|---|---|---|---|---|",
    ]
    for row in rows:
        cells = (
            row.held, _source(row), row.published, row.ours, row.deviation,
            row.allowed, row.verdict.value,
        )  # fmt: skip
        lines.append("| " + " | ".join(cells) + " |")
    return lines


def _missing(rows: tuple[Row, ...]) -> list[str]:
    lines = ["| what is wanted | source (how known) | published | why not |", "|---|---|---|---|"]
    for row in rows:
        lines.append(f"| {row.held} | {_source(row)} | {row.published} | {row.note} |")
    return lines


def _source(row: Row) -> str:
    plain = row.source.known in (Known.PRACTICE, Known.NOTHING)
    return row.source.text if plain else f"{row.source.text} ({row.source.known.value})"


def _notes(rows: tuple[Row, ...]) -> list[str]:
    """Notes of kind rows; those of unkind rows stand at the top."""
    told = [row for row in rows if row.note and row.verdict is Verdict.KIND]
    return ["", *(f"- {row.held}: {row.note}" for row in told)] if told else []

"""Sections of a report as lines for a terminal."""

from __future__ import annotations

from collections.abc import Iterable

from coldwright.cli.text import items, table, wrapped
from coldwright.words.report import (
    Barred,
    Blanks,
    Caution,
    Chances,
    Facts,
    Heading,
    Part,
    Points,
    Section,
    Step,
    Table,
    Text,
    Way,
)


def report_lines(sections: Iterable[Section]) -> list[str]:
    """Lines of at most `text.WIDTH` characters, a blank one before each section.

    Parameters
    ----------
    sections : iterable of Section
        What is told.

    Returns
    -------
    list of str
        Lines.
    """
    lines: list[str] = []
    for one in sections:
        lines += ["", *wrapped(one.title.upper())]
        lines += [line for part in one.parts for line in _part(part)]
    return lines


def _part(part: Part) -> list[str]:
    match part:
        case Text(text=text):
            return wrapped(text)
        case Points(lines=lines):
            return items(lines)
        case Facts(rows=rows):
            return table((row.name, row.value) for row in rows)
        case Chances(rows=rows):
            return table((row.name, row.figure) for row in rows)
        case Heading(text=text, note=note):
            return wrapped(f"{text}: {note}" if note else text, first="* ")
        case Caution(title=title, lines=lines):
            return [*(wrapped(title, first="! ") if title else []), *items(lines, "! ")]
        case Barred(lines=lines):
            return items(lines, "NOT ")
        case Way():
            return _choice(part)
        case Step():
            return _step(part)
        case Table():
            return _columns((part.heads, *part.rows))
        case Blanks(names=names):
            return [f"{name}: {'_' * 20}" for name in names]


def _choice(one: Way) -> list[str]:
    named = f"{one.name}: {one.figure}" if one.figure else one.name
    told = " ".join((*one.lines, *one.details))
    return [*wrapped(named, first="* "), *wrapped(told, first="  "),
            *table(((f.name, f.value) for f in one.facts), "  ")]  # fmt: skip


def _columns(rows: tuple[tuple[str, ...], ...]) -> list[str]:
    """Columns as wide as their widest cell, set to the right; the last one to the left."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  ".join((*(c.rjust(w) for c, w in zip(row[:-1], widths, strict=False)), row[-1]))
        for row in rows
    ]


def _step(one: Step) -> list[str]:
    done = "done already, " if one.done else ""
    lines = wrapped(f"{one.title} ({done}{one.time})", first=f"{one.number}. ")
    warned = [text for c in one.cautions for text in (c.title, *c.lines) if text]
    lines += [line for text in warned for line in wrapped(text, first="   ! ")]
    lines += [line for text in one.do for line in wrapped(text, first="   - ")]
    for name, value in (("tools", one.tools), ("HOLD", one.hold), ("source", one.source)):
        if value:
            lines += wrapped(f"{name}: {value}", first="   ")
    return lines

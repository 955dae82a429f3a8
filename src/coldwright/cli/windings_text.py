"""What the pins and parts say, as short text: dangers first."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from coldwright.cli import words
from coldwright.cli.text import capital, items, percent, table, wrapped
from coldwright.units import Dimension as D
from coldwright.units import System, show

if TYPE_CHECKING:
    from coldwright.diagnosis.windings_answer import WindingsAnswer
    from coldwright.electrical.pins import Pins


def windings_lines(answer: WindingsAnswer, system: System) -> list[str]:
    """Lines of at most `text.WIDTH` characters.

    Parameters
    ----------
    answer : WindingsAnswer
        What came of it.
    system : System
        Units for a temperature.
    """
    lines = ["CAUTION", *items(answer.cautions, "! ")]
    if answer.namings:
        lines += ["", "PINS"]
        for pins in answer.namings:
            lines += _pins(pins, len(answer.namings) > 1)
    lines += _numbers(answer, system)
    if answer.findings:
        lines += ["", "PARTS"]
        for f in answer.findings:
            told = f"{capital(f.name)}: {f.sentence} ({percent(f.probability)})"
            lines += wrapped(told, first="- ")
    kinds = ", ".join(f"{words.plain(k.which)} {percent(k.probability)}" for k in answer.which)
    lines += ["", "IF IT DOES NOT RUN", *wrapped(capital(kinds))]
    if answer.notes:
        lines += ["", "NOTES", *items(answer.notes)]
    if answer.next_checks:
        lines += ["", "READ NEXT"]
        for number, check in enumerate(answer.next_checks, start=1):
            title = f"{capital(words.plain(check.check))} ({check.minutes:.0f} min)"
            lines += [*wrapped(title, first=f"{number}. "), *wrapped(check.how, first="   ")]
            further = [c for c in check.cautions if c not in answer.cautions]
            lines += [line for c in further for line in wrapped(c, first="   ! ")]
    return lines


def _pins(pins: Pins, several: bool) -> list[str]:
    if not pins.common:
        return wrapped(capital(pins.pattern.value) + ".")
    odds = f" ({percent(pins.probability)})" if several else ""
    head = f"Common {pins.common}, run {pins.run}, start {pins.start}{odds}"
    rows = (
        ("Run", pins.run_ohm, "run"),
        ("Start", pins.start_ohm, "start"),
        ("Run to start", pins.run_to_start_ohm, "run_to_start"),
    )
    told = (
        (name, show(ohm, D.RESISTANCE) + (", computed" if pins.computed == key else ""))
        for name, ohm, key in rows
    )
    return [head, *table(told, "  ")]


def _numbers(answer: WindingsAnswer, system: System) -> list[str]:
    rows = []
    for name, value, dimension in (
        ("Run at 20 °C", answer.run_at_20c_ohm, D.RESISTANCE),
        ("Start at 20 °C", answer.start_at_20c_ohm, D.RESISTANCE),
        ("Winding, mean", answer.mean_winding_temperature_k, D.TEMPERATURE),
        ("Starting current under", answer.most_starting_a, D.CURRENT),
        ("Of plate current", answer.running_to_plate_fraction, D.FRACTION),
    ):
        if math.isfinite(value):
            rows.append((name, show(value, dimension, system)))
    return ["", "NUMBERS", *table(rows)] if rows else []

"""Simulated states over a value that was varied: the figure and the rows of a table."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence

from coldwright.cycle.state import RunningState
from coldwright.figures.sweep import Curve, Panel, Sweep, sweep_svg
from coldwright.units import Dimension as D
from coldwright.units import System, on_one_scale

NAN = float("nan")
# Panels of a sweep: words, dimension, (words of a curve, field of the state)
PANELS = (
    ("temperature", D.TEMPERATURE,
     (("evaporating", "evaporating_k"), ("condensing", "condensing_k"),
      ("discharge line", "discharge_line_k"))),
    ("temperature difference", D.TEMPERATURE_DIFFERENCE,
     (("superheat", "superheat_k"), ("subcooling", "subcooling_k"))),
    ("power", D.POWER, (("compressor", "compressor_power_w"), ("cooling", "cooling_w"))),
    ("share of the time it runs", D.FRACTION, (("runs", "run_fraction"),)),
)  # fmt: skip


def sweep_figure(
    title: str,
    key: str,
    dimension: D,
    values: Sequence[float],
    states: Sequence[RunningState | None],
    system: System,
) -> str:
    """SVG of main results over the value that was varied.

    Parameters
    ----------
    title : str
        What is shown.
    key : str
        Key that was varied.
    dimension : Dimension
        Of its values.
    values : sequence of float
        Values. [SI]
    states : sequence of RunningState or None
        What came of each; None where nothing was found.
    system : System
        Units of the figure.

    Returns
    -------
    str
        SVG document.
    """
    across, across_unit = on_one_scale(values, dimension, system)
    panels = []
    for words, kind, curves in PANELS:
        found = [
            NAN if s is None else float(getattr(s, field)) for _, field in curves for s in states
        ]
        scaled, unit = on_one_scale(found, kind, system)
        n = len(states)
        panels.append(
            Panel(
                f"{words}, {unit}" if unit else words,
                tuple(Curve(name, scaled[i * n : i * n + n]) for i, (name, _) in enumerate(curves)),
            )
        )
    below = f"{key}, {across_unit}" if across_unit else key
    return sweep_svg(Sweep(title, below, across, tuple(panels)))


def rows_of(
    key: str, values: Sequence[float], states: Sequence[RunningState | None]
) -> list[list[str]]:
    """Rows of a table, names and SI units in the first; empty cells where nothing was found.

    Parameters
    ----------
    key : str
        Key that was varied, named as it is entered; its values are SI.
    values : sequence of float
        Values. [SI]
    states : sequence of RunningState or None
        What came of each.

    Returns
    -------
    list[list of str]
        Rows of text; the first one is the head.
    """
    names = [f.name for f in dataclasses.fields(RunningState)]
    rows = [[key, *names]]
    for value, state in zip(values, states, strict=True):
        cells = ["" if state is None else _cell(getattr(state, n)) for n in names]
        rows.append([repr(value), *cells])
    return rows


def _cell(value: object) -> str:
    if isinstance(value, float):
        return "" if value != value else repr(value)
    return str(value)

"""What `coldwright simulate` writes beside what it prints: a table, drawings."""

from __future__ import annotations

import csv
import sys
from collections.abc import Sequence
from io import StringIO
from pathlib import Path
from typing import TYPE_CHECKING

from coldwright.cli.options import COMMAND_LINE
from coldwright.cli.sweep import Case, Point, Sweep
from coldwright.errors import BadInput, OutOfRange
from coldwright.units import System

if TYPE_CHECKING:
    from coldwright.cycle.simulation import Simulation


def write_one(case: Case, result: Simulation, table: str | None, folder: str | None) -> None:
    """Table of one row and both drawings of one circuit, where asked for.

    Parameters
    ----------
    case : Case
        The circuit that was simulated.
    result : Simulation
        What came of it.
    table : str or None
        Path of the table, if asked for.
    folder : str or None
        Folder of the drawings, if asked for.

    Raises
    ------
    BadInput
        If nothing flows, so that there is nothing to draw, or a file cannot be written.
    """
    if table is not None:
        charge = case.charge_kg if case.charge_kg is not None else case.job.plate.charge_kg
        value = float("nan") if charge is None else charge
        from coldwright.usecases.simulate import rows_of

        _write_table(table, rows_of("charge", [value], [result.running]))
    if folder is not None:
        from coldwright.usecases.simulate import figures_of

        try:
            drawn = figures_of(case.job, result, faults=case.faults)
        except OutOfRange:
            raise BadInput(
                COMMAND_LINE, "--figures", "a circuit in which nothing flows",
                "one that runs and is not blocked",
            ) from None  # fmt: skip
        for name, text in drawn.items():
            write_file(Path(folder) / name, text, "--figures")


def write_sweep(
    case: Case,
    sweep: Sweep,
    points: Sequence[Point],
    table: str | None,
    folder: str | None,
    system: System,
) -> None:
    """Table of all points and the drawing of a sweep, where asked for.

    Parameters
    ----------
    case : Case
        The circuit before it is varied.
    sweep : Sweep
        What is varied.
    points : sequence of Point
        Results along it.
    table : str or None
        Path of the table, if asked for.
    folder : str or None
        Folder of the drawings, if asked for.
    system : System
        Units to show.
    """
    states = [None if p.result is None else p.result.running for p in points]
    if table is not None:
        from coldwright.usecases.simulate import rows_of

        _write_table(table, rows_of(sweep.key, sweep.values, states))
    if folder is not None:
        title = case.job.title or case.job.source
        from coldwright.usecases.simulate import sweep_figure

        text = sweep_figure(title, sweep.key, sweep.dimension, sweep.values, states, system)
        write_file(Path(folder) / "sweep.svg", text, "--figures")


def _write_table(path: str, rows: list[list[str]]) -> None:
    text = StringIO()
    csv.writer(text, lineterminator="\n").writerows(rows)
    write_file(Path(path), text.getvalue(), "--csv")


def write_file(path: Path, text: str, option: str) -> None:
    """Write a text where an option names a place; says so on standard error.

    Parameters
    ----------
    path : Path
        Where.
    text : str
        What.
    option : str
        Option that named the place.

    Raises
    ------
    BadInput
        If it cannot be written.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        raise BadInput(
            COMMAND_LINE,
            option,
            f"'{path}' ({error.strerror or error})",
            "a place one can write to",
        ) from None
    print(f"written: {path}", file=sys.stderr)

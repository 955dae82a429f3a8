"""A log of both compartments over time, to compare a run over hours with."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from coldwright.errors import BadInput
from coldwright.readings.series import EXAMPLE, load_series

COMPARTMENTS = ("fresh_food_temperature", "freezer_temperature")


@dataclass(frozen=True, slots=True)
class Log:
    """Logged temperatures; NaN where a line or a column has none."""

    source: str
    time_s: tuple[float, ...]
    fresh_food_k: tuple[float, ...]
    freezer_k: tuple[float, ...]


def load_log(path: Path) -> Log:
    """Read a log; columns beside the compartments' are passed over.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    Log
        Times [s] and compartment temperatures [K]; NaN where one was not logged.

    Raises
    ------
    BadInput
        If the file, a head or a number cannot be used, or no compartment was logged; names
        file, line and column.
    """
    series = load_series(path)
    if all(series.column(key) is None for key in COMPARTMENTS):
        read = ", ".join(column.key for column in series.columns)
        raise BadInput(series.source, "head", read, f"a compartment's temperature: '{EXAMPLE}'")
    fresh_food, freezer = (series.values(key) for key in COMPARTMENTS)
    return Log(
        series.source, tuple(series.time_s.tolist()), tuple(fresh_food.tolist()),
        tuple(freezer.tolist()),
    )  # fmt: skip

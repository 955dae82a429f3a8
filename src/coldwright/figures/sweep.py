"""Results over a value that is varied, as SVG; nothing is computed here but places on the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from coldwright.figures.circuit import (
    ACT,
    INK,
    LEFT,
    LINE,
    RIGHT,
    SOFT,
    TOP,
    WIDTH,
    Axis,
    minus,
    polyline,
    sheet,
    written,
)

PANEL, GAP, FOOT = 130.0, 40.0, 52.0
MOST_TICKS = 4
STEPS = (1.0, 2.0, 5.0)
# Lines of one panel differ by dash, not by colour alone.
STROKES = ((ACT, 2.6, ""), (INK, 1.8, "7 4"), (SOFT, 1.8, "2 5"))


@dataclass(frozen=True, slots=True)
class Curve:
    """One result, in the unit of its panel; NaN where nothing was found."""

    words: str
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Panel:
    """Results that share a scale."""

    words: str
    curves: tuple[Curve, ...]


@dataclass(frozen=True, slots=True)
class Sweep:
    """What was varied, with the panels over it."""

    title: str
    across_words: str
    across: tuple[float, ...]
    panels: tuple[Panel, ...]


def sweep_svg(shown: Sweep) -> str:
    """Panels one above the other over the value that is varied.

    Parameters
    ----------
    shown : Sweep
        What to draw.

    Returns
    -------
    str
        One `svg` element.
    """
    height = TOP + len(shown.panels) * (PANEL + GAP) + FOOT - GAP
    x = Axis(min(shown.across), max(shown.across), LEFT, WIDTH - RIGHT)
    body: list[str] = []
    for i, panel in enumerate(shown.panels):
        top = TOP + 14.0 + i * (PANEL + GAP)
        body += _panel(panel, shown.across, x, top)
    foot = TOP + 14.0 + len(shown.panels) * (PANEL + GAP) - GAP
    for v in _round_values(x.low, x.high, 6):
        body.append(written(x(v), foot + 18.0, minus(f"{v:g}"), "middle", SOFT))
    body.append(written(WIDTH - RIGHT, height - 6.0, shown.across_words, "end", INK))
    told = "; ".join(
        f"{c.words} from {_first(c.values)} to {_first(c.values[::-1])} ({p.words})"
        for p in shown.panels for c in p.curves
    )  # fmt: skip
    return sheet(shown.title, told, body, height)


def _panel(panel: Panel, across: tuple[float, ...], x: Axis, top: float) -> list[str]:
    found = [v for c in panel.curves for v in c.values if isfinite(v)]
    low, high = (min(found), max(found)) if found else (0.0, 1.0)
    free = 0.08 * (high - low) or max(0.05 * abs(high), 0.5)
    y = Axis(low - free, high + free, top + PANEL, top)
    out = [written(LEFT - 50.0, top - 8.0, panel.words, "start", INK)]
    for v in _round_values(y.low, y.high, MOST_TICKS):
        out.append(polyline([(LEFT, y(v)), (WIDTH - RIGHT, y(v))], LINE, 0.6, ""))
        out.append(written(LEFT - 6.0, y(v) + 4.0, minus(f"{v:g}"), "end", SOFT))
    place = WIDTH - RIGHT
    for curve, (colour, width, dash) in zip(panel.curves, STROKES, strict=False):
        for piece in _pieces(curve.values):
            out.append(polyline([(x(across[i]), y(curve.values[i])) for i in piece],
                                colour, width, dash))  # fmt: skip
    for curve, (colour, width, dash) in reversed(list(zip(panel.curves, STROKES, strict=False))):
        out.append(written(place, top - 8.0, curve.words, "end", colour))
        place -= 7.4 * len(curve.words) + 8.0
        out.append(polyline([(place - 24.0, top - 12.0), (place, top - 12.0)], colour, width, dash))
        place -= 40.0
    return out


def _pieces(values: tuple[float, ...]) -> list[list[int]]:
    """Runs of neighbours that were found; a gap stays a gap."""
    runs: list[list[int]] = [[]]
    for i, v in enumerate(values):
        if isfinite(v):
            runs[-1].append(i)
        elif runs[-1]:
            runs.append([])
    return [r for r in runs if r]


def _round_values(low: float, high: float, most: int) -> list[float]:
    size = 10.0 ** int(f"{(high - low) / most:e}".split("e")[1])
    step = next(s * size for s in (*STEPS, 10.0, 20.0) if (high - low) / (s * size) <= most)
    first = step * -(-low // step)
    count = int((high - first) / step + 1e-9) + 1
    return [round(first + step * i, 12) for i in range(count)]


def _first(values: tuple[float, ...]) -> str:
    return next((f"{v:.3g}" for v in values if isfinite(v)), "nothing found")

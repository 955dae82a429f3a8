"""Temperatures over time as SVG, from the record of `over_time`; nothing is computed here.

Lines are told apart by their dash and their name at the end, not by colour alone; what was
logged is drawn as points. Below, bars where the compressor ran.
"""

from __future__ import annotations

from math import isfinite

from coldwright.figures.kit import (
    ACT,
    HEIGHT,
    INK,
    LINE,
    SOFT,
    WIDTH,
    Axis,
    minus,
    polyline,
    sheet,
    ticks,
    written,
)
from coldwright.logged.over_time import Line, OverTime
from coldwright.units.formulas import celsius_from_kelvin

LEFT, RIGHT, TOP, BOTTOM = 62.0, 118.0, 34.0, 74.0
BAR_TOP, BAR_HIGH = HEIGHT - 62.0, 12.0
DASHES = {"fresh food": "", "freezer": "", "evaporator": "2 4", "warmest goods": "9 5"}
STRONG = {"freezer": ACT}
LEAST_GAP = 16.0
MOST_DOTS = 300


def over_time_svg(shown: OverTime) -> str:
    """Temperatures over time with the compressor's run below.

    Parameters
    ----------
    shown : OverTime
        What to draw.

    Returns
    -------
    str
        One `svg` element.
    """
    values = [
        celsius_from_kelvin(t) for line in shown.lines for t in line.temperature_k if isfinite(t)
    ]
    low, high = min(values) - 2.0, max(values) + 2.0
    end = 3600.0 * shown.hours

    across = Axis(0.0, end, LEFT, WIDTH - RIGHT)
    up = Axis(low, high, HEIGHT - BOTTOM, TOP)
    body = []
    for t in ticks(low, high, (2.0, 5.0, 10.0, 20.0)):
        body.append(polyline([(LEFT, up(t)), (WIDTH - RIGHT, up(t))], LINE, 0.6, ""))
        body.append(written(LEFT - 6.0, up(t) + 4.0, minus(f"{t:g}"), "end", SOFT))
    for h in ticks(0.0, shown.hours, (0.25, 0.5, 1.0, 2.0, 4.0, 12.0, 24.0, 48.0)):
        at = across(3600.0 * h)
        body.append(polyline([(at, TOP), (at, HEIGHT - BOTTOM)], LINE, 0.6, ""))
        body.append(written(at, HEIGHT - BOTTOM + 46.0, f"{h:g}", "middle", SOFT))
    ends = []
    for line in shown.lines:
        body.append(_drawn(line, across, up))
        last = [t for t in line.temperature_k if isfinite(t)][-1]
        ends.append((up(celsius_from_kelvin(last)), line.words))
    lowest = -HEIGHT
    for at, words in sorted(ends):
        lowest = max(at + 4.0, lowest + LEAST_GAP)
        body.append(written(WIDTH - RIGHT + 8.0, lowest, words, "start", INK))
    body += [_bar(across(a), across(b), ACT) for a, b in shown.ran_s]
    body += [_bar(across(a), across(b), "none") for a, b in shown.defrosted_s]
    below = "compressor runs" + (", open: defrost" if shown.defrosted_s else "")
    body.append(written(WIDTH - RIGHT + 8.0, BAR_TOP + 11.0, below[:15], "start", SOFT))
    body.append(written(WIDTH - RIGHT, HEIGHT - 8.0, "hours", "end", INK))
    body.append(written(LEFT - 50.0, TOP - 14.0, "temperature, °C", "start", INK))
    told = "; ".join(
        f"{line.words} from {celsius_from_kelvin(line.temperature_k[0]):.0f} to "
        f"{celsius_from_kelvin(line.temperature_k[-1]):.0f} °C"
        for line in shown.lines
    )
    told += f"; the compressor runs {len(shown.ran_s)} times"
    if shown.defrosted_s:
        told += f", the heater defrosts {len(shown.defrosted_s)} times (open bars)"
    return sheet(shown.title, told, body)


def _drawn(line: Line, across: Axis, up: Axis) -> str:
    points = [
        (across(t), up(celsius_from_kelvin(k)))
        for t, k in zip(line.time_s, line.temperature_k, strict=True)
        if isfinite(k)
    ]
    if line.logged:
        step = -(-len(points) // MOST_DOTS)
        return "".join(
            f'<circle cx="{px:.1f}" cy="{py:.1f}" r="2.2" fill="none" stroke="{INK}"/>'
            for px, py in points[::step]
        )
    return polyline(points, STRONG.get(line.words, INK), 1.8, DASHES.get(line.words, ""))


def _bar(start: float, end: float, fill: str) -> str:
    return (
        f'<rect x="{start:.1f}" y="{BAR_TOP:.1f}" width="{max(end - start, 0.5):.1f}" '
        f'height="{BAR_HIGH:g}" fill="{fill}" stroke="{ACT}" stroke-width="0.8"/>'
    )

"""Temperatures over time as SVG, from the record of `over_time`; nothing is computed here.

Lines are told apart by their dash and their name at the end, not by colour alone; what was
logged is drawn as points. Below, bars where the compressor ran.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from math import isfinite

from coldwright.logged.over_time import Line, OverTime
from coldwright.units.formulas import celsius_from_kelvin

WIDTH, HEIGHT = 640.0, 400.0
LEFT, RIGHT, TOP, BOTTOM = 62.0, 118.0, 34.0, 74.0
BAR_TOP, BAR_HIGH = HEIGHT - 62.0, 12.0
INK, SOFT, RULE, ACT = (
    "var(--ink, #14201e)", "var(--soft, #46524f)", "var(--line, #bcc5c1)", "var(--act, #0d5156)",
)  # fmt: skip
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

    def x(seconds: float) -> float:
        return LEFT + (WIDTH - LEFT - RIGHT) * seconds / end

    def y(celsius: float) -> float:
        return HEIGHT - BOTTOM - (HEIGHT - BOTTOM - TOP) * (celsius - low) / (high - low)

    body = []
    for t in _ticks(low, high, (2.0, 5.0, 10.0, 20.0)):
        body.append(_path([(LEFT, y(t)), (WIDTH - RIGHT, y(t))], RULE, 0.6, ""))
        body.append(_words(LEFT - 6.0, y(t) + 4.0, f"{t:g}".replace("-", "−"), "end", SOFT))
    for h in _ticks(0.0, shown.hours, (0.25, 0.5, 1.0, 2.0, 4.0, 12.0, 24.0, 48.0)):
        at = x(3600.0 * h)
        body.append(_path([(at, TOP), (at, HEIGHT - BOTTOM)], RULE, 0.6, ""))
        body.append(_words(at, HEIGHT - BOTTOM + 46.0, f"{h:g}", "middle", SOFT))
    ends = []
    for line in shown.lines:
        body.append(_drawn(line, x, y))
        last = [t for t in line.temperature_k if isfinite(t)][-1]
        ends.append((y(celsius_from_kelvin(last)), line.words))
    lowest = -HEIGHT
    for at, words in sorted(ends):
        lowest = max(at + 4.0, lowest + LEAST_GAP)
        body.append(_words(WIDTH - RIGHT + 8.0, lowest, words, "start", INK))
    body += [_bar(x(a), x(b), ACT) for a, b in shown.ran_s]
    body += [_bar(x(a), x(b), "none") for a, b in shown.defrosted_s]
    below = "compressor runs" + (", open: defrost" if shown.defrosted_s else "")
    body.append(_words(WIDTH - RIGHT + 8.0, BAR_TOP + 11.0, below[:15], "start", SOFT))
    body.append(_words(WIDTH - RIGHT, HEIGHT - 8.0, "hours", "end", INK))
    body.append(_words(LEFT - 50.0, TOP - 14.0, "temperature, °C", "start", INK))
    told = "; ".join(
        f"{line.words} from {celsius_from_kelvin(line.temperature_k[0]):.0f} to "
        f"{celsius_from_kelvin(line.temperature_k[-1]):.0f} °C"
        for line in shown.lines
    )
    told += f"; the compressor runs {len(shown.ran_s)} times"
    if shown.defrosted_s:
        told += f", the heater defrosts {len(shown.defrosted_s)} times (open bars)"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {HEIGHT:g}" role="img" '
        'font-family="system-ui, sans-serif" font-size="13">'
        f"<title>{escape(shown.title)}</title><desc>{escape(told)}</desc>"
        f'<rect width="{WIDTH:g}" height="{HEIGHT:g}" fill="var(--sheet, #fff)"/>'
        + "".join(body) + "</svg>\n"
    )  # fmt: skip


def _drawn(line: Line, x, y) -> str:  # type: ignore[no-untyped-def]
    points = [
        (x(t), y(celsius_from_kelvin(k)))
        for t, k in zip(line.time_s, line.temperature_k, strict=True)
        if isfinite(k)
    ]
    if line.logged:
        step = -(-len(points) // MOST_DOTS)
        return "".join(
            f'<circle cx="{px:.1f}" cy="{py:.1f}" r="2.2" fill="none" stroke="{INK}"/>'
            for px, py in points[::step]
        )
    return _path(points, STRONG.get(line.words, INK), 1.8, DASHES.get(line.words, ""))


def _ticks(low: float, high: float, steps: Sequence[float]) -> list[float]:
    step = next((s for s in steps if (high - low) / s <= 8.0), steps[-1])
    first = step * -(-low // step)
    return [first + step * i for i in range(int((high - first) / step + 1e-9) + 1)]


def _path(points: Sequence[tuple[float, float]], colour: str, width: float, dash: str) -> str:
    at = " ".join(f"{px:.1f},{py:.1f}" for px, py in points)
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<polyline points="{at}" fill="none" stroke="{colour}" stroke-width="{width:g}" '
        f'stroke-linejoin="round"{dashed}/>'
    )


def _bar(start: float, end: float, fill: str) -> str:
    return (
        f'<rect x="{start:.1f}" y="{BAR_TOP:.1f}" width="{max(end - start, 0.5):.1f}" '
        f'height="{BAR_HIGH:g}" fill="{fill}" stroke="{ACT}" stroke-width="0.8"/>'
    )


def _words(x: float, y: float, words: str, anchor: str, colour: str) -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" fill="{colour}">'
        f"{escape(words)}</text>"
    )

"""Diagrams of a running circuit as SVG, from the records of `diagrams`; nothing is computed here.

One ink and one accent, which follow the page's colours where they are set. A line joins
neighbouring places of the result; it is dotted across the shell and the capillary, where the
way between them is not a straight one. Places carry their names, not numbers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from html import escape
from itertools import pairwise
from math import log
from typing import Generic, TypeVar

from coldwright.figures.diagrams import AlongCircuit, PressureEnthalpy
from coldwright.units.formulas import celsius_from_kelvin

WIDTH, HEIGHT = 640.0, 400.0
LEFT, RIGHT, TOP, BOTTOM = 62.0, 24.0, 34.0, 52.0
LEVEL_WORDS = 104.0  # at the right, for the names of the levels
LEAST_GAP = 15.0  # between two of them
LEGEND_AT = (196.0, 278.0)  # where the strokes of the legend begin, the longer words last
ROOM_ABOVE = 0.08  # of the span, free at either end
INK, SOFT, LINE, ACT = (
    "var(--ink, #14201e)", "var(--soft, #46524f)", "var(--line, #bcc5c1)", "var(--act, #0d5156)",
)  # fmt: skip
BAR = 1e5
PRESSURE_TICKS = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 40.0)  # bar
# Where a name stands beside its spot: (dx, dy, anchor)
BESIDE = {
    "suction line at the shell": (0.0, 20.0, "middle"),
    "discharge line": (4.0, -10.0, "middle"),
    "condenser outlet": (-8.0, -10.0, "end"),
    "evaporator inlet": (-4.0, 18.0, "end"),
    "evaporator outlet": (-6.0, -10.0, "end"),
}


Shown = TypeVar("Shown")


@dataclass(frozen=True, slots=True)
class Axis:
    """A scale from a value to a place on the sheet."""

    low: float
    high: float
    start: float
    end: float

    def __call__(self, value: float) -> float:
        share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)


@dataclass(frozen=True, slots=True)
class Beside(Generic[Shown]):
    """A second state drawn behind the first, thin and broken, and what each is called."""

    shown: Shown
    words: str  # of the first
    beside_words: str


def pressure_enthalpy_svg(
    shown: PressureEnthalpy, beside: Beside[PressureEnthalpy] | None = None
) -> str:
    """The circuit on pressure (logarithmic) and enthalpy.

    Parameters
    ----------
    shown : PressureEnthalpy
        What to draw.
    beside : Beside or None
        Another state of the same refrigerant behind it.

    Returns
    -------
    str
        One `svg` element.
    """
    spots = shown.spots
    behind = () if beside is None else beside.shown.spots
    dome_j_kg = (*shown.dome_vapour_j_kg, *shown.dome_liquid_j_kg)
    enthalpies = (*(s.enthalpy_j_kg for s in (*spots, *behind)), *dome_j_kg)
    x = _axis([h / 1e3 for h in enthalpies], LEFT, WIDTH - RIGHT)
    around = [log(p / BAR) for p in shown.dome_pressure_pa]
    y = _axis([*around, *(log(s.pressure_pa / BAR) for s in behind)], HEIGHT - BOTTOM, TOP)
    dome = [
        [(x(h / 1e3), y(log(p / BAR))) for h, p in zip(side, shown.dome_pressure_pa, strict=True)]
        for side in (shown.dome_liquid_j_kg, shown.dome_vapour_j_kg)
    ]
    path, second = (
        [(x(s.enthalpy_j_kg / 1e3), y(log(s.pressure_pa / BAR))) for s in some]
        for some in (spots, behind)
    )
    body = [
        *_across([p for p in PRESSURE_TICKS if y.low <= log(p) <= y.high], y, scale=log),
        *_down(ticks(x.low, x.high), x),
        *(polyline(side, SOFT, 1.2, "") for side in dome),
        *([polyline([*second, second[0]], INK, 1.4, "6 5")] if second else []),
        *_stretches([*path, path[0]], shown.unseen),
        *(_named(place, s.words, BESIDE.get(s.words, (6.0, -8.0, "start")))
          for place, s in zip(path, spots, strict=True)),
        _axis_words("specific enthalpy, kJ/kg", "pressure, bar absolute"),
    ]  # fmt: skip
    told, other = (
        "; ".join(
            f"{s.words} {s.pressure_pa / BAR:.2f} bar absolute, {s.enthalpy_j_kg / 1e3:.0f} kJ/kg"
            for s in some
        )
        for some in (spots, behind)
    )
    if beside is not None:
        body += _legend(beside.words, beside.beside_words)
        told = f"{beside.words}: {told}. {beside.beside_words}: {other}"
    return sheet(shown.title, told, body)


def along_circuit_svg(shown: AlongCircuit, beside: Beside[AlongCircuit] | None = None) -> str:
    """Temperatures along the tube, with what they are compared with.

    Parameters
    ----------
    shown : AlongCircuit
        What to draw.
    beside : Beside or None
        Another state of the same tube behind it; its levels are not drawn.

    Returns
    -------
    str
        One `svg` element.
    """
    celsius = [celsius_from_kelvin(r.temperature_k) for r in shown.readings]
    levels = [celsius_from_kelvin(v.temperature_k) for v in shown.levels]
    behind = () if beside is None else beside.shown.readings
    other = [celsius_from_kelvin(r.temperature_k) for r in behind]
    x = Axis(0.0, shown.stretches[-1].end_m, LEFT, WIDTH - RIGHT - LEVEL_WORDS)
    y = _axis([*celsius, *levels, *other], HEIGHT - BOTTOM, TOP)
    path = [(x(r.metre), y(t)) for r, t in zip(shown.readings, celsius, strict=True)]
    named = ("capillary",)  # within the tube the result holds no temperatures
    unseen = tuple(
        i for i, r in enumerate(shown.readings)
        if any(s.words in named and s.start_m == r.metre for s in shown.stretches)
    )  # fmt: skip
    edge = x(x.high)
    body = [*_across(ticks(y.low, y.high), y, end=edge)]
    highest = -HEIGHT
    for t, words in sorted(zip(levels, (v.words for v in shown.levels), strict=True), reverse=True):
        highest = max(y(t) + 4.0, highest + LEAST_GAP)  # two near levels: the names part
        body.append(polyline([(LEFT, y(t)), (edge, y(t))], SOFT, 1.0, "7 4"))
        body.append(written(edge + 8.0, highest, f"{words} {minus(f'{t:.0f}')}", "start", SOFT))
    for s in shown.stretches:
        middle = 0.5 * (x(s.start_m) + x(s.end_m))
        body.append(polyline([(x(s.end_m), TOP), (x(s.end_m), HEIGHT - BOTTOM)], LINE, 1.0, ""))
        body.append(written(middle, HEIGHT - BOTTOM + 18.0, s.words, "middle", INK))
    if behind:
        second = [(x(r.metre), y(t)) for r, t in zip(behind, other, strict=True)]
        body.append(polyline(second, INK, 1.4, "6 5"))
    body += _stretches(path, unseen)
    body += [_square(place) for place in path]
    body.append(_axis_words("along the tube, as long as it is", "temperature, °C"))
    told, second_told = (
        "; ".join(f"{r.words} {t:.0f} °C" for r, t in zip(readings, degrees, strict=True))
        for readings, degrees in ((shown.readings, celsius), (behind, other))
    )
    if beside is not None:
        body += _legend(beside.words, beside.beside_words)
        told = f"{beside.words}: {told}. {beside.beside_words}: {second_told}"
    return sheet(shown.title, told, body)


def _axis(values: list[float], start: float, end: float) -> Axis:
    low, high = min(values), max(values)
    free = ROOM_ABOVE * (high - low)
    return Axis(low - free, high + free, start, end)


def ticks(low: float, high: float) -> list[float]:
    step = next(s for s in (5.0, 10.0, 20.0, 50.0, 100.0, 200.0) if (high - low) / s <= 8.0)
    first = step * -(-low // step)
    count = int((high - first) // step) + 1
    return [first + step * i for i in range(count)]


def _across(
    values: Sequence[float],
    y: Axis,
    *,
    scale: Callable[[float], float] = float,
    end: float = WIDTH - RIGHT,
) -> Iterator[str]:
    """Lines across the sheet with their figures at the left."""
    for v in values:
        at = y(scale(v))
        yield polyline([(LEFT, at), (end, at)], LINE, 0.6, "")
        yield written(LEFT - 6.0, at + 4.0, minus(f"{v:g}"), "end", SOFT)


def _down(values: Sequence[float], x: Axis) -> Iterator[str]:
    """Lines down the sheet with their figures below."""
    for v in values:
        at = x(v)
        yield polyline([(at, TOP), (at, HEIGHT - BOTTOM)], LINE, 0.6, "")
        yield written(at, HEIGHT - BOTTOM + 16.0, minus(f"{v:g}"), "middle", SOFT)


def minus(figure: str) -> str:
    """A figure with a true minus sign."""
    return figure.replace("-", "−")


def _stretches(path: list[tuple[float, float]], unseen: tuple[int, ...]) -> list[str]:
    """The circuit in pieces: solid where known, dotted across the unknown."""
    return [
        polyline([a, b], ACT, 3.0, "1 7" if i in unseen else "")
        for i, (a, b) in enumerate(pairwise(path))
    ]


def polyline(points: list[tuple[float, float]], colour: str, width: float, dash: str) -> str:
    """A line through places on the sheet."""
    at = " ".join(f"{px:.1f},{py:.1f}" for px, py in points)
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<polyline points="{at}" fill="none" stroke="{colour}" stroke-width="{width:g}" '
        f'stroke-linecap="round" stroke-linejoin="round"{dashed}/>'
    )


def _square(place: tuple[float, float]) -> str:
    return (
        f'<rect x="{place[0] - 4:.1f}" y="{place[1] - 4:.1f}" width="8" height="8" '
        f'fill="var(--sheet, #fff)" stroke="{ACT}" stroke-width="2"/>'
    )


def _named(place: tuple[float, float], words: str, beside: tuple[float, float, str]) -> str:
    dx, dy, anchor = beside
    return _square(place) + written(place[0] + dx, place[1] + dy, words, anchor, INK)


def written(x: float, y: float, words: str, anchor: str, colour: str) -> str:
    """Words at a place."""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" fill="{colour}">'
        f"{escape(words)}</text>"
    )


def _legend(words: str, beside_words: str) -> list[str]:
    """Which line is which, above the sheet's right half; told by stroke, not by colour alone."""
    second, first = LEGEND_AT
    at = TOP - 18.0
    return [
        polyline([(first, at), (first + 26.0, at)], ACT, 3.0, ""),
        written(first + 32.0, at + 4.0, words, "start", INK),
        polyline([(second, at), (second + 26.0, at)], INK, 1.4, "6 5"),
        written(second + 32.0, at + 4.0, beside_words, "start", INK),
    ]


def _axis_words(below: str, beside: str) -> str:
    return written(WIDTH - RIGHT, HEIGHT - 10.0, below, "end", INK) + written(
        LEFT - 50.0, TOP - 14.0, beside, "start", INK
    )


def sheet(title: str, told: str, body: list[str], height: float = HEIGHT) -> str:
    """One `svg` element with words for those who cannot see it."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {height:g}" role="img" '
        'font-family="system-ui, sans-serif" font-size="13">'
        f"<title>{escape(title)}</title><desc>{escape(told)}</desc>"
        f'<rect width="{WIDTH:g}" height="{height:g}" fill="var(--sheet, #fff)"/>'
        + "".join(body) + "</svg>\n"
    )  # fmt: skip

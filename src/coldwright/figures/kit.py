"""The kit that every figure is drawn with: sheet, scale, lines, words, inks.

One ink and one accent, which follow the page's colours where they are set. Lines that differ do
so by dash or name, never by colour alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

WIDTH, HEIGHT = 640.0, 400.0
INK, SOFT, LINE, ACT = (
    "var(--ink, #14201e)", "var(--soft, #46524f)", "var(--line, #bcc5c1)", "var(--act, #0d5156)",
)  # fmt: skip


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


def ticks(low: float, high: float, steps: Sequence[float], most: float = 8.0) -> list[float]:
    """Round values within a span, of the first step that leaves at most `most` of them.

    Parameters
    ----------
    low, high : float
        Ends of the span. [any]
    steps : sequence of float
        Steps, the smallest first; the last one where none is large enough. [any]
    most : float
        How many may stand beside each other. [-]

    Returns
    -------
    list of float
        Rising values. [as low]

    Examples
    --------
    >>> ticks(0.0, 10.0, (1.0, 2.0, 5.0))
    [0.0, 2.0, 4.0, 6.0, 8.0, 10.0]
    """
    step = next((s for s in steps if (high - low) / s <= most), steps[-1])
    first = step * -(-low // step)
    return [first + step * i for i in range(int((high - first) / step + 1e-9) + 1)]


def minus(figure: str) -> str:
    """A figure with a true minus sign.

    Parameters
    ----------
    figure : str
        A number as text.

    Returns
    -------
    str
        The figure.
    """
    return figure.replace("-", "−")


def polyline(points: list[tuple[float, float]], colour: str, width: float, dash: str) -> str:
    """A line through places on the sheet.

    Parameters
    ----------
    points : list
        Places. [px]
    colour : str
        Of the line.
    width : float
        Of the line. [px]
    dash : str
        Dash pattern of SVG; empty for none.

    Returns
    -------
    str
        SVG element.
    """
    at = " ".join(f"{px:.1f},{py:.1f}" for px, py in points)
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<polyline points="{at}" fill="none" stroke="{colour}" stroke-width="{width:g}" '
        f'stroke-linecap="round" stroke-linejoin="round"{dashed}/>'
    )


def written(x: float, y: float, words: str, anchor: str, colour: str) -> str:
    """Words at a place.

    Parameters
    ----------
    x : float
        Across. [px]
    y : float
        Down. [px]
    words : str
        Text, escaped here.
    anchor : str
        SVG text anchor: start, middle or end.
    colour : str
        Of the text.

    Returns
    -------
    str
        SVG element.
    """
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" fill="{colour}">'
        f"{escape(words)}</text>"
    )


def sheet(title: str, told: str, body: list[str], height: float = HEIGHT) -> str:
    """One `svg` element with words for those who cannot see it.

    Parameters
    ----------
    title : str
        Short title.
    told : str
        Description for those who cannot see it.
    body : list of str
        SVG elements.
    height : float
        Of the sheet. [px]

    Returns
    -------
    str
        SVG document.
    """
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:g} {height:g}" role="img" '
        'font-family="system-ui, sans-serif" font-size="13">'
        f"<title>{escape(title)}</title><desc>{escape(told)}</desc>"
        f'<rect width="{WIDTH:g}" height="{height:g}" fill="var(--sheet, #fff)"/>'
        + "".join(body) + "</svg>\n"
    )  # fmt: skip

"""Path strings for SVG's `d` attribute."""

from __future__ import annotations

import math
from collections.abc import Sequence

from coldwright.web.drawing.records import Box

Point = tuple[float, float]
BEND = 7.0  # how round a tube turns [drawing unit]


def _number(value: float) -> str:
    return f"{round(value, 1):g}"


def _at(point: Point) -> str:
    return f"{_number(point[0])},{_number(point[1])}"


def line(points: Sequence[Point], radius: float = 0.0) -> str:
    """Open line through the points, its corners rounded.

    Parameters
    ----------
    points : sequence of (float, float)
        Corners in order.
    radius : float
        Largest rounding; a short stretch rounds less. [drawing unit]

    Returns
    -------
    str
        SVG path data.

    Examples
    --------
    >>> line([(0.0, 0.0), (10.0, 0.0)])
    'M0,0 L10,0'
    """
    if radius <= 0.0 or len(points) < 3:
        return "M" + " L".join(_at(p) for p in points)
    path = [f"M{_at(points[0])}"]
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        r_in = min(radius, math.dist(before, corner) / 2)
        r_out = min(radius, math.dist(corner, after) / 2)
        path.append(f"L{_at(_toward(corner, before, r_in))}")
        path.append(f"Q{_at(corner)} {_at(_toward(corner, after, r_out))}")
    path.append(f"L{_at(points[-1])}")
    return " ".join(path)


def _toward(start: Point, end: Point, length: float) -> Point:
    whole = math.dist(start, end) or 1.0
    share = length / whole
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def closed(points: Sequence[Point]) -> str:
    """Closed outline through the points.

    Parameters
    ----------
    points : sequence of Point
        Corners. [px]

    Returns
    -------
    str
        SVG path data.
    """
    return line(points) + " Z"


def rectangle(box: Box, radius: float = 0.0) -> str:
    """Rectangle with rounded corners.

    Parameters
    ----------
    box : Box
        Its place.
    radius : float
        Corner radius. [drawing unit]

    Returns
    -------
    str
        SVG path data.
    """
    r = _number(radius)
    if radius <= 0.0:
        corners = [(box.x, box.y), (box.right, box.y), (box.right, box.bottom), (box.x, box.bottom)]
        return closed(corners)
    turn = f"a{r},{r} 0 0 1"
    across, down = _number(box.width - 2 * radius), _number(box.height - 2 * radius)
    return (
        f"M{_at((box.x + radius, box.y))} h{across} {turn} {r},{r} v{down} {turn} -{r},{r}"
        f" h-{across} {turn} -{r},-{r} v-{down} {turn} {r},-{r} Z"
    )


def circle(centre: Point, radius: float) -> str:
    """Full circle.

    Parameters
    ----------
    centre : (float, float)
        Its centre.
    radius : float
        Its radius. [drawing unit]

    Returns
    -------
    str
        SVG path data.
    """
    r, d = _number(radius), _number(2 * radius)
    start = _at((centre[0] - radius, centre[1]))
    return f"M{start} a{r},{r} 0 1 0 {d},0 a{r},{r} 0 1 0 -{d},0 Z"


def passes(box: Box, count: int, *, from_right: bool = False) -> list[Point]:
    """Corner points of a tube going to and fro across the box, from its top downward.

    Parameters
    ----------
    box : Box
        Where the coil lies.
    count : int
        Number of passes across. [-]
    from_right : bool
        Start at the right end of the first pass.

    Returns
    -------
    list of Point
        Corners, from the top down. [px]
    """
    pitch = box.height / (count - 1)
    points: list[Point] = []
    for n in range(count):
        ends = (box.x, box.right) if (n % 2 == 0) != from_right else (box.right, box.x)
        points += [(end, box.y + n * pitch) for end in ends]
    return points


def combs(box: Box, count: int) -> str:
    """Upright strokes evenly across the box: fins or wires.

    Parameters
    ----------
    box : Box
        Where they stand.
    count : int
        Number of strokes. [-]

    Returns
    -------
    str
        SVG path data.
    """
    step = box.width / (count - 1)
    strokes = [
        line([(box.x + n * step, box.y), (box.x + n * step, box.bottom)]) for n in range(count)
    ]
    return " ".join(strokes)


def blades(hub: Point, reach: float) -> str:
    """Four fan blades about a hub.

    Parameters
    ----------
    hub : (float, float)
        Centre of the fan.
    reach : float
        Length of a blade. [drawing unit]

    Returns
    -------
    str
        SVG path data.
    """
    half = reach / 2
    curves = (
        (half, -half, 0.0, -reach),
        (half, half, reach, 0.0),
        (-half, half, 0.0, reach),
        (-half, -half, -reach, 0.0),
    )
    return " ".join(f"M{_at(hub)} q{_at((a, b))} {_at((c, d))}" for a, b, c, d in curves)

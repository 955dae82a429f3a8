"""The compressor in its space, and where lines meet its shell."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.web.drawing.cabinets import Cabinet
from coldwright.web.drawing.pen import Point, line
from coldwright.web.drawing.records import Shape


@dataclass(frozen=True, slots=True)
class Shell:
    """The welded shell, standing at the right of the niche."""

    shapes: tuple[Shape, ...]
    middle: Point
    suction_in: Point
    side_out: Point  # discharge towards the back
    top_out: Point  # discharge towards a condenser beside it


def shell(cabinet: Cabinet) -> Shell:
    """The compressor of that cabinet.

    Parameters
    ----------
    cabinet : Cabinet
        Where it stands.

    Returns
    -------
    Shell
        Shapes and where the tubes start. [px]
    """
    niche = cabinet.niche
    x, base = niche.right - 46.0, niche.bottom - 14.0
    dome = f"M{x - 30:g},{base:g} v-18 a30,24 0 0 1 60,0 v18 Z"
    shapes = (
        Shape("shell", dome),
        Shape("stub", line([(x - 30.0, base - 14.0), (x - 42.0, base - 14.0)])),
        Shape("stub", line([(x - 36.0, base + 5.0), (x + 36.0, base + 5.0)])),
    )
    return Shell(
        shapes,
        middle=(x, base - 12.0),
        suction_in=(x - 16.0, base - 38.0),
        side_out=(x + 30.0, base - 10.0),
        top_out=(x + 8.0, base - 41.0),
    )

"""The high side by kind of condenser: discharge line, coil, drier, way of the capillary."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from coldwright.web.drawing.cabinets import Cabinet
from coldwright.web.drawing.compressor import Shell
from coldwright.web.drawing.pen import BEND, Point, blades, circle, combs, line, passes, rectangle
from coldwright.web.drawing.records import Box, Shape


@dataclass(frozen=True, slots=True)
class HighSide:
    """Shapes, points where temperatures are read, and the capillary's way to the wall."""

    shapes: tuple[Shape, ...]
    spots: tuple[tuple[str, Point], ...]
    capillary: tuple[Point, ...]  # from the drier to the foot of its run in the wall


class CondenserKind(Protocol):
    """One way to lay out the high side. `wide` asks for a niche under the whole floor."""

    words: str
    wide: bool

    def lay(self, cabinet: Cabinet, shell: Shell) -> HighSide:
        """The high side in that cabinet."""
        ...


def _spots(
    felt: Point, coil: list[Point], drier_in: Point, drier_out: Point
) -> tuple[tuple[str, Point], ...]:
    return (
        ("discharge_line_temperature", felt),
        ("condenser_inlet_temperature", coil[1]),
        ("condenser_middle_temperature", coil[len(coil) // 2]),
        ("condenser_outlet_temperature", coil[-1]),
        ("drier_inlet_temperature", drier_in),
        ("drier_outlet_temperature", drier_out),
    )


def _down_into_wall(cabinet: Cabinet, drier_out: Point) -> tuple[Point, ...]:
    low = max(drier_out[1] + 10.0, cabinet.niche.y + 8.0)
    return drier_out, (drier_out[0], low), (cabinet.wall.capillary_x, low)


class StaticCondenser:
    """Tubes and wires hanging at the back, the drier below them."""

    words = "hangs at the back"
    wide = False

    def lay(self, cabinet: Cabinet, shell: Shell) -> HighSide:
        """The high side in that cabinet."""
        hung = cabinet.hung
        coil = passes(hung, 13)
        foot = coil[-1]
        drier = Box(foot[0] - 6.0, foot[1] + 14.0, 12.0, 34.0)
        inlet, outlet = (foot[0], drier.y), (foot[0], drier.bottom)
        turn = (hung.x - 5.0, shell.side_out[1])
        discharge, felt = [shell.side_out, turn], turn
        if turn[0] < shell.middle[0]:  # hung behind the cabinet: over the shell, not through it
            top, over = shell.top_out, cabinet.niche.y + 9.0
            discharge, felt = [top, (top[0], over), (turn[0], over)], (top[0], top[1] - 6.0)
        discharge += [(turn[0], coil[0][1]), coil[0]]
        wires = Box(hung.x + 3.0, hung.y - 6.0, hung.width - 6.0, hung.height + 12.0)
        shapes = (
            Shape("wires", combs(wires, max(2, round(wires.width / 11)))),
            Shape("tube", line(discharge, BEND)),
            Shape("tube", line([*coil, inlet], BEND)),
            Shape("drier", rectangle(drier, 5.0)),
        )
        return HighSide(shapes, _spots(felt, coil, inlet, outlet), _down_into_wall(cabinet, outlet))


class SkinCondenser:
    """Tubes bonded inside the cabinet wall, the drier in the compressor's space."""

    words = "lies inside the cabinet wall, buried in foam"
    wide = False

    def lay(self, cabinet: Cabinet, shell: Shell) -> HighSide:
        """The high side in that cabinet."""
        coil = passes(cabinet.wall.skin, 24)
        foot = coil[-1][0]
        drier = Box(foot - 6.0, cabinet.niche.y + 8.0, 12.0, 28.0)
        inlet, outlet = (foot, drier.y), (foot, drier.bottom)
        turn = (cabinet.wall.riser_x, shell.side_out[1])
        riser = [shell.side_out, turn, (turn[0], coil[0][1]), coil[0]]
        shapes = (
            Shape("tube buried", line(riser, BEND)),
            Shape("tube buried", line([*coil, (foot, cabinet.niche.y)], BEND)),
            Shape("tube", line([(foot, cabinet.niche.y), inlet])),
            Shape("drier", rectangle(drier, 5.0)),
        )
        return HighSide(shapes, _spots(turn, coil, inlet, outlet), _down_into_wall(cabinet, outlet))


class FanCondenser:
    """A finned block with its fan beside the compressor."""

    words = "stands beside the compressor with its own fan"
    wide = True

    def lay(self, cabinet: Cabinet, shell: Shell) -> HighSide:
        """The high side in that cabinet."""
        niche = cabinet.niche
        block = Box(niche.x + 10.0, niche.y + 22.0, 46.0, niche.height - 42.0)
        coil = passes(block, 6, from_right=True)
        hub = (block.right + 18.0, block.middle[1])
        drier = Box(hub[0] - 14.0, niche.bottom - 14.0, 30.0, 11.0)
        level = drier.middle[1]
        inlet, outlet = (drier.x, level), (drier.right, level)
        beside, over = block.right + 8.0, niche.y + 9.0
        top = shell.top_out
        discharge = [top, (top[0], over), (beside, over), (beside, block.y), coil[0]]
        to_drier = [*coil, (coil[-1][0] + 6.0, coil[-1][1]), (coil[-1][0] + 6.0, level), inlet]
        fins = Box(block.x - 3.0, block.y - 6.0, block.width + 6.0, block.height + 12.0)
        shapes = (
            Shape("fins", combs(fins, 9)),
            Shape("tube", line(discharge, BEND)),
            Shape("tube", line(to_drier, BEND)),
            Shape("fan", circle(hub, 13.0) + " " + blades(hub, 10.0)),
            Shape("drier", rectangle(drier, 5.0)),
        )
        edge, upper = niche.right - 5.0, niche.y + 6.0
        capillary = (outlet, (edge, level), (edge, upper), (cabinet.wall.capillary_x, upper))
        felt = (top[0], top[1] - 6.0)
        return HighSide(shapes, _spots(felt, coil, inlet, outlet), capillary)


CONDENSERS: Mapping[str, CondenserKind] = {
    "static": StaticCondenser(),
    "skin": SkinCondenser(),
    "fan": FanCondenser(),
}

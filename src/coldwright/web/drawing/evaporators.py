"""The evaporator by kind, laid into the compartment it cools."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from coldwright.web.drawing.cabinets import Cabinet
from coldwright.web.drawing.pen import BEND, Point, blades, circle, combs, line, passes, rectangle
from coldwright.web.drawing.records import Box, Shape


@dataclass(frozen=True, slots=True)
class ColdCoil:
    """Shapes, and the points at the wall where the capillary enters and the suction line leaves."""

    shapes: tuple[Shape, ...]
    enters: Point
    leaves: Point


class EvaporatorKind(Protocol):
    """One kind of evaporator."""

    words: str

    def lay(self, cabinet: Cabinet) -> ColdCoil:
        """The evaporator in that cabinet."""
        ...


class FanEvaporator:
    """A finned coil behind a cover, its fan above."""

    words = "is a finned coil with a fan"

    def lay(self, cabinet: Cabinet) -> ColdCoil:
        """The evaporator in that cabinet."""
        box = cabinet.coil
        hub = (box.middle[0], box.y + 2.0)
        block = Box(box.x, box.y + 24.0, box.width, box.height - 24.0)
        coil = passes(block, 8, from_right=True)
        fins = Box(block.x - 2.0, block.y - 5.0, block.width + 4.0, block.height + 10.0)
        shapes = (
            Shape("fins", combs(fins, max(3, round(fins.width / 8)))),
            Shape("tube", line(coil, BEND)),
            Shape("fan", circle(hub, 12.0) + " " + blades(hub, 9.0)),
        )
        return ColdCoil(shapes, coil[0], coil[-1])


class PlateEvaporator:
    """Channels in a plate that stands in the compartment."""

    words = "is a plate in the freezer"

    def lay(self, cabinet: Cabinet) -> ColdCoil:
        """The evaporator in that cabinet."""
        box = cabinet.coil
        coil = passes(box, 10, from_right=True)
        plate = Box(box.x - 5.0, box.y - 8.0, box.width + 10.0, box.height + 16.0)
        shapes = (Shape("plate", rectangle(plate, 4.0)), Shape("tube", line(coil, BEND)))
        return ColdCoil(shapes, coil[0], coil[-1])


class ColdWallEvaporator:
    """Tube bonded to the liner from outside, buried in the foam."""

    words = "is bonded to the liner from outside, buried in foam"

    def lay(self, cabinet: Cabinet) -> ColdCoil:
        """The evaporator in that cabinet."""
        room = cabinet.freezer
        height = min(room.height, 330.0) - 44.0
        around = Box(room.x - 6.0, room.y + 22.0, room.width + 12.0, height)
        coil = passes(around, 6, from_right=True)
        return ColdCoil((Shape("tube buried", line(coil, BEND)),), coil[0], coil[-1])


EVAPORATORS: Mapping[str, EvaporatorKind] = {
    "plate": PlateEvaporator(),
    "cold_wall": ColdWallEvaporator(),
    "fan": FanEvaporator(),
}

"""One drawing from what is known of the appliance and what was read at it."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.web.drawing.cabinets import Cabinet, cabinet
from coldwright.web.drawing.compressor import Shell, shell
from coldwright.web.drawing.condensers import CONDENSERS, HighSide
from coldwright.web.drawing.evaporators import EVAPORATORS, ColdCoil
from coldwright.web.drawing.pen import BEND, Point, line
from coldwright.web.drawing.pins import TagText, pins
from coldwright.web.drawing.records import Drawing, Shape

WIDTH = 366.0

# What is drawn where the job file does not say: the commonest, a judgement of ours.
_USUAL = {
    "single_door": ("static", "plate"),
    "top_mount": ("static", "fan"),
    "bottom_mount": ("static", "fan"),
    "side_by_side": ("fan", "fan"),
    "upright_freezer": ("static", "plate"),
    "chest_freezer": ("skin", "cold_wall"),
    "compact": ("static", "plate"),
}


@dataclass(frozen=True, slots=True)
class Appliance:
    """What the drawing needs to know; None where it was not seen."""

    kind: str
    kind_words: str
    condenser: str | None
    evaporator: str | None
    layout: str | None


def draw(seen: Appliance, text: TagText) -> Drawing:
    """The appliance with its circuit and a tag at each point where a reading is taken.

    Parameters
    ----------
    seen : Appliance
        What is known of it.
    text : TagText
        What the tags say.

    Returns
    -------
    Drawing
        Shapes and tags.
    """
    kind = "top_mount" if seen.kind == "unknown" else seen.kind  # as `Plate.built_as`
    usual = _USUAL[kind]
    condenser = CONDENSERS[seen.condenser or usual[0]]
    evaporator = EVAPORATORS[seen.evaporator or usual[1]]
    box = cabinet(kind, wide_niche=condenser.wide)
    compressor = shell(box)
    high, cold = condenser.lay(box, compressor), evaporator.lay(box)
    low, suction_spot = _low_side(box, compressor, high, cold)
    floor = box.niche.bottom + 2.0
    shapes = (Shape("ground", line([(0.0, floor), (WIDTH, floor)])), *box.shapes)
    if seen.layout is not None and "frame_loop" in seen.layout:
        shapes += (Shape("tube buried", line(box.door_edge, 4.0)),)
    cord = _cord(box)
    spots = dict(high.spots) | {
        "ambient_temperature": (248.0, box.sky + 26.0),
        "shell_temperature": compressor.middle,
        "suction_line_temperature": suction_spot,
        "evaporator_inlet_temperature": cold.enters,
        "evaporator_outlet_temperature": cold.leaves,
        "appliance_power": cord[-1],
    }
    return Drawing(
        box.sky,
        WIDTH,
        box.height - box.sky,
        f"{seen.kind_words}, {box.seen}",
        _caption(seen, condenser.words, evaporator.words),
        (
            *shapes,
            *high.shapes,
            *cold.shapes,
            *low,
            *compressor.shapes,
            Shape("cord", line(cord, 10.0)),
        ),
        box.labels,
        pins(box, spots, text),
        _in_words(seen, condenser.words, evaporator.words),
    )


def _low_side(
    box: Cabinet, compressor: Shell, high: HighSide, cold: ColdCoil
) -> tuple[tuple[Shape, ...], Point]:
    """Suction line and capillary side by side in the wall, and where the suction line is felt."""
    wall, end = box.wall, compressor.suction_in
    level = box.niche.y + 16.0
    suction = line(
        [
            cold.leaves,
            (wall.suction_x, cold.leaves[1]),
            (wall.suction_x, level),
            (end[0], level),
            end,
        ],
        BEND,
    )
    capillary = [*high.capillary, (wall.capillary_x, cold.enters[1]), cold.enters]
    shapes = (
        Shape("suction", suction),
        Shape("suction inside", suction),
        Shape("capillary", line(capillary, BEND)),
    )
    return shapes, (end[0] + 14.0, level)


def _cord(box: Cabinet) -> list[Point]:
    x, y = box.niche.right, box.niche.bottom - 4.0
    return [(x - 4.0, y), (x + 22.0, y), (x + 22.0, y + 18.0)]


def _caption(seen: Appliance, condenser: str, evaporator: str) -> str:
    guessed = []
    if seen.condenser is None:
        guessed.append(f"the condenser {condenser}")
    if seen.evaporator is None:
        guessed.append(f"the evaporator {evaporator}")
    if not guessed:
        return ""
    return f"Not stated in the job, so drawn as is usual for this kind: {' and '.join(guessed)}."


def _in_words(seen: Appliance, condenser: str, evaporator: str) -> tuple[str, ...]:
    order = [
        "Compressor: at the bottom, reached from the back.",
        "Discharge line: from the compressor's shell to the condenser.",
        f"Condenser: it {condenser}.",
    ]
    if seen.layout is not None and "oil_cooler" in seen.layout:
        order.append("Oil-cooler loop: through the oil in the shell, fed by the condenser.")
    if seen.layout is not None and "frame_loop" in seen.layout:
        order.append("Door-frame loop: round the door opening, buried in foam.")
    return (
        *order,
        "Filter drier: at the end of the high side.",
        "Capillary tube: along the suction line, inside the foam, to the evaporator.",
        f"Evaporator: it {evaporator}.",
        "Suction line: from the evaporator through the foam back to the shell.",
    )

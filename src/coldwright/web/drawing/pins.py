"""Tags for the points where readings are taken: what they say and where they stand."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from coldwright.web.drawing.cabinets import Cabinet
from coldwright.web.drawing.pen import Point, line
from coldwright.web.drawing.records import Box, Pin

TAG_HEIGHT = 45.0  # the least a finger hits for certain: WCAG 2.2 (2023), 2.5.5
_PITCH = 48.0
_OUTSIDE_X, _OUTSIDE_WIDTH = 253.0, 112.0

# Short names fit a tag at phone width; the registry's label is spoken.
NAMES: Mapping[str, str] = {
    "ambient_temperature": "Room",
    "fresh_food_temperature": "Fresh food",
    "freezer_temperature": "Freezer",
    "door_frame_temperature": "Door frame",
    "shell_temperature": "Shell",
    "discharge_line_temperature": "Discharge",
    "condenser_inlet_temperature": "Cond. inlet",
    "condenser_middle_temperature": "Cond. middle",
    "condenser_outlet_temperature": "Cond. outlet",
    "drier_inlet_temperature": "Drier inlet",
    "drier_outlet_temperature": "Drier outlet",
    "suction_line_temperature": "Suction",
    "evaporator_inlet_temperature": "Evap. inlet",
    "evaporator_outlet_temperature": "Evap. outlet",
    "appliance_power": "Power",
}
_INSIDE_FREEZER = (
    "freezer_temperature",
    "evaporator_inlet_temperature",
    "evaporator_outlet_temperature",
)
_INSIDE_FRESH = ("fresh_food_temperature", "door_frame_temperature")


@dataclass(frozen=True, slots=True)
class TagText:
    """What the tags say: the text entered by key, the spoken words by key."""

    entered: Mapping[str, str]
    spoken: Callable[[str], str]


def pins(cabinet: Cabinet, spots: Mapping[str, Point], text: TagText) -> tuple[Pin, ...]:
    """Every tag, in the order of the page from the top down.

    Parameters
    ----------
    cabinet : Cabinet
        Where they stand.
    spots : mapping of str to (float, float)
        Where each reading is taken on a tube or part, by reading identifier. [drawing unit]
    text : TagText
        What they say.

    Returns
    -------
    tuple of Pin
        One for each reading shown.
    """
    inside = _inside(cabinet)
    outside = _outside({key: at for key, at in spots.items() if key not in inside}, cabinet)
    edge = min(x for x, _ in cabinet.door_edge)
    tags = inside | outside
    at = {key: tag.middle for key, tag in inside.items()} | dict(spots)
    at["door_frame_temperature"] = (edge, tags["door_frame_temperature"].middle[1])
    order = sorted(tags, key=lambda key: (key in outside, tags[key].y))
    return tuple(_pin(key, at[key], tags[key], text) for key in order)


def _pin(key: str, spot: Point, tag: Box, text: TagText) -> Pin:
    leader = line([_near_end(tag, spot), spot])
    value = text.entered.get(key, "")
    return Pin(key, NAMES[key], text.spoken(key), value, spot[0], spot[1], tag, leader)


def _near_end(tag: Box, spot: Point) -> Point:
    return min(max(spot[0], tag.x), tag.right), tag.middle[1]


def _inside(cabinet: Cabinet) -> dict[str, Box]:
    freezer = _column(_INSIDE_FREEZER, cabinet.freezer, 0)
    if cabinet.fresh_food is None:
        return freezer | _column(_INSIDE_FRESH[1:], cabinet.freezer, len(freezer))
    return freezer | _column(_INSIDE_FRESH, cabinet.fresh_food, 0)


def _column(keys: tuple[str, ...], box: Box, after: int) -> dict[str, Box]:
    narrow = box.width < 112.0
    left, width = (box.x + 1.0, box.width - 2.0) if narrow else (box.x + 7.0, 104.0)
    tops = [box.y + 6.0 + (after + n) * _PITCH for n in range(len(keys))]
    return {key: Box(left, top, width, TAG_HEIGHT) for key, top in zip(keys, tops, strict=True)}


def _outside(spots: Mapping[str, Point], cabinet: Cabinet) -> dict[str, Box]:
    """Beside their spots where there is room, else pushed up or down to stand clear."""
    keys = sorted(spots, key=lambda key: spots[key][1])
    tops = [spots[key][1] - TAG_HEIGHT / 2 for key in keys]
    least = cabinet.sky + 4.0
    for n, top in enumerate(tops):
        tops[n] = least = max(top, least)
        least += _PITCH
    most = cabinet.height - TAG_HEIGHT - 4.0
    for n in reversed(range(len(tops))):
        tops[n] = most = min(tops[n], most)
        most -= _PITCH
    places = [Box(_OUTSIDE_X, top, _OUTSIDE_WIDTH, TAG_HEIGHT) for top in tops]
    return dict(zip(_untangled(keys, places, spots), places, strict=True))


def _untangled(keys: list[str], places: list[Box], spots: Mapping[str, Point]) -> list[str]:
    """The keys reordered, neighbours swapped until no two neighbouring leaders cross."""
    order = list(keys)
    for _ in order:
        for n in range(len(order) - 1):
            upper, lower = order[n], order[n + 1]
            first = (_near_end(places[n], spots[upper]), spots[upper])
            second = (_near_end(places[n + 1], spots[lower]), spots[lower])
            if _cross(*first, *second):
                order[n], order[n + 1] = lower, upper
    return order


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    return _side(a, b, c) * _side(a, b, d) < 0.0 and _side(c, d, a) * _side(c, d, b) < 0.0


def _side(a: Point, b: Point, point: Point) -> float:
    return (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])

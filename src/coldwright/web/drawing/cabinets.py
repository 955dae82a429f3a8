"""The cabinet by kind: outline, doors, compartments, where the machinery stands.

Proportions are ours, drawn so that a finger finds every point; not to scale.
Most kinds are cut from front to back and seen from the side; a side-by-side is
seen from behind, a chest from its front.
"""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.web.drawing.pen import Point, closed, rectangle
from coldwright.web.drawing.records import Box, Label, Shape

_FLOOR = 584.0
_NICHE_TOP = 494.0
_DOOR = (8.0, 16.0)  # x, thickness
_BODY, _BACK = 27.0, 216.0
_LINER, _LINER_BACK = 43.0, 186.0
_LOW_BACK, _LOW_FRONT = 476.0, 566.0  # floor of the lowest room over the niche, before it


@dataclass(frozen=True, slots=True)
class Wall:
    """Where tubes run up and down inside the foam: an x for each, the y they span."""

    suction_x: float
    capillary_x: float
    skin: Box
    riser_x: float
    bottom: float


@dataclass(frozen=True, slots=True)
class Cabinet:
    """A cabinet without its circuit."""

    sky: float  # y where the drawing begins
    height: float  # y where it ends
    seen: str
    shapes: tuple[Shape, ...]
    labels: tuple[Label, ...]
    freezer: Box
    fresh_food: Box | None
    coil: Box  # where a fan or plate evaporator stands
    niche: Box  # open space of the compressor
    hung: Box  # where a static condenser hangs
    wall: Wall
    door_edge: tuple[Point, ...]  # a tube round the door frame, inside the foam


@dataclass(frozen=True, slots=True)
class _Plan:
    """Compartments of an upright cabinet from the top down: (y, bottom)."""

    top: float
    freezer: tuple[float, float]
    fresh_food: tuple[float, float] | None
    boxed: bool = False  # the freezer is a box inside the fresh-food compartment


_PLANS = {
    "single_door": _Plan(14.0, (32.0, 186.0), (202.0, _LOW_BACK), boxed=True),
    "top_mount": _Plan(14.0, (32.0, 190.0), (216.0, _LOW_BACK)),
    "bottom_mount": _Plan(14.0, (296.0, _LOW_BACK), (32.0, 270.0)),
    "upright_freezer": _Plan(14.0, (32.0, _LOW_BACK), None),
    "compact": _Plan(132.0, (150.0, 308.0), (322.0, _LOW_BACK), boxed=True),
}


def cabinet(kind: str, *, wide_niche: bool) -> Cabinet:
    """The cabinet of that kind.

    Parameters
    ----------
    kind : str
        One of the kinds of appliance.
    wide_niche : bool
        The compressor shares its space with a fan condenser.

    Returns
    -------
    Cabinet
        Outline and places for the parts. [px]
    """
    if kind == "chest_freezer":
        return _chest(wide_niche=wide_niche)
    if kind == "side_by_side":
        return _side_by_side()
    return _upright(_PLANS[kind], wide_niche=wide_niche)


def _upright(plan: _Plan, *, wide_niche: bool) -> Cabinet:
    left = 40.0 if wide_niche else 124.0
    niche = Box(left, _NICHE_TOP, _BACK - left, _FLOOR - _NICHE_TOP)
    body = [(_BODY, plan.top), (_BACK, plan.top), (_BACK, niche.y), (niche.x, niche.y)]
    body += [(niche.x, _FLOOR), (_BODY, _FLOOR)]
    spans = sorted(span for span in (plan.freezer, plan.fresh_food) if span is not None)
    if plan.boxed:
        spans = [(spans[0][0], spans[-1][1])]
    shapes = [Shape("foam", closed(body)), Shape("niche", rectangle(niche))]
    for y, bottom in spans:
        lowest = bottom == _LOW_BACK and not wide_niche
        shapes.append(Shape("room", _room(y, bottom, niche.x - 18.0 if lowest else None)))
        door_bottom = _FLOOR - 6.0 if bottom == _LOW_BACK else bottom + 11.0
        leaf = Box(_DOOR[0], y - 18.0, _DOOR[1], door_bottom - (y - 18.0))
        shapes.append(Shape("door", rectangle(leaf, 5.0)))
    freezer = _box(plan.freezer)
    if plan.boxed:
        shapes.append(
            Shape("shelf", rectangle(Box(_LINER + 3, freezer.y + 3, 139, freezer.height), 7))
        )
    hung_top = plan.top + 60.0
    return Cabinet(
        plan.top - 14.0,
        614.0,
        "cut from front to back and seen from the side",
        tuple(shapes),
        (Label(_DOOR[0], _FLOOR + 22, "door", "start"), Label(_BACK, _FLOOR + 22, "back", "end")),
        freezer,
        None if plan.fresh_food is None else _box(plan.fresh_food),
        Box(160.0, freezer.y + 16.0, 20.0, min(freezer.height, 200.0) - 34.0),
        niche,
        Box(223.0, hung_top, 17.0, 430.0 - hung_top),
        Wall(191.0, 195.5, Box(201.0, plan.top + 24, 8.0, 440.0 - plan.top), 213.0, _NICHE_TOP),
        _loop(niche.x, _FLOOR - 5.0, _LINER - 12.0, plan.top + 6.0),
    )


def _box(span: tuple[float, float]) -> Box:
    return Box(_LINER, span[0], _LINER_BACK - _LINER, span[1] - span[0])


def _room(y: float, bottom: float, step_x: float | None) -> str:
    corners = [(_LINER, y), (_LINER_BACK, y), (_LINER_BACK, bottom)]
    if step_x is not None:
        corners += [(step_x, bottom), (step_x, _LOW_FRONT), (_LINER, _LOW_FRONT)]
    else:
        corners.append((_LINER, bottom))
    return closed(corners)


def _loop(niche_x: float, y: float, x: float, top: float) -> tuple[Point, ...]:
    """Out of the niche along the floor, up the door edge, and the same way back."""
    gap = 5.0
    out = ((niche_x, y), (x, y), (x, top))
    return (*out, (x + gap, top), (x + gap, y - gap), (niche_x, y - gap))


def _side_by_side() -> Cabinet:
    niche = Box(24.0, _NICHE_TOP, 202.0, 82.0)
    fresh, freezer = Box(18.0, 32.0, 97.0, 444.0), Box(122.0, 32.0, 96.0, 444.0)
    shapes = (
        Shape("foam", rectangle(Box(6.0, 14.0, 240.0, _FLOOR - 14.0), 6.0)),
        Shape("niche", rectangle(niche)),
        Shape("room", rectangle(fresh)),
        Shape("room", rectangle(freezer)),
    )
    return Cabinet(
        0.0,
        614.0,
        "seen from behind, the back taken as clear",
        shapes,
        (Label(126.0, _FLOOR + 22, "seen from behind", "middle"),),
        freezer,
        fresh,
        Box(132.0, 370.0, 74.0, 86.0),
        niche,
        Box(30.0, 250.0, 166.0, 186.0),
        Wall(223.0, 227.5, Box(232.0, 40.0, 6.0, 420.0), 242.0, _NICHE_TOP),
        ((34.0, 494.0), (34.0, 485.0), (12.0, 485.0), (12.0, 23.0), (118.5, 23.0), (118.5, 494.0)),
    )


def _chest(*, wide_niche: bool) -> Cabinet:
    niche_left = 60.0 if wide_niche else 150.0
    niche = Box(niche_left, 380.0, 246.0 - niche_left, 90.0)
    liner = Box(26.0, 132.0, 190.0, 230.0)
    body = [(8.0, 118.0), (246.0, 118.0), (246.0, niche.y), (niche.x, niche.y)]
    body += [(niche.x, 470.0), (8.0, 470.0)]
    step = niche.x - 18.0
    room = [(liner.x, liner.y), (liner.right, liner.y), (liner.right, liner.bottom)]
    room += [(step, liner.bottom), (step, 452.0), (liner.x, 452.0)]
    shapes = (
        Shape("foam", closed(body)),
        Shape("niche", rectangle(niche)),
        Shape("room", closed(room)),
        Shape("door", rectangle(Box(4.0, 92.0, 246.0, 22.0), 7.0)),
    )
    return Cabinet(
        0.0,
        504.0,
        "seen from its front, cut open",
        shapes,
        (Label(8.0, 492.0, "seen from the front", "start"), Label(16.0, 84.0, "lid", "start")),
        liner,
        None,
        Box(190.0, liner.y + 16.0, 20.0, 170.0),
        niche,
        Box(30.0, 166.0, 166.0, 156.0),
        Wall(221.0, 225.5, Box(231.0, 128.0, 8.0, 230.0), 243.0, niche.y),
        _loop(niche.x, 466.0, 12.0, 122.0),
    )

"""The drawing: every point there, every tag big enough, nothing over anything else."""

from __future__ import annotations

import itertools
import math
import re

import pytest

from coldwright.readings import keys
from coldwright.web.drawing import pen
from coldwright.web.drawing.build import WIDTH, Appliance, draw
from coldwright.web.drawing.condensers import CONDENSERS
from coldwright.web.drawing.evaporators import EVAPORATORS
from coldwright.web.drawing.pins import NAMES, TagText
from coldwright.web.drawing.records import Box, Drawing

# WCAG 2.2 (2023), success criterion 2.5.5, target size (enhanced): 44 by 44 CSS pixels.
LEAST_TARGET = 44.0
# On a phone 390 wide the drawing is 364 wide: 12 of margin and 1 of border on each side.
PHONE_SCALE = 364.0 / WIDTH
ALL = list(itertools.product(keys.KINDS, (None, *keys.CONDENSERS), (None, *keys.EVAPORATORS)))
ENTERED = TagText({"shell_temperature": "61 °C"}, lambda key: keys.READINGS[key].label)


def drawn(kind: str, condenser: str | None, evaporator: str | None, layout: str = "") -> Drawing:
    """A drawing with one reading entered."""
    return draw(Appliance(kind, kind, condenser, evaporator, layout or None), ENTERED)


def apart(a: Box, b: Box) -> bool:
    """True if the boxes do not overlap."""
    return a.right <= b.x or b.right <= a.x or a.bottom <= b.y or b.bottom <= a.y


@pytest.mark.parametrize(("kind", "condenser", "evaporator"), ALL)
class TestEveryAppliance:
    def test_every_temperature_has_its_point(
        self, kind: str, condenser: str | None, evaporator: str | None
    ) -> None:
        drawing = drawn(kind, condenser, evaporator)
        there = {pin.key for pin in drawing.pins}
        no_fresh_food = kind in ("upright_freezer", "chest_freezer")
        assert there == set(NAMES) - ({"fresh_food_temperature"} if no_fresh_food else set())

    def test_tags_are_large_inside_and_apart(
        self, kind: str, condenser: str | None, evaporator: str | None
    ) -> None:
        drawing = drawn(kind, condenser, evaporator)
        for pin in drawing.pins:
            assert min(pin.tag.width, pin.tag.height) * PHONE_SCALE >= LEAST_TARGET
            assert pin.tag.x >= 0
            assert pin.tag.right <= drawing.width
            assert pin.tag.y >= drawing.top
            assert pin.tag.bottom <= drawing.top + drawing.height
        for a, b in itertools.combinations(drawing.pins, 2):
            assert apart(a.tag, b.tag), (a.key, b.key)

    def test_points_lie_in_the_drawing_and_apart(
        self, kind: str, condenser: str | None, evaporator: str | None
    ) -> None:
        drawing = drawn(kind, condenser, evaporator)
        for pin in drawing.pins:
            assert 0 <= pin.spot_x <= drawing.width
            assert 0 <= pin.spot_y - drawing.top <= drawing.height
        for a, b in itertools.combinations(drawing.pins, 2):
            assert math.dist((a.spot_x, a.spot_y), (b.spot_x, b.spot_y)) > 10, (a.key, b.key)

    def test_tubes_stay_in_the_drawing(
        self, kind: str, condenser: str | None, evaporator: str | None
    ) -> None:
        drawing = drawn(kind, condenser, evaporator, "frame_loop")
        for shape in drawing.shapes:
            if re.search("[a-z]", shape.path):
                continue  # relative strokes: fans, rounded boxes and the shell, placed by boxes
            for x, y in re.findall(r"(-?[\d.]+),(-?[\d.]+)", shape.path):
                assert 0 <= float(x) <= drawing.width
                assert 0 <= float(y) - drawing.top <= drawing.height

    def test_high_side_is_felt_in_order_of_flow_downward(
        self, kind: str, condenser: str | None, evaporator: str | None
    ) -> None:
        at = {pin.key: pin.spot_y for pin in drawn(kind, condenser, evaporator).pins}
        order = ("condenser_inlet", "condenser_middle", "condenser_outlet", "drier_inlet")
        heights = [at[f"{name}_temperature"] for name in order]
        assert heights == sorted(heights)
        assert at["evaporator_inlet_temperature"] < at["evaporator_outlet_temperature"]


def test_every_kind_the_registry_knows_can_be_drawn() -> None:
    assert set(CONDENSERS) == set(keys.CONDENSERS)
    assert set(EVAPORATORS) == set(keys.EVAPORATORS)


def test_entered_reading_stands_on_its_tag() -> None:
    pins = {pin.key: pin for pin in drawn("top_mount", "static", "fan").pins}
    assert pins["shell_temperature"].value == "61 °C"
    assert pins["shell_temperature"].spoken == "compressor shell"
    assert pins["drier_inlet_temperature"].value == ""


def test_frame_loop_is_drawn_where_there_is_one() -> None:
    plain = drawn("top_mount", "static", "fan", "plain")
    looped = drawn("top_mount", "static", "fan", "oil_cooler_and_frame_loop")
    buried = [sum("buried" in shape.css for shape in d.shapes) for d in (plain, looped)]
    assert buried == [0, 1]
    assert any(line.startswith("Door-frame loop") for line in looped.order_of_flow)
    assert any(line.startswith("Oil-cooler loop") for line in looped.order_of_flow)


def test_what_was_not_seen_is_said_to_be_a_guess() -> None:
    assert "the condenser hangs at the back" in drawn("compact", None, "plate").caption
    assert drawn("compact", "static", "plate").caption == ""


def test_side_by_side_cannot_be_cut_through_one_compartment() -> None:
    drawing = drawn("side_by_side", None, None)
    tags = {pin.key: pin.tag for pin in drawing.pins}
    assert tags["fresh_food_temperature"].right <= tags["freezer_temperature"].x


def test_neighbouring_leaders_do_not_cross() -> None:
    drawing = drawn("top_mount", "fan", "fan")
    outside = sorted((p for p in drawing.pins if p.tag.x > 250), key=lambda p: p.tag.y)
    for a, b in itertools.pairwise(outside):
        ends = [tuple(map(float, end.split(","))) for end in re.findall(r"[\d.]+,[\d.]+", a.leader)]
        others = [
            tuple(map(float, end.split(","))) for end in re.findall(r"[\d.]+,[\d.]+", b.leader)
        ]
        assert not _cross(ends, others), (a.key, b.key)


def _cross(first: list[tuple[float, ...]], second: list[tuple[float, ...]]) -> bool:
    def side(a: tuple[float, ...], b: tuple[float, ...], p: tuple[float, ...]) -> float:
        return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])

    (a, b), (c, d) = first, second
    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def test_passes_go_to_and_fro() -> None:
    box = Box(10, 20, 30, 40)
    assert pen.passes(box, 3) == [(10, 20), (40, 20), (40, 40), (10, 40), (10, 60), (40, 60)]
    assert pen.passes(box, 2, from_right=True) == [(40, 20), (10, 20), (10, 60), (40, 60)]


def test_rounded_line_keeps_its_ends_and_short_stretches() -> None:
    path = pen.line([(0, 0), (4, 0), (4, 100)], 10)
    assert path == "M0,0 L2,0 Q4,0 4,10 L4,100"
    assert pen.line([(0, 0), (4, 0)], 10) == "M0,0 L4,0"

"""The registry: complete, consistent, and the same words as the public glossary."""

import re
from pathlib import Path

import pytest

from coldwright.readings import keys
from coldwright.units import Dimension as D
from coldwright.units import show

GLOSSARY = (Path(__file__).parents[2] / "docs" / "glossary.md").read_text(encoding="utf-8")
IN_BACKTICKS = set(re.findall(r"`([^`]+)`", GLOSSARY))
QUANTITIES = (
    keys.PLATE_QUANTITIES,
    keys.ROOM_QUANTITIES,
    keys.HISTORY_QUANTITIES,
    keys.TAKEN_QUANTITIES,
    keys.CIRCUIT_QUANTITIES,
)


@pytest.mark.parametrize(
    "names",
    [
        keys.READINGS,
        keys.SIGNS,
        keys.COMPLAINTS,
        keys.KINDS,
        keys.LAYOUTS,
        keys.CONDENSERS,
        keys.EVAPORATORS,
        keys.EVAPORATOR_COUNTS,
        keys.COMPRESSOR_DRIVES,
        keys.FRAME_LOOP_POSITIONS,
        keys.SEGMENTS,
        keys.LEAK_METHODS,
        keys.ALSO_RUNNING,
        keys.THERMOMETERS,
        keys.GAUGES,
        keys.METERS,
        keys.REFRIGERANTS,
        *QUANTITIES,
    ],
)
def test_every_name_stands_in_the_glossary(names):
    assert [name for name in names if name not in IN_BACKTICKS] == []


@pytest.mark.parametrize("registry", [keys.READINGS, *QUANTITIES])
def test_every_quantity_has_a_range_that_can_be_shown(registry):
    for key in registry.values():
        assert key.low < key.high
        assert show(key.low, key.dimension)
        assert key.label


def test_only_readings_inside_the_circuit_open_it():
    opening = {k.identifier for k in keys.READINGS.values() if k.opens_circuit}
    assert opening == {
        "suction_pressure",
        "discharge_pressure",
        "standing_pressure",
        "recovered_mass",
    }
    assert all(
        k.opens_circuit for k in keys.READINGS.values() if k.dimension in (D.PRESSURE, D.MASS)
    )


def test_every_joint_belongs_to_a_segment():
    joints = [place for place in keys.PLACES if place.endswith("_joint")]
    assert [j for j in joints if j.removesuffix("_joint") not in keys.SEGMENTS] == []
    assert set(keys.SEGMENTS) <= set(keys.PLACES)


def test_identifiers_are_snake_case_and_unique_across_readings_and_signs():
    names = [*keys.READINGS, *keys.SIGNS, *keys.COMPLAINTS]
    assert len(set(names)) == len(names)
    assert [n for n in names if not re.fullmatch(r"[a-z]+(_[a-z]+)*", n)] == []

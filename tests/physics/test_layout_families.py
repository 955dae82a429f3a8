"""Families with loops: drawn by their shares, sized to the healthy range, solved when faulty."""

from math import nan

import numpy as np
import pytest

from coldwright.catalogue.families import family_of
from coldwright.catalogue.loops import FRAME_LOOPS, OIL_COOLERS, set_loops, share
from coldwright.catalogue.sizing import (
    DESIGN_ROOM_K,
    DIMENSIONS,
    LOOP_SCORES,
    Known,
    score,
    size_members,
)
from coldwright.circuit.layout import Layout, layout_of
from coldwright.circuit.records import Position
from coldwright.circuit.vector import CIRCUIT, unpack_circuit
from coldwright.cycle.medium import medium
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.population import simulate
from coldwright.diagnosis.subject import Subject

CASES = [("top_mount", "R134a", 2006.0), ("side_by_side", "R12", 1988.0)]
COUNT, SEED = 60, 11


def known(kind, year, layout, position=None):
    return Known(
        family_of(kind), year, nan, nan, nan, nan, nan, 50.0, None, None, layout, position
    )  # fmt: skip


def drawn(kind, gas, year, layout, position=None):
    z = np.random.default_rng(SEED).standard_normal((COUNT, DIMENSIONS))
    return size_members(medium(gas), known(kind, year, layout, position), z), z


@pytest.mark.parametrize(("kind", "gas", "year"), CASES)
@pytest.mark.parametrize("layout", list(Layout))
def test_members_of_every_layout_are_healthy(kind, gas, year, layout):
    # Common practice, no published source; each field with the share that must lie inside.
    members, _ = drawn(kind, gas, year, layout)
    good, s = members.good, members.design_states[members.good]
    assert good.mean() >= 0.93
    assert layout_of(unpack_circuit(members.circuits[0])) is layout
    rise = s["condensing_k"] - DESIGN_ROOM_K
    assert np.mean((rise > 8.0) & (rise < 20.0)) >= 0.95
    assert np.mean((s["run_fraction"] > 0.28) & (s["run_fraction"] < 0.72)) >= 0.95
    assert np.mean((s["discharge_line_k"] > 318.15) & (s["discharge_line_k"] < 368.15)) >= 0.95
    framed = layout in (Layout.FRAME_LOOP, Layout.BOTH)
    oiled = layout in (Layout.OIL_COOLER, Layout.BOTH)
    assert np.all((s["frame_heat_w"] > 5.0) == framed)
    assert np.mean((s["oil_cooler_heat_w"] > 1.0) == oiled) >= 0.95
    # A warm frame clears the dew point of a damp room (65 %, 25 degC: 18 degC), running
    assert np.all(np.isnan(s["door_frame_k"])) if not framed else np.all(s["door_frame_k"] > 295.0)


@pytest.mark.parametrize(("kind", "year"), [(kind, year) for kind, _, year in CASES])
def test_what_was_not_seen_is_drawn_by_its_share(kind, year):
    z = np.random.default_rng(SEED).standard_normal((4000, DIMENSIONS))
    # Only the draw is looked at: sizing 4000 would say the same at a cost
    circuits = np.zeros(4000, CIRCUIT)
    own = {name: score(z, name) for name in LOOP_SCORES}
    volume, part = np.full(4000, 0.35), np.full(4000, 0.5)
    set_loops(circuits, None, None, family_of(kind), year, volume, part, own)
    framed = circuits["frame_loop"]["tube_length_m"] > 0.0
    assert framed.mean() == pytest.approx(share(FRAME_LOOPS, kind, year), abs=0.025)
    oiled = circuits["oil_cooler"]["conductance_w_k"] > 0.0
    assert oiled.mean() == pytest.approx(share(OIL_COOLERS, kind, year), abs=0.025)
    last = circuits["frame_loop"]["position_code"][framed] == Position.AFTER_CONDENSER
    assert last.mean() == pytest.approx(0.6, abs=0.03)


@pytest.mark.parametrize("position", list(Position))
def test_a_position_that_was_seen_is_kept(position):
    members, _ = drawn("top_mount", "R134a", 2006.0, Layout.FRAME_LOOP, position)
    assert set(members.circuits["frame_loop"]["position_code"]) == {float(position)}


@pytest.mark.parametrize("position", list(Position))
@pytest.mark.parametrize(
    "fault", ["undercharge", "capillary_restricted", "condenser_air", "overcharge"]
)
def test_faulty_members_are_solved_in_every_position(fault, position):
    gas = "R134a"
    members, z = drawn("top_mount", gas, 2006.0, Layout.BOTH, position)
    at = Subject(
        known("top_mount", 2006.0, Layout.BOTH, position), ((gas, 1.0),), 305.0, 285.0, 267.0,
        False, 120.0, float("inf"), (), (),
    )  # fmt: skip
    found = simulate(medium(gas), at, hypothesis_named(fault), z, members)
    assert found.unsolved <= 1  # of 60; over all families and layouts under 0.2 %


def test_a_plain_appliance_is_what_it_was():
    # Scores of loops play no part where the layout is plain.
    _, z = drawn("top_mount", "R134a", 2006.0, Layout.PLAIN)
    other = z.copy()
    other[:, -6:] = 0.0
    med = medium("R134a")
    a, b = (size_members(med, known("top_mount", 2006.0, Layout.PLAIN), s) for s in (z, other))
    assert a.circuits.tobytes() == b.circuits.tobytes()

"""Diagrams of a running circuit: what the records hold is what is drawn, and nothing more."""

import ast
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from coldwright.cycle.medium import medium
from coldwright.cycle.solver.running import solve_running
from coldwright.errors import OutOfRange
from coldwright.figures import circuit as figures
from coldwright.figures.circuit import (
    HEIGHT,
    LEVEL_WORDS,
    RIGHT,
    WIDTH,
    Beside,
    along_circuit_svg,
    pressure_enthalpy_svg,
)
from coldwright.figures.diagrams import along_circuit, pressure_enthalpy
from tests.physics.circuits import ROOM_K, example, names, settled_room

SVG = "{http://www.w3.org/2000/svg}"
WIDEST_LETTER = 0.62  # of the font size, a wide guess of ours
FONT = 13.0


def solved(name):
    shipped = example(name)
    med = medium(shipped.job.plate.refrigerant)
    return shipped.circuit, solve_running(
        shipped.circuit, settled_room(), settled=True
    ).state, med.tables  # fmt: skip


def drawn(name):
    circuit, state, tables = solved(name)
    title = f"{name} <test>"
    return (
        pressure_enthalpy_svg(pressure_enthalpy(state, tables, title)),
        along_circuit_svg(along_circuit(state, circuit, ROOM_K, title)),
    )


@pytest.mark.parametrize("name", names())
def test_both_are_whole_svg_with_words_for_the_ear(name):
    for text in drawn(name):
        root = ET.fromstring(text)
        assert root.get("role") == "img"
        assert root.find(f"{SVG}title").text == f"{name} <test>"
        assert "evaporator inlet" in root.find(f"{SVG}desc").text


@pytest.mark.parametrize("name", names())
def test_words_stay_on_the_sheet_and_apart(name):
    for text in drawn(name):
        boxes = []
        for t in ET.fromstring(text).iter(f"{SVG}text"):
            wide = WIDEST_LETTER * FONT * len(t.text)
            x, y = float(t.get("x")), float(t.get("y"))
            left = x - {"start": 0.0, "middle": 0.5 * wide, "end": wide}[t.get("text-anchor")]
            assert left >= -1.0, t.text
            assert left + wide <= WIDTH + 12.0, t.text
            assert FONT - 2.0 <= y <= HEIGHT, t.text
            boxes.append((y, x))
        at_levels = sorted(y for y, x in boxes if x == WIDTH - RIGHT - LEVEL_WORDS + 8.0)
        assert len(at_levels) in (0, 4, 5)
        assert all(b - a >= FONT for a, b in pairwise(at_levels))


def test_places_lie_where_the_state_says():
    _, state, tables = solved("plain_static_fan")
    record = pressure_enthalpy(state, tables, "t")
    root = ET.fromstring(pressure_enthalpy_svg(record))
    squares = [
        (float(r.get("x")), float(r.get("y"))) for r in root.iter(f"{SVG}rect") if r.get("x")
    ]
    assert len(squares) == len(record.spots)
    order = sorted(range(5), key=lambda i: squares[i][0])
    assert order == sorted(range(5), key=lambda i: record.spots[i].enthalpy_j_kg)
    high = {round(squares[i][1], 1) for i, s in enumerate(record.spots) if s.pressure_pa > 5e5}
    assert len(high) == 1  # the condenser is drawn level: one pressure
    dotted = [p for p in root.iter(f"{SVG}polyline") if p.get("stroke-dasharray")]
    assert len(dotted) == len(record.unseen)
    # Saturated liquid from the table stands left of vapour, and the outlet is subcooled
    at = min(
        range(60), key=lambda i: abs(record.dome_pressure_pa[i] - state.condensing_pressure_pa)
    )
    outlet = record.spots[2]
    assert outlet.words == "condenser outlet"
    assert outlet.enthalpy_j_kg < record.dome_liquid_j_kg[at] < record.dome_vapour_j_kg[at]


def test_readings_follow_the_tube():
    circuit, state, _ = solved("plain_static_fan")
    record = along_circuit(state, circuit, ROOM_K, "t")
    metres = [r.metre for r in record.readings]
    assert metres == sorted(metres)
    assert metres[-1] == record.stretches[-1].end_m
    assert record.readings[0].temperature_k == state.discharge_line_k
    assert [s.start_m for s in record.stretches[1:]] == [s.end_m for s in record.stretches[:-1]]
    root = ET.fromstring(along_circuit_svg(record))
    squares = [r for r in root.iter(f"{SVG}rect") if r.get("x")]
    assert len(squares) == len(record.readings)


def test_one_box_has_no_fresh_food_level():
    circuit, state, _ = solved("plain_skin_cold_wall")
    assert "fresh food" not in {v.words for v in along_circuit(state, circuit, ROOM_K, "t").levels}


def test_nothing_flowing_has_no_diagram():
    _, state, tables = solved("plain_static_fan")
    with pytest.raises(OutOfRange, match="mass flow"):
        pressure_enthalpy(replace(state, mass_flow_kg_s=0.0), tables, "t")


def test_figures_compute_nothing():
    tree = ast.parse(Path(figures.__file__).read_text(encoding="utf-8"))
    used = {n.module for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)}
    own = {m for m in used if m and m.startswith("coldwright")}
    assert own == {"coldwright.units.formulas", "coldwright.figures.diagrams"}


LONGEST_WORDS = "Undercharge and Air or nitrogen in the circuit"  # two faults, as the page has them


@pytest.mark.parametrize("name", ["plain_static_fan", "plain_skin_cold_wall"])
def test_two_states_are_told_apart_by_their_strokes_and_words(name):
    circuit, state, tables = solved(name)
    short = replace(circuit, charge_kg=0.5 * circuit.charge_kg)
    starved = solve_running(short, settled_room(), settled=True).state
    pair = [pressure_enthalpy(s, tables, "t") for s in (starved, state)]
    along = [along_circuit(s, circuit, ROOM_K, "t") for s in (starved, state)]
    for text, alone, spots in (
        (pressure_enthalpy_svg(pair[0], Beside(pair[1], LONGEST_WORDS, "sound")),
         pressure_enthalpy_svg(pair[0]), len(pair[0].spots)),
        (along_circuit_svg(along[0], Beside(along[1], LONGEST_WORDS, "sound")),
         along_circuit_svg(along[0]), len(along[0].readings)),
    ):  # fmt: skip
        root = ET.fromstring(text)
        words = [t for t in root.iter(f"{SVG}text") if t.text in (LONGEST_WORDS, "sound")]
        ends = sorted(
            (float(t.get("x")), float(t.get("x")) + WIDEST_LETTER * FONT * len(t.text))
            for t in words
        )
        assert len(ends) == 2
        assert ends[0][1] < ends[1][0] - 26.0  # the second one's stroke lies between
        assert ends[1][1] < WIDTH + 60.0  # by a wide guess of a letter
        # The second state: one broken line through as many places, and no squares of its own
        (broken,) = (
            p for p in root.iter(f"{SVG}polyline")
            if p.get("stroke-dasharray") == "6 5" and len(p.get("points").split()) > 2
        )  # fmt: skip
        assert len(broken.get("points").split()) in (spots, spots + 1)
        squares = len([r for r in root.iter(f"{SVG}rect") if r.get("x")])
        assert squares == spots
        assert 'dasharray="6 5"' not in alone
        assert root.find(f"{SVG}desc").text.startswith(f"{LONGEST_WORDS}: ")

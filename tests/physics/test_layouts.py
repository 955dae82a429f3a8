"""High sides with loops and oil coolers: laws kept in every layout, signs as expected."""

import json
import math
from dataclasses import replace
from pathlib import Path

import pytest

from coldwright.circuit.layout import Layout, layout_of, stretches, without_frame_loop
from coldwright.circuit.records import DrainPanLoop, FrameLoop, OilCooler, Position
from coldwright.cycle.solver.running import Status, solve_running
from coldwright.cycle.standstill.standing import solve_standing
from coldwright.errors import Refused
from coldwright.usecases.simulate import simulate
from tests.physics.circuits import ROOM_K, example, names, settled_room

CLOSURE = 1e-6  # what the model promises
LAYOUTS = [name for name in names() if not name.startswith("plain")]
RECORDED = Path(__file__).parents[1] / "snapshots" / "plain_states.json"
UNMOVED = 1e-5  # the solver stops at 1e-8; the choking search and fused products move more

PAN = DrainPanLoop(float(Position.BEFORE_CONDENSER), 1.2, 3.4e-3, 0.5, 0.05)
OIL = OilCooler(4.0, 1.5, 3.4e-3)


def frame(position):
    return FrameLoop(float(position), 6.0, 3.4e-3, 2.0, 1.8, 0.3, 0.4)


def circuits():
    """One invented circuit with every arrangement of loops, by name."""
    base = example("plain_static_fan").circuit
    base = replace(base, condenser=replace(base.condenser, first_section_fraction=0.3))
    for oil in (OilCooler(), OIL):
        for pan in (None, *Position):
            for at in (None, *Position):
                loops = {"oil_cooler": oil}
                if pan is not None:
                    loops["drain_pan_loop"] = replace(PAN, position_code=float(pan))
                if at is not None:
                    loops["frame_loop"] = frame(at)
                name = f"oil{oil.conductance_w_k:g}-pan_{pan}-frame_{at}"
                # Liquid fills a loop that comes last; elsewhere it holds a few grams.
                more = 25e-3 if at == Position.AFTER_CONDENSER else 6e-3 if at is not None else 0.0
                yield pytest.param(replace(base, **loops, charge_kg=0.12 + more), id=name)


def solve(circuit, room_k=ROOM_K):
    return solve_running(circuit, settled_room(room_k), settled=True)


def assert_closed(circuit, s):
    charge = (
        s.charge_condenser_kg + s.charge_loops_kg + s.charge_evaporator_kg
        + s.charge_liquid_line_kg + s.charge_low_side_kg + s.charge_shell_kg + s.charge_oil_kg
    )  # fmt: skip
    assert charge == pytest.approx(circuit.charge_kg, rel=CLOSURE)
    given = s.compressor_power_w + s.cooling_w + s.stub_heat_w
    left = s.condenser_heat_w + s.frame_heat_w + s.drain_pan_heat_w + s.shell_heat_w
    assert left == pytest.approx(given, rel=CLOSURE)
    # The shell: work in, heat to the room, to the oil cooler and with the gas
    gas = s.mass_flow_kg_s * (s.enthalpy_discharge_j_kg - s.enthalpy_suction_j_kg)
    out = gas + s.shell_heat_w + s.oil_cooler_heat_w
    assert out == pytest.approx(s.compressor_power_w, rel=CLOSURE)


@pytest.mark.parametrize("circuit", list(circuits()))
def test_mass_energy_and_charge_close_in_every_arrangement(circuit):
    running = solve(circuit)
    assert running.status is Status.SOLVED
    assert running.residual < CLOSURE
    assert_closed(circuit, running.state)


@pytest.mark.parametrize("name", LAYOUTS)
@pytest.mark.parametrize(
    "fault",
    [
        ("undercharge", 0.3), ("overcharge", 1.5), ("capillary_restricted", 0.3),
        ("drier_restricted", 0.3), ("weak_compressor", 0.4), ("condenser_air", 0.3),
        ("evaporator_air", 0.2), ("heat_load", 80.0), ("non_condensables", 0.005),
    ],
    ids=lambda f: f[0],
)  # fmt: skip
def test_faulty_layouts_solve_and_close(name, fault):
    job = example(name).job
    found = simulate(job, faults=(fault,))
    assert found.running.status_code == 0.0
    factor = fault[1] if fault[0] in ("undercharge", "overcharge") else 1.0
    circuit = replace(example(name).circuit, charge_kg=found.charge_kg * factor)
    assert_closed(circuit, found.running)


@pytest.mark.parametrize("room", [283.15, 298.15, 316.15])
@pytest.mark.parametrize("name", LAYOUTS)
def test_layouts_solve_in_any_room(name, room):
    job = replace(example(name).job, room=replace(example(name).job.room, temperature_k=room))
    assert simulate(job).running.residual < CLOSURE


def test_plain_circuits_answer_as_recorded():
    # Recorded by bench/make_plain_states.py before the high side had loops.
    faults = {
        "sound": (), "undercharge": (("undercharge", 0.5),),
        "condenser_air": (("condenser_air", 0.4),),
        "capillary_restricted": (("capillary_restricted", 0.5),),
        "capillary_blocked": (("capillary_blocked", math.nan),),
    }  # fmt: skip
    recorded = json.loads(RECORDED.read_text(encoding="utf-8"))
    assert len(recorded) == 8 * len(faults)
    for name, state in recorded.items():
        stem, fault = name.split()
        found = simulate(example(stem).job, faults=faults[fault])
        for field, value in state.items():
            if field in ("residual", "iterations"):
                continue
            if field == "standing_pressure_pa":
                now = found.standing.pressure_pa
            else:
                now = getattr(found.running, field)
            assert now == pytest.approx(value, rel=UNMOVED, abs=1e-12, nan_ok=True), (name, field)


def test_a_loop_with_nothing_to_give_changes_nothing():
    # Limits: a bare tube of no conductance and hardly any volume is no loop at all.
    plain = example("plain_static_fan").circuit
    thin = replace(frame(Position.AFTER_CONDENSER), tube_length_m=1e-6,
                   bond_conductance_w_m_k=1e-6, cabinet_conductance_w_k=0.0)  # fmt: skip
    a, b = solve(plain).state, solve(replace(plain, frame_loop=thin)).state
    assert b.condensing_k == pytest.approx(a.condensing_k, abs=1e-4)
    assert b.run_fraction == pytest.approx(a.run_fraction, abs=1e-5)
    # Half of a condenser before and half after nothing is the condenser. The halves take their
    # in-tube coefficient over their own qualities, which is all that differs.
    split = replace(
        plain, condenser=replace(plain.condenser, first_section_fraction=0.5),
        drain_pan_loop=DrainPanLoop(1.0, 1e-6, 3.4e-3, 1e-6, 0.0),
    )  # fmt: skip
    assert solve(split).state.condensing_k == pytest.approx(a.condensing_k, abs=0.2)


def test_an_oil_cooler_cools_shell_and_discharge_line():
    base = example("plain_static_fan").circuit
    base = replace(base, condenser=replace(base.condenser, first_section_fraction=0.3))
    bare, cooled = solve(base).state, solve(replace(base, oil_cooler=OIL)).state
    assert cooled.oil_cooler_heat_w > 5.0
    assert cooled.shell_k < bare.shell_k - 2.0
    assert cooled.discharge_line_k < bare.discharge_line_k - 1.0
    assert cooled.shell_heat_w < bare.shell_heat_w
    more = solve(replace(base, oil_cooler=replace(OIL, conductance_w_k=8.0))).state
    assert bare.shell_k > cooled.shell_k > more.shell_k


@pytest.mark.parametrize("share", [0.02, 0.1, 0.3, 0.7, 0.95])
def test_the_oil_cooler_agrees_with_whatever_reaches_it(share):
    # Hot gas, wet gas or subcooled liquid: the shell's balance and the stretch agree.
    base = example("plain_static_fan").circuit
    base = replace(base, oil_cooler=OIL, charge_kg=0.13,
                   condenser=replace(base.condenser, first_section_fraction=share))  # fmt: skip
    running = solve(base)
    assert running.status is Status.SOLVED
    assert_closed(base, running.state)
    s = running.state
    most = OIL.conductance_w_k * (s.shell_k - s.condensing_k)
    if 0.3 <= share <= 0.7:  # two phases: one temperature along the whole cooler
        assert s.oil_cooler_heat_w == pytest.approx(most, rel=1e-6)
    elif share < 0.3:  # hotter gas takes less
        assert s.oil_cooler_heat_w < most
    else:  # colder liquid takes more
        assert s.oil_cooler_heat_w > most


def test_positions_order_the_frame_temperatures():
    # Hot gas, then condensing, then cooling liquid.
    base = example("plain_static_fan").circuit
    base = replace(base, condenser=replace(base.condenser, first_section_fraction=0.3))
    found = [solve(replace(base, frame_loop=frame(at))).state for at in Position]
    ends = [s.door_frame_outlet_k for s in found]
    assert ends[0] > ends[2]
    assert ends[1] > ends[2]
    rests = [s.condensing_k - s.condenser_inlet_k for s in found]
    assert rests[0] > rests[2]  # a loop before the condenser takes the superheat
    assert found[2].condenser_outlet_k > found[2].drier_inlet_k + 1.0
    assert found[0].condenser_outlet_k == found[0].drier_inlet_k


@pytest.mark.parametrize("name", [name for name in LAYOUTS if "frame" in name])
def test_signs_of_a_frame_loop_taken_out(name):
    found = simulate(example(name).job, without="frame_loop")
    before, after = found.before, found
    assert after.charge_kg == pytest.approx(
        before.charge_kg - before.running.charge_frame_loop_kg, rel=1e-12
    )
    assert after.running.condensing_k > before.running.condensing_k + 0.5
    assert after.running.condenser_outlet_k > before.running.condensing_k - 10.0
    assert after.running.cooling_w < before.running.cooling_w
    assert after.running.load_w < before.running.load_w - 1.0
    # Which of both wins is not told by the sign: run fraction moves by a few per cent.
    assert after.running.run_fraction == pytest.approx(before.running.run_fraction, rel=0.1)
    assert after.running.frame_heat_w == 0.0
    assert 0.0 < after.running.frame_inward_w < before.running.frame_inward_w
    assert after.door_frame.over_cycle_k < before.door_frame.over_cycle_k - 3.0
    assert after.door_frame.margin_over_cycle_k < before.door_frame.margin_over_cycle_k - 3.0
    assert after.door_frame.sweats_from_humidity_fraction < 0.9
    humid = after.door_frame.sweats_from_humidity_fraction + 0.05
    room = replace(example(name).job.room, humidity_fraction=humid)
    wet = simulate(replace(example(name).job, room=room), without="frame_loop").door_frame
    assert wet.margin_over_cycle_k < 0.0  # it sweats


def test_only_a_frame_loop_that_is_there_is_taken_out():
    with pytest.raises(Refused, match="no frame loop"):
        without_frame_loop(example("plain_static_fan").circuit)
    bare = without_frame_loop(example("frame_loop").circuit)
    assert layout_of(bare) is Layout.PLAIN
    assert bare.frame_loop.cabinet_conductance_w_k > 0.0


def test_the_list_of_stretches_is_the_circuit():
    both = example("oil_cooler_and_frame_loop").circuit
    order = [s.name for s in stretches(replace(both, drain_pan_loop=PAN))]
    assert order == ["drain_pan_loop", "condenser", "oil_cooler", "frame_loop", "condenser"]
    tubes = [s for s in stretches(both) if s.name == "condenser"]
    assert sum(t.volume_m3 for t in tubes) == pytest.approx(both.condenser.volume_m3)
    assert [s.name for s in stretches(example("plain_fan_fan").circuit)] == ["condenser"]


def test_loops_add_to_the_gas_space_at_rest():
    shipped = example("frame_loop")
    circuit = replace(shipped.circuit, charge_kg=0.02)  # no liquid left: the mass decides
    with_loop = solve_standing(circuit, room_k=ROOM_K)
    without = solve_standing(without_frame_loop(circuit), room_k=ROOM_K)
    assert with_loop.pressure_pa < without.pressure_pa
    assert with_loop.charge_high_side_kg > without.charge_high_side_kg

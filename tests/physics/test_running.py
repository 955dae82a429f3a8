"""Running states of fully specified circuits: from any start, with evidence, laws kept."""

from dataclasses import replace

import numpy as np
import pytest

from bench.make_examples import EXAMPLES, text_of
from coldwright.catalogue.families import FAMILIES
from coldwright.circuit.vector import CIRCUIT, pack_circuit, pack_surroundings, unpack_circuit
from coldwright.cycle.medium import medium, medium_of
from coldwright.cycle.solver.members import solve_members
from coldwright.cycle.solver.running import Status, solve_running, stopped
from coldwright.cycle.solver.stability import firmness_of
from coldwright.cycle.standstill.equalising import equalising_times
from coldwright.cycle.standstill.standing import solve_standing, standing_pressures
from coldwright.cycle.state import STATE
from coldwright.cycle.void import VOID_MODELS
from coldwright.errors import NotSolved, OutOfRange, Refused
from coldwright.faults.registry import effect_named
from coldwright.readings.jobfile import job_from_text
from tests.physics.circuits import FOLDER, ROOM_K, example, names, settled_room

CLOSURE = 1e-6  # what the model promises
HEALTHY = {  # common practice, no published source
    "evaporating_k": (243.15, 251.15),
    "condensing_k": (ROOM_K + 8.0, ROOM_K + 20.0),
    "run_fraction": (0.3, 0.7),
    "discharge_line_k": (318.15, 368.15),
}


def solved(name, **changes):
    shipped = example(name)
    circuit = replace(shipped.circuit, **changes)
    return solve_running(circuit, settled_room(), settled=True)


@pytest.mark.parametrize("name", names())
def test_every_example_solves_and_is_healthy(name):
    running = solved(name)
    assert running.status is Status.SOLVED
    assert running.residual < CLOSURE
    for field, (low, high) in HEALTHY.items():
        assert low <= getattr(running.state, field) <= high, field


@pytest.mark.parametrize("name", names())
def test_mass_and_energy_close(name):
    shipped, s = example(name), solved(name).state
    charge = (
        s.charge_condenser_kg
        + s.charge_loops_kg
        + s.charge_evaporator_kg
        + s.charge_liquid_line_kg
        + s.charge_low_side_kg
        + s.charge_shell_kg
        + s.charge_oil_kg
    )
    assert charge == pytest.approx(shipped.circuit.charge_kg, rel=CLOSURE)
    # First law round the circuit: what the motor and the two cold places give leaves by the
    # condenser, loops and the shell. The discharge line's share is in condenser_heat_w.
    given = s.compressor_power_w + s.cooling_w + s.stub_heat_w
    left = s.condenser_heat_w + s.frame_heat_w + s.drain_pan_heat_w + s.shell_heat_w
    assert left == pytest.approx(given, rel=CLOSURE)
    # Second law
    carnot = s.evaporating_k / (s.condensing_k - s.evaporating_k)
    assert 0.0 < s.cooling_w / s.compressor_power_w < carnot


def test_there_is_an_example_of_every_pair_the_families_use():
    used = set()
    for family in FAMILIES:
        for condensers, evaporators in (
            (family.condensers, family.evaporators),
            (family.condensers_before_1995, family.evaporators_before_1990),
        ):
            used |= {(c, e) for c, _ in condensers for e, _ in evaporators}
    assert used == {(e.condenser, e.evaporator) for e in EXAMPLES}
    assert names() == sorted(e.name.removesuffix(".toml") for e in EXAMPLES)


@pytest.mark.parametrize("made", EXAMPLES, ids=lambda e: e.name)
def test_examples_are_what_their_recipe_makes(made):
    # Not to the letter: the last of four digits may turn with the compiler.
    fresh = job_from_text(text_of(made), made.name)
    kept = job_from_text((FOLDER / made.name).read_text(encoding="utf-8"), made.name)
    assert "invented" in kept.title
    assert fresh.plate == kept.plate
    assert dict(fresh.circuit.geometry) == pytest.approx(
        dict(kept.circuit.geometry), rel=2e-3, abs=1e-15
    )


def test_a_start_nearby_saves_work_and_gives_the_same_answer():
    shipped = example("plain_static_fan")
    first = solve_running(shipped.circuit, settled_room(), settled=True)
    warmer = settled_room(ROOM_K + 2.0)
    cold = solve_running(shipped.circuit, warmer, settled=True)
    warm = solve_running(shipped.circuit, warmer, start=np.array(first.unknowns), settled=True)
    assert warm.iterations < cold.iterations
    assert warm.state.condensing_k == pytest.approx(cold.state.condensing_k, abs=1e-4)


CASES = [
    ("undercharge", 0.3), ("overcharge", 1.5), ("capillary_restricted", 0.3),
    ("drier_restricted", 0.3), ("weak_compressor", 0.3), ("condenser_air", 0.2),
    ("evaporator_air", 0.1), ("heat_load", 120.0),
]  # fmt: skip


@pytest.mark.parametrize(("fault", "severity"), CASES)
@pytest.mark.parametrize("room", [283.15, 298.15, 316.15])
def test_faulty_circuits_solve_without_a_design_point(fault, severity, room):
    shipped = example("plain_skin_fan")
    med = medium("R600a")
    c, s = pack_circuit(shipped.circuit), pack_surroundings(settled_room(room))
    effect_named(fault).apply(med, c, s, np.array([severity]))
    around = replace(settled_room(room), heat_load_w=float(s["heat_load_w"][0]))
    running = solve_running(unpack_circuit(c[0]), around, settled=True)
    assert running.status in (Status.SOLVED, Status.TRIPPED)
    if running.status is Status.SOLVED:
        assert running.residual < CLOSURE
        state = running.state
        # A cabinet short of capacity floats until its load is what is cooled.
        short = state.run_fraction >= 1.0
        balance = state.cooling_w - state.load_w
        assert abs(balance) < 1e-4 * (state.cooling_w + 20.0) if short else balance > 0.0


def test_signs_of_undercharge_and_of_a_dirty_condenser():
    sound = solved("plain_static_fan").state
    charge = example("plain_static_fan").circuit.charge_kg
    low = solved("plain_static_fan", charge_kg=0.6 * charge).state
    assert low.evaporating_k < sound.evaporating_k - 2.0
    assert low.subcooling_k < sound.subcooling_k
    assert low.evaporator_wetted_fraction < sound.evaporator_wetted_fraction
    assert low.run_fraction > sound.run_fraction
    assert low.compressor_power_w < sound.compressor_power_w
    dirty = replace(example("plain_static_fan").circuit.condenser, air_factor_fraction=0.4)
    hot = solved("plain_static_fan", condenser=dirty).state
    assert hot.condensing_k > sound.condensing_k + 8.0
    assert hot.run_fraction > sound.run_fraction


def test_imposed_compartments_are_kept():
    shipped = example("plain_static_fan")
    around = replace(settled_room(), fresh_food_k=288.15, freezer_k=278.15)
    running = solve_running(shipped.circuit, around, settled=False)
    assert running.state.fresh_food_k == 288.15
    assert running.state.freezer_k == 278.15
    assert running.state.cooling_w > solved("plain_static_fan").state.cooling_w


def test_blocked_is_a_solution():
    shipped = example("plain_static_fan")
    running = solve_running(shipped.circuit, settled_room(), settled=True, blocked=True)
    assert running.status is Status.PUMPED_DOWN
    assert running.state.mass_flow_kg_s == 0.0
    assert running.state.suction_pressure_pa < 5e4
    assert running.state.freezer_k == ROOM_K


def test_stopped_is_at_its_surroundings():
    shipped = example("plain_static_fan")
    rest = solve_standing(shipped.circuit, room_k=ROOM_K)
    running = stopped(shipped.circuit, settled_room(), rest)
    assert running.status is Status.STOPPED
    assert running.state.compressor_power_w == 0.0
    assert running.state.suction_pressure_pa == rest.pressure_pa
    assert running.state.shell_k == ROOM_K


def test_an_unsolvable_circuit_raises_with_its_last_iterate():
    shipped = example("plain_static_fan")
    tiny = replace(shipped.circuit.capillary, length_m=199.0, bore_m=1.2e-5, roughness_m=0.0)
    with pytest.raises(NotSolved) as caught:
        solve_running(replace(shipped.circuit, capillary=tiny), settled_room(), settled=True)
    assert len(caught.value.last_iterate) == 5
    assert caught.value.residual > CLOSURE


@pytest.mark.parametrize("charge", [0.0, 9.0])
def test_a_charge_outside_is_refused(charge):
    with pytest.raises(OutOfRange, match="charge"):
        solved("plain_static_fan", charge_kg=charge)


# -- a circuit is solved with what it is filled with --


def test_a_circuit_brings_its_refrigerant_and_models():
    shipped = example("plain_static_fan")
    med = medium_of(shipped.circuit)
    assert shipped.circuit.refrigerant == shipped.job.plate.refrigerant == "R134a"
    assert med.refrigerant_code == medium("R134a").refrigerant_code
    other = replace(shipped.circuit, models=replace(shipped.circuit.models, void_fraction_code=2.0))
    assert medium_of(other).void_code == 2
    row = pack_circuit(other)[0]
    assert unpack_circuit(row) == other


@pytest.mark.parametrize(
    ("med", "says"),
    [
        (lambda: medium("R600a"), "holds R134a cannot be solved with the properties of R600a"),
        (lambda: medium("R134a", void=VOID_MODELS[2]), "names void fraction model 0"),
    ],
)
def test_many_circuits_are_refused_with_another_medium(med, says):
    c, s = pack_circuit(example("plain_static_fan").circuit), pack_surroundings(settled_room())
    u = np.zeros((1, 5))
    for ask in (
        lambda m: solve_members(m, (c, s), (c, s), u, settled=True),
        lambda m: standing_pressures(m, c, ROOM_K, ROOM_K),
        lambda m: equalising_times(m, c, np.zeros(1, STATE), ROOM_K),
        lambda m: firmness_of(m, c, s, u),
    ):
        with pytest.raises(Refused, match=says):
            ask(med())


def test_a_row_nobody_filled_is_refused():
    with pytest.raises(Refused, match="holds nothing"):
        standing_pressures(medium("R134a"), np.zeros(1, CIRCUIT), ROOM_K, ROOM_K)
    with pytest.raises(Refused, match="no refrigerant"):
        unpack_circuit(np.zeros(1, CIRCUIT)[0])


@pytest.mark.parametrize(
    ("change", "error", "says"),
    [
        ({"refrigerant": "R404A"}, Refused, "no full property tables for R404A"),
        ({"charge_kg": -0.1}, OutOfRange, "charge"),
        ({"air_mol": float("nan")}, OutOfRange, "gas inside"),
    ],
)
def test_a_circuit_checks_itself(change, error, says):
    with pytest.raises(error, match=says):
        replace(example("plain_static_fan").circuit, **change)


def test_models_and_surroundings_check_themselves():
    with pytest.raises(OutOfRange, match="model of the void fraction"):
        replace(example("plain_static_fan").circuit.models, void_fraction_code=7.0)
    with pytest.raises(OutOfRange, match="room temperature"):
        settled_room(25.0)

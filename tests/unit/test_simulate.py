"""The simulate use case: what is imposed, what faults do, what is refused."""

import math
from dataclasses import replace

import pytest

from coldwright.catalogue.unmeasured import UNMEASURED
from coldwright.errors import BadInput, OutOfRange, Refused
from coldwright.readings.job import Reading, Room, Taken
from coldwright.usecases.simulate import simulate
from tests.physics.circuits import example, names


@pytest.fixture
def job():
    return example("plain_static_fan").job


@pytest.mark.parametrize("name", names())
def test_every_example_runs_and_rests(name):
    found = simulate(example(name).job)
    assert found.running.status_code == 0.0
    assert found.running.residual < 1e-6
    assert found.standing.pressure_pa > 0.0
    assert 60.0 < found.standing.equalising_s < 900.0
    assert any("void fraction" in model for model in found.models)


def test_charge_and_fault_say_the_same(job):
    leaky = simulate(job, faults=(("undercharge", 0.5),)).running
    half = simulate(job, charge_kg=0.5 * job.plate.charge_kg).running
    assert leaky.evaporating_k == pytest.approx(half.evaporating_k, abs=1e-4)
    assert leaky.evaporating_k < simulate(job).running.evaporating_k


def test_two_faults_add_up(job):
    one = simulate(job, faults=(("condenser_air", 0.4),)).running
    both = simulate(job, faults=(("condenser_air", 0.4), ("heat_load", 30.0))).running
    assert both.load_w > one.load_w + 25.0


def test_readings_of_a_warm_cabinet_are_imposed_unless_settled(job):
    warm = replace(
        job,
        readings=(
            Reading("fresh_food_temperature", 287.15, None, "14 °C"),
            Reading("freezer_temperature", 273.15, None, "0 °C"),
        ),
    )
    running = simulate(warm).running
    assert (running.fresh_food_k, running.freezer_k) == (287.15, 273.15)
    kept = simulate(replace(warm, taken=Taken(settled=True))).running
    assert kept.freezer_k == pytest.approx(simulate(job).running.freezer_k)


def test_the_room_is_the_jobs_else_its_reading_else_23(job):
    hot = replace(job, room=Room(temperature_k=308.15))
    read = replace(
        job, room=Room(), readings=(Reading("ambient_temperature", 308.15, None, "35 °C"),)
    )
    usual = replace(job, room=Room())
    mild = replace(job, room=Room(temperature_k=UNMEASURED.room_k))
    assert simulate(hot).running.condensing_k == simulate(read).running.condensing_k
    assert simulate(usual).running.condensing_k == simulate(mild).running.condensing_k
    assert simulate(hot).running.condensing_k > simulate(job).running.condensing_k + 6.0


def test_blocked_and_not_running_are_answers(job):
    blocked = simulate(job, faults=(("capillary_blocked", math.nan),))
    assert blocked.running.mass_flow_kg_s == 0.0
    assert math.isinf(blocked.standing.equalising_s)
    still = simulate(job, faults=(("compressor_not_running", math.nan),))
    assert still.running.compressor_power_w == 0.0
    assert still.running.suction_pressure_pa == still.standing.pressure_pa
    assert still.standing.evaporator_k == pytest.approx(job.room.temperature_k)


def test_standing_evaporator_and_wait_are_used(job):
    told = replace(
        job, taken=Taken(standing_evaporator_temperature_k=263.15, minutes_since_stop=30.0)
    )
    # R134a at -10 degC: 2.006 bar (Tillner-Roth & Baehr 1994)
    assert simulate(told).standing.pressure_pa == pytest.approx(2.006e5, rel=1e-3)
    assert simulate(told).standing.shell_k > simulate(job).standing.shell_k


def test_models_follow_the_kinds():
    skin, fan = (
        " ".join(simulate(example(n).job).models) for n in ("plain_skin_fan", "plain_fan_fan")
    )
    assert "cabinet's wall" in skin
    assert "cabinet's wall" not in fan
    assert "R600a" in skin


@pytest.mark.parametrize(
    ("faults", "error"),
    [
        ((("undercharge", 1.5),), OutOfRange),
        ((("undercharge", math.nan),), OutOfRange),
        ((("heat_load", -3.0),), OutOfRange),
        ((("gremlins", 0.5),), BadInput),
    ],
)
def test_faults_that_cannot_be(job, faults, error):
    with pytest.raises(error):
        simulate(job, faults=faults)


def test_what_is_missing_is_named(job):
    with pytest.raises(BadInput, match=r"plate\.refrigerant"):
        simulate(replace(job, plate=replace(job.plate, refrigerant="unknown")))
    with pytest.raises(BadInput, match=r"plate\.charge"):
        simulate(replace(job, plate=replace(job.plate, charge_kg=None)))
    partial = tuple(job.circuit.geometry)[1:]
    with pytest.raises(BadInput, match=r"circuit\.compressor\.displacement"):
        simulate(replace(job, circuit=replace(job.circuit, geometry=partial)))


@pytest.mark.parametrize(
    "seen",
    [{"evaporators": "series"}, {"compressor_drive": "variable_speed"}],
)
def test_what_is_not_modelled_is_refused_with_a_way_on(job, seen):
    with pytest.raises(Refused) as caught:
        simulate(replace(job, circuit=replace(job.circuit, **seen)))
    assert caught.value.still_possible


def test_a_layout_the_tables_contradict_is_refused(job):
    with pytest.raises(BadInput, match=r"circuit\.layout: read frame_loop; accepted: plain"):
        simulate(replace(job, circuit=replace(job.circuit, layout="frame_loop")))
    with pytest.raises(BadInput, match="one of frame_loop"):
        simulate(example("frame_loop").job, without="condenser")
    with pytest.raises(Refused):
        simulate(job, without="frame_loop")


def test_a_by_pass_keeps_the_charge_that_is_asked_for():
    job = example("frame_loop").job
    found = simulate(job, without="frame_loop", charge_kg=0.1)
    assert found.charge_kg == 0.1
    assert found.before.charge_kg == job.plate.charge_kg
    assert (found.before.layout, found.layout) == ("frame_loop", "plain")
    assert found.high_side == ("condenser",)
    # A leak does not change what the sound loop held
    leaky = simulate(job, without="frame_loop", faults=(("undercharge", 0.6),))
    assert leaky.charge_kg == simulate(job, without="frame_loop").charge_kg


def test_humidity_of_the_room_or_its_reading_gives_a_margin():
    job = example("frame_loop").job
    frame = simulate(job).door_frame
    read = replace(job, readings=(Reading("ambient_humidity", 0.8, None, "80 %"),))
    damper = simulate(read).door_frame
    assert damper.margin_over_cycle_k < frame.margin_over_cycle_k - 3.0
    unknown = simulate(replace(job, room=Room(temperature_k=298.15))).door_frame
    assert math.isnan(unknown.margin_over_cycle_k)
    assert unknown.over_cycle_k == frame.over_cycle_k

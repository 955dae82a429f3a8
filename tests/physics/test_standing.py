"""At rest: saturation at the coldest spot, mass balance without liquid, time to equalise."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis.strategies import floats

from coldwright.circuit.vector import pack_circuit
from coldwright.cycle.medium import medium
from coldwright.cycle.solver.running import solve_running
from coldwright.cycle.standstill.rest import oil_uptake
from coldwright.cycle.standstill.standing import (
    equalising_times,
    solve_standing,
    standing,
    standing_pressures,
)
from coldwright.cycle.state import STATE
from coldwright.errors import OutOfRange
from tests.physics.circuits import ROOM_K, example, settled_room

HOUR = 3600.0


@pytest.fixture(scope="module")
def med():
    return medium("R134a")


@pytest.fixture(scope="module")
def circuit():
    return example("plain_static_fan").circuit


@pytest.fixture(scope="module")
def running(circuit):
    return solve_running(circuit, settled_room(), settled=True)


def row(state):
    packed = np.zeros(1, STATE)
    for name in STATE.names:
        packed[name] = getattr(state, name)
    return packed


# Saturation pressures of R134a from Tillner-Roth & Baehr, J. Phys. Chem. Ref. Data 23, 1994,
# 657, as refrigerant tables print them [bar].
@pytest.mark.parametrize(("celsius", "bar"), [(-20.0, 1.327), (-10.0, 2.006), (0.0, 2.928)])
def test_free_liquid_sits_at_the_coldest_spot_and_sets_saturation(circuit, celsius, bar):
    rest = solve_standing(circuit, room_k=ROOM_K, evaporator_k=273.15 + celsius)
    assert rest.free_liquid_kg > 0.01
    assert not rest.pressure_tells_mass
    assert rest.pressure_pa == pytest.approx(1e5 * bar, rel=1e-3)
    assert rest.coldest_k == 273.15 + celsius
    less = replace(circuit, charge_kg=0.7 * circuit.charge_kg)
    same = solve_standing(less, room_k=ROOM_K, evaporator_k=273.15 + celsius)
    assert same.pressure_pa == rest.pressure_pa
    assert same.free_liquid_kg < rest.free_liquid_kg


def test_a_cold_room_is_the_coldest_spot_of_a_warm_evaporator(circuit):
    rest = solve_standing(circuit, room_k=278.15, evaporator_k=288.15)
    # R134a at 5 degC: 3.497 bar, same tables
    assert rest.pressure_pa == pytest.approx(3.497e5, rel=1e-3)
    assert rest.charge_high_side_kg > rest.charge_evaporator_kg


@given(share=floats(0.02, 2.0), evaporator=floats(243.15, 308.15), hours=floats(0.0, 500.0))
def test_mass_closes_with_and_without_liquid(share, evaporator, hours):
    circuit = example("plain_static_fan").circuit
    filled = replace(circuit, charge_kg=share * circuit.charge_kg)
    rest = solve_standing(filled, room_k=ROOM_K, evaporator_k=evaporator, stopped_s=hours * HOUR)
    total = (
        rest.charge_evaporator_kg
        + rest.charge_high_side_kg
        + rest.charge_suction_line_kg
        + rest.charge_shell_kg
        + rest.charge_oil_kg
    )
    assert total == pytest.approx(filled.charge_kg, rel=1e-8)
    assert rest.pressure_pa <= rest.saturation_pressure_pa * (1.0 + 1e-12)
    assert rest.pressure_tells_mass == (rest.free_liquid_kg == 0.0)


def test_gas_alone_follows_the_gas_law(circuit):
    # No oil, all at one temperature: mass / volume is CoolProp's density at that pressure.
    import CoolProp.CoolProp as cp

    dry = replace(circuit, charge_kg=0.010, compressor=replace(circuit.compressor, oil_mass_kg=0.0))
    rest = solve_standing(dry, room_k=ROOM_K, evaporator_k=ROOM_K, stopped_s=100 * HOUR)
    line = dry.suction_line
    volume = (
        dry.evaporator.volume_m3
        + dry.accumulator.volume_m3
        + dry.condenser.volume_m3
        + dry.drier.volume_m3
        + dry.discharge_line.volume_m3
        + dry.compressor.shell_volume_m3
        + np.pi / 4 * line.bore_m**2 * line.length_m
    )
    density = cp.PropsSI("D", "P", rest.pressure_pa, "T", ROOM_K, "R134a")
    assert density * volume == pytest.approx(0.010, rel=5e-4)  # tables within 0.02 %


def test_pressure_rises_with_mass_until_liquid_is_left(med, circuit):
    many = np.repeat(pack_circuit(circuit), 60)
    many["charge_kg"] = np.linspace(0.002, 0.15, 60)
    p, free = standing(med, many, ROOM_K, ROOM_K)
    gas = free == 0.0
    assert np.all(np.diff(p[gas]) > 0.0)
    assert np.ptp(p[~gas]) == 0.0
    assert 10 < gas.sum() < 50


def test_the_oil_takes_up_refrigerant_over_days(circuit, running):
    assert oil_uptake(0.0) == 0.0
    assert 0.02 < oil_uptake(HOUR) < 0.2 < oil_uptake(48 * HOUR) < oil_uptake(1e9) <= 1.0
    rests = [
        solve_standing(circuit, room_k=ROOM_K, running=running.state, stopped_s=h * HOUR)
        for h in (1.0, 24.0, 240.0)
    ]
    oil = [r.charge_oil_kg for r in rests]
    assert oil == sorted(oil)
    assert rests[-1].pressure_pa < rests[0].pressure_pa


def test_many_equal_one_by_one(med, circuit, running):
    many = np.repeat(pack_circuit(circuit), 5)
    many["charge_kg"] *= np.array([0.1, 0.3, 0.5, 0.8, 1.2])
    states = np.repeat(row(running.state), 5)
    evaporator = np.array([255.0, 263.0, 298.15, 270.0, 298.15])
    got = standing_pressures(med, many, evaporator, ROOM_K, states=states)
    for i, charge in enumerate(many["charge_kg"]):
        one = solve_standing(
            replace(circuit, charge_kg=float(charge)),
            room_k=ROOM_K,
            evaporator_k=float(evaporator[i]),
            running=running.state,
        )
        assert got[i] == pytest.approx(one.pressure_pa, rel=1e-12)


def test_an_empty_circuit_has_no_pressure(med, circuit):
    many = pack_circuit(circuit)
    many["charge_kg"] = 0.0
    assert standing_pressures(med, many, ROOM_K, ROOM_K)[0] < 100.0


def test_temperatures_that_cannot_be_are_refused(circuit):
    with pytest.raises(OutOfRange, match="evaporator temperature"):
        solve_standing(circuit, room_k=ROOM_K, evaporator_k=150.0)


def test_equalising_takes_minutes_in_a_healthy_circuit(med, circuit, running):
    # Common practice, no published source: 3 to 8 minutes, here 2 to 12.
    seconds = equalising_times(med, pack_circuit(circuit), row(running.state), ROOM_K)[0]
    assert 120.0 < seconds < 720.0


def test_equalising_grows_with_restriction_and_is_endless_when_blocked(med, circuit, running):
    bores = np.array([1.0, 0.6, 0.4, 0.3, 0.25]) * circuit.capillary.bore_m
    narrow = np.repeat(pack_circuit(circuit), 5)
    narrow["capillary"]["stretch_bore_m"] = bores
    narrow["capillary"]["stretch_length_m"] = 0.05
    states = np.repeat(row(running.state), 5)
    seconds = equalising_times(med, narrow, states, ROOM_K)
    assert np.all(np.diff(seconds) > 0.0)
    longer = np.repeat(pack_circuit(circuit), 4)
    longer["drier"]["loss_coefficient_1_m4"] = (4e11, 1e13, 1e14, 1e15)
    assert np.all(np.diff(equalising_times(med, longer, states[:4], ROOM_K)) > 0.0)
    blocked = solve_running(circuit, settled_room(), settled=True, blocked=True)
    endless = equalising_times(med, pack_circuit(circuit), row(blocked.state), ROOM_K)
    assert np.isinf(endless[0])

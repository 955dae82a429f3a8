"""Dew point against published humid air, and what the flange makes of it."""

import pytest
from CoolProp.HumidAirProp import HAPropsSI

from coldwright.cycle.high_side.door_frame import dew_point, door_frame, vapour_pressure
from coldwright.cycle.solver.running import solve_running
from coldwright.errors import OutOfRange
from tests.physics.circuits import ROOM_K, example, settled_room


@pytest.mark.parametrize("t", [278.15, 288.15, 298.15, 308.15, 316.15])
@pytest.mark.parametrize("humidity", [0.3, 0.5, 0.6, 0.8, 0.95, 1.0])
def test_dew_point_is_that_of_humid_air(t, humidity):
    # CoolProp's humid air (Herrmann, Kretzschmar & Gatley 2009), at 101325 Pa
    dew = dew_point(t, humidity)
    if dew > 273.16:
        expected = HAPropsSI("D", "T", t, "R", humidity, "P", 101325.0)
        assert dew == pytest.approx(expected, abs=0.15)


def test_saturation_pressure_of_water():
    # IAPWS-95: 611.66 Pa at 0.01 degC, 3169.9 Pa at 25 degC, 7384.9 Pa at 40 degC
    assert vapour_pressure(273.16) == pytest.approx(611.66, rel=4e-3)
    assert vapour_pressure(298.15) == pytest.approx(3169.9, rel=4e-3)
    assert vapour_pressure(313.15) == pytest.approx(7384.9, rel=4e-3)


@pytest.mark.parametrize(("t", "humidity"), [(400.0, 0.5), (298.15, 0.0), (298.15, 1.2)])
def test_air_that_cannot_be_is_refused(t, humidity):
    with pytest.raises(OutOfRange):
        dew_point(t, humidity)


def test_the_frame_lies_between_rest_and_run_and_needs_a_humidity_for_a_margin():
    circuit = example("frame_loop").circuit
    state = solve_running(circuit, settled_room(), settled=True).state
    dry = door_frame(circuit, state, ROOM_K, None)
    assert dry.resting_k < dry.over_cycle_k < dry.running_k
    assert dry.margin_over_cycle_k != dry.margin_over_cycle_k
    damp = door_frame(circuit, state, ROOM_K, 0.7)
    assert damp.margin_over_cycle_k == pytest.approx(damp.over_cycle_k - dew_point(ROOM_K, 0.7))


def test_a_circuit_without_a_frame_tells_nothing_of_it():
    circuit = example("plain_fan_fan").circuit
    state = solve_running(circuit, settled_room(), settled=True).state
    assert door_frame(circuit, state, ROOM_K, 0.7) is None

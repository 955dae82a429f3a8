"""How fast a cabinet on its way cools: the one-lump balance against the march over hours."""

import dataclasses
from functools import cache

import numpy as np
import pytest

from coldwright.circuit.records import Surroundings
from coldwright.circuit.vector import pack_circuit
from coldwright.cycle.solver.running import solve_running
from coldwright.cycle.state import STATE
from coldwright.transient.masses import USUAL_LOAD, masses_of
from coldwright.transient.records import Compartment, Goods, Phase
from coldwright.transient.run import pull_down
from coldwright.transient.trend import cooling_rate, heat_capacity
from coldwright.usecases import pulldown as hours
from tests.physics.circuits import example

HOUR = 3600.0
PLATE, FAN, CHEST = "plain_static_plate", "plain_static_fan", "plain_skin_cold_wall"
NAN = float("nan")


def states_of(state):
    row = np.zeros(1, STATE)
    for name in STATE.names:
        row[name] = getattr(state, name)
    return row


def at(circuit, room, fresh, freezer, load=0.0):
    """The rate by the balance where the march is at a moment."""
    around = Surroundings(room, 230.0, fresh, freezer, load)
    state = solve_running(circuit, around, settled=False).state
    return float(cooling_rate(np.atleast_1d(pack_circuit(circuit)), states_of(state),
                              np.array([room]))[0])  # fmt: skip


@cache
def marched(name, stowed, charge=1.0):
    """Slopes of the freezer over half hours of one pull-down, and the balance's at their middle."""
    job = example(name).job
    circuit, _ = hours._appliance(job, None)
    circuit = dataclasses.replace(circuit, charge_kg=charge * circuit.charge_kg)
    masses = masses_of(circuit)
    spaces = {Compartment.FRESH_FOOD: masses.fresh_food, Compartment.FREEZER: masses.freezer}
    goods = tuple(
        Goods(where, stowed * USUAL_LOAD[where.value] * space.volume_m3)
        for where, space in spaces.items() if space.volume_m3 > 0.0
    )  # fmt: skip
    asked = hours.Asked(hours=5.0, goods=goods)
    room = 298.15
    around = Surroundings(room, 230.0, NAN, NAN, 0.0)
    result = pull_down(circuit, around, masses, hours._plan(job, asked, circuit))
    t = np.array([s.time_s for s in result.samples])
    x = np.array([s.freezer_k for s in result.samples])
    runs = np.array([s.phase is Phase.RUNNING for s in result.samples])
    found = []
    for begin in (0.7 * HOUR, 2.0 * HOUR, 4.0 * HOUR):
        inside = (t >= begin) & (t <= begin + 0.5 * HOUR)
        if not runs[inside].all():
            continue
        middle = result.samples[int(np.flatnonzero(inside)[inside.sum() // 2])]
        fresh = middle.fresh_food_k if masses.fresh_food.volume_m3 > 0.0 else middle.freezer_k
        slope = -np.polyfit(t[inside], x[inside], 1)[0]
        found.append((slope, at(circuit, room, fresh, middle.freezer_k)))
    return found


def test_the_balance_follows_the_march_within_its_stated_doubt():
    """From a third to twice the household load: nine in ten within two standard deviations."""
    pairs = [
        pair
        for name in (PLATE, FAN, CHEST)
        for stowed in (0.33, 1.0, 2.0)
        for pair in marched(name, stowed)
    ]
    assert len(pairs) >= 15
    got, said = np.array(pairs).T
    within = np.abs(got - said) <= 2.0 * np.hypot(2e-4, 0.5 * np.abs(said))
    assert within.mean() >= 0.9
    # and it is no rule of thumb: half of them within the doubt itself, no bias by a half
    assert (np.abs(got - said) <= np.hypot(2e-4, 0.5 * np.abs(said))).mean() >= 0.5
    assert 0.6 < np.median(got / said) < 1.6


@pytest.mark.parametrize("name", [PLATE, FAN])
def test_short_of_charge_falls_slower_in_both(name):
    sound, short = marched(name, 1.0), marched(name, 1.0, 0.5)
    assert short[0][0] < 0.8 * sound[0][0]
    assert short[0][1] < 0.8 * sound[0][1]


def test_at_rest_it_warms_by_the_walls_alone():
    """By hand: UA of both compartments, heaters and doors over the heat capacity."""
    circuit = example(PLATE).circuit
    k = circuit.cabinet
    rows, rest = np.atleast_1d(pack_circuit(circuit)), np.zeros(1, STATE)
    rest["fresh_food_k"], rest["freezer_k"] = 278.0, 258.0
    load = (
        k.fresh_food_conductance_w_k * 20.0 + k.freezer_conductance_w_k * 40.0
        + k.heater_power_w + k.opening_power_w
    )  # fmt: skip
    got = cooling_rate(rows, rest, np.array([298.0]))[0]
    assert got == pytest.approx(-load / heat_capacity(rows)[0])
    assert got < 0.0

"""An R22 job as a technician would write it: invented, its readings those of a simulated one."""

import json
import math
from dataclasses import replace

import numpy as np
import pytest

from coldwright.catalogue.families import family_of
from coldwright.catalogue.sizing import DIMENSIONS, Known, size_members
from coldwright.circuit.records import Surroundings
from coldwright.circuit.vector import unpack_circuit
from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cycle.medium import medium
from coldwright.cycle.solver.running import solve_running
from coldwright.readings.jobfile import job_from_text
from coldwright.usecases.diagnose import diagnose

NAN = math.nan
ROOM_K = 298.15
MEMBERS = 1000
HEAD = """
title = "Workshop chest (invented)"
[plate]
kind = "chest_freezer"
year = 1990
refrigerant = "R22"
charge = "{charge:.0f} g"
[room]
temperature = "25 °C"
[taken]
minutes_since_start = 240
settled = true
[readings]
"""
READ = {
    "suction_pressure": ("suction_pressure_pa", "Pa absolute"),
    "discharge_pressure": ("condensing_pressure_pa", "Pa absolute"),
    "evaporator_inlet_temperature": ("evaporator_inlet_k", "K"),
    "evaporator_outlet_temperature": ("evaporator_outlet_k", "K"),
    "condenser_outlet_temperature": ("condenser_outlet_k", "K"),
    "compressor_power": ("compressor_power_w", "W"),
}


@pytest.fixture(scope="module")
def chest():
    """The middle chest freezer with R22."""
    known = Known(family_of("chest_freezer"), 1990.0, NAN, NAN, NAN, NAN, NAN, 50.0, None, None)
    members = size_members(medium("R22"), known, np.zeros((1, DIMENSIONS)))
    assert members.good[0]
    circuit = unpack_circuit(members.circuits[0])
    return replace(circuit, charge_kg=float(members.design_charge_kg[0]))


def written(chest, left):
    """The job file of that chest with a share of its charge left."""
    short = replace(chest, charge_kg=left * chest.charge_kg)
    around = Surroundings(ROOM_K, 230.0, NAN, NAN, 0.0)
    state = solve_running(short, around, settled=True).state
    lines = [f'{key} = "{getattr(state, name):.2f} {unit}"' for key, (name, unit) in READ.items()]
    return HEAD.format(charge=1e3 * chest.charge_kg) + "\n".join(lines) + "\n"


def odds(text):
    found = diagnose(job_from_text(text, "r22.toml"), members=MEMBERS, refine=False)
    assert found.refused is None
    assert found.fit.explained
    assert found.unsolved <= 0.01 * found.members
    shares = {f.faults: f.probability for f in found.faults}
    assert sum(shares.values()) == pytest.approx(1.0)
    return found, shares


def test_short_of_charge_it_says_so(chest):
    found, shares = odds(written(chest, 0.5))
    assert max(shares, key=shares.get) == "undercharge"
    assert shares["undercharge"] > 0.5
    leading = next(f for f in found.faults if f.faults == ("undercharge",))
    assert leading.severity.low < 0.5 < leading.severity.high


def test_full_it_is_not_called_short(chest):
    _, shares = odds(written(chest, 1.0))
    assert max(shares, key=shares.get) == "nothing_wrong"
    assert shares["undercharge"] < 0.2


def test_the_command_line_takes_it(chest, tmp_path, capsys):
    file = tmp_path / "r22.toml"
    file.write_text(written(chest, 0.5), encoding="utf-8")
    assert run(app, ["diagnose", str(file), "--members", "300", "--json"]) == 0
    (result,) = json.loads(capsys.readouterr().out)["results"]
    assert result["refused"] is None
    assert result["faults"][0]["fault"] == "undercharge"

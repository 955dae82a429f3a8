"""What the leading fault does inside: one member of the ensemble, and itself sound."""

import math
import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest

from coldwright.case.background import Background
from coldwright.case.case import Case
from coldwright.circuit.records import Surroundings
from coldwright.cycle.solver.running import solve_running
from coldwright.readings.jobfile import job_from_text
from coldwright.usecases.diagnose import diagnose
from coldwright.usecases.inside import figures_inside, inside

SVG = "{http://www.w3.org/2000/svg}"
MEMBERS = 600
# An invented refrigerator short of refrigerant, settled
STARVED = """
[plate]
kind = "top_mount"
year = 2004
refrigerant = "R134a"
charge = "105 g"
[room]
temperature = "25 °C"
[taken]
settled = true
minutes_since_start = 180
[readings]
evaporator_inlet_temperature = "-30 °C"
evaporator_outlet_temperature = "0 °C"
condenser_outlet_temperature = "35 °C"
compressor_power = "50 W"
"""


@pytest.fixture(scope="module")
def job():
    return job_from_text(STARVED, "starved.toml")


@pytest.fixture(scope="module")
def found(job):
    return inside(job, members=MEMBERS, refine=False)


def test_the_fault_is_the_one_that_leads_the_odds(job, found):
    odds = diagnose(job, members=MEMBERS, refine=False).faults
    leading = next(f for f in odds if f.faults != ("nothing_wrong",))
    assert found.faults == leading.faults
    assert found.probability == pytest.approx(leading.probability)
    assert found.sound_leads == (odds[0].faults == ("nothing_wrong",))


def test_the_member_is_the_likeliest_of_its_fault(job):
    case = Case(job, Background(members=MEMBERS, refine=False))
    posterior = case.posterior
    group, i = case.best(("undercharge",))
    assert group.log_w[i] == np.max([np.max(g.log_w) for g in posterior.of(("undercharge",))])
    state = group.population.states[i]
    assert state["mass_flow_kg_s"] > 0.0


def test_the_same_appliance_but_for_its_fault(found):
    assert found.faults == ("undercharge",)
    assert 0.1 <= found.severity < 1.0
    assert found.state.evaporating_k < found.sound.evaporating_k
    assert found.state.superheat_k > found.sound.superheat_k
    # The circuit is the faulty one: filled up again it runs as the sound one does
    filled = found.circuit.charge_kg / found.severity
    around = Surroundings(found.room_k, 230.0, math.nan, math.nan, 0.0)
    again = solve_running(replace(found.circuit, charge_kg=filled), around, settled=True).state
    assert again.evaporating_k == pytest.approx(found.sound.evaporating_k, abs=0.2)
    assert again.condensing_k == pytest.approx(found.sound.condensing_k, abs=0.2)


def test_both_are_drawn_and_told(found):
    drawn = figures_inside(found, "An invented one", "undercharge")
    assert set(drawn) == {"pressure-enthalpy.svg", "along-the-circuit.svg"}
    for text in drawn.values():
        root = ET.fromstring(text)
        told = root.find(f"{SVG}desc").text
        assert told.startswith("undercharge: ")
        assert "sound: " in told
        words = [e.text for e in root.iter(f"{SVG}text")]
        assert {"undercharge", "sound"} <= set(words)
        # Told apart by their strokes, in the page's own ink and accent
        lines = list(root.iter(f"{SVG}polyline"))
        strokes = {(line.get("stroke"), line.get("stroke-dasharray")) for line in lines}
        assert ("var(--ink, #14201e)", "6 5") in strokes
        assert ("var(--act, #0d5156)", None) in strokes


def test_a_compressor_that_does_not_turn_has_nothing_to_draw():
    text = STARVED.partition("[readings]")[0] + "[signs]\ncompressor_silent = true\n"
    silent = inside(job_from_text(text, "silent.toml"), members=MEMBERS, refine=False)
    assert silent.faults == ("compressor_not_running",)
    assert not silent.flows
    assert figures_inside(silent, "An invented one", "stopped") == {}

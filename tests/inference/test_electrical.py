"""Electrical readings in the odds: running or not, which part, reasons, notes, next checks."""

import math

import pytest

from coldwright.catalogue.stopped import which_odds
from coldwright.electrical.evidence import NOT_RUNNING
from coldwright.electrical.from_job import electrical_of
from coldwright.readings.jobfile import job_from_text
from coldwright.usecases.diagnose import diagnose

MEMBERS = 220  # 20 of each fault: electrical readings weigh faults, not members
JOB = """
title = "Invented refrigerator that is warm"
[plate]
kind = "top_mount"
refrigerant = "R134a"
charge = "140 g"
voltage = "230 V"
current = "0.9 A"
[room]
temperature = "24 °C"
[history]
complaint = "nothing_cold"
[circuit]
{circuit}
[readings]
{readings}
"""


def answer(readings="", circuit=""):
    job = job_from_text(JOB.format(readings=readings, circuit=circuit), "job.toml")
    return diagnose(job, members=MEMBERS, refine=False)


def stopped(found):
    (odds,) = (f for f in found.faults if f.faults == ("compressor_not_running",))
    return odds.probability, {k.which: k.probability for k in odds.which}


@pytest.fixture(scope="module")
def bare():
    return answer()


def test_nothing_read_changes_nothing(bare):
    _, which = stopped(bare)
    assert which == pytest.approx(which_odds("nothing_cold"))


@pytest.mark.parametrize(
    ("readings", "kind"),
    [
        ('winding_resistance_run = "18 ohm"\nwinding_resistance_start = "open"\n', "winding"),
        ('start_device_resistance = "open"\n', "relay"),
        ('overload_resistance = "open"\n', "overload"),
        ('supply_voltage = "0 V"\n', "supply"),
        ('compressor_current = "5 A"\n', "relay"),
    ],
)
def test_a_bad_part_stops_the_compressor_and_names_its_kind(bare, readings, kind):
    found = answer(readings)
    p, which = stopped(found)
    assert p > stopped(bare)[0] * 1.3
    assert max(which, key=which.get) == kind
    key = readings.split(" ", 1)[0]
    (reason,) = (r for r in found.reasons if r.reading == key)
    assert "Speaks for a compressor that does not run" in reason.sentence
    assert f"{kind} up from" in reason.sentence
    assert not any("not used in the odds yet" in note for note in found.notes)
    assert sum(f.probability for f in found.faults) == pytest.approx(1.0)


def test_a_turning_compressor_runs(bare):
    p, _ = stopped(answer('compressor_speed = "2870 rpm"\n'))
    assert p < 0.1 * stopped(bare)[0]


def test_odds_move_by_the_readings_likelihood_ratio(bare):
    """Posterior odds = prior odds x ratio (Bayes), all else equal."""
    text = 'start_device_resistance = "open"\n'
    job = job_from_text(JOB.format(readings=text, circuit=""), "job.toml")
    evidence = electrical_of(job)
    ratio = evidence.log_factor((NOT_RUNNING,)) - evidence.log_factor(("undercharge",))
    before, after = stopped(bare)[0], stopped(answer(text))[0]
    expected = before / (1.0 - before) * math.exp(ratio)
    assert after / (1.0 - after) == pytest.approx(expected, rel=1e-6)


def test_parts_are_asked_for_once_the_compressor_is_in_question():
    text = JOB.replace("nothing_cold", "does_not_start").format(
        circuit="",
        readings='start_device_resistance = "5 ohm"\n[signs]\ncompressor_silent = true\n',
    )
    found = diagnose(job_from_text(text, "job.toml"), members=MEMBERS, refine=False)
    # a control that does not call is as silent
    assert stopped(found)[0] > 0.7
    asked = [check.check for check in found.next_checks]
    parts = {"overload_resistance", "winding_resistance_run", "starting_current",
             "supply_voltage", "compressor_speed", "insulation_resistance"}  # fmt: skip
    assert parts & set(asked)
    assert "start_device_resistance" not in asked


def test_without_odds_of_the_circuit_the_kinds_are_still_told():
    found = answer('supply_voltage = "0 V"\n', 'compressor_drive = "variable_speed"')
    assert found.refused is not None
    assert any(note.startswith("If it does not run: supply 9") for note in found.notes)
    assert any("board" in note for note in found.notes)
    assert found.look_first
    assert not any("%" in look.seen for look in found.look_first)


def test_look_first_is_there(bare):
    assert bare.look_first
    assert any("%" in look.seen for look in bare.look_first)


DEAD = 'supply_voltage = "0 V"\nappliance_power = "0 W"\n'
NO_FAN = "[signs]\nevaporator_fan_stopped = true\ncompressor_silent = true\n"


def test_a_dead_socket_is_a_supply_and_no_control():
    """0 V, 0 W, nothing turns: not the control, whose fans stand still as well."""
    job = job_from_text(
        JOB.format(readings=DEAD + NO_FAN, circuit='evaporator = "fan"'), "job.toml"
    )
    found = diagnose(job, members=2500, refine=False)
    p, which = stopped(found)
    control = next(f.probability for f in found.faults if f.faults == ("control",))
    assert p > 5.0 * control
    assert max(which, key=which.get) == "supply"


def test_a_live_socket_and_no_fan_is_the_control():
    read = 'supply_voltage = "229 V"\nappliance_power = "3 W"\n'
    job = job_from_text(
        JOB.format(readings=read + NO_FAN, circuit='evaporator = "fan"'), "job.toml"
    )
    found = diagnose(job, members=2500, refine=False)
    p, _ = stopped(found)
    assert next(f.probability for f in found.faults if f.faults == ("control",)) > p

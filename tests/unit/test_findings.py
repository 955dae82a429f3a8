"""Findings: their own likelihood, question back, parts, earlier work, use and place."""

import math

import pytest

from coldwright.catalogue.earlier_work import MENDS, finding_of
from coldwright.catalogue.findings import FINDINGS
from coldwright.catalogue.sides import PARTS, parts_of
from coldwright.diagnosis.findings import findings_of, shares
from coldwright.faults.registry import FAULTS
from coldwright.readings import keys
from coldwright.readings.jobfile import job_from_text
from coldwright.readings.plausibility import contradictions


def job(text, kind="top_mount"):
    return job_from_text(f'[plate]\nkind = "{kind}"\n{text}', "job.toml")


def found(text, kind="top_mount"):
    return findings_of(job(text, kind))


def factor(evidence, fault, *, against="undercharge", way=""):
    return math.exp(evidence.log_factor((fault,), way) - evidence.log_factor((against,)))


def test_every_name_in_a_finding_is_a_part_a_kind_a_way_or_a_fault():
    known = {name for part in PARTS.values() for name in part.names} | set(FAULTS)
    named = {name for f in FINDINGS.values() for name in f.there}
    named |= {name for parts in MENDS.values() for name in parts}
    assert named - known == set()
    assert all(f.why and f.source for f in FINDINGS.values())
    assert all(f.confirm and f.how for key, f in FINDINGS.items() if key in keys.SIGNS)


@pytest.mark.parametrize("fault", FAULTS)
def test_shares_of_a_faults_parts_add_up(fault):
    assert sum(share for _, share in shares(fault, 0.5)) == pytest.approx(1.0)
    assert parts_of(fault)


def test_a_seen_finding_counts_far_more_than_a_rumour():
    fan = found("[signs]\nevaporator_fan_stopped = true\n")
    assert factor(fan, "evaporator_air") > 10.0
    glows = found("[signs]\ndefrost_heater_stuck_on = true\ncompressor_runs = true\n")
    assert factor(glows, "heat_load") > 10.0


def test_by_hand_the_likelihood_is_share_times_chance():
    """One finding that one part of a fault explains: false + (hit - false) x P(there)."""
    model = FINDINGS["defrost_heater_open"]
    part = dict(shares("evaporator_air", 1.0))["defrost_heater"]
    there = part * 0.96 + (1.0 - part) * model.otherwise
    evidence = found('[circuit]\nevaporator = "fan"\n[signs]\ndefrost_heater_open = true\n')
    expected = model.false + (model.hit - model.false) * there
    assert math.exp(evidence.log_factor(("evaporator_air",))) == pytest.approx(expected)
    assert max(evidence.parts("evaporator_air").items(), key=lambda kv: kv[1])[0] == (
        "defrost_heater"
    )


def test_the_question_back_strengthens_or_withdraws():
    text = "[signs]\nevaporator_fan_stopped = {{ seen = true, confirmed = {} }}\n"
    plain = found("[signs]\nevaporator_fan_stopped = true\n")
    assert factor(found(text.format("true")), "evaporator_air") > factor(plain, "evaporator_air")
    assert found(text.format("false")).answers == ()


def test_of_two_faults_either_may_bring_it():
    evidence = found("[signs]\ncondenser_matted = true\n")
    both = evidence.log_factor(("undercharge", "condenser_air"))
    assert both > evidence.log_factor(("undercharge",)) + 1.0
    assert both == pytest.approx(evidence.log_factor(("condenser_air",)), abs=0.1)


def test_a_fan_that_is_not_there_says_nothing():
    text = '[circuit]\nevaporator = "plate"\n[signs]\nevaporator_fan_stopped = true\n'
    assert found(text).answers == ()
    assert found("[signs]\nevaporator_fan_stopped = false\n", "chest_freezer").answers == ()


def test_running_is_not_counted_three_times():
    heard = "compressor_silent = false\ncompressor_hums_and_trips = false\n"
    runs = found("[signs]\ncompressor_runs = true\n")
    assert found(f"[signs]\ncompressor_runs = true\n{heard}").keys == runs.keys
    states = dict(runs.state_logs())
    assert max(states.values()) < math.log(0.1)


def test_earlier_work_names_or_clears_its_parts():
    def work(rest, name="thermostat"):
        return found(f'[[history.done]]\nwork = "{name}"\n{rest}\n')

    good, bad = "thermostat_open", "board_no_call"
    before = found("[signs]\nlamp_dead = false\n").parts("control", "control:not_calling")
    cleared = work("helped = false").parts("control", "control:not_calling")
    proved = work("helped = true").parts("control", "control:not_calling")
    assert cleared[good] < before[good] < proved[good]
    assert cleared[bad] > before[bad] > proved[bad]
    thaw = work("held_weeks = 2", "thawed")
    assert factor(thaw, "evaporator_air") > 5.0
    assert finding_of("thermostat", True) is finding_of("thermostat", True)


def test_use_and_place_count():
    def key_of(text):
        return findings_of(job(text), 272.0).keys

    assert key_of('[room]\ntemperature = "-1 °C"\n') == ("far_below_class",)
    opened = found("[history]\ndoor_left_open_hours = 24\n")
    assert factor(opened, "nothing_wrong") > 3.0
    assert factor(opened, "heat_load") > 3.0
    first = found("[history]\nhours_since_first_start = 5\n")
    assert first.keys == ("first_day",)
    thawed = found("[history]\ngood_after_thaw_weeks = 2\n")
    assert factor(thawed, "evaporator_air") > factor(thawed, "moisture") > 0.5


def test_a_temperature_may_be_felt():
    felt = job('[readings]\ncondenser_middle_temperature = "Too hot to touch"\n')
    reading = felt.readings[0]
    assert reading.by_hand
    assert reading.value - reading.sd > 320.0
    assert reading.entered == "Too hot to touch"


@pytest.mark.parametrize(
    "text",
    [
        "[signs]\ncompressor_runs = true\ncompressor_silent = true\n",
        '[signs]\ncompressor_runs = true\n[readings]\nappliance_power = "0 W"\n',
        '[signs]\nwindings_judged_good = true\n[readings]\nwinding_resistance_run = "open"\n',
        "[signs]\nno_mains = true\ncompressor_runs = true\n",
    ],
)
def test_contradictory_findings_are_named(text):
    assert contradictions(job(text))


def test_of_several_files_a_bad_one_is_told_and_the_others_read(tmp_path):
    from coldwright.cli.command_diagnose import read_all
    from coldwright.errors import BadInput

    good, bad = tmp_path / "good.toml", tmp_path / "bad.toml"
    good.write_text('[plate]\nkind = "compact"\n')
    bad.write_text('[plate]\nkind = "omen"\n')
    loaded, slip = read_all([str(bad), str(good)], None)
    assert [j.source for j in loaded] == [str(good)]
    assert slip is not None
    assert "omen" in str(slip)
    with pytest.raises(BadInput):
        read_all([str(bad)], None)


def test_told_jobs_are_read_and_name_known_faults():
    from pathlib import Path

    from bench.field import score
    from bench.field.score import cases_of

    cases = cases_of(Path(score.__file__).parent)
    assert len(cases) == 39
    assert {f for c in cases for h in c.accepted for f in h.split("+")} <= set(FAULTS)

"""Electrical readings as evidence: which kind, running or not, and what is no evidence."""

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldwright.catalogue.motor import PARTS, SUPPLY_CLASSES, Span, supply_class
from coldwright.catalogue.part_states import SAID, SOUND, STATES
from coldwright.catalogue.restart import NOT_LEVEL, with_restart
from coldwright.catalogue.stopped import STOPPED, STOPPED_VARIABLE_SPEED, which_odds
from coldwright.electrical.bands import LogBand, NearZero
from coldwright.electrical.evidence import (
    ELECTRICAL_READINGS,
    NONE_READ,
    NOT_RUNNING,
    READINGS_OF,
    gather,
    said,
)
from coldwright.electrical.from_job import electrical_of, held_of, locked_keys, notes_of
from coldwright.electrical.meters import Held, Meters
from coldwright.electrical.outcomes import RULES, windings
from coldwright.errors import BadInput, OutOfRange
from coldwright.readings.jobfile import job_from_text
from coldwright.readings.keys import READINGS

ALL = {part: keys[:1] for part, keys in READINGS_OF.items()}
HELD = Held(nominal_v=230.0, rated_a=0.8)
INF = math.inf
PAGE = (Path(__file__).parents[2] / "docs" / "electrical.md").read_text(encoding="utf-8")


def evidence(held=HELD, kinds=None, **read):
    return gather(Meters(**read), held, kinds or which_odds(), ALL)


def against_running(found):
    """Bits by which the readings favour a stopped compressor."""
    return (found.log_factor((NOT_RUNNING,)) - found.log_factor(("undercharge",))) / math.log(2.0)


def test_states_share_out_their_kinds_and_every_outcome_is_a_probability():
    for kind in {*STOPPED, *STOPPED_VARIABLE_SPEED, NOT_LEVEL.which}:
        assert sum(s.share for s in STATES.values() if s.kind == kind) == pytest.approx(1.0)
    assert {s.kind for s in STATES.values()} == {*STOPPED, *STOPPED_VARIABLE_SPEED, NOT_LEVEL.which}
    assert sum(k.share for k in STOPPED_VARIABLE_SPEED.values()) == pytest.approx(1.0)
    for state in (None, *STATES.values()):
        for part, usual in SOUND.items():
            found = usual if state is None else state.differs.get(part, usual)
            assert set(found) == set(usual) == set(SAID[part])
            assert sum(found.values()) == pytest.approx(1.0, abs=1e-9)
            assert min(found.values()) > 0.0
    assert set(RULES) == set(SOUND) == set(PARTS) == set(READINGS_OF)
    assert set(READINGS) >= ELECTRICAL_READINGS
    with pytest.raises(BadInput):
        STATES["shorted"].probability("windings", "soud")


def test_the_page_holds_the_states_of_the_code():
    lines = set(PAGE.splitlines())
    for part, outcomes in SOUND.items():
        told = ", ".join(f"{name} {p:g}" for name, p in outcomes.items())
        assert f"| {part} | {told} |" in lines
    for s in STATES.values():
        assert f"| `{s.identifier}` | {s.kind} | {s.share:g} | {s.why} |" in lines
    for c in SUPPLY_CLASSES:
        assert f"{c.run_ohm.low:g} to {c.run_ohm.high:g} ohm ({c.nominal_v:g} V)" in PAGE


@pytest.mark.parametrize(
    ("read", "kind"),
    [
        ({"run_ohm": 18.0, "start_ohm": INF, "run_to_start_ohm": INF}, "winding"),
        ({"run_ohm": INF, "start_ohm": 60.0, "run_to_start_ohm": INF}, "winding"),
        ({"run_ohm": INF, "start_ohm": INF, "run_to_start_ohm": INF}, "winding"),
        ({"run_ohm": INF, "start_ohm": INF, "run_to_start_ohm": 78.0}, "overload"),
        ({"run_ohm": 2.0, "start_ohm": 60.0}, "winding"),
        ({"insulation_ohm": 2e4}, "winding"),
        ({"start_device_ohm": INF}, "relay"),
        ({"start_device_ohm": 0.2}, "relay"),
        ({"capacitor_fraction": 0.5}, "relay"),
        ({"overload_ohm": INF}, "overload"),
        ({"supply_v": 0.0}, "supply"),
        ({"supply_v": 180.0}, "supply"),
    ],
)
def test_a_reading_brings_its_kind_to_the_front(read, kind):
    found = evidence(**read)
    which = found.which()
    assert sum(which.values()) == pytest.approx(1.0)
    assert max(which, key=which.get) == kind
    assert which[kind] > which_odds()[kind] + 0.1
    assert against_running(found) > 0.5


def test_all_sound_leaves_the_rotor_and_speaks_for_running():
    sound = {
        "run_ohm": 18.0, "start_ohm": 60.0, "run_to_start_ohm": 78.5, "insulation_ohm": 1e9,
        "start_device_ohm": 5.0, "overload_ohm": 0.3, "supply_v": 231.0,
    }  # fmt: skip
    found = evidence(**sound)
    assert against_running(found) < -1.0
    hums = evidence(kinds=which_odds(None, {"compressor_hums_and_trips": True}), **sound)
    assert hums.which()["seized"] > 0.45
    assert hums.which()["winding"] < 0.1


def test_current_of_a_locked_rotor_and_none():
    locked = evidence(starting_a=4.4)
    assert against_running(locked) > 4.0
    assert locked.which()["overload"] < 0.02
    assert said(locked, "draw", 0.5) == SAID["draw"]["locked"]
    none = evidence(starting_a=0.0)
    assert none.which()["supply"] > which_odds()["supply"]
    assert none.which()["seized"] < which_odds()["seized"]
    assert against_running(evidence(starting_a=0.6)) < -3.0


def test_the_odds_by_hand_for_one_reading():
    """Bayes with two outcomes, shares and likelihoods written out."""
    found = evidence(overload_ohm=INF)
    weights = {}
    for kind, share in which_odds().items():
        own = [s for s in STATES.values() if s.kind == kind]
        # density of an open reading: 1 under 'open', 1e-9 under 'closed'
        weights[kind] = share * sum(
            s.share
            * (s.probability("overload", "open") + 1e-9 * s.probability("overload", "closed"))
            for s in own
        )
    whole = sum(weights.values())
    assert found.which() == pytest.approx({k: w / whole for k, w in weights.items()})
    sound = SOUND["overload"]["open"] + 1e-9 * SOUND["overload"]["closed"]
    assert found.log_factor(("weak_compressor",)) == pytest.approx(math.log(sound))
    assert found.log_factor((NOT_RUNNING,)) == pytest.approx(math.log(whole))


def test_without_a_reading_its_part_is_gone():
    found = evidence(overload_ohm=INF, supply_v=230.0)
    assert found.without("overload_resistance").keys == ("supply_voltage",)
    assert found.without("freezer_temperature") is found
    assert NONE_READ.log_factor((NOT_RUNNING,)) == 0.0


@given(
    run=st.floats(0.0, 1e3),
    start=st.one_of(st.none(), st.floats(0.0, 1e3)),
    shell=st.one_of(st.none(), st.floats(0.0, 1e12)),
    volts=st.floats(0.0, 500.0),
    amps=st.floats(0.0, 100.0),
    device=st.floats(0.0, 1e9),
)
def test_no_reading_that_can_be_entered_breaks_the_odds(run, start, shell, volts, amps, device):
    found = evidence(
        run_ohm=run, start_ohm=start, insulation_ohm=shell, supply_v=volts, starting_a=amps,
        start_device_ohm=device,
    )  # fmt: skip
    assert sum(found.which().values()) == pytest.approx(1.0)
    assert math.isfinite(found.log_factor((NOT_RUNNING,)))
    assert math.isfinite(found.log_factor(("undercharge",)))
    assert all(said(found, item.part, 0.5) for item in found.items)


@pytest.mark.parametrize("band", [LogBand(5.0, 0.4), LogBand.of(Span(2.0, 5.0, "")), NearZero(0.5)])
def test_densities_add_up_to_one(band):
    x = np.geomspace(1e-6, 1e5, 40_001)
    mass = np.trapezoid([band.density(float(v)) for v in x], x)
    assert mass == pytest.approx(1.0, abs=0.01)


def test_a_band_knows_its_middle():
    band = LogBand(5.0, 0.4)
    # a t's median is its middle: half of the mass lies below it
    x = np.geomspace(1e-6, 5.0, 20_001)
    below = np.trapezoid([band.density(float(v)) for v in x], x)
    assert below == pytest.approx(0.5, abs=0.005)
    assert band.density(0.0) == 0.0
    assert band.times(2.0).mid == 10.0
    with pytest.raises(OutOfRange):
        LogBand(0.0, 0.4)


def test_a_hot_winding_is_judged_warm():
    """Copper reads 39 % more at 120 °C than at 20 °C: many ohms fit a warm machine better."""
    ohm = 55.0
    hot = windings(Meters(run_ohm=ohm, start_ohm=200.0), Held(winding_k=393.15))
    cold = windings(Meters(run_ohm=ohm, start_ohm=200.0), Held(winding_k=253.15))
    assert hot["sound"] > cold["sound"]


def test_variable_speed_has_other_kinds_and_three_equal_windings():
    held = Held(variable_speed=True)
    kinds = which_odds(kinds=STOPPED_VARIABLE_SPEED)
    even = evidence(held, kinds, run_ohm=8.0, start_ohm=8.1, run_to_start_ohm=8.05)
    odd = evidence(held, kinds, run_ohm=8.0, start_ohm=3.0, run_to_start_ohm=8.05)
    assert set(even.which()) == {"board", "supply", "seized", "winding"}
    assert even.which()["winding"] < kinds["winding"] < odd.which()["winding"]
    assert max(even.which(), key=even.which().get) == "board"


def test_information_is_that_of_a_two_outcome_channel():
    """With equal kinds known and one part left, checked against the sum written out."""
    found = evidence(supply_v=230.0)
    bits = found.information(1.0)
    assert "supply_voltage" not in bits
    assert set(bits) == {keys[0] for part, keys in READINGS_OF.items() if part != "supply"}
    which = found.which()
    entropy = -sum(p * math.log2(p) for p in which.values())
    assert all(0.0 <= b <= entropy for b in bits.values())
    after = 0.0
    for outcome in ("closed", "open"):
        joint = dict.fromkeys(which, 0.0)
        for name, p in found.states().items():
            joint[STATES[name].kind] += p * STATES[name].probability("overload", outcome)
        mass = sum(joint.values())
        after -= sum(j * math.log2(j / mass) for j in joint.values() if j > 0.0)
    assert bits["overload_resistance"] == pytest.approx(entropy - after)


JOB = """
[plate]
kind = "compact"
voltage = "230 V"
current = "0.8 A"
[taken]
minutes_since_stop = 2
[readings]
{readings}
[signs]
compressor_hums_and_trips = true
"""


def job(readings):
    return job_from_text(JOB.format(readings=readings), "job.toml")


def test_a_job_is_read_with_its_third_computed():
    text = 'winding_resistance_run = "18 ohm"\nwinding_resistance_run_to_start = "80 ohm"'
    found = electrical_of(job(text))
    assert found.items[0].keys == ("winding_resistance_run", "winding_resistance_run_to_start")
    assert any("62 ohm by the other two" in note for note in notes_of(job(text)))


def test_what_is_no_evidence_is_said():
    text = """winding_resistance_run = "18 ohm"
winding_resistance_start = "60 ohm"
winding_resistance_run_to_start = "140 ohm"
start_device_resistance = "open"
"""
    assert electrical_of(job(text)).items == ()
    notes = " ".join(notes_of(job(text)))
    assert "do not add up" in notes
    assert "let it cool first" in notes


def test_large_current_is_taken_as_a_locked_rotor():
    running = job('compressor_current = "0.6 A"')
    assert locked_keys(running) == frozenset()
    assert [item.shared for item in electrical_of(running).items] == [True]
    assert electrical_of(running).log_factor((NOT_RUNNING,)) == 0.0
    locked = job('compressor_current = "4.5 A"')
    assert locked_keys(locked) == {"compressor_current"}
    assert against_running(electrical_of(locked)) > 4.0
    assert any("locked rotor" in note for note in notes_of(locked))


def test_a_defrost_heater_is_no_locked_rotor():
    """A frost-free plate of 1.5 A is its heater's; the heater on is not a rotor that sticks."""
    text = """[plate]
kind = "top_mount"
voltage = "230 V"
current = "1.5 A"
[circuit]
evaporator = "fan"
[readings]
appliance_current = "{amps} A"
"""
    assert locked_keys(job_from_text(text.format(amps=3.0), "job.toml")) == frozenset()
    assert locked_keys(job_from_text(text.format(amps=6.0), "job.toml")) == {"appliance_current"}


def test_plate_power_stands_in_for_its_current():
    text = '[plate]\nkind = "compact"\nvoltage = "230 V"\npower = "207 W"\n'
    assert held_of(job_from_text(text, "job.toml")).full_load_a == pytest.approx(1.0)


def test_supply_class_by_voltage():
    assert supply_class(120.0).nominal_v == 115.0
    assert supply_class(220.0).nominal_v == 230.0


def kinds_after(**seen):
    return which_odds(None, seen, kinds=with_restart(STOPPED, seen))


def test_restarted_too_soon_is_a_look_alike_only_together_with_the_hum():
    both = {"restarted_too_soon": True, "compressor_hums_and_trips": True}
    for seen in ({}, {"restarted_too_soon": True}, {"compressor_hums_and_trips": True},
                 both | {"restarted_too_soon": False}):  # fmt: skip
        assert NOT_LEVEL.which not in kinds_after(**seen)
    odds = kinds_after(**both)
    # By hand: 1 x 0.9 against the shares times their hums
    hums = sum(kind.share * kind.hums_and_trips for kind in STOPPED.values())
    assert odds[NOT_LEVEL.which] == pytest.approx(0.9 / (0.9 + hums))
    assert max(odds, key=odds.get) == NOT_LEVEL.which
    alone = which_odds(None, {"compressor_hums_and_trips": True})
    rest = 1.0 - odds[NOT_LEVEL.which]
    assert {k: odds[k] / rest for k in alone} == pytest.approx(alone)


def test_an_open_winding_speaks_against_the_look_alike_and_sound_parts_for_it():
    kinds = kinds_after(restarted_too_soon=True, compressor_hums_and_trips=True)
    before = kinds[NOT_LEVEL.which]
    burnt = evidence(kinds=kinds, run_ohm=12.0, start_ohm=math.inf, run_to_start_ohm=math.inf)
    assert burnt.which()[NOT_LEVEL.which] < 0.2 * before
    sound = evidence(
        kinds=kinds, run_ohm=12.0, start_ohm=36.0, run_to_start_ohm=48.0, start_device_ohm=5.0,
        insulation_ohm=1e8,
    )  # fmt: skip
    assert sound.which()[NOT_LEVEL.which] > before


def test_a_job_restarted_too_soon_is_told_to_wait_first():
    text = (
        '[plate]\nkind = "compact"\n[signs]\ncompressor_hums_and_trips = true\n'
        "restarted_too_soon = {}\n"
    )
    told = job_from_text(text.format("true"), "x")
    assert any("wait 5 min" in note for note in notes_of(told))
    assert electrical_of(told).which()[NOT_LEVEL.which] > 0.5
    other = job_from_text(text.format("false"), "x")
    assert not any("wait 5 min" in note for note in notes_of(other))
    assert NOT_LEVEL.which not in electrical_of(other).which()

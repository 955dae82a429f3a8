"""Priors: complete, sum to one, move the right way; severities stay inside their range."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldwright.catalogue.priors import (
    COMPLAINT_FACTORS,
    FAULTS,
    Background,
    fault_prior,
    severity_from_uniform,
)
from coldwright.catalogue.stopped import STOPPED, heard_probability, heard_share, which_odds
from coldwright.errors import BadInput, OutOfRange
from coldwright.readings import keys

YEAR_S = 31_557_600.0
IN_SCOPE = (
    *("nothing_wrong", "undercharge", "overcharge", "capillary_restricted", "capillary_blocked"),
    *("drier_restricted", "weak_compressor", "condenser_air", "evaporator_air", "heat_load"),
    *("compressor_not_running", "non_condensables", "moisture", "control", "wrong_fill"),
    "drain_blocked",
)
COMPLAINTS = (None, *keys.COMPLAINTS)
backgrounds = st.builds(
    Background,
    age_s=st.none() | st.floats(0.0, 60.0 * YEAR_S),
    months_since_ok=st.none() | st.floats(0.0, 960.0),
    earlier_repair=st.none() | st.booleans(),
    charge_added_kg=st.none() | st.floats(0.0, 1.0),
    condenser=st.none() | st.sampled_from(keys.CONDENSERS),
    evaporator=st.none() | st.sampled_from(keys.EVAPORATORS),
)


def test_shares_of_the_faults_in_scope_sum_to_one():
    assert set(IN_SCOPE) <= set(FAULTS)
    # scaled to one whatever they add up to; near one, so that a share means what it says
    assert sum(fault.share for fault in FAULTS.values()) == pytest.approx(1.0, abs=0.05)
    assert all(fault.why for fault in FAULTS.values())


def test_every_complaint_has_factors_and_no_other():
    assert set(COMPLAINT_FACTORS) == set(keys.COMPLAINTS)


@given(complaint=st.sampled_from(COMPLAINTS), background=backgrounds)
def test_odds_sum_to_one_and_rule_nothing_out(complaint, background):
    odds = fault_prior(complaint, background)
    assert tuple(odds) == tuple(FAULTS)
    assert sum(odds.values()) == pytest.approx(1.0)
    assert min(odds.values()) > 0.0


@pytest.mark.parametrize(
    ("complaint", "leading"),
    [
        ("does_not_start", "compressor_not_running"),
        ("trips_the_breaker", "compressor_not_running"),
        ("fresh_food_warm_freezer_good", "evaporator_air"),
        ("frost_or_water", "evaporator_air"),
        ("both_too_warm", "undercharge"),
        ("too_cold", "control"),
    ],
)
def test_complaint_puts_the_plain_cause_first(complaint, leading):
    odds = fault_prior(complaint)
    assert max(odds, key=odds.get) == leading


def test_a_compressor_that_runs_all_the_time_is_not_dead():
    assert fault_prior("runs_all_the_time")["compressor_not_running"] < 0.01


def test_earlier_repair_raises_what_repairs_leave_behind():
    plain, told = fault_prior(), fault_prior(background=Background(earlier_repair=True))
    for fault in ("overcharge", "undercharge", "capillary_restricted", "drier_restricted"):
        assert told[fault] > plain[fault]
    sealed = fault_prior(background=Background(earlier_repair=False))
    assert sealed["overcharge"] < 0.1 * plain["overcharge"]


def test_added_charge_means_it_was_opened():
    added = fault_prior(background=Background(earlier_repair=False, charge_added_kg=0.05))
    repaired = fault_prior(background=Background(earlier_repair=True))
    assert added["overcharge"] > repaired["overcharge"]
    nothing = fault_prior(background=Background(charge_added_kg=0.0))
    assert nothing == fault_prior()


def rising(fault, field, values):
    odds = [fault_prior(background=Background(**{field: v}))[fault] for v in values]
    return all(a < b for a, b in itertools.pairwise(odds))


def test_a_slow_decline_speaks_for_a_slow_leak_and_a_sudden_one_against():
    months = (0.0, 0.5, 2.0, 6.0, 24.0, 400.0)
    assert rising("undercharge", "months_since_ok", months)
    assert not rising("compressor_not_running", "months_since_ok", months)
    assert rising("compressor_not_running", "months_since_ok", months[::-1])


def test_valves_wear_with_age():
    assert rising("weak_compressor", "age_s", [0.0, 5 * YEAR_S, 12 * YEAR_S, 30 * YEAR_S])


def test_a_fan_can_stop_only_where_there_is_one():
    for fault, field in (("evaporator_air", "evaporator"), ("condenser_air", "condenser")):
        kinds = {"evaporator": keys.EVAPORATORS, "condenser": keys.CONDENSERS}[field]
        odds = {k: fault_prior(background=Background(**{field: k}))[fault] for k in kinds}
        assert max(odds, key=odds.get) == "fan"


@pytest.mark.parametrize(
    ("arguments", "error"),
    [
        (("it_smells",), BadInput),
        ((None, Background(condenser="steam")), BadInput),
        ((None, Background(evaporator="steam")), BadInput),
        ((None, Background(age_s=-1.0)), OutOfRange),
        ((None, Background(months_since_ok=float("nan"))), OutOfRange),
    ],
)
def test_what_cannot_be_is_refused(arguments, error):
    with pytest.raises(error):
        fault_prior(*arguments)


# From the glossary (fractions) and the range of loads a household seal or heater can add.
LIMITS = {
    "undercharge": (0.15, 0.95),
    "overcharge": (1.05, 1.6),
    "capillary_restricted": (0.05, 0.9),
    "drier_restricted": (0.05, 0.9),
    "weak_compressor": (0.1, 0.9),
    "condenser_air": (0.1, 0.9),
    "evaporator_air": (0.05, 0.9),
    "heat_load": (5.0, 150.0),
    "non_condensables": (0.002, 0.05),
}
uniforms = st.lists(st.floats(0.0, 1.0), min_size=2, max_size=30)


@pytest.mark.parametrize("fault", LIMITS)
@given(u=uniforms)
def test_severity_rises_with_the_uniform_and_stays_inside(fault, u):
    u = np.sort(np.array(u))
    severity = severity_from_uniform(fault, u)
    low, high = LIMITS[fault]
    assert (severity >= low * (1 - 1e-12)).all()
    assert (severity <= high * (1 + 1e-12)).all()
    assert (np.diff(severity) >= 0.0).all()


@pytest.mark.parametrize("fault", LIMITS)
def test_severity_reaches_its_limits_and_is_flat_between(fault):
    severity = severity_from_uniform(fault, np.array([[0.0, 0.25], [0.5, 1.0]]))
    assert severity.shape == (2, 2)
    assert (severity[0, 0], severity[1, 1]) == pytest.approx(LIMITS[fault])
    scale = np.log if fault in ("heat_load", "non_condensables") else np.asarray
    low, quarter, middle, high = scale(severity.ravel())
    assert (quarter - low) / (high - low) == pytest.approx(0.25)
    assert (middle - low) / (high - low) == pytest.approx(0.5)


@pytest.mark.parametrize("fault", sorted(set(IN_SCOPE) - set(LIMITS)))
def test_fault_without_severity_has_none(fault):
    assert FAULTS[fault].severity is None
    assert np.isnan(severity_from_uniform(fault, np.array([0.1, 0.9]))).all()


@pytest.mark.parametrize("u", [-0.01, 1.01, np.nan])
def test_only_uniforms_make_severities(u):
    with pytest.raises(OutOfRange):
        severity_from_uniform("undercharge", np.array([0.5, u]))


def test_unknown_fault_is_refused_with_a_suggestion():
    with pytest.raises(BadInput, match="did you mean undercharge"):
        severity_from_uniform("undercharg", np.array([0.5]))


def test_kinds_of_a_stopped_compressor():
    assert set(STOPPED) == {"winding", "relay", "overload", "supply", "seized"}
    assert sum(kind.share for kind in STOPPED.values()) == pytest.approx(1.0)
    for kind in STOPPED.values():
        assert 0.0 < kind.silent < 1.0
        assert 0.0 < kind.hums_and_trips < 1.0
        assert kind.silent + kind.hums_and_trips <= 1.0  # it cannot do both


def test_what_is_heard_tells_the_kinds_apart():
    hums = which_odds(None, {"compressor_hums_and_trips": True, "rust": True})
    silent = which_odds(None, {"compressor_silent": True})
    assert sum(hums.values()) == pytest.approx(1.0)
    assert hums["relay"] + hums["seized"] > 0.75
    assert silent["supply"] + silent["overload"] > 0.6
    assert (
        max(which_odds("trips_the_breaker"), key=which_odds("trips_the_breaker").get) == "winding"
    )


def test_bayes_by_hand():
    silent = which_odds(None, {"compressor_silent": True})
    by_hand = STOPPED["supply"].share * STOPPED["supply"].silent / heard_share("compressor_silent")
    assert silent["supply"] == pytest.approx(by_hand)
    not_silent = which_odds(None, {"compressor_silent": False})
    whole = heard_share("compressor_silent")
    mixed = whole * silent["supply"] + (1.0 - whole) * not_silent["supply"]
    assert mixed == pytest.approx(STOPPED["supply"].share)  # law of total probability


def test_only_the_two_sounds_say_which():
    with pytest.raises(BadInput):
        heard_probability("relay", "rust")
    with pytest.raises(BadInput):
        heard_probability("goblin", "compressor_silent")

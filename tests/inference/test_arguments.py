"""What speaks for and against a fault, and what would change our mind."""

import numpy as np
import pytest

from coldwright.catalogue.checks import CHECKS
from coldwright.diagnosis.arguments import EACH, arguments_of, left_out
from coldwright.diagnosis.fault_words import WORDS, fault_words
from coldwright.diagnosis.hypotheses import HYPOTHESES
from coldwright.diagnosis.mind_change import (
    LEAST_CHANCE,
    SHOWN,
    _crossing,
    _likeliest_run,
    mind_changes,
    overturns,
)
from coldwright.diagnosis.posterior import weigh
from coldwright.diagnosis.predict import COLUMNS
from coldwright.diagnosis.shown import Shown, shown, shown_range
from coldwright.readings.jobfile import job_from_text
from tests.inference.invented import ROOM_K, TOOLS, ensemble, evidence

N = 300
OUTLET, MIDDLE = "condenser_outlet_temperature", "condenser_middle_temperature"


def spread(middle, width, seed):
    return middle + width * np.random.default_rng(seed).standard_normal(N)


def made(med):
    """Undercharge warm at the outlet, a restriction cool, both alike at the shell."""
    alike = {k: np.full(N, 300.0) for k in COLUMNS}
    return ensemble(
        med,
        {
            "undercharge": alike | {OUTLET: spread(305.0, 2.0, 1), MIDDLE: spread(306.0, 2.0, 2)},
            "capillary_restricted": alike
            | {OUTLET: spread(297.0, 2.0, 3), MIDDLE: spread(306.0, 2.0, 4)},
            "heat_load": alike | {OUTLET: spread(325.0, 2.0, 5), MIDDLE: spread(326.0, 2.0, 6)},
        },
    )


def job(**readings):
    lines = "\n".join(f'{key} = "{value}"' for key, value in readings.items())
    return job_from_text(f'[plate]\nkind = "top_mount"\n[readings]\n{lines}\n', "made up")


def argued(med, **readings):
    told = job(**readings)
    values = {r.key: r.value for r in told.readings}
    posterior = weigh(made(med), evidence(values))
    return posterior, arguments_of(told, posterior, left_out(posterior))


def test_a_reading_speaks_for_the_fault_that_would_give_it_and_names_whom_it_sets_back(r134a):
    posterior, arguments = argued(
        r134a, condenser_outlet_temperature="31 °C", condenser_middle_temperature="33 °C"
    )
    leader = arguments[0]
    assert leader.faults == max(posterior.odds, key=lambda f: posterior.odds[f])
    assert leader.faults == ("undercharge",)
    first = leader.for_it[0]
    assert first.reading in (OUTLET, MIDDLE)
    outlet = next(s for s in leader.for_it if s.reading == OUTLET)
    assert outlet.rival.faults in (("capillary_restricted",), ("heat_load",))
    assert outlet.mine.low < outlet.mine.median < outlet.mine.high
    assert outlet.mine.median > 300.0
    assert "read 31 °C: this fault would show" in outlet.sentence
    assert fault_words(outlet.rival.faults) in outlet.sentence
    assert "°C" in outlet.sentence
    assert "K" not in outlet.sentence


def test_bits_are_the_change_of_the_log_odds(r134a):
    posterior, arguments = argued(
        r134a, condenser_outlet_temperature="31 °C", condenser_middle_temperature="33 °C"
    )
    for argument in arguments:
        assert argument.probability == pytest.approx(posterior.odds[argument.faults])
        for speaks in (*argument.for_it, *argument.against_it):
            rest = weigh(posterior.ensemble, posterior.evidence.without(speaks.reading))
            now, then = (o[argument.faults] for o in (posterior.odds, rest.odds))
            by_hand = np.log2(now / (1.0 - now)) - np.log2(then / (1.0 - then))
            assert speaks.bits == pytest.approx(by_hand, abs=1e-6)
        assert len(argument.for_it) <= EACH
        assert all(s.bits > 0.0 for s in argument.for_it)
        assert all(s.bits < 0.0 for s in argument.against_it)


def test_a_reading_that_all_would_give_alike_is_not_brought_forward(r134a):
    # Through the heavy tails of the readings together it may move the odds a little, no more.
    _, arguments = argued(r134a, condenser_outlet_temperature="31 °C", appliance_power="300 W")
    said = {s.reading: abs(s.bits) for s in (*arguments[0].for_it, *arguments[0].against_it)}
    assert said[OUTLET] > 3.0 * said.get("appliance_power", 0.0)


def test_in_the_technicians_units(r134a):
    told = job(condenser_outlet_temperature="88 °F", condenser_middle_temperature="92 °F")
    posterior = weigh(made(r134a), evidence({r.key: r.value for r in told.readings}))
    leader = arguments_of(told, posterior, left_out(posterior), system="us")[0]
    outlet = next(s for s in leader.for_it if s.reading == OUTLET)
    assert "read 88 °F" in outlet.sentence
    assert outlet.sentence.count("°F") >= 3
    assert "°C" not in outlet.sentence


def minds(med, seed=3, **readings):
    told = job(**readings)
    posterior = weigh(made(med), evidence({r.key: r.value for r in told.readings}))
    found = overturns(told, posterior, TOOLS, np.random.default_rng(seed))
    return posterior, found


def test_the_value_that_would_change_our_mind_is_where_the_odds_cross(r134a):
    posterior, found = minds(r134a, condenser_middle_temperature="33 °C")
    change = next(m for m in found if m.check == OUTLET)
    leader, rival = change.faults, change.rival
    # Whoever leads by sampling of the prior, the other leads on the far side of the crossing.
    assert {leader, rival} == {("undercharge",), ("restriction",)}
    at = change.low if change.high is None else change.high
    assert 297.0 < at < 305.0
    name = {"undercharge": "undercharge", "restriction": "capillary_restricted"}
    for off, wins in ((-1.5, "restriction"), (1.5, "undercharge")):
        values = {MIDDLE: posterior.evidence.values[0], OUTLET: at + off}
        after = weigh(posterior.ensemble, evidence(values))
        assert max(after.odds, key=lambda f: after.odds[f]) == (name[wins],)
    assert change.odds_limit == pytest.approx(0.5, abs=0.05)  # two faults: they cross at half
    assert change.odds_mean < change.odds_limit < change.odds_now + 0.05
    assert "middle of the condenser as read" in change.sentence
    assert f"{100 * change.odds_now:.0f} %" in change.sentence


def test_its_chance_is_that_of_the_rival_nearly(r134a):
    """Two faults well apart: overturned about as often as the rival is true."""
    posterior, found = minds(r134a, condenser_middle_temperature="33 °C")
    change = next(m for m in found if m.check == OUTLET)
    truth = 1.0 - change.odds_now
    assert change.chance == pytest.approx(truth, abs=0.08)
    assert change.chance >= LEAST_CHANCE
    assert sum(posterior.odds.values()) == pytest.approx(1.0)
    shown_to_the_user = mind_changes(found)
    rivals = [m.rival for m in shown_to_the_user]
    assert 0 < len(rivals) == len(set(rivals)) <= SHOWN
    assert shown_to_the_user[0].chance == found[0].chance


def test_nothing_overturns_a_fault_where_nothing_else_is_in_question(r134a):
    _, found = minds(
        r134a, condenser_outlet_temperature="52 °C", condenser_middle_temperature="53 °C"
    )
    assert found == ()


def test_only_closed_checks_with_the_tools_at_hand_are_named(r134a):
    told = job(condenser_middle_temperature="33 °C")
    posterior = weigh(made(r134a), evidence({r.key: r.value for r in told.readings}))
    rng = np.random.default_rng(3)
    eyes = overturns(told, posterior, TOOLS, rng, frozenset({"eyes", "ears", "clock"}))
    for change in (*eyes, *minds(r134a, condenser_middle_temperature="33 °C")[1]):
        assert not CHECKS[change.check].opens_circuit
    assert all(set(CHECKS[m.check].needs) <= {"eyes", "ears", "clock"} for m in eyes)


def test_a_run_and_a_crossing_by_hand():
    lost = np.array([True, False, True, True, False])
    assert _likeliest_run(lost, np.array([0.3, 0.1, 0.2, 0.2, 0.2])) == (2, 3)
    assert _likeliest_run(lost, np.array([0.5, 0.1, 0.2, 0.1, 0.1])) == (0, 0)
    assert _likeliest_run(np.zeros(3, bool), np.ones(3)) is None
    assert _crossing(np.array([0.0, 10.0]), np.array([3.0, -1.0]), 0) == pytest.approx(7.5)


def test_what_is_shown_counts_the_pull_toward_the_air_and_the_error():
    i = TOOLS[OUTLET]
    truth, air = np.array([320.0]), np.array([ROOM_K])
    s = shown(truth, air, i)
    assert s.mean[0] == pytest.approx(320.0 + i.toward_air_mean * (ROOM_K - 320.0))
    low, mid, high = shown_range(s, np.ones(1))
    assert low < mid < high
    exact = shown_range(Shown(np.array([1.0, 3.0]), np.zeros(2)), np.array([0.5, 0.5]), (0.5,))
    assert exact[0] == pytest.approx(2.0)
    assert shown_range(Shown(np.array([np.nan]), np.ones(1)), np.ones(1)) is None


def test_every_fault_and_pair_has_words():
    for hypothesis in HYPOTHESES:
        assert set(hypothesis.faults) <= set(WORDS)
        assert "_" not in fault_words(hypothesis.faults)
    assert fault_words(("undercharge", "condenser_air")) == (
        "too little refrigerant together with poor air over the condenser"
    )

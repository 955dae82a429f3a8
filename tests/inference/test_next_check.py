"""What is asked for next."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldwright.catalogue.checks import CHECKS, TOOL_KITS
from coldwright.catalogue.checks import TOOLS as EVERY_TOOL
from coldwright.diagnosis.next_check import (
    CERTAIN,
    LEAST_BITS,
    _sign_bits,
    at_hand,
    outlook,
    plan,
    ranked,
)
from coldwright.diagnosis.predict import COLUMNS, says_nothing
from coldwright.faults.registry import FAULTS
from tests.inference.invented import TOOLS, ensemble, even, evidence

N = 80
TELLING = "condenser_outlet_temperature"
OPENING = [k for k in COLUMNS if CHECKS[k].opens_circuit]
CLOSED = [k for k in COLUMNS if k in CHECKS and not CHECKS[k].opens_circuit]


def _alike() -> dict[str, np.ndarray]:
    return {k: np.full(N, 300.0) for k in COLUMNS}


def _bits(med, truth, seen=None):
    made = ensemble(med, truth)
    return outlook(even(made, seen or evidence({})), TOOLS, np.random.default_rng(1)).bits


def test_no_reading_tells_faults_apart_that_read_alike(r134a):
    bits = _bits(r134a, {"nothing_wrong": _alike(), "condenser_air": _alike()})
    assert (set(COLUMNS) & set(CHECKS)) - says_nothing(settled=True) <= set(bits)
    assert max(bits[k] for k in COLUMNS if k in bits) == pytest.approx(0.0, abs=1e-9)


def test_a_reading_far_apart_is_worth_all_the_doubt(r134a):
    other = _alike() | {TELLING: np.full(N, 345.0)}
    bits = _bits(r134a, {"nothing_wrong": _alike(), "condenser_air": other})
    assert bits[TELLING] == pytest.approx(1.0, abs=0.02)  # two even faults: one bit


def test_a_reading_less_far_apart_is_worth_less(r134a):
    gains = []
    for apart in (1.0, 4.0, 12.0):
        other = _alike() | {TELLING: np.full(N, 300.0 + apart)}
        gains.append(_bits(r134a, {"nothing_wrong": _alike(), "condenser_air": other})[TELLING])
    assert 0.0 < gains[0] < gains[1] < gains[2] <= 1.0


def test_what_was_read_is_not_asked_again(r134a):
    truth = {"nothing_wrong": _alike(), "condenser_air": _alike()}
    assert TELLING not in _bits(r134a, truth, evidence({TELLING: 300.0}))


def test_restrictions_of_drier_and_capillary_are_one_question(r134a):
    other = _alike() | {TELLING: np.full(N, 345.0)}
    truth = {"drier_restricted": _alike(), "capillary_restricted": other}
    assert _bits(r134a, truth) == {}


def test_sign_worth_by_hand():
    """Two even faults; seen always with one and never with the other: one bit."""
    code = np.repeat([0, 1], 50)
    assert _sign_bits((code == 1).astype(float), code, 2) == pytest.approx(1.0)
    assert _sign_bits(np.full(100, 0.3), code, 2) == pytest.approx(0.0, abs=1e-12)
    # Binary symmetric channel of error 0.1 carries 1 - H(0.1) = 0.5310 bit (Shannon 1948)
    assert _sign_bits(np.where(code == 1, 0.9, 0.1), code, 2) == pytest.approx(0.5310, abs=1e-4)


_WORTH = st.dictionaries(st.sampled_from(sorted(CHECKS)), st.floats(0.0, 2.0), max_size=20)
_SHARES = st.lists(st.floats(1e-3, 1.0), min_size=len(FAULTS), max_size=len(FAULTS))


@given(_WORTH, _SHARES, st.integers(0, len(FAULTS) - 1), st.floats(1.0, 300.0))
def test_nothing_is_opened_while_a_closed_check_is_worth_making(bits, shares, first, lead):
    shares[first] *= lead
    odds = {(f,): s / sum(shares) for f, s in zip(FAULTS, shares, strict=True)}
    out = ranked(bits, odds)
    opens = [CHECKS[k].opens_circuit for k in out]
    assert len(out) <= 5
    assert len(set(out)) == len(out)
    assert all(bits[k] > LEAST_BITS for k in out)
    closed = [k for k in out if not CHECKS[k].opens_circuit]
    rate = [bits[k] / CHECKS[k].minutes for k in closed]
    assert rate == sorted(rate, reverse=True)
    worth = [k for k, b in bits.items() if b > 0.10 and not CHECKS[k].opens_circuit]
    if worth or max(odds.values()) >= CERTAIN:
        assert not any(opens)
    assert sum(opens) <= 1
    assert not any(opens[:-1])  # and last of all where it is offered


def test_opening_is_offered_where_nothing_else_tells():
    odds = {("undercharge",): 0.5, ("capillary_restricted",): 0.5}
    bits = dict.fromkeys(CLOSED, 0.0) | dict.fromkeys(OPENING, 0.5)
    assert [CHECKS[k].opens_circuit for k in ranked(bits, odds)] == [True]
    sure = {("undercharge",): 0.95, ("capillary_restricted",): 0.05}
    assert ranked(bits, sure) == []
    # A restriction is one fault here, wherever it sits.
    either = {("drier_restricted",): 0.5, ("capillary_restricted",): 0.5}
    assert ranked(bits, either) == []


def _outlook(med, truth, seed=1):
    made = ensemble(med, truth)
    return outlook(even(made, evidence({})), TOOLS, np.random.default_rng(seed))


def test_a_plan_does_not_ask_twice_for_the_same_news(r134a):
    """Two readings that tell the same pair of faults apart; a third that tells another pair."""
    hot, low = np.full(N, 345.0), np.full(N, 230.0)
    truth = {
        "nothing_wrong": _alike(),
        "condenser_air": _alike() | {TELLING: hot, "condenser_middle_temperature": hot},
        "heat_load": _alike() | {"suction_line_temperature": low},
    }
    steps = plan(_outlook(r134a, truth))
    asked = [s.check for s in steps]
    assert "suction_line_temperature" in asked
    assert not {TELLING, "condenser_middle_temperature"} <= set(asked)
    # Three even faults: log2(3) bits in all, nearly all found by the two that matter
    assert sum(s.added_bits for s in steps) == pytest.approx(np.log2(3.0), abs=0.1)


def test_a_plan_adds_up_noisy_readings(r134a):
    weak = {k: np.full(N, 303.0) for k in ("condenser_inlet_temperature", "shell_temperature")}
    seen = _outlook(r134a, {"nothing_wrong": _alike(), "condenser_air": _alike() | weak})
    steps = plan(seen)
    alone = [seen.bits[s.check] for s in steps]
    assert sum(s.added_bits for s in steps) > max(alone)
    assert sum(s.added_bits for s in steps) <= 1.0 + 1e-9


def test_nothing_is_planned_where_nothing_tells(r134a):
    steps = plan(_outlook(r134a, {"nothing_wrong": _alike(), "condenser_air": _alike()}))
    assert [s for s in steps if s.check in COLUMNS] == []


def test_only_tools_at_hand_are_asked_for():
    bits = dict.fromkeys(CHECKS, 0.5)
    odds = {("undercharge",): 0.5, ("capillary_restricted",): 0.3, ("nothing_wrong",): 0.2}
    kit = TOOL_KITS["thermometer"]
    asked = ranked(bits, odds, most=50, tools=kit)
    assert asked
    for check in asked:
        assert set(CHECKS[check].needs) <= kit
    assert not at_hand("appliance_power", kit)
    assert at_hand("appliance_power", TOOL_KITS["power_meter"])
    kits = list(TOOL_KITS.values())
    assert all(a < b for a, b in itertools.pairwise(kits))
    assert kits[-1] == set(EVERY_TOOL)

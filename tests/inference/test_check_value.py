"""What a check is worth in money: the expected value of sample information, by hand and by law."""

from dataclasses import dataclass, replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from coldwright.catalogue.checks import CHECKS
from coldwright.diagnosis.check_value import sample_value, valued
from coldwright.diagnosis.money_words import decision_words, value_words
from coldwright.diagnosis.next_check import outlook, ranked
from coldwright.diagnosis.predict import COLUMNS
from coldwright.diagnosis.result import NextCheck
from coldwright.electrical.evidence import NOT_RUNNING, ElectricalEvidence
from tests.inference.invented import TOOLS, ensemble, even, evidence

N = 200
TELLING = "condenser_outlet_temperature"
TAPPED = "suction_pressure"


@dataclass(frozen=True)
class Made:
    """Two alternatives: leave it, or mend it whatever it is."""

    table: dict[str, tuple[float, float]]
    identifiers: tuple[str, ...] = ("do_nothing", "mend")
    titles: tuple[str, ...] = ("Do nothing", "Mend it")
    currency: str = "shells"
    per_minute: float = 0.5
    opening_risk: float = 8.0

    def costs(self, faults):
        return np.array([self.table[f[0]] for f in faults]).T

    def stopped_costs(self, kinds):
        return np.array([self.table[NOT_RUNNING]] * len(kinds)).T


def seen(med, truth, seed=1):
    return outlook(even(ensemble(med, truth), evidence({})), TOOLS, np.random.default_rng(seed))


def alike():
    return {k: np.full(N, 300.0) for k in COLUMNS}


def pair(**apart):
    """A sound one and one with poor air, told apart by the readings named."""
    return {"nothing_wrong": alike(), "condenser_air": alike() | apart}


# Leaving a sound one costs nothing, a faulty one 100; mending costs 60 whatever it is.
STAKES = Made({"nothing_wrong": (0.0, 60.0), "condenser_air": (100.0, 60.0)})


def test_a_check_that_tells_all_is_worth_the_value_of_perfect_information(r134a):
    """Even odds: 50 without; 0.5 x 0 + 0.5 x 60 = 30 with: worth 20."""
    found = valued(seen(r134a, pair(**{TELLING: np.full(N, 345.0)})), STAKES)
    value = found.by_check[TELLING]
    # 96 values are drawn; the share of the faulty among them errs by 0.05
    assert value.gross == pytest.approx(20.0, abs=100.0 * 3.0 * 0.5 / 96**0.5 / 2.0)
    assert value.net == pytest.approx(value.gross - 0.5 * CHECKS[TELLING].minutes)
    assert value.turns == pytest.approx(0.5, abs=0.15)
    assert value.turns_to == "Mend it"
    assert found.pays(TELLING)


def test_what_tells_nothing_is_worth_nothing_and_costs_its_minutes(r134a):
    found = valued(seen(r134a, pair(**{TELLING: np.full(N, 345.0)})), STAKES)
    blank = found.by_check["shell_temperature"]
    assert blank.gross == pytest.approx(0.0, abs=1e-9)
    assert blank.net == pytest.approx(-0.5 * CHECKS["shell_temperature"].minutes)
    assert not found.pays("shell_temperature")


def test_what_cannot_turn_the_choice_is_worth_nothing_however_much_it_tells(r134a):
    look = seen(r134a, pair(**{TELLING: np.full(N, 345.0)}))
    assert look.bits[TELLING] > 0.9
    always = Made({"nothing_wrong": (0.0, 60.0), "condenser_air": (50.0, 60.0)})
    found = valued(look, always)
    assert found.by_check[TELLING].gross == pytest.approx(0.0, abs=1e-9)
    assert found.by_check[TELLING].turns == 0.0
    assert not found.decision.any_check_pays
    assert "No further check pays" in decision_words(found.decision)


def test_a_noisy_answer_by_hand():
    """A sign right in 9 of 10, even odds: after yes 0.9 x 100 against 60, after no 10 against 60.

    Without: min(50, 60) = 50. With: 0.5 x min(90, 60) + 0.5 x min(10, 60) = 35. Worth 15.
    """
    after = np.array([[90.0, 60.0], [10.0, 60.0]])
    assert sample_value(after) == pytest.approx(15.0)
    # Yes in 2 of 10: 0.2 x 90 + 0.8 x 10 = 26 without; 0.2 x 60 + 0.8 x 10 = 20 with
    assert sample_value(after, np.array([0.2, 0.8])) == pytest.approx(6.0)


@given(
    arrays(float, (12, 3), elements=st.floats(0.0, 1.0)),
    arrays(float, (3, 4), elements=st.floats(0.0, 1e3)),
)
def test_never_below_zero_nor_above_perfect_information(weight, costs):
    """Jensen's inequality both ways: Raiffa and Schlaifer (1961), chapter 4."""
    posterior = (weight + 1e-3) / (weight + 1e-3).sum(axis=1, keepdims=True)
    value = sample_value(posterior @ costs)
    prior = posterior.mean(axis=0)
    perfect = float(np.min(prior @ costs) - prior @ np.min(costs, axis=1))
    assert 0.0 <= value <= perfect + 1e-9


def test_opening_costs_its_risk_by_the_chance_that_the_circuit_is_sound(r134a):
    truth = {
        "nothing_wrong": alike(),
        "undercharge": alike() | {TAPPED: np.full(N, 6e4)},
    }
    look = seen(r134a, truth)
    found = valued(look, Made({"nothing_wrong": (0.0, 60.0), "undercharge": (100.0, 60.0)}))
    tapped = found.by_check[TAPPED]
    sound = float(np.mean(np.array(look.faults)[look.fault_code] == "nothing_wrong"))
    assert tapped.risk == pytest.approx(8.0 * sound)
    assert tapped.net == pytest.approx(tapped.gross - tapped.risk - 0.5 * CHECKS[TAPPED].minutes)
    assert found.by_check["shell_temperature"].risk == 0.0


def test_opening_is_offered_only_where_it_pays_and_no_closed_check_does(r134a):
    truth = {
        "nothing_wrong": alike(),
        "undercharge": alike() | {TAPPED: np.full(N, 6e4)},
    }
    look = seen(r134a, truth)
    rich = Made({"nothing_wrong": (0.0, 600.0), "undercharge": (1000.0, 600.0)})
    odds = {("nothing_wrong",): 0.5, ("undercharge",): 0.5}
    only = {TAPPED: 0.9}  # what no closed check tells
    found = valued(look, rich)
    closed = [k for k in found.by_check if not CHECKS[k].opens_circuit and found.pays(k)]
    assert found.pays(TAPPED)
    assert found.opening_pays(TAPPED) is (not closed)
    mute = replace(found, by_check={TAPPED: found.by_check[TAPPED]})
    assert ranked(only, odds, opening_pays=mute.opening_pays) == [TAPPED]
    poor = valued(look, replace(rich, opening_risk=1e6))
    assert not poor.pays(TAPPED)
    assert ranked(only, odds, opening_pays=poor.opening_pays) == []
    assert ranked(only, odds) == [TAPPED]  # without prices the information decides


def test_parts_of_a_stopped_compressor_have_a_value_too(r134a):
    class Told(Made):
        def stopped_costs(self, kinds):
            dead = ("winding", "seized")
            return np.array([(200.0, 150.0) if k in dead else (200.0, 40.0) for k in kinds]).T

    truth = {"nothing_wrong": alike(), NOT_RUNNING: alike()}
    stakes = Told({"nothing_wrong": (0.0, 100.0), NOT_RUNNING: (200.0, 80.0)})
    kinds = (("relay", 0.5), ("winding", 0.5))
    found = valued(seen(r134a, truth), stakes, ElectricalEvidence((), kinds))
    values = found.by_check["winding_resistance_run"]
    assert values.gross >= 0.0
    assert np.isfinite(values.net)
    assert 0.0 <= values.turns <= 1.0


def test_words_name_the_money_and_are_currency_neutral(r134a):
    found = valued(seen(r134a, pair(**{TELLING: np.full(N, 345.0)})), STAKES)
    value = found.by_check[TELLING]
    check = NextCheck(TELLING, 0.98, 4.0, False, "Clamp it.", (), value)
    said = value_words(check, found.decision)
    assert said.startswith("Tells much (0.98 bit). Pays: saves about ")
    assert "shells" in said
    assert "mend it" in said
    bare = value_words(check, replace(found.decision, currency=""))
    assert "shells" not in bare
    assert "  " not in bare
    assert value_words(replace(check, value=None), None) == "Tells much (0.98 bit)."
    opening = replace(check, opens_circuit=True, value=replace(value, risk=4.0))
    assert "the risk 4 shells (8 shells where the circuit is sound" in value_words(
        opening, found.decision
    )
    assert decision_words(None) == ""
    assert "the best is now" in decision_words(found.decision)

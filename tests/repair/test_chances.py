"""The stated chances: told on the page with where they come from, and holding what they promise.

Outcomes are drawn here by hand, one appliance after the other, at the stated chances, lives
and prices; money is discounted by numpy-financial. Their mean must be the stated one.
"""

import math
import random
import re
from pathlib import Path

import numpy as np
import numpy_financial as npf
import pytest

from coldwright.repair.alternatives import OFFERERS
from coldwright.repair.causes import Cause
from coldwright.repair.joint_list import METHODS
from coldwright.repair.joint_records import CircuitState, Joint, Offer, Surrounding
from coldwright.repair.metals import ALUMINIUM, COPPER, STEEL
from coldwright.repair.offerers import (
    ALSO_MENDED,
    CLOSED_COMEBACK,
    OPENED_COMEBACK,
    STILL_LEAKS,
)
from coldwright.worth.accounts import Energies, cost_now, cost_scouted
from coldwright.worth.lifetimes import MEAN_LIFE_YEARS, SHAPE
from coldwright.worth.verdict import verdict
from coldwright.worth.world import AGEING, NEW_SPREAD, NOTICED, draw
from tests.repair.test_worth import BY_NAME, CAUSES, WORLD

PAGE = (Path(__file__).parents[2] / "docs" / "repair.md").read_text(encoding="utf-8")
SECTION = PAGE.partition("## Stated chances")[2].partition("\n## ")[0]
ROWS = [
    tuple(cell.strip().strip("`") for cell in line.strip("|").split("|"))
    for line in SECTION.splitlines()
    if line.startswith("|") and not line.startswith("|---")
]
AROUND = Surrounding(flammable=False, state=CircuitState.OPEN)
JOINTS = (
    Joint("drier_joint", (COPPER, COPPER), (6e-3, 6e-3)),
    Joint("condenser_joint", (STEEL, STEEL), (5e-3, 6e-3)),
    Joint("evaporator", (ALUMINIUM, ALUMINIUM), (8e-3, 8e-3)),
)


def share(cell):
    return float(cell.removesuffix("%").strip()) / 100.0


def test_every_way_to_join_stands_in_the_table_with_its_chances_and_their_source():
    for method in METHODS:
        answers = [method.judge(joint, AROUND) for joint in JOINTS]
        offer = next(a for a in answers if isinstance(a, Offer))
        (row,) = [r for r in ROWS if r[0] == method.name]
        assert share(row[1]) == pytest.approx(offer.first_time_success), method.name
        assert share(row[2]) == pytest.approx(offer.comeback_per_year), method.name
        assert row[3] in ("*ours*", "*read*", "*practice*")


def test_every_repair_stands_in_the_table_with_its_chance():
    told = {(r[0], r[1]): r for r in ROWS if len(r) == 4}
    for offerer in OFFERERS:
        for cause, chance in getattr(offerer, "causes", ()):
            row = told[offerer.identifier, cause]
            assert share(row[2]) == pytest.approx(chance)
            assert row[3] in ("*ours*", "*read*", "*practice*")
    for cause, chance in ALSO_MENDED:
        assert share(told["any that opens the circuit", cause][2]) == pytest.approx(chance)
    for number in (OPENED_COMEBACK, CLOSED_COMEBACK, STILL_LEAKS):
        assert re.search(rf"\b{100.0 * number:.0f} %", SECTION)


@pytest.mark.parametrize("name", ["bypass_frame_loop", "new_compressor", "mend_evaporator"])
def test_joints_made_at_their_chances_are_as_often_tight_as_stated(name):
    """A repair's stated chance is its own times that of all its joints, one second making in."""
    a, by_hand = BY_NAME[name], random.Random(4)
    chances = [plan.offers[0].first_time_success for plan in a.joints]
    (own,) = {c for o in OFFERERS if o.identifier == name for _, c in o.causes[:1]}
    cause = next(c for o in OFFERERS if o.identifier == name for c, _ in o.causes[:1])
    count = 40_000
    good = 0
    for _ in range(count):
        tight = all(by_hand.random() < chance for chance in chances)
        tight = tight or by_hand.random() >= STILL_LEAKS
        good += tight and by_hand.random() < own
    wanted = a.chance((cause,))
    assert good / count == pytest.approx(wanted, abs=4.0 * math.sqrt(0.25 / count))


def one_outcome(a, dice):
    """Present value of one appliance's fate under a repair, by hand."""
    w, p = WORLD, WORLD.prices
    rate, years = p.discount_rate_fraction, w.horizon_years
    cause = dice.choices([c.names for c in CAUSES], [c.probability for c in CAUSES])[0]
    chance = a.chance(cause)
    if chance <= 0.0 and dice.random() < NOTICED:
        return cost_scouted(a, w) + new_from(0.0, dice)
    money = sum(cost_now(a, w))
    if dice.random() >= chance:
        return money + new_from(0.0, dice)
    scale = MEAN_LIFE_YEARS[w.kind] / math.gamma(1.0 + 1.0 / SHAPE)
    life = 0.0
    while life <= w.age_years:  # given that it has come so far
        life = dice.weibullvariate(scale, SHAPE)
    kept = min(life - w.age_years, dice.expovariate(a.comeback_per_year), years)
    energy = dice.choice(SAMPLE) * (1.0 + float(np.interp(w.age_years + 0.5 * kept, *AGEING)))
    money -= npf.pv(rate, kept, energy * p.electricity_per_kwh)
    return money + new_from(kept, dice)


def new_from(start, dice):
    w, p = WORLD, WORLD.prices
    rate, left = p.discount_rate_fraction, w.horizon_years - start
    if left <= 0.0:
        return 0.0
    yearly = -npf.pmt(rate, w.new_life_years, p.new_appliance)
    energy = w.new_energy_kwh * math.exp(NEW_SPREAD * dice.gauss(0.0, 1.0))
    later = -npf.pv(rate, left, yearly + energy * p.electricity_per_kwh) + p.disposal
    return later / (1.0 + rate) ** start


SAMPLE = (300.0, 340.0, 380.0)


@pytest.mark.parametrize("name", ["bypass_frame_loop", "mend_evaporator"])
def test_outcomes_drawn_at_the_stated_chances_cost_what_is_stated(name):
    a, dice, count = BY_NAME[name], random.Random(11), 6000
    energies = dict.fromkeys(BY_NAME, Energies(np.array(SAMPLE), np.array(SAMPLE)))
    stated = verdict(list(BY_NAME.values()), WORLD, draw(np.random.default_rng(5), 20_000), CAUSES,
                     energies)  # fmt: skip
    worth = next(w for w in stated.worths if w.alternative == name)
    by_hand = np.array([one_outcome(a, dice) for _ in range(count)])
    error = by_hand.std() / math.sqrt(count) + by_hand.std() / math.sqrt(20_000)
    assert worth.money.mean == pytest.approx(by_hand.mean(), abs=4.0 * error)
    # and the spread is that of the outcomes, not only their mean
    assert worth.money.low == pytest.approx(float(np.quantile(by_hand, 0.1)), rel=0.03)
    assert worth.money.high == pytest.approx(float(np.quantile(by_hand, 0.9)), rel=0.03)


def test_the_causes_of_this_file_are_not_certain():
    assert all(isinstance(c, Cause) and c.probability < 1.0 for c in CAUSES)

"""Costs of each repair under each fault, as a check is judged by them."""

from dataclasses import replace

import numpy as np
import pytest

from coldwright.diagnosis.hypotheses import HYPOTHESES
from coldwright.readings.jobfile import job_from_text
from coldwright.readings.mending import Prices
from coldwright.repair.alternative_records import Ending
from coldwright.repair.causes import Cause, shares_of
from coldwright.repair.situation import situation_of
from coldwright.usecases.stakes import RISK_MINUTES, stakes_of
from coldwright.worth.accounts import cost_now, cost_scouted
from coldwright.worth.cost_table import cost_table, in_vain
from coldwright.worth.verdict import accounts
from coldwright.worth.world import NOTICED
from tests.repair.test_worth import BY_NAME, DRAWS, ENERGIES, WORLD

KEPT = [a for a in BY_NAME.values() if a.ending is not Ending.SCRAPPED]
NAMES = [a.identifier for a in KEPT]
ONE, OTHER, SOUND = ("leak_reachable",), ("condenser_air",), ("nothing_wrong",)
CAUSES = (ONE, OTHER, (*ONE, *OTHER), SOUND)
TABLE = cost_table(KEPT, WORLD, DRAWS, CAUSES, ENERGIES)
TEXT = (
    '[plate]\nkind = "bottom_mount"\nyear = 2022\nrefrigerant = "R600a"\ncharge = "58 g"\n'
    '[circuit]\nlayout = "plain"\ncondenser = "static"\nevaporator = "fan"\n'
)


def cost(name, cause):
    return TABLE[NAMES.index(name), CAUSES.index(cause)]


def test_the_right_repair_costs_what_the_comparison_says():
    certain = (Cause(("condenser_air",), 1.0, ("condenser_air",)),)
    books = accounts(KEPT, WORLD, DRAWS, certain, ENERGIES)
    for name in ("clean_condenser", "replace", "do_nothing"):
        assert cost(name, OTHER) == pytest.approx(books[name].money.mean())


def test_a_wrong_repair_is_wasted_and_the_right_one_comes_on_top():
    a = BY_NAME["new_compressor"]
    wasted = NOTICED * cost_scouted(a, WORLD) + (1.0 - NOTICED) * sum(cost_now(a, WORLD))
    assert in_vain(a, WORLD) == pytest.approx(wasted + WORLD.price("call_out"))
    best = min(cost(n, OTHER) for n in NAMES)
    assert cost("new_compressor", OTHER) == pytest.approx(best + in_vain(a, WORLD))


def test_of_two_faults_one_repair_is_half_the_work():
    both = ("leak_reachable", "condenser_air")
    dear = replace(WORLD, prices=replace(WORLD.prices, new_appliance=4000.0))
    causes = (ONE, both)
    table = dict(zip(NAMES, cost_table(KEPT, dear, DRAWS, causes, ENERGIES), strict=True))
    half = table["mend_tube"][0] + sum(cost_now(BY_NAME["clean_condenser"], dear))
    assert table["mend_tube"][1] == pytest.approx(half)
    # known beforehand both are done at one visit, and a repair of neither is in vain on top
    best = min(half - dear.price("call_out"), table["replace"][1], table["do_nothing"][1],
               table["clean_condenser"][1] - dear.price("call_out"))  # fmt: skip
    vain = in_vain(BY_NAME["new_compressor"], dear)
    assert table["new_compressor"][1] == pytest.approx(best + vain)
    assert best < half


def test_leaving_a_sound_one_alone_is_the_cheapest():
    at = CAUSES.index(SOUND)
    assert NAMES[int(np.argmin(TABLE[:, at]))] == "do_nothing"
    assert np.isfinite(TABLE).all()


@pytest.mark.parametrize("hypothesis", HYPOTHESES, ids=lambda h: "+".join(h.faults))
def test_every_fault_of_the_diagnosis_is_costed_and_its_causes_sum_to_one(hypothesis, shop):
    job = job_from_text(TEXT, "made up")
    shares = shares_of(hypothesis.faults, situation_of(job, 2026))
    assert sum(shares.values()) == pytest.approx(1.0)
    costs = stakes_of(job, shop, 2026).costs([hypothesis.faults])
    assert np.isfinite(costs).all()
    assert (costs > 0.0).all()


def test_the_repair_that_fits_is_the_best_of_repairs(shop):
    stakes = stakes_of(job_from_text(TEXT + "[worth]\nnew_appliance = 3000\n", "x"), shop, 2026)
    fits = {
        "evaporator_air": "defrost_and_fan", "heat_load": "seal_and_heater",
        "condenser_air": "clean_condenser", "capillary_restricted": "renew_capillary",
        "weak_compressor": "new_compressor", "control": "mend_control",
        "overcharge": "charge_anew", "nothing_wrong": "do_nothing", "undercharge": "mend_tube",
    }  # fmt: skip
    costs = stakes.costs([(fault,) for fault in fits])
    for k, (fault, repair) in enumerate(fits.items()):
        assert stakes.identifiers[int(np.argmin(costs[:, k]))] == repair, fault


def test_risk_price_of_opening_is_the_shops_or_an_hours_work(shop):
    job = job_from_text(TEXT, "made up")
    assert stakes_of(job, shop, 2026).opening_risk == shop.prices.opening_risk
    without = replace(shop, prices=replace(shop.prices, opening_risk=None))
    hour = RISK_MINUTES / 60.0 * shop.prices.labour_per_hour
    assert stakes_of(job, without, 2026).opening_risk == pytest.approx(hour)


def test_without_an_essential_price_there_is_no_money(shop):
    job = job_from_text(TEXT, "made up")
    for name in ("labour_per_hour", "electricity_per_kwh", "new_appliance"):
        poor = replace(shop, prices=replace(shop.prices, **{name: None}))
        assert stakes_of(job, poor, 2026) is None
    assert stakes_of(job, replace(shop, prices=Prices()), 2026) is None


def test_a_table_is_worked_out_once(shop):
    job = job_from_text(TEXT, "made up")
    first, again = (stakes_of(job, shop, 2026).costs([("undercharge",)]) for _ in range(2))
    assert (first == again).all()
    dearer = replace(shop, prices=replace(shop.prices, labour_per_hour=90.0))
    other = stakes_of(job, dearer, 2026).costs([("undercharge",)])
    assert (other >= first - 1e-9).all()
    assert (other > first).any()

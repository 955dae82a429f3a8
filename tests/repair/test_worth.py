"""The accounts: limits that can be worked by hand, signs, and flips that really flip."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldwright.readings.jobfile import job_from_text
from coldwright.readings.mending import Prices
from coldwright.repair.alternatives import alternatives_for
from coldwright.repair.causes import Cause
from coldwright.repair.dew import dew_point, frame_dew, humidity_at
from coldwright.repair.situation import situation_of
from coldwright.worth.accounts import STRATEGIES, Energies, cost_now, cost_scouted
from coldwright.worth.choice import with_heater
from coldwright.worth.finance import annuity_factor, yearly_payment
from coldwright.worth.flips import LEVERS, flips
from coldwright.worth.verdict import accounts, cheapest, missing_prices, verdict
from coldwright.worth.world import NOTICED, SCOUT_MINUTES, WAITING_BILLED, World, draw

JOB = job_from_text(
    '[plate]\nkind = "top_mount"\nyear = 2014\nrefrigerant = "R134a"\ncharge = "100 g"\n'
    '[circuit]\nlayout = "frame_loop"\nevaporator = "plate"\ncondenser = "static"\n',
    "made up",
)
OFFERED = alternatives_for(situation_of(JOB, 2026), (), 0.3)[0]
BY_NAME = {a.identifier: a for a in OFFERED}
PRICES = Prices(
    labour_per_hour=50.0, call_out=30.0, electricity_per_kwh=0.25, discount_rate_fraction=0.03,
    new_appliance=700.0, disposal=20.0, compressor=120.0, evaporator=90.0,
    grid_kg_co2e_per_kwh=0.3, embodied_kg_co2e=300.0,
)  # fmt: skip
WORLD = World(PRICES, "top_mount", 12.0, 10.0, 250.0, 0.1, 0.5, 1300.0)
CAUSES = (
    Cause(("leak_frame_loop",), 0.9, ("undercharge",)),
    Cause(("leak_buried",), 0.1, ("undercharge",)),
)
MIXED = tuple(Cause((c,), 0.1, ("undercharge",)) for c in (
    "leak_frame_loop", "leak_evaporator", "leak_reachable", "motor", "starting", "heat_load",
    "evaporator_air", "capillary_restricted", "nothing_wrong", "condenser_air"))  # fmt: skip
ENERGY = Energies(np.full(5, 350.0), np.full(5, 500.0))
ENERGIES = dict.fromkeys(BY_NAME, ENERGY)
DRAWS = draw(np.random.default_rng(1), 3000)


def book(name, world=WORLD, causes=CAUSES):
    a = BY_NAME[name]
    return STRATEGIES[a.ending].account(a, world, DRAWS, causes, ENERGY)


def test_replacing_costs_its_annuity_and_its_electricity():
    fixed = replace(DRAWS, new_energy=np.zeros(DRAWS.count))
    a = BY_NAME["replace"]
    money = STRATEGIES[a.ending].account(a, WORLD, fixed, CAUSES, ENERGY).money
    yearly = yearly_payment(700.0, 0.03, WORLD.new_life_years) + 250.0 * 0.25
    assert money == pytest.approx(yearly * float(annuity_factor(0.03, 10.0)) + 20.0)


def test_a_sound_one_left_alone_that_outlives_the_years_costs_electricity_only():
    young = replace(WORLD, age_years=0.0, horizon_years=2.0)
    long_lived = replace(DRAWS, life=np.full(DRAWS.count, 1e-9), success=np.zeros(DRAWS.count))
    a = BY_NAME["do_nothing"]
    sound = (Cause(("nothing_wrong",), 1.0, ("nothing_wrong",)),)
    got = STRATEGIES[a.ending].account(a, young, long_lived, sound, ENERGY)
    aged = 350.0 * (1.0 + 0.11 / 2.0)  # Paul et al. (2021): 11 % at two years, half way there
    assert got.money == pytest.approx(aged * 0.25 * float(annuity_factor(0.03, 2.0)))
    assert got.works.all()


def test_a_repair_of_the_wrong_cause_is_its_price_or_a_look_on_top_of_replacing():
    none = (Cause(("leak_buried",), 1.0, ("undercharge",)),)
    a = BY_NAME["bypass_frame_loop"]
    extra = book(a.identifier, causes=none).money - book("replace").money
    whole, look = sum(cost_now(a, WORLD)), cost_scouted(a, WORLD)
    assert look == pytest.approx(50.0 * SCOUT_MINUTES / 60.0 + 30.0)
    in_time = DRAWS.noticed < NOTICED
    assert extra[in_time] == pytest.approx(look)
    assert extra[~in_time] == pytest.approx(whole)


def test_price_now_is_hours_call_out_and_parts():
    a = BY_NAME["new_compressor"]
    labour, parts = cost_now(a, WORLD)
    hours = (a.minutes + WAITING_BILLED * a.waiting_minutes) / 60.0
    assert labour == pytest.approx(50.0 * hours + 30.0)
    assert parts == pytest.approx(120.0)


def test_the_share_that_works_is_cause_times_chance():
    share = book("bypass_frame_loop").works.mean()
    wanted = 0.9 * BY_NAME["bypass_frame_loop"].chance(("leak_frame_loop",))
    assert share == pytest.approx(wanted, abs=4.0 * np.sqrt(wanted * (1 - wanted) / DRAWS.count))


def test_refrigerant_left_to_leak_is_counted():
    clean = replace(PRICES, grid_kg_co2e_per_kwh=0.0)
    gone = replace(WORLD, charge_left_fraction=0.0, prices=clean)
    there = replace(gone, charge_left_fraction=1.0)
    more = book("do_nothing", there).co2e_kg - book("do_nothing", gone).co2e_kg
    assert more == pytest.approx(0.1 * 1300.0)
    more = book("replace", there).co2e_kg - book("replace", gone).co2e_kg
    assert more == pytest.approx(0.1 * 1300.0 * 0.1)  # 90 % recovered


@given(st.sampled_from(sorted(BY_NAME)), st.floats(1.01, 3.0))
def test_dearer_electricity_makes_nothing_cheaper(name, factor):
    dear = replace(WORLD, prices=replace(PRICES, electricity_per_kwh=0.25 * factor))
    assert np.all(book(name, dear).money >= book(name).money - 1e-9)


@given(
    st.sampled_from(["bypass_frame_loop", "new_compressor", "start_device"]), st.floats(0.0, 40.0)
)
def test_an_older_one_is_kept_for_less_time(name, age):
    older = replace(WORLD, age_years=age + 3.0)
    younger = replace(WORLD, age_years=age)
    assert book(name, older).years_kept.mean() <= book(name, younger).years_kept.mean() + 1e-9


def test_a_better_diagnosis_is_worth_money_where_mending_pays():
    pays = replace(WORLD, age_years=3.0, prices=replace(PRICES, new_appliance=1500.0))
    sure = (Cause(("leak_frame_loop",), 1.0, ("undercharge",)),)
    name = "bypass_frame_loop"
    assert book(name, pays).money.mean() < book("replace", pays).money.mean()
    assert book(name, pays, sure).money.mean() < book(name, pays).money.mean()


def test_the_verdict_ranks_what_serves_and_adds_up():
    result = verdict(OFFERED, WORLD, DRAWS, CAUSES, ENERGIES)
    ranked = [w for w in result.worths if w.ranked]
    names = {w.alternative for w in ranked}
    assert "scrap" not in names  # nobody has a refrigerator afterwards
    assert "new_compressor" not in names  # mends nothing here
    assert {"bypass_frame_loop", "replace", "do_nothing"} <= names
    assert sum(w.cheapest_probability for w in ranked) == pytest.approx(1.0)
    assert result.best == min(ranked, key=lambda w: w.money.mean).alternative
    assert all(w.money.low <= w.money.median <= w.money.high for w in ranked)


@pytest.mark.parametrize("key", ["labour_per_hour", "electricity_per_kwh", "new_appliance"])
def test_without_an_essential_price_no_money_is_compared(key):
    poor = replace(WORLD, prices=replace(PRICES, **{key: None}))
    result = verdict(OFFERED, poor, DRAWS, CAUSES, ENERGIES)
    assert missing_prices(poor) == (key,)
    assert result.best is None
    assert result.missing == (key,)
    assert all(w.money is None for w in result.worths)
    assert all(np.isfinite(w.co2e_kg.mean) for w in result.worths)


def test_every_flip_flips_and_not_before():
    few = [BY_NAME[n] for n in ("bypass_frame_loop", "replace", "do_nothing")]
    here = replace(WORLD, age_years=5.0, prices=replace(PRICES, new_appliance=1300.0))
    answer = cheapest(few, here, DRAWS, CAUSES, ENERGIES)
    found = flips(few, here, DRAWS, CAUSES, ENERGIES)
    levers = {lever.quantity: lever for lever in LEVERS}
    seen = 0
    for flip in found:
        for value, other, step in ((flip.below, flip.below_to, -1), (flip.above, flip.above_to, 1)):
            if value is None:
                continue
            seen += 1
            width = 1e-3 * max(abs(value), 1e-3) * step

            def at(x, lever=levers[flip.quantity]):
                world, causes = lever.moved(here, CAUSES, x)
                return cheapest(few, world, DRAWS, causes, ENERGIES)

            assert at(value + width) == other != answer
            assert at(value - width) == answer
    assert seen >= 3


FULL = replace(
    Prices(**dict.fromkeys(Prices.__dataclass_fields__, 1.0)),
    discount_rate_fraction=0.03,
    new_appliance=700.0,
    electricity_per_kwh=0.25,
)


# The energy of a new one is read before the comparison, where the job is read; the risk of
# opening weighs checks, not repairs: tests/repair/test_cost_table.py moves it.
ELSEWHERE = {"new_energy_kwh_year", "opening_risk"}


@pytest.mark.parametrize("name", sorted(set(Prices.__dataclass_fields__) - ELSEWHERE))
def test_every_price_moves_something(name):
    dearer = replace(FULL, **{name: getattr(FULL, name) * 1.5})
    heated = with_heater(
        OFFERED, frame_dew([("damp", 293.15, 0.9)], 278.15, 0.4, "read", months=True)
    )

    def totals(prices):
        books = accounts(heated, replace(WORLD, prices=prices), DRAWS, MIXED, ENERGIES)
        return np.array([[b.money.sum(), b.co2e_kg.sum()] for b in books.values()])

    assert not np.allclose(totals(dearer), totals(FULL), rtol=1e-9)


def test_what_is_paid_on_the_day():
    now = {w.alternative: w for w in verdict(OFFERED, WORLD, DRAWS, CAUSES, ENERGIES).worths}
    assert now["replace"].parts_now == pytest.approx(720.0)
    assert now["scrap"].parts_now == pytest.approx(20.0)
    assert now["do_nothing"].labour_now + now["do_nothing"].parts_now == 0.0


def test_the_same_seed_gives_the_same_answer():
    again = draw(np.random.default_rng(1), 3000)
    assert verdict(OFFERED, WORLD, again, CAUSES, ENERGIES) == (
        verdict(OFFERED, WORLD, DRAWS, CAUSES, ENERGIES)
    )


@given(room=st.floats(283.0, 308.0), humidity=st.floats(0.2, 1.0))
def test_the_humidity_at_a_dew_point_is_the_humidity_it_came_from(room, humidity):
    assert humidity_at(dew_point(room, humidity), room) == pytest.approx(humidity, rel=1e-9)


def test_a_frame_is_wet_from_the_humidity_that_is_told_and_needs_no_heater_below_it():
    rooms = [("at", 298.15, 0.5)]
    row = frame_dew(rooms, 278.15, 0.2, "made up", spread=(0.1, 0.3)).rows[0]
    assert row.frame_low_k < row.frame_k < row.frame_high_k
    just = row.sweats_from_fraction
    for share, wet in ((just - 0.01, False), (just + 0.01, True)):
        table = frame_dew([("at", 298.15, share)], 278.15, 0.2, "made up")
        assert table.rows[0].sweats is wet
        assert (table.heater_w > 0.0) is wet

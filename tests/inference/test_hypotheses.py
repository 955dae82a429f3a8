"""Single faults, faults with several ways, and two faults at once: simulated and weighed."""

import numpy as np
import pytest

from coldwright.catalogue.families import family_of
from coldwright.catalogue.pairs import PAIRS, prior_with_pairs
from coldwright.catalogue.part_states import unpowered_share
from coldwright.catalogue.priors import Background, fault_prior
from coldwright.catalogue.signs import sign_probability
from coldwright.catalogue.sizing import DESIGN_ROOM_K, DIMENSIONS, Known
from coldwright.catalogue.ways import WAYS, chosen
from coldwright.cycle.medium import medium
from coldwright.cycle.state import PUMPED_DOWN
from coldwright.diagnosis.ensemble import build
from coldwright.diagnosis.hypotheses import HYPOTHESES, hypothesis_named
from coldwright.diagnosis.population import liquid_density, members_for, simulate
from coldwright.diagnosis.posterior import severity_interval, weigh, which_odds
from coldwright.diagnosis.subject import Subject
from coldwright.errors import BadInput
from coldwright.faults.registry import FAULTS

from .invented import evidence

NAN = float("nan")
COUNT = 60
GAS = "R600a"
KNOWN = Known(family_of("top_mount"), 2012.0, NAN, NAN, NAN, NAN, NAN, 50.0, None, None)
SUBJECT = Subject(
    KNOWN, ((GAS, 1.0),), 298.15, NAN, NAN, True, 230.0, float("inf"),
    tuple(prior_with_pairs().items()), (),
)  # fmt: skip


@pytest.fixture(scope="module")
def found():
    z = np.random.default_rng(5).standard_normal((COUNT, DIMENSIONS))
    med = medium(GAS)
    members = members_for(med, SUBJECT, z)
    return {h.faults: simulate(med, SUBJECT, h, z, members, refrigerant=GAS) for h in HYPOTHESES}


def test_nearly_every_member_of_every_hypothesis_is_solved(found):
    unsolved = sum(p.unsolved for p in found.values())
    assert unsolved <= 0.01 * COUNT * len(found)
    assert all(p.solved.sum() > 0.9 * COUNT for p in found.values())


def _median(population, name):
    return float(np.median(population.states[name][population.solved]))


def test_air_beside_a_lost_charge_raises_what_the_loss_lowered(found):
    alone, both = found["undercharge",], found["undercharge", "non_condensables"]
    assert np.array_equal(alone.severity, both.severity)
    assert both.second is not None
    assert (both.circuits["air_mol"] == both.second).all()
    fine = alone.solved & both.solved
    higher = both.states["condensing_pressure_pa"] > alone.states["condensing_pressure_pa"]
    assert higher[fine].mean() > 0.95


def test_dust_beside_a_fault_acts_as_both(found):
    for pair in PAIRS:
        if pair.beside == "condenser_air":
            both = found[pair.faults]
            factor = both.circuits["condenser"]["air_factor_fraction"]
            assert factor == pytest.approx(both.second)


def test_moisture_blocks_some_members_and_lets_others_run(found):
    p = found["moisture",]
    plugged = p.way == 0
    assert (p.states["status_code"][plugged & p.solved] == PUMPED_DOWN).all()
    free = (p.way == 2) & p.solved
    sound = found["nothing_wrong",].states["appliance_power_w"]
    assert p.states["appliance_power_w"][free] == pytest.approx(sound[free])


def test_a_shut_flap_warms_fresh_food_alone_and_a_stuck_defrost_draws_its_heater(found):
    p, sound = found["control",], found["nothing_wrong",]
    shut = np.array([w.effect.identifier == "control:damper_shut" for w in WAYS["control"]])[p.way]
    warmer = p.states["fresh_food_k"] - sound.states["fresh_food_k"]
    assert shut.any()
    assert (warmer[shut & p.solved] > 2.9).all()
    colder = np.abs(p.states["freezer_k"] - sound.states["freezer_k"])
    assert (colder[shut & p.solved] < 0.1).all()
    heating = np.array([w.effect.heats_coil for w in WAYS["control"]])[p.way]
    assert heating.any()
    assert (p.states["appliance_power_w"][heating] > 119.0).all()
    assert (p.states["compressor_power_w"][heating] == 0.0).all()


def test_fans_turn_where_the_control_calls_and_nowhere_else(found):
    """Wired beside the compressor (common practice, no published source)."""
    still, p = found["compressor_not_running",], found["control",]
    k = still.circuits["cabinet"]
    fans = k["evaporator_fan_power_w"] + k["condenser_fan_power_w"]
    dead = still.states["appliance_power_w"] == 0.0
    # some 6 in 100 have no mains
    assert 0.0 < dead.mean() < 0.2
    assert unpowered_share(still.faults) == pytest.approx(0.18 * 0.35)
    usual = (k["controls_power_w"] + fans)[~dead]
    assert still.states["appliance_power_w"][~dead] == pytest.approx(usual)
    idle = np.array([w.effect.identifier == "control:not_calling" for w in WAYS["control"]])[p.way]
    assert idle.any()
    own = p.circuits["cabinet"]["controls_power_w"]
    assert p.states["appliance_power_w"][idle] == pytest.approx(own[idle])


def test_a_wrong_refrigerant_is_solved_with_its_own_properties(found):
    p = found["wrong_fill",]
    assert p.alien is not None
    assert p.alien.any()
    assert not p.alien.all()
    own = found["nothing_wrong",].states["suction_pressure_pa"]
    inside = p.alien & p.solved
    # R134a in a circuit made for R600a: its vapour is about twice as dense, pressures differ
    gap = np.log(p.states["suction_pressure_pa"][inside] / own[inside])
    assert np.abs(gap).mean() > 0.2


def test_ways_keep_to_their_build():
    u = np.linspace(0.001, 0.999, 999)
    fan = np.zeros(u.shape, bool)
    names = np.array([w.effect.identifier for w in WAYS["control"]])
    chest = names[chosen(WAYS["control"], u, fan, True)]
    assert not {"control:damper_shut", "control:damper_open", "control:defrosting"} & set(chest)
    fridge = names[chosen(WAYS["control"], u, ~fan, False)]
    assert set(fridge) == set(names)
    share = (fridge == "control:not_calling").mean()
    assert share == pytest.approx(0.30 / sum(w.share for w in WAYS["control"]), abs=0.01)


def test_priors_of_pairs_follow_their_leading_fault_and_the_refrigerant():
    plain, butane = prior_with_pairs(refrigerant="R134a"), prior_with_pairs(refrigerant="R600a")
    name = ("undercharge", "non_condensables")
    assert sum(plain.values()) == pytest.approx(1.0)
    assert butane[name] / butane["undercharge",] == pytest.approx(0.25)
    assert plain[name] / plain["undercharge",] == pytest.approx(0.08)
    topped = prior_with_pairs(None, Background(charge_added_kg=0.05))
    untouched = prior_with_pairs(None, Background(earlier_repair=False))
    both = ("capillary_restricted", "overcharge")
    assert topped[both] > 5.0 * untouched[both]
    assert set(plain) == {h.faults for h in HYPOTHESES}
    single = fault_prior("does_not_start")
    assert single["control"] > 0.05


def test_a_pair_shows_the_signs_of_either(found):
    p = found["undercharge", "condenser_air"]
    dust = sign_probability("condenser_dusty", p.faults, p.severity, p.states, second=p.second)
    alone = sign_probability("condenser_dusty", ("undercharge",), p.severity, p.states)
    assert (dust >= alone - 1e-12).all()
    assert dust.mean() > alone.mean() + 0.1
    oil = sign_probability("oil_trace", p.faults, p.severity, p.states, second=p.second)
    assert oil == pytest.approx(
        sign_probability("oil_trace", ("undercharge",), p.severity, p.states)
    )


def test_kinds_of_a_control_move_with_the_readings():
    made = build(SUBJECT, np.random.default_rng(2), 1500)
    warm = weigh(made, evidence({"fresh_food_temperature": 286.0, "freezer_temperature": 255.2}))
    still = weigh(made, evidence({"appliance_power": 2.0}))
    assert set(which_odds(warm, ("control",))) == set(FAULTS["control"].kinds)
    assert which_odds(warm, ("control",))["air_damper"] > 0.8
    assert which_odds(still, ("control",))["thermostat"] > 0.8
    assert which_odds(warm, ("undercharge",)) == {}
    for odds in (warm, still):
        assert sum(which_odds(odds, ("control",)).values()) == pytest.approx(1.0)


def test_a_pair_has_two_severities_and_a_fault_with_ways_none():
    made = build(SUBJECT, np.random.default_rng(2), 1500)
    odds = weigh(made, evidence({"condenser_middle_temperature": 325.0}))
    name = ("undercharge", "non_condensables")
    first, second = severity_interval(odds, name), severity_interval(odds, name, second=True)
    assert first is not None
    assert 0.15 <= first[0] <= first[2] <= 0.95
    assert second is not None
    assert 0.002 <= second[0] <= second[2] <= 0.05
    assert severity_interval(odds, ("control",)) is None
    assert severity_interval(odds, ("undercharge",), second=True) is None


def test_names():
    assert hypothesis_named("moisture").sealed
    assert not hypothesis_named("control").sealed
    assert hypothesis_named("heat_load", "condenser_air").sealed is False
    with pytest.raises(BadInput, match="undercharge"):
        hypothesis_named("undercharged")


@pytest.mark.parametrize("gas", ["R134a", "R600a", "R12"])
def test_a_wrong_fill_is_reckoned_by_the_liquids_density(gas):
    # CoolProp's saturated liquid at the design room; it stood for a ratio of enthalpies once
    import CoolProp.CoolProp as cp

    theirs = cp.PropsSI("D", "T", DESIGN_ROOM_K, "Q", 0.0, gas)
    assert liquid_density(medium(gas)) == pytest.approx(theirs, rel=1e-3)

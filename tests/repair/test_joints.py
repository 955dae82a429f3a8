"""Joints: which filler on which metals, what is barred, and the geometry of the gap."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldwright.errors import BadInput, OutOfRange
from coldwright.repair import fillers
from coldwright.repair.joint_methods import WASTE, filler_mass, fit_of, overlap_of
from coldwright.repair.joint_records import CircuitState, Joint, Surrounding
from coldwright.repair.joint_words import filler_amount, flows
from coldwright.repair.joints import plan_joint
from coldwright.repair.metals import COPPER, METALS, UNKNOWN, metal_named
from coldwright.units import System

SAFE = Surrounding(flammable=False, state=CircuitState.OPEN)
NAMES = tuple(METALS)


def joint(a, b, outside=(6e-3, 6.4e-3), place="condenser_joint", **more):
    return Joint(place, (metal_named(a), metal_named(b)), outside, **more)


def plan(a, b, around=SAFE, **more):
    return plan_joint(joint(a, b, **more), around)


def methods(found):
    return {offer.method for offer in found.offers}


@pytest.mark.parametrize("a", NAMES)
@pytest.mark.parametrize("b", NAMES)
def test_every_pair_has_a_way_and_the_plan_is_the_same_both_ways(a, b):
    one, other = plan(a, b), plan(b, a)
    assert one.offers
    assert methods(one) == methods(other)
    assert {x.method for x in one.barred} == {x.method for x in other.barred}


# AWS data by Machinery's Handbook and a welding glossary: phosphorus makes iron brittle.
@pytest.mark.parametrize("a", ["steel", "stainless_steel"])
@pytest.mark.parametrize("b", NAMES)
def test_phosphorus_filler_never_touches_iron(a, b):
    found = plan(a, b)
    assert not any("phosphorus" in m for m in methods(found))
    (why,) = [x.why for x in found.barred if "phosphorus" in x.method]
    assert "brittle" in why


def test_copper_to_copper_takes_phosphorus_without_flux_and_brass_wants_flux():
    (copper,) = [o for o in plan("copper", "copper").offers if "phosphorus" in o.method]
    (brass,) = [o for o in plan("copper", "brass").offers if "phosphorus" in o.method]
    assert copper.flux.startswith("none")
    assert "flux" in brass.flux
    assert not brass.flux.startswith("none")


def test_copper_to_steel_takes_silver_of_30_percent_or_more_with_flux():
    (silver,) = [o for o in plan("copper", "steel").offers if "silver" in o.method]
    assert {name.split()[0] for name in silver.fillers} <= {f.aws for f in fillers.SILVER}
    assert all(f.silver_fraction >= 0.30 for f in fillers.SILVER)
    assert "flux" in silver.flux


def test_nothing_that_melts_above_aluminium_is_offered_on_it():
    for other in NAMES:
        for offer in plan("aluminium", other).offers:
            if offer.flame:
                assert offer.heat_high_k < METALS["aluminium"].melts_k


@pytest.mark.parametrize("state", [s for s in CircuitState if s is not CircuitState.OPEN])
def test_a_flame_on_a_flammable_circuit_waits_until_it_is_flushed_and_open(state):
    around = Surrounding(flammable=True, state=state)
    found = plan("copper", "steel", around)
    assert not found.offers[0].flame
    assert all(o.only_when for o in found.offers if o.flame)
    assert any("any flame" in b.method for b in found.barred)


def test_open_and_flushed_the_flame_may_be_used_with_nitrogen():
    found = plan("copper", "copper", Surrounding(flammable=True, state=CircuitState.OPEN))
    flame = [o for o in found.offers if o.flame]
    assert flame
    assert all(o.only_when == "" and "1 to 2.5 l/min" in o.nitrogen for o in flame)
    assert not any("any flame" in b.method for b in found.barred)


def test_no_flame_in_foam_whatever_the_metals():
    for a in NAMES:
        assert not any(o.flame for o in plan(a, "copper", buried=True).offers)


def test_cadmium_is_barred_wherever_a_silver_filler_could_be_used():
    assert any("BAg-1" in b.method for b in plan("copper", "steel").barred)
    assert all(f.cadmium for f in fillers.CADMIUM)
    assert not any(f.cadmium for f in (*fillers.SILVER, *fillers.PHOSPHORUS))


def test_an_unknown_metal_leaves_the_ring_alone():
    found = plan_joint(
        Joint("condenser_joint", (UNKNOWN, metal_named("copper")), (6e-3, 6e-3)), SAFE
    )
    assert methods(found) == {"crimped ring, no flame"}


def test_a_metal_nobody_knows_is_named_with_the_effect_of_leaving_it_out():
    with pytest.raises(BadInput) as caught:
        metal_named("coper")
    text = str(caught.value)
    assert "coper" in text
    assert "did you mean copper" in text
    assert "left out" in text
    assert "crimped ring only" in text


def test_the_patch_is_offered_on_the_evaporator_only():
    assert any("epoxy" in m for m in methods(plan("aluminium", "aluminium", place="evaporator")))
    everywhere = plan("aluminium", "aluminium")
    assert not any("epoxy" in m for m in methods(everywhere))
    assert not any("epoxy" in b.method for b in everywhere.barred)


# Copper industry handbook: 3 x the thinner wall; service manual: 6 mm to 8 mm tube, 7 mm above.
@pytest.mark.parametrize(
    ("outside", "wall", "least"),
    [(6e-3, 0.75e-3, 6e-3), (10e-3, 0.75e-3, 7e-3), (6e-3, 2.5e-3, 7.5e-3)],
)
def test_overlap_by_size_and_wall(outside, wall, least):
    made = joint("copper", "copper", (outside, outside), wall_m=(wall, wall))
    assert overlap_of(made) == pytest.approx(least)


def test_a_capillary_goes_15_to_25_mm_past_the_mouth():
    made = joint("copper", "copper", (2e-3, 6e-3))
    assert made.capillary
    assert 15e-3 <= overlap_of(made) <= 25e-3


def test_clearance_of_silver_is_the_handbooks_two_to_five_thou():
    (silver,) = [o for o in plan("copper", "steel").offers if "silver" in o.method]
    assert silver.clearance_low_m == pytest.approx(0.002 * 25.4e-3, rel=0.02)
    assert silver.clearance_high_m == pytest.approx(0.005 * 25.4e-3, rel=0.03)


def test_the_socket_is_the_tube_plus_what_the_manual_gives():
    (one,) = [o for o in plan("copper", "copper", outside=(6e-3, 8e-3)).offers
              if "phosphorus" in o.method]  # fmt: skip
    assert one.socket_low_m - 6e-3 == pytest.approx(0.05e-3)
    assert one.socket_high_m - 6e-3 <= 0.21e-3 + 1e-9


@given(
    st.floats(2e-3, 20e-3), st.floats(0.03e-3, 0.2e-3), st.floats(3e-3, 20e-3), st.floats(3e3, 1e4)
)
def test_filler_is_the_volume_of_the_ring(inner, gap, overlap, density):
    ring = 0.25 * pi * ((inner + 2 * gap) ** 2 - inner**2) * overlap
    assert filler_mass(inner, gap, overlap, density) == pytest.approx(WASTE * ring * density)


def test_a_tube_that_cannot_be_is_refused():
    with pytest.raises(OutOfRange):
        joint("copper", "copper", (0.2e-3, 6e-3))


# Machinery's Handbook (AWS data), °F.
@pytest.mark.parametrize(
    ("aws", "solidus", "liquidus"),
    [("BAg-5", 1250, 1370), ("BAg-7", 1145, 1205), ("BAg-20", 1250, 1410), ("BAg-24", 1220, 1305)],
)
def test_melting_ranges_are_the_handbooks(aws, solidus, liquidus):
    (one,) = [f for f in fillers.SILVER if f.aws == aws]
    assert one.solidus_k == pytest.approx((solidus + 459.67) / 1.8, abs=0.6)
    assert one.liquidus_k == pytest.approx((liquidus + 459.67) / 1.8, abs=0.6)


def test_a_tube_is_told_how_its_end_must_be_to_take_the_other():
    equal = Joint("process_tube", (COPPER, COPPER), (6e-3, 6e-3))
    assert fit_of(equal, 6.05e-3, 6.21e-3).startswith("widen one end to 6.05 to 6.21 mm")
    fine = Joint("capillary_joint", (COPPER, COPPER), (2e-3, 6e-3))
    assert "press the wider end down round the capillary" in fit_of(fine, 2.05e-3, 2.21e-3)
    sized = Joint("drier_joint", (COPPER, COPPER), (4.9e-3, 6.5e-3))
    assert fit_of(sized, 4.95e-3, 5.11e-3).startswith("fits as it is")
    loose = Joint("drier_joint", (COPPER, COPPER), (4.9e-3, 8e-3))
    assert "it has 6.5 mm" in fit_of(loose, 4.95e-3, 5.11e-3)


def test_every_filler_is_told_with_the_temperature_at_which_it_flows():
    offer = next(o for o in plan("steel", "copper", SAFE).offers if "silver" in o.method)
    said = flows(offer)
    # Machinery's Handbook, table of AWS data: BAg-7 flows at 652 °C, BAg-5 at 743 °C
    assert "BAg-7/Ag 156 652 °C" in said
    assert "BAg-5/Ag 245 743 °C" in said
    assert "1206 °F" in flows(offer, System.US)
    # a 2 mm rod: the same volume as the mass
    assert offer.rod_m * pi * 1e-6 * 9500.0 == pytest.approx(offer.filler_kg)
    assert "mm of a 2 mm rod" in filler_amount(offer)


def test_poison_from_a_flame_is_warned_of_where_a_fluorocarbon_may_be():
    around = Surrounding(flammable=True, state=CircuitState.OPEN, fluorocarbon=False)
    assert not any("phosgene" in c for c in plan("copper", "copper", around).cautions)
    assert any("phosgene" in c for c in plan("copper", "copper", SAFE).cautions)

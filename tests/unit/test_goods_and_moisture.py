"""Goods that freeze and air that comes in, against handbook points."""

import pytest

from coldwright.cycle.humid_air import vapour_density
from coldwright.transient.goods import (
    FREEZING_BEGINS,
    FREEZING_ENDS,
    LATENT,
    capacity,
    curve_of,
    enthalpy,
    temperature,
)
from coldwright.transient.moist import opening
from coldwright.transient.records import Compartment, Goods

MEAT = curve_of(Goods(Compartment.FREEZER, 1.0, 0.75))


@pytest.mark.parametrize("kelvin", [233.15, 262.0, 267.15, 269.0, 271.9, 272.15, 280.0, 300.0])
def test_temperature_undoes_enthalpy(kelvin):
    assert temperature(MEAT, enthalpy(MEAT, kelvin)) == pytest.approx(kelvin, abs=1e-9)


def test_freezing_takes_the_waters_latent_heat():
    taken = enthalpy(MEAT, FREEZING_BEGINS) - enthalpy(MEAT, FREEZING_ENDS)
    sensible = 0.5 * (MEAT.below + MEAT.above) * (FREEZING_BEGINS - FREEZING_ENDS)
    assert taken - sensible == pytest.approx(0.75 * LATENT)


def test_capacity_is_the_slope_of_the_enthalpy():
    for kelvin in (250.0, 270.0, 290.0):
        slope = (enthalpy(MEAT, kelvin + 0.01) - enthalpy(MEAT, kelvin - 0.01)) / 0.02
        assert capacity(MEAT, kelvin) == pytest.approx(slope, rel=1e-6)


def test_lean_beef_is_near_the_handbook():
    # Lean beef, 72 % water: 3.5 above and 2.0 kJ/(kg K) below freezing, 239 kJ/kg latent
    # (ASHRAE Handbook, Refrigeration, table of foods; from memory), within 20 %
    beef = curve_of(Goods(Compartment.FREEZER, 1.0, 0.72))
    assert beef.above == pytest.approx(3500.0, rel=0.20)
    assert beef.below == pytest.approx(2000.0, rel=0.20)
    assert pytest.approx(239e3, rel=0.02) == 0.72 * LATENT


@pytest.mark.parametrize(
    ("celsius", "grams"), [(0.0, 4.85), (10.0, 9.40), (20.0, 17.3), (30.0, 30.4)]
)
def test_saturated_air_holds_what_tables_say(celsius, grams):
    # Absolute humidity of saturated air, any psychrometric table (from memory), within 1 %
    assert 1e3 * vapour_density(celsius + 273.15, 1.0) == pytest.approx(grams, rel=0.01)


def test_ice_and_water_meet_at_freezing():
    near = [vapour_density(273.15 + d, 1.0) for d in (-1e-6, 1e-6)]
    assert near[0] == pytest.approx(near[1], rel=1e-3)


def test_an_opening_brings_nothing_from_a_room_as_cold_and_dry():
    none = opening(0.2, 278.15, 278.15, 1.0)
    assert none.heat_j == pytest.approx(0.0, abs=1e-9)
    assert none.water_kg == pytest.approx(0.0, abs=1e-12)
    humid, dry = (opening(0.2, 278.15, 298.15, h) for h in (0.8, 0.2))
    assert humid.heat_j > dry.heat_j > 0.0
    assert humid.water_kg > 0.0
    assert dry.water_kg == 0.0

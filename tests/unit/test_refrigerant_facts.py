"""Refrigerant facts against CoolProp and the rules that hang on them."""

import pytest
from CoolProp.CoolProp import PropsSI

from coldwright.errors import BadInput
from coldwright.refrigerant import facts
from coldwright.refrigerant.oil_choice import OIL_KINDS, SAYINGS, pairings_of, sayings_about

each = pytest.mark.parametrize("r", facts.REFRIGERANTS, ids=lambda r: r.name)


pure = pytest.mark.parametrize("r", facts.PURE, ids=lambda r: r.name)


@pure
def test_molar_mass(r):
    assert r.molar_mass_kg_mol.value == pytest.approx(
        PropsSI("molar_mass", r.coolprop_name), rel=1e-5
    )


@each
def test_flammable_goes_with_class_and_limit(r):
    """ASHRAE 34: class 1 does not propagate a flame, class 3 does."""
    assert r.flammable == (r.safety_class != "A1")
    assert bool(r.lfl_kg_m3) == r.flammable


def test_flammability_limits_agree_with_their_volume_share():
    """ASHRAE 34 ppm figures (from memory) as an ideal gas at 25 degC and 101325 Pa."""
    for r, ppm in ((facts.R600A, 16_000), (facts.R290, 21_000)):
        density = 101_325 * r.molar_mass_kg_mol.value / (8.314462618 * 298.15)
        assert r.lowest_lfl_kg_m3.value == pytest.approx(ppm * 1e-6 * density, rel=0.01)
    assert facts.R134A.lowest_lfl_kg_m3 is None


def test_unknown_is_handled_as_flammable():
    unknown = facts.refrigerant_facts("unknown")
    assert unknown.flammable
    assert unknown.lowest_lfl_kg_m3.value == min(f.value for f in facts.R290.lfl_kg_m3)


@pytest.mark.parametrize("written", ["R134a", "r134a", "R-134a", " R 134A "])
def test_names_are_forgiving(written):
    assert facts.refrigerant_facts(written) is facts.R134A


def test_a_wrong_name_gets_a_suggestion():
    with pytest.raises(BadInput, match="did you mean R600a") as caught:
        facts.refrigerant_facts("R600")
    assert caught.value.suggestion == "R600a"


def test_gwp_needs_its_set():
    assert facts.R134A.gwp("AR4").value == 1430
    assert facts.R134A.gwp("AR6").value == 1530
    with pytest.raises(BadInput, match="AR4"):
        facts.R600A.gwp("AR6")


def test_co2_equivalent_of_a_household_charge():
    """100 g of R134a is 143 kg (AR4) or 153 kg (AR6) of CO2."""
    assert facts.R134A.gwp("AR4").value * 0.1 == pytest.approx(143)
    assert facts.R134A.gwp("AR6").value * 0.1 == pytest.approx(153)


@each
def test_every_figure_has_a_source(r):
    figures = [r.molar_mass_kg_mol, r.odp, *r.lfl_kg_m3, *r.gwp100]
    assert all(figure.source for figure in figures)
    assert r.usual_oils


def test_eras():
    def names(year: int, region: str) -> set[str]:
        return {era.refrigerant for era in facts.eras_of(year, region)}

    assert names(1985, "Europe") == {"R12", "R22"}
    assert "R134a" in names(2004, "North America")
    assert "R600a" not in names(2004, "North America")
    assert "R134a" not in names(2018, "Europe")
    assert "R600a" in names(2018, "Europe")
    assert len(facts.eras_of(2004)) > len(facts.eras_of(2004, "Europe"))


def test_what_is_rare_or_put_in_at_service_is_no_hint_for_a_plate():
    named = {era.refrigerant for year in range(1930, 2026) for era in facts.eras_of(year)}
    assert named == {"R600a", "R12", "R22", "R134a", "R290"}
    assert {era.role for era in facts.uses_of("R409A")} == {facts.Role.SERVICE}
    assert {era.role for era in facts.uses_of("R502")} == {facts.Role.RARE}


def test_parts_of_a_blend_add_up():
    for r in facts.REFRIGERANTS:
        assert (r.coolprop_name is None) == bool(r.components)
        if r.components:
            assert sum(part.mass_fraction for part in r.components) == pytest.approx(1.0)
            assert "ASHRAE 34" in r.components_source


def test_limit_of_a_hydrocarbon_blend_lies_between_those_of_its_parts():
    """Le Chatelier (1891), by volume; both parts near 38 g/m3 (ASHRAE 34, from memory)."""
    r = facts.refrigerant_facts("R436A")
    assert r.lowest_lfl_kg_m3.value == pytest.approx(0.0379, abs=2e-4)


def test_ozone_depletion_by_mass_of_the_parts():
    """Montreal Protocol reporting values, by another hand: 0.0366, 0.0483, 0.738, 0.334."""
    for name, odp in (("R401A", 0.0366), ("R409A", 0.0483), ("R500", 0.738), ("R502", 0.334)):
        assert facts.refrigerant_facts(name).odp.value == pytest.approx(odp, abs=6e-4)


@each
def test_every_refrigerant_has_an_oil_and_a_use(r):
    paired = {pairing.oil for pairing in pairings_of(r.name)}
    assert paired >= set(r.usual_oils)
    assert paired <= {kind.name for kind in OIL_KINDS}
    assert facts.uses_of(r.name)


def test_sayings_name_refrigerants_that_are_held():
    names = {r.name for r in facts.REFRIGERANTS}
    for saying in SAYINGS:
        assert set(saying.refrigerants) <= names
        assert saying.chemistry
    assert any("R134a works only" in said.saying for said in sayings_about("R134a"))


def test_oils_hold_water_in_the_order_that_is_published():
    """An ester takes about ten times the water of mineral oil (secondary source)."""
    water = {kind.name: kind.water_ppm_low for kind in OIL_KINDS}
    assert water["mineral"] < water["alkylbenzene"] < water["polyol ester"] / 9


def test_every_era_is_of_a_known_refrigerant():
    assert {e.refrigerant for e in facts.ERAS} == {r.name for r in facts.REFRIGERANTS}
    assert all(e.last_year is None or e.first_year <= e.last_year for e in facts.ERAS)

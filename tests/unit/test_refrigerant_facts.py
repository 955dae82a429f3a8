"""Refrigerant facts against CoolProp and the rules that hang on them."""

import pytest
from CoolProp.CoolProp import PropsSI

from coldwright.errors import BadInput
from coldwright.refrigerant import facts

each = pytest.mark.parametrize("r", facts.REFRIGERANTS, ids=lambda r: r.name)


@each
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


def test_every_era_is_of_a_known_refrigerant():
    assert {e.refrigerant for e in facts.ERAS} == {r.name for r in facts.REFRIGERANTS}
    assert all(e.last_year is None or e.first_year <= e.last_year for e in facts.ERAS)

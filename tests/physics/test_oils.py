"""Oil kernel: limits, smoothness, mass against mole, and the records."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis.strategies import floats, sampled_from

from coldwright.errors import BadInput
from coldwright.refrigerant import oils
from coldwright.refrigerant.facts import REFRIGERANTS
from coldwright.refrigerant.lines import liquid_density, load_lines

every_oil = pytest.mark.parametrize("oil", oils.OILS, ids=lambda oil: oil.name)


def _x(oil: oils.Oil, p_over_psat: float, t: float) -> float:
    return oils.mole_fraction(p_over_psat, t, oil.size_ratio, oil.chi0, oil.chi1)


@given(oil=sampled_from(oils.OILS), a=floats(1e-6, 0.9), t=floats(245.0, 400.0))
def test_root_satisfies_the_printed_equation(oil, a, t):
    x, r = _x(oil, a, t), oil.size_ratio
    if x > 0.96:
        return  # bent over towards the limit on purpose
    v = x / (x + r * (1 - x))
    split = 0.5 * (1 + 1 / math.sqrt(r)) ** 2
    chi = min(oil.chi0 + oil.chi1 / t, 0.9 * split)
    assert math.log(v) + (1 - 1 / r) * (1 - v) + chi * (1 - v) ** 2 == pytest.approx(
        math.log(a), abs=1e-9
    )


@every_oil
@pytest.mark.parametrize("t", [240.0, 275.0, 320.0, 390.0])
def test_rises_and_has_no_corner(oil, t):
    a = np.linspace(1e-4, 1.5, 30001)
    x = np.array([_x(oil, float(v), t) for v in a])
    slope = np.diff(x) / np.diff(a)
    assert slope.min() >= -1e-9
    # A corner would leave a step in the slope that does not shrink with the spacing.
    assert np.abs(np.diff(slope)).max() < 0.02 * slope.max() + 1e-3


@every_oil
def test_limits(oil):
    assert _x(oil, 0.0, 300.0) == 0.0
    assert _x(oil, -1.0, 300.0) == 0.0
    assert _x(oil, 1.0, 300.0) <= oils.MOST_MOLE_FRACTION
    assert _x(oil, 5.0, 300.0) == oils.MOST_MOLE_FRACTION
    assert _x(oil, 1e-9, 300.0) == pytest.approx(1e-9 * _x(oil, 1e-6, 300.0) / 1e-6, rel=1e-3)


def test_size_one_without_interaction_is_raoults_law():
    for a in (1e-6, 0.1, 0.5, 0.9):
        assert oils.mole_fraction(a, 300.0, 1.0, 0.0, 0.0) == pytest.approx(a, rel=1e-10)


@given(a=floats(0.01, 0.9), oil=sampled_from(oils.OILS))
def test_mass_ratio_follows_from_mole_fraction(a, oil):
    """n_r M_r / (n_o M_o) by counting, with one mole of solution."""
    x = _x(oil, a, 320.0)
    m_refrigerant = 0.1
    got = oils.dissolved_ratio(
        a * 1e6, 320.0, 1e6, oil.size_ratio, oil.chi0, oil.chi1, m_refrigerant,
        oil.molar_mass_kg_mol,
    )  # fmt: skip
    assert got == pytest.approx(x * m_refrigerant / ((1 - x) * oil.molar_mass_kg_mol), rel=1e-12)


@every_oil
def test_warm_oil_holds_less(oil):
    """At constant pressure, with psat by Clausius and Clapeyron at 22 kJ/mol (about all five)."""

    def held(t: float) -> float:
        psat = 6e5 * math.exp(22e3 / 8.314 * (1 / 298.15 - 1 / t))
        return oils.dissolved_ratio(
            1e5, t, psat, oil.size_ratio, oil.chi0, oil.chi1, 0.1, oil.molar_mass_kg_mol
        )

    amounts = [held(t) for t in (290.0, 310.0, 330.0, 350.0)]
    assert amounts == sorted(amounts, reverse=True)


@every_oil
def test_records_state_what_they_rest_on(oil):
    assert oil.source
    assert oil.molar_mass_known
    assert 0.2 < oil.molar_mass_kg_mol < 0.8  # light mineral oil to heavy ester
    assert 0.0 < oil.mole_fraction_uncertainty <= oil.mass_ratio_uncertainty < 0.5
    assert oil.fitted_t_low_k <= oil.fitted_t_high_k


def test_ester_formula_weights():
    """C(CH2-O-CO-R)4 counted from atomic masses (IUPAC 2021: C 12.011, H 1.008, O 15.999)."""

    def weight(acid_carbons: int) -> float:
        n = acid_carbons
        c, h, o = 5 + 4 * n, 8 + 4 * (2 * n - 1), 8
        return (c * 12.011 + h * 1.008 + o * 15.999) / 1e3

    assert oils.R134A_PEB6.molar_mass_kg_mol == pytest.approx(weight(6), abs=1e-4)
    assert oils.R134A_PEB8.molar_mass_kg_mol == pytest.approx(weight(8), abs=1e-4)
    assert oils.R134A_PEC9.molar_mass_kg_mol == pytest.approx(weight(9), abs=1e-4)


@pytest.mark.parametrize("name", [r.name for r in REFRIGERANTS])
def test_usual_oil(name):
    assert oils.usual_oil(name).refrigerant == name


@every_oil
def test_stability_limit_is_not_met_where_it_was_fitted(oil):
    split = 0.5 * (1 + 1 / math.sqrt(oil.size_ratio)) ** 2
    assert oil.chi0 + oil.chi1 / oil.fitted_t_low_k < 0.9 * split


def test_usual_oil_unknown_is_refused():
    with pytest.raises(BadInput, match="R999"):
        oils.usual_oil("R999")


@pytest.mark.parametrize(
    "oil", [o for o in oils.OILS if "no data" in o.source], ids=lambda o: o.name
)
def test_pairs_without_data_say_so_and_are_wide(oil):
    assert oil.fitted_t_low_k == oil.fitted_t_high_k
    assert oil.mole_fraction_uncertainty >= 0.15
    assert oil.mass_ratio_uncertainty > oil.mole_fraction_uncertainty


@pytest.mark.parametrize(
    ("oil", "oil_density"),
    [
        (oils.R152A_POE, 970.0),
        (oils.R1234YF_POE, 970.0),
        (oils.R404A_POE, 970.0),
        (oils.R413A_POE, 970.0),
        (oils.R401A_ALKYLBENZENE, 870.0),
        (oils.R409A_ALKYLBENZENE, 870.0),
        (oils.R500_MINERAL, 900.0),
        (oils.R502_MINERAL, 900.0),
        (oils.R436A_MINERAL, 900.0),
        (oils.R436B_MINERAL, 900.0),
    ],
    ids=lambda x: getattr(x, "name", None),
)
def test_size_ratio_by_analogy_is_that_of_molar_volumes(oil, oil_density):
    """Oil densities [kg/m3] from memory; refrigerant's liquid at 20 degC."""
    lines = load_lines(oil.refrigerant)
    refrigerant = lines.molar_mass_kg_mol / liquid_density(lines, 293.15)
    assert oil.size_ratio == pytest.approx(
        oil.molar_mass_kg_mol / oil_density / refrigerant, rel=0.02
    )

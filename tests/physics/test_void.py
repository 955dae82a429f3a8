"""Void fraction models: the fluids library, limits, order, and the printed formula."""

import math

import fluids.two_phase_voidage as library
import numpy as np
import pytest
from hypothesis import given
from hypothesis.strategies import floats, sampled_from

from coldwright.cycle import void

ROUNDING = 1e-12
BORE = 6.5e-3
# R134a saturated at -25 and 45 degC, R600a at -25 degC: rounded from CoolProp 8.0.0.
STATES = [
    {"rho_l": 1373.0, "rho_v": 5.51, "mu_l": 3.80e-4, "mu_v": 9.7e-6, "sigma": 0.0154},
    {"rho_l": 1125.0, "rho_v": 57.7, "mu_l": 1.53e-4, "mu_v": 1.26e-5, "sigma": 0.0055},
    {"rho_l": 608.0, "rho_v": 1.66, "mu_l": 2.55e-4, "mu_v": 6.4e-6, "sigma": 0.0159},
]
qualities = floats(1e-6, 1.0 - 1e-6)


@pytest.mark.parametrize("s", STATES)
@given(x=qualities, flux=floats(1.0, 500.0))
def test_equal_to_library(s, x, flux):
    def ours(code: int) -> float:
        return void.void_fraction(
            code, x, s["rho_l"], s["rho_v"], s["mu_l"], s["mu_v"], s["sigma"], flux, BORE
        )

    rho = (s["rho_l"], s["rho_v"])
    m = flux * math.pi / 4 * BORE**2
    assert ours(void.ZIVI) == pytest.approx(library.Zivi(x, *rho), rel=ROUNDING)
    assert ours(void.HOMOGENEOUS) == pytest.approx(library.homogeneous(x, *rho), rel=ROUNDING)
    assert ours(void.BAROCZY) == pytest.approx(
        library.Baroczy(x, *rho, s["mu_l"], s["mu_v"]), rel=ROUNDING
    )
    assert ours(void.ROUHANI) == pytest.approx(
        library.Rouhani_1(x, *rho, s["sigma"], m, BORE), rel=ROUNDING
    )


def test_premoli_by_hand():
    """The printed formula worked through with round numbers.

    G 100, d 0.01, mu 2e-4: Re 5000. sigma 0.01, rho 1000: We 10. Density ratio 100,
    x 0.2: y 25. E1 = 1.578 * 5000^-0.19 * 100^0.22 = 0.86163;
    E2 = 0.0273 * 10 * 5000^-0.51 * 100^-0.08 = 2.4524e-3;
    S = 1 + 0.86163 sqrt(25/1.061309 - 0.061309) = 5.17632.
    """
    slip = void.premoli_slip(0.2, 1000.0, 10.0, 2e-4, 0.01, 100.0, 0.01)
    assert slip == pytest.approx(5.176, abs=2e-3)


def test_premoli_loses_its_slip_where_the_formula_turns_negative():
    assert void.premoli_slip(0.9999, 1000.0, 10.0, 2e-4, 0.01, 500.0, 0.01) == 1.0


@pytest.mark.parametrize("s", STATES)
@pytest.mark.parametrize("model", void.VOID_MODELS, ids=lambda m: m.name)
@pytest.mark.parametrize("flux", [0.0, 1e-9, 0.1, 5.0, 50.0, 500.0])
def test_bounded_rising_and_whole_at_the_ends(s, model, flux):
    x = np.concatenate(
        [[0.0], np.geomspace(1e-9, 0.5, 300), 1 - np.geomspace(0.5, 1e-12, 300), [1.0]]
    )
    a = np.array([model.fraction(float(v), mass_flux=flux, bore=BORE, **s) for v in x])
    assert a[0] == 0.0
    assert a[-1] == 1.0
    assert np.all((a >= 0) & (a <= 1))
    assert np.all(np.diff(a) >= -1e-12)


@pytest.mark.parametrize("s", STATES)
@pytest.mark.parametrize("model", void.VOID_MODELS, ids=lambda m: m.name)
def test_continuous_over_quality(s, model):
    """Halving the step halves the largest change, or better: no jump anywhere."""

    def largest_change(n: int) -> float:
        # Cube spacing: several models leave x = 0 with an infinite slope.
        x = np.linspace(0.0, 1.0, n) ** 3
        a = [model.fraction(float(v), mass_flux=30.0, bore=BORE, **s) for v in x]
        return float(np.abs(np.diff(a)).max())

    assert largest_change(16001) < 0.6 * largest_change(8001)


@pytest.mark.parametrize("s", STATES)
@given(x=qualities, flux=floats(1.0, 300.0), model=sampled_from(void.VOID_MODELS))
def test_slip_only_ever_adds_liquid(s, x, flux, model):
    """Vapour runs ahead of liquid, so no model holds less liquid than no slip does."""
    if model.code == void.BAROCZY:
        return  # fitted, and crosses the homogeneous line at very small quality
    loose = void.VOID_MODELS[void.HOMOGENEOUS].fraction(x, mass_flux=flux, bore=BORE, **s)
    assert model.fraction(x, mass_flux=flux, bore=BORE, **s) <= loose + 1e-12


@pytest.mark.parametrize("code", [void.PREMOLI, void.ROUHANI])
def test_slower_flow_holds_more_liquid(code):
    model = void.VOID_MODELS[code]
    held = [model.fraction(0.3, mass_flux=g, bore=BORE, **STATES[0]) for g in (100.0, 30.0, 10.0)]
    assert held == sorted(held, reverse=True)
    assert held[0] > held[-1] + 0.01


def test_code_is_the_place_in_the_list():
    assert [m.code for m in void.VOID_MODELS] == list(range(len(void.VOID_MODELS)))
    assert void.DEFAULT in void.VOID_MODELS


def test_unknown_code_is_refused():
    with pytest.raises(ValueError, match="void fraction code"):
        void.void_fraction(99, 0.5, 1000.0, 10.0, 2e-4, 1e-5, 0.01, 50.0, 0.006)

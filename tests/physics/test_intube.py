"""In-tube coefficients against the ht and fluids libraries, their means and limits."""

import math

import ht
import numpy as np
import pytest
from hypothesis import given
from hypothesis.strategies import floats
from scipy.integrate import quad

from coldwright.cycle import intube

ROUNDING = 1e-12
# R134a saturated at 45 degC: rounded from CoolProp 8.0.0.
CONDENSING = {"mu_l": 1.53e-4, "k_l": 0.0725, "cp_l": 1525.0, "reduced_pressure": 0.286}
# R134a saturated at -25 degC.
BOILING = {
    "rho_l": 1373.0,
    "rho_v": 5.51,
    "mu_l": 3.80e-4,
    "k_l": 0.1036,
    "cp_l": 1280.0,
    "h_fg": 216.3e3,
}


def _flow(flux: float, bore: float) -> float:
    return flux * math.pi / 4 * bore**2


@given(x=floats(0.0, 1.0), flux=floats(5.0, 300.0), bore=floats(3e-3, 1e-2))
def test_shah_equals_library(x, flux, bore):
    c, p_critical = CONDENSING, 40.59e5
    theirs = ht.Shah(
        _flow(flux, bore), x, bore, 1125.0, c["mu_l"], c["k_l"], c["cp_l"],
        c["reduced_pressure"] * p_critical, p_critical,
    )  # fmt: skip
    assert intube.shah_condensation(x, flux, bore, **c) == pytest.approx(theirs, rel=ROUNDING)


@pytest.mark.parametrize(
    ("x_in", "x_out"), [(1.0, 0.0), (0.8, 0.3), (1.0, 0.95), (0.05, 0.0), (0.5, 0.5), (0.2, 1.0)]
)
def test_shah_mean_is_the_integral(x_in, x_out):
    def local(x: float) -> float:
        return intube.shah_condensation(x, 60.0, 4e-3, **CONDENSING)

    span = x_out - x_in
    mean = quad(local, x_in, x_out)[0] / span if span else local(x_in)
    got = intube.shah_condensation_mean(x_in, x_out, 60.0, 4e-3, **CONDENSING)
    assert got == pytest.approx(mean, rel=2e-3)


def test_shah_whole_tube_mean_as_the_paper_prints_it():
    """0.55 + 2.09 / pr^0.38; the exact integral has 0.556 and 2.043, hence 2.5 %."""
    whole = intube.shah_condensation_mean(1.0, 0.0, 60.0, 4e-3, **CONDENSING)
    c = CONDENSING
    liquid = intube.liquid_dittus_boelter(60.0, 4e-3, c["mu_l"], c["k_l"], c["cp_l"])
    printed = 0.55 + 2.09 / c["reduced_pressure"] ** 0.38
    assert whole / liquid == pytest.approx(printed, rel=0.025)


def test_dittus_boelter_equals_library():
    c = CONDENSING
    re, pr = 60.0 * 4e-3 / c["mu_l"], c["cp_l"] * c["mu_l"] / c["k_l"]
    theirs = ht.turbulent_Dittus_Boelter(re, pr) * c["k_l"] / 4e-3
    ours = intube.liquid_dittus_boelter(60.0, 4e-3, c["mu_l"], c["k_l"], c["cp_l"])
    assert ours == pytest.approx(theirs, rel=ROUNDING)


@given(heat_flux=floats(100.0, 5e4), flux=floats(10.0, 700.0), bore=floats(2e-3, 1e-2))
def test_lazarek_black_equals_library(heat_flux, flux, bore):
    b = BOILING
    theirs = ht.Lazarek_Black(_flow(flux, bore), bore, b["mu_l"], b["k_l"], b["h_fg"], q=heat_flux)
    ours = intube.lazarek_black(heat_flux, flux, bore, b["mu_l"], b["k_l"], b["h_fg"])
    assert ours == pytest.approx(theirs, rel=ROUNDING)


@given(re=floats(4000.0, 1e6), pr=floats(0.6, 50.0))
def test_turbulent_equals_library(re, pr):
    konakov = (1.8 * math.log10(re) - 1.5) ** -2
    theirs = ht.turbulent_Gnielinski(re, pr, konakov)
    assert intube.single_phase(re, pr, 0.1, 0.005) == pytest.approx(theirs * 20.0, rel=ROUNDING)


def test_laminar_equals_library():
    assert intube.single_phase(500.0, 3.0, 0.1, 0.005) == pytest.approx(
        ht.laminar_T_const() * 20.0, rel=ROUNDING
    )


@pytest.mark.parametrize("edge", [intube.LAMINAR_END, intube.TURBULENT_BEGIN])
def test_single_phase_is_continuous(edge):
    around = [intube.single_phase(edge * (1 + e), 0.9, 0.012, 0.006) for e in (-1e-9, 0.0, 1e-9)]
    assert around == pytest.approx([around[1]] * 3, rel=1e-6)


@pytest.mark.parametrize(("x", "flux"), [(0.1, 40.0), (0.5, 100.0), (0.8, 150.0)])
def test_gungor_winterton_against_another_correlation(x, flux):
    """Liu and Winterton (1991) at the same heat flux: two fits of much the same data.

    Where the wall is wet all round they should agree within their scatter (25 %
    each); at 40 kg/(m² s) the horizontal correction takes a third off ours.
    """
    b, bore, heat_flux, p = BOILING, 6.5e-3, 3000.0, 1.064e5

    def superheat_flux(dt: float) -> float:
        h = ht.Liu_Winterton(
            _flow(flux, bore), x, bore, b["rho_l"], b["rho_v"], b["mu_l"], b["k_l"], b["cp_l"],
            102.03, p, 40.59e5, dt,
        )  # fmt: skip
        return h * dt - heat_flux

    low, high = 1e-3, 60.0
    for _ in range(60):
        mid = 0.5 * (low + high)
        low, high = (mid, high) if superheat_flux(mid) < 0 else (low, mid)
    theirs = heat_flux / low
    ours = intube.gungor_winterton(x, heat_flux, flux, bore, **b)
    assert 0.5 < ours / theirs < 1.6


def test_gungor_winterton_by_hand():
    """Round numbers, wetted all round: Re 5000, Pr 4, Bo 1e-4, density ratio 100, x 0.5.

    Liquid: 0.023 * 5000^0.8 * 4^0.4 = 36.448; gain 1 + 3000 * 1e-4^0.86 +
    1.12 * 100^0.41 = 1 + 1.0892 + 7.3996 = 9.4888; k/d 10.
    """
    got = intube.gungor_winterton(0.5, 8e3, 400.0, 0.01, 1000.0, 10.0, 4e-4, 0.1, 1000.0, 2e5)
    assert got == pytest.approx(36.448 * 9.4888 * 10.0, rel=1e-3)


def test_gungor_winterton_horizontal_correction_is_continuous():
    """Froude number 0.05 is where the wall stops being wet all round."""
    b, bore = BOILING, 6.5e-3
    edge = math.sqrt(0.05 * b["rho_l"] ** 2 * intube.GRAVITY * bore)
    around = [intube.gungor_winterton(0.4, 2e3, edge * f, bore, **b) for f in (1 - 1e-9, 1 + 1e-9)]
    assert around[0] == pytest.approx(around[1], rel=1e-6)


@given(x=floats(0.0, 1.0), flux=floats(0.0, 300.0), heat_flux=floats(0.0, 2e4))
def test_boiling_is_always_a_positive_number(x, flux, heat_flux):
    h = intube.gungor_winterton(x, heat_flux, flux, 6.5e-3, **BOILING)
    assert math.isfinite(h)
    assert h > 0


@given(x=floats(0.0, 0.9), flux=floats(15.0, 150.0), heat_flux=floats(100.0, 1e4))
def test_more_heat_flux_boils_better(x, flux, heat_flux):
    less = intube.gungor_winterton(x, heat_flux, flux, 6.5e-3, **BOILING)
    assert intube.gungor_winterton(x, 2 * heat_flux, flux, 6.5e-3, **BOILING) > less


def test_dryout_step_is_smooth_and_ends_at_the_vapour():
    x = np.linspace(0.85, 1.05, 401)
    h = np.array([intube.with_dryout(float(v), 1000.0, 20.0) for v in x])
    assert h[0] == 1000.0
    assert h[-1] == 20.0
    assert np.all(np.diff(h) <= 0)
    assert np.abs(np.diff(h)).max() < 10.0  # slope 1.5 * 980 / 0.1, step 0.0005

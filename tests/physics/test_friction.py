"""Friction kernels against the fluids library and their limits."""

import fluids
import pytest
from hypothesis import given
from hypothesis.strategies import floats

from coldwright.cycle import friction

ROUNDING = 1e-12


@given(re=floats(1.0, 1e8), roughness=floats(0.0, 0.05))
def test_churchill_equals_library(re, roughness):
    ours = friction.churchill(re, roughness)
    assert ours == pytest.approx(fluids.friction.Churchill_1977(re, roughness), rel=ROUNDING)


@given(x=floats(0.0, 1.0), mu_l=floats(1e-4, 1e-3), mu_v=floats(5e-6, 2e-5))
def test_mixture_viscosities_equal_library(x, mu_l, mu_v):
    assert friction.mcadams_viscosity(x, mu_l, mu_v) == pytest.approx(
        fluids.two_phase_voidage.McAdams(x, mu_l, mu_v), rel=ROUNDING
    )
    assert friction.cicchitti_viscosity(x, mu_l, mu_v) == pytest.approx(
        fluids.two_phase_voidage.Cicchitti(x, mu_l, mu_v), rel=ROUNDING
    )


FLOWS = [(m, x) for m in (2e-4, 1e-3, 5e-3, 3e-2) for x in (0.0, 0.05, 0.4, 0.9, 1.0)]


@pytest.mark.parametrize(("m_dot", "x"), FLOWS)
def test_muller_steinhagen_heck_equals_library_given_its_friction_factor(m_dot, x, monkeypatch):
    """The library takes its own friction factor; given Churchill's it must agree exactly."""
    monkeypatch.setattr(
        fluids.two_phase, "friction_factor", lambda Re, eD: fluids.friction.Churchill_1977(Re, eD)
    )
    state = (1373.0, 5.5, 3.8e-4, 9.6e-6, 6.5e-3)
    theirs = fluids.two_phase.Muller_Steinhagen_Heck(m_dot, x, *state)
    assert friction.muller_steinhagen_heck(m_dot, x, *state) == pytest.approx(theirs, rel=ROUNDING)


@pytest.mark.parametrize(("m_dot", "x"), [(m, x) for m, x in FLOWS if m > 5e-3])
def test_muller_steinhagen_heck_near_library_as_it_stands(m_dot, x):
    """Fully turbulent, where the two friction factors agree within 3 %."""
    state = (1373.0, 5.5, 3.8e-4, 9.6e-6, 6.5e-3)
    theirs = fluids.two_phase.Muller_Steinhagen_Heck(m_dot, x, *state)
    assert friction.muller_steinhagen_heck(m_dot, x, *state) == pytest.approx(theirs, rel=0.03)


def test_laminar_limit():
    assert friction.churchill(100.0, 0.0) == pytest.approx(0.64, rel=1e-6)


def test_two_phase_gradient_ends_at_the_single_phases():
    ends = [
        friction.muller_steinhagen_heck(1e-3, x, 1373.0, 5.5, 3.8e-4, 9.6e-6, 6.5e-3)
        for x in (0.0, 1.0)
    ]
    assert ends[0] == friction.single_phase_gradient(1e-3, 1373.0, 3.8e-4, 6.5e-3)
    assert ends[1] == friction.single_phase_gradient(1e-3, 5.5, 9.6e-6, 6.5e-3)


@pytest.mark.parametrize("x", [-0.1, 1.2])
def test_quality_is_held_at_the_ends(x):
    end = min(max(x, 0.0), 1.0)
    state = (1373.0, 5.5, 3.8e-4, 9.6e-6, 6.5e-3)
    assert friction.muller_steinhagen_heck(1e-3, x, *state) == friction.muller_steinhagen_heck(
        1e-3, end, *state
    )
    for viscosity in (friction.mcadams_viscosity, friction.cicchitti_viscosity):
        assert viscosity(x, 3.8e-4, 9.6e-6) == viscosity(end, 3.8e-4, 9.6e-6)


def test_no_flow_has_no_loss():
    assert friction.muller_steinhagen_heck(0.0, 0.5, 1373.0, 5.5, 3.8e-4, 9.6e-6, 6.5e-3) == 0.0

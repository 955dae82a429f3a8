"""Sums with a mass of refrigerant: against CoolProp, closed forms and limits."""

from __future__ import annotations

import CoolProp
import pytest
from hypothesis import given
from hypothesis.strategies import floats, sampled_from

from coldwright.errors import BadInput, OutOfRange, Refused
from coldwright.refrigerant import charge_work as work
from coldwright.refrigerant import lines as line
from coldwright.refrigerant.charge_work import Phase
from coldwright.refrigerant.cylinders import fills
from coldwright.refrigerant.facts import REFRIGERANTS, refrigerant_facts
from coldwright.refrigerant.lines import load_lines
from coldwright.refrigerant.mixtures import state

NAMES = [r.name for r in REFRIGERANTS]
PURE = [r.name for r in REFRIGERANTS if not r.components]
GAS_RTOL = 0.006  # the virial series cut after its second term, up to the dew point
MIXED_RTOL = 0.01  # pressure of a blend taken straight between bubble and dew


@given(name=sampled_from(NAMES), t=floats(210.0, 330.0))
def test_pressure_and_temperature_are_each_other_s_inverse(name, t):
    lines = load_lines(name)
    bubble, dew = line.bubble_pressure(lines, t), line.dew_pressure(lines, t)
    assert dew <= bubble * (1 + 1e-9)
    low, high = line.pressure_span(lines)
    if low <= bubble <= high:
        assert line.bubble_temperature(lines, bubble) == pytest.approx(t, abs=1e-5)
    if low <= dew <= high:
        assert line.dew_temperature(lines, dew) == pytest.approx(t, abs=1e-5)


@given(name=sampled_from(NAMES), a=floats(210.0, 330.0), step=floats(0.1, 5.0))
def test_hotter_means_more_pressure_lighter_liquid_denser_vapour(name, a, step):
    cold, hot = (work.saturation_at(load_lines(name), t) for t in (a, a + step))
    assert hot.bubble_pa > cold.bubble_pa
    assert hot.dew_pa > cold.dew_pa
    assert hot.liquid_density_kg_m3 < cold.liquid_density_kg_m3
    assert hot.vapour_density_kg_m3 > cold.vapour_density_kg_m3


def test_only_blends_glide():
    """R401A 4.5 K, R409A 7 K, R436A 7 K; near-azeotropes under 1 K (handbook table 2 at 1 atm)."""
    glide = {name: work.saturation_at(load_lines(name), 298.15).glide_k for name in NAMES}
    assert {name for name in NAMES if glide[name] == 0.0} == set(PURE)
    for name in ("R401A", "R409A", "R436A", "R436B"):
        assert 4.0 < glide[name] < 9.0
    for name in ("R404A", "R500", "R502"):
        assert glide[name] < 1.0


@pytest.mark.parametrize("name", PURE)
@pytest.mark.parametrize("share", [0.2, 0.6, 0.95])
def test_gas_density_against_coolprop(name, share):
    lines, fluid = load_lines(name), state(refrigerant_facts(name))
    for t in (253.15, 298.15, 318.15):
        p = share * line.dew_pressure(lines, t)
        fluid.update(CoolProp.PT_INPUTS, p, t)
        assert work.gas_density(lines, p, t) == pytest.approx(fluid.rhomass(), rel=GAS_RTOL)


@given(
    name=sampled_from(NAMES),
    t=floats(230.0, 325.0),
    fill=floats(0.001, 0.95),
    volume=floats(1e-4, 0.05),
)
def test_phases_add_up_and_fit(name, t, fill, volume):
    lines = load_lines(name)
    mass = fill * volume * line.liquid_density(lines, t)
    got = work.contents(lines, volume, t, mass)
    assert got.liquid_kg + got.vapour_kg == pytest.approx(mass, rel=1e-12)
    if got.liquid_kg > 0.0:
        taken = got.liquid_kg / line.liquid_density(lines, t)
        taken += got.vapour_kg / line.vapour_density(lines, t)
        assert taken == pytest.approx(volume, rel=1e-9)
        assert line.dew_pressure(lines, t) * (1 - 1e-9) <= got.pressure_pa
        assert got.pressure_pa <= line.bubble_pressure(lines, t) * (1 + 1e-9)
    else:
        assert work.gas_density(lines, got.pressure_pa, t) * volume == pytest.approx(mass, rel=1e-9)


def test_no_step_where_the_last_liquid_goes():
    lines = load_lines("R134a")
    most_gas = 2e-3 * line.vapour_density(lines, 298.15)
    below, above = (work.contents(lines, 2e-3, 298.15, f * most_gas) for f in (0.9999, 1.0001))
    assert below.pressure_pa == pytest.approx(above.pressure_pa, rel=2e-4)


@pytest.mark.parametrize("name", ["R436A", "R401A", "R409A"])
@pytest.mark.parametrize("quality", [0.25, 0.5, 0.75])
def test_a_blend_between_bubble_and_dew_against_coolprop(name, quality):
    lines, fluid = load_lines(name), state(refrigerant_facts(name))
    fluid.update(CoolProp.QT_INPUTS, quality, 298.15)
    density = fluid.rhomass()
    got = work.contents(lines, 1e-3, 298.15, density * 1e-3)
    assert got.pressure_pa == pytest.approx(fluid.p(), rel=MIXED_RTOL)


def test_a_volume_full_of_liquid_has_no_pressure_to_tell():
    with pytest.raises(OutOfRange, match="mass") as caught:
        work.contents(load_lines("R134a"), 1e-3, 293.15, 1.3)
    assert caught.value.high == pytest.approx(1.225, rel=0.002)


@pytest.mark.parametrize(
    ("of", "instead_of", "ratio"),
    [("R600a", "R134a", 0.456), ("R600a", "R12", 0.420), ("R134a", "R12", 0.92)],
)
def test_liquid_density_ratios(of, instead_of, ratio):
    """Computed with CoolProp 8.0.0 by another hand, 25 degC, printed to three figures."""
    got = work.equivalent_charge(load_lines(of), load_lines(instead_of), 1.0)
    assert got == pytest.approx(ratio, abs=0.002)


def test_hydrocarbon_needs_40_to_50_per_cent_less_than_the_hfc():
    """A compressor makers' hydrocarbon guideline (2000), read in full; the ratio adds a little."""
    for name in ("R600a", "R290"):
        less = 1.0 - work.equivalent_charge(load_lines(name), load_lines("R134a"), 1.0)
        assert 0.40 < less < 0.60


def test_superheat_counts_from_dew_and_subcooling_from_bubble():
    lines = load_lines("R409A")
    for t, phase in (
        (213.15, Phase.SUBCOOLED),
        (243.15, Phase.TWO_PHASE),
        (273.15, Phase.SUPERHEATED),
    ):
        got = work.at_pressure(lines, 101_325.0, t)
        assert got.phase is phase
        assert got.superheat_k == pytest.approx(t - got.dew_k)
        assert got.subcooling_k == pytest.approx(got.bubble_k - t)
    assert work.at_pressure(lines, 101_325.0).phase is None


def test_cylinder_by_the_journal_s_example():
    """R22, 80 % x water capacity x 1.197: 957.6 lb in 1000 lb of water (trade journal, read)."""
    rule = fills(load_lines("R22"), 1.0)[0]
    assert rule.mass_kg / 997.0 == pytest.approx(0.9576, rel=0.006)


@pytest.mark.parametrize("name", NAMES)
def test_no_rule_fills_a_cylinder_with_liquid_at_50_degrees(name):
    for fill in fills(load_lines(name), 12e-3):
        assert 0.5 < fill.liquid_share_at_50_c < 0.96
        assert fill.liquid_full_k is None or fill.liquid_full_k > 323.15
        assert fill.source


@pytest.mark.parametrize("t", [100.0, 500.0, float("nan")])
def test_outside_the_lines_is_refused(t):
    with pytest.raises(OutOfRange, match="temperature"):
        work.saturation_at(load_lines("R600a"), t)
    with pytest.raises(OutOfRange, match="pressure"):
        work.at_pressure(load_lines("R600a"), t * 1e6)


def test_what_has_no_line_is_refused_by_name():
    with pytest.raises(Refused, match="unknown") as caught:
        load_lines("unknown")
    assert "R404A" in " ".join(caught.value.still_possible)
    with pytest.raises(BadInput, match="R999"):
        load_lines("R999")

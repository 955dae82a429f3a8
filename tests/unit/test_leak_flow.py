"""Laws of flow: signs, limits, inverses; paces; limits of test pressure."""

import math

import pytest
from hypothesis import given
from hypothesis.strategies import floats, sampled_from

from coldwright.errors import OutOfRange, Refused
from coldwright.leak.flow import FREE, ORIFICE, VISCOUS, Across, scaled
from coldwright.leak.gases import GASES, mean_free_path
from coldwright.leak.history import pace_of_loss, usual_pace
from coldwright.leak.limits import USUAL_GAUGE_PA, field_limit, type_test_gauge_pa
from coldwright.leak.sides import HIGH, LOW, Setting, below_atmosphere, gas_of, mean_drive
from coldwright.leak.size import equivalent, hole_throughput, passage_throughput
from coldwright.units import STANDARD_ATMOSPHERE_PA

LAWS = (VISCOUS, FREE, ORIFICE)
gases = sampled_from(sorted(GASES))
pressures = floats(1e3, 5e6)


@given(gas=gases, p=pressures, q=pressures)
def test_flow_goes_downhill_and_reverses(gas, p, q):
    for law in LAWS:
        forth = law.drive(Across(GASES[gas], p, q))
        back = law.drive(Across(GASES[gas], q, p))
        assert forth == pytest.approx(-back, rel=1e-9, abs=1e-6)
        assert forth >= 0.0 if p >= q else forth <= 0.0


@given(gas=gases, p=floats(1.1e5, 4e6), more=floats(1.01, 3.0))
def test_more_pressure_leaks_more(gas, p, more):
    for law in LAWS:
        assert scaled(law, Across(GASES[gas], p), Across(GASES[gas], p * more)) > 1.0


@given(gas=gases, p=floats(2e5, 3e6), bore=floats(1e-7, 1e-4))
def test_equivalent_passage_is_the_inverse(gas, p, bore):
    state = Across(GASES[gas], p)
    found = equivalent(passage_throughput(bore, 0.7e-3, state), [(1.0, state)])
    assert found.capillary_bore_m == pytest.approx(bore, rel=1e-6)
    assert hole_throughput(found.hole_m, state) == pytest.approx(
        passage_throughput(bore, 0.7e-3, state), rel=1e-9
    )


def test_passage_between_its_limits():
    """Wide: Poiseuille alone; narrow: Knudsen alone, 12.1 d3/l litres per second in air at 20
    degC with d and l in cm (vacuum handbook sheet, read in full)."""
    vacuum = Across(GASES["air"], 1.0, 0.0)
    litres = passage_throughput(1e-4, 1.0, vacuum) / 1.0 * 1000.0
    assert litres == pytest.approx(12.1 * 0.01**3 / 100.0, rel=5e-3)
    # 135 d4 p/l with p the mean pressure in mbar, the same sheet.
    thick = Across(GASES["air"], 2.0e5, 0.0)
    q = passage_throughput(1e-3, 1.0, thick)
    assert q / 2.0e5 * 1000.0 == pytest.approx(135 * 0.1**4 * 1000.0 / 100.0, rel=5e-3)


def test_nothing_leaves_without_pressure():
    with pytest.raises(OutOfRange):
        equivalent(1e-6, [(1.0, Across(GASES["R134a"], 1e5))])


def test_mean_free_path_of_air():
    """66 nm at 1 atm and 20 degC (common handbook value, from memory)."""
    path = mean_free_path(GASES["air"], STANDARD_ATMOSPHERE_PA, 293.15)
    assert path == pytest.approx(66e-9, rel=0.02)


def test_isobutane_low_side_is_in_vacuum_and_draws_air():
    isobutane = Setting(GASES["R600a"], 298.15)
    assert below_atmosphere(isobutane, LOW) > 0.9
    out, inward = mean_drive(VISCOUS, isobutane, LOW)
    assert 0.0 < out < mean_drive(VISCOUS, isobutane, HIGH)[0]
    assert inward > 0.0
    assert mean_drive(VISCOUS, Setting(GASES["R290"], 298.15), LOW)[1] == 0.0


def test_standing_pressure_falls_once_the_liquid_is_gone():
    full = Setting(GASES["R600a"], 296.15, charge_left_kg=0.045).standing_pa()
    assert full == pytest.approx(Setting(GASES["R600a"], 296.15).standing_pa())
    low = Setting(GASES["R600a"], 296.15, charge_left_kg=0.010).standing_pa()
    assert low == pytest.approx(0.007 / 0.0581222 * 8.314 * 296.15 / 2.2e-3, rel=1e-3)
    assert Setting(GASES["R600a"], 296.15, charge_left_kg=0.0).standing_pa() == 0.0


def test_unknown_refrigerant_stands_for_the_commonest():
    assert gas_of("unknown").identifier == "R134a"


def test_pace_brackets_the_loss():
    pace = pace_of_loss(0.06, 0.5 * 31_557_600.0, 0.14)
    low, high = pace.span()
    assert low < (60 - 28) * 2 < 120 < high  # with and without what went unnoticed
    assert usual_pace().log_sd > pace.log_sd
    with pytest.raises(OutOfRange):
        pace_of_loss(0.2, 1e7, 0.14)


def test_lowest_rating_rules_the_test():
    assert field_limit().gauge_pa == USUAL_GAUGE_PA
    assert field_limit(16e5, 8e5).gauge_pa == 8e5
    assert "low-side" in field_limit(16e5, 8e5).because
    assert field_limit(16e5, 8e5, with_low_side=False).gauge_pa == USUAL_GAUGE_PA
    with pytest.raises(Refused):
        field_limit(None, 0.2e5)


@pytest.mark.parametrize(
    ("gas", "high", "low"),
    [("R600a", 38.1, 15.1), ("R134a", 74.1, 28.6), ("R12", 65.8, 28.3), ("R290", 90.5, 41.8),
     ("R22", 104.9, 45.5)],
)  # fmt: skip
def test_type_test_pressures(gas, high, low):
    """IEC 60335-2-24, multipliers from memory, saturation computed, bar."""
    for side, bar in ((HIGH, high), (LOW, low)):
        assert type_test_gauge_pa(GASES[gas], side) / 1e5 == pytest.approx(bar, abs=0.06)


def test_every_gas_is_finite_at_room_temperature():
    for gas in GASES.values():
        assert math.isfinite(gas.viscosity(300.0))
        assert 0.4 < gas.critical_ratio < 0.65

"""The generalised capillary correlation against the handbook's worked example."""

from dataclasses import replace

import pytest
from CoolProp.CoolProp import PropsSI

from coldwright.cycle.capillary.generalised import InletProperties, subcooled_flow, two_phase_flow
from coldwright.errors import OutOfRange
from tests.golden import load_golden

(EXAMPLE,) = load_golden("rp762_example.json")
ROUNDING = 0.00005  # the flow is printed to one ten-thousandth


def inlet_at(t: float, name: str) -> InletProperties:
    def of(key: str, q: float) -> float:
        return PropsSI(key, "T", t, "Q", q, name)

    return InletProperties(
        volume_liquid_m3_kg=1 / of("D", 0),
        volume_vapour_m3_kg=1 / of("D", 1),
        viscosity_liquid_pa_s=of("V", 0),
        viscosity_vapour_pa_s=of("V", 1),
        heat_of_vaporisation_j_kg=of("H", 1) - of("H", 0),
        specific_heat_liquid_j_kg_k=of("C", 0),
    )


def test_worked_example():
    p, dt = EXAMPLE["pressure_bar_absolute"] * 1e5, EXAMPLE["subcooling_k"]
    t = PropsSI("T", "P", p, "Q", 0, "R134a") - dt
    flow = subcooled_flow(
        bore=EXAMPLE["bore_mm"] / 1e3,
        length=EXAMPLE["length_m"],
        pressure=p,
        subcooling=dt,
        inlet=inlet_at(t, "R134a"),
        refrigerant="R134a",
    )
    assert flow.mass_flow_kg_s == pytest.approx(EXAMPLE["mass_flow_kg_s"], abs=ROUNDING)
    assert flow.outside_range == ()


# Both branches beside saturation at 45 degC inlet temperature, computed by another hand
# (CoolProp 8.0.0, kg/h printed to three figures): bore mm, length m, flow at 1 K, at x = 0.03.
BESIDE_SATURATION = [("R134a", 0.8, 2.5, 4.62, 3.69), ("R600a", 0.6, 3.0, 0.966, 0.575)]


@pytest.mark.parametrize(("name", "bore_mm", "length", "at_1_k", "at_x"), BESIDE_SATURATION)
def test_the_two_branches_do_not_join(name, bore_mm, length, at_1_k, at_x):
    t_sat = 318.15
    p = PropsSI("P", "T", t_sat, "Q", 0, name)
    size = {"bore": bore_mm / 1e3, "length": length, "pressure": p, "refrigerant": name}
    wet = subcooled_flow(subcooling=1.0, inlet=inlet_at(t_sat - 1.0, name), **size)
    mixed = two_phase_flow(quality=0.03, inlet=inlet_at(t_sat, name), **size)
    assert wet.mass_flow_kg_s * 3600 == pytest.approx(at_1_k, rel=2e-3)
    assert mixed.mass_flow_kg_s * 3600 == pytest.approx(at_x, rel=2e-3)
    assert 0.5 < mixed.mass_flow_kg_s / wet.mass_flow_kg_s < 0.85


def test_outside_its_range_it_says_so():
    inlet = inlet_at(310.0, "R600a")
    size = {"bore": 6e-4, "length": 3.0, "pressure": 6e5, "inlet": inlet, "refrigerant": "R600a"}
    far = subcooled_flow(subcooling=25.0, **size)
    assert len(far.outside_range) == 2
    assert "subcooling 25" in far.outside_range[0]
    assert "R600a" in far.outside_range[1]
    assert len(two_phase_flow(quality=0.4, **size).outside_range) == 2


@pytest.mark.parametrize("bad", [{"bore": 0.0}, {"subcooling": -1.0}, {"length": float("nan")}])
def test_bad_numbers_are_refused(bad):
    arguments = {"bore": 8e-4, "length": 2.5, "pressure": 11e5, "subcooling": 5.0} | bad
    with pytest.raises(OutOfRange, match=next(iter(bad))):
        subcooled_flow(inlet=inlet_at(310.0, "R134a"), **arguments)


def test_every_property_moves_the_flow():
    inlet = inlet_at(310.0, "R134a")
    size = {"bore": 8e-4, "length": 2.5, "pressure": 11e5, "subcooling": 5.0}
    base = subcooled_flow(inlet=inlet, **size).mass_flow_kg_s
    for field in InletProperties.__dataclass_fields__:
        bumped = replace(inlet, **{field: getattr(inlet, field) * 1.05})
        assert subcooled_flow(inlet=bumped, **size).mass_flow_kg_s != base

"""Volumetric cooling capacity and heat of vaporisation as a guideline of 2000 prints them.

Run through every source of properties the package can use: CoolProp itself, and
the tables the kernels read.
"""

from __future__ import annotations

from dataclasses import dataclass
from operator import itemgetter
from typing import Protocol

import pytest
from CoolProp.CoolProp import PropsSI

from coldwright.refrigerant import kernels, saturation
from coldwright.refrigerant.tables import load_tables
from tests.golden import load_golden

T_COLD, T_LIQUID, T_VAPOUR, T_ROOM = 248.15, 328.15, 305.15, 293.15
CAPACITY_RTOL = 0.01  # what the project is held to
LATENT_RTOL = 0.01  # printed to three figures, older property formulas
DENSITY_ATOL = 0.07  # printed to one decimal
PRESSURE_RTOL = 0.012  # printed to two or three figures, one of them rounded from 1.064 to 1.07


class Properties(Protocol):
    def saturation_pressure(self, t: float) -> float: ...
    def liquid_enthalpy(self, t: float) -> float: ...
    def saturated_vapour_enthalpy(self, t: float) -> float: ...
    def vapour_enthalpy_density(self, p: float, t: float) -> tuple[float, float]: ...


@dataclass(frozen=True)
class FromCoolProp:
    name: str

    def saturation_pressure(self, t: float) -> float:
        return PropsSI("P", "T", t, "Q", 0, self.name)

    def liquid_enthalpy(self, t: float) -> float:
        return PropsSI("H", "T", t, "Q", 0, self.name)

    def saturated_vapour_enthalpy(self, t: float) -> float:
        return PropsSI("H", "T", t, "Q", 1, self.name)

    def vapour_enthalpy_density(self, p: float, t: float) -> tuple[float, float]:
        return PropsSI("H", "P", p, "T", t, self.name), PropsSI("D", "P", p, "T", t, self.name)


@dataclass(frozen=True)
class FromTables:
    name: str

    def _saturation(self, t: float) -> tuple[float, ...]:
        tab = load_tables(self.name)
        return saturation.saturation_all(tab, saturation.saturation_pressure(tab, t))

    def saturation_pressure(self, t: float) -> float:
        return saturation.saturation_pressure(load_tables(self.name), t)

    def liquid_enthalpy(self, t: float) -> float:
        return self._saturation(t)[1]

    def saturated_vapour_enthalpy(self, t: float) -> float:
        return self._saturation(t)[2]

    def vapour_enthalpy_density(self, p: float, t: float) -> tuple[float, float]:
        h, v, *_ = kernels.vapour(load_tables(self.name), p, t)
        return h, 1.0 / v


@pytest.fixture(params=[FromCoolProp, FromTables], ids=["coolprop", "tables"])
def source(request):
    return request.param


cases = pytest.mark.parametrize(
    "case", load_golden("guideline2000_properties.json"), ids=itemgetter("refrigerant")
)


@cases
def test_volumetric_capacity(case, source):
    props: Properties = source(case["refrigerant"])
    p = props.saturation_pressure(T_COLD)
    h, rho = props.vapour_enthalpy_density(p, T_VAPOUR)
    capacity = rho * (h - props.liquid_enthalpy(T_LIQUID)) / 1e3
    assert capacity == pytest.approx(case["volumetric_capacity_kj_m3"], rel=CAPACITY_RTOL)
    assert rho == pytest.approx(case["vapour_density_kg_m3"], abs=DENSITY_ATOL)


@cases
def test_heat_of_vaporisation(case, source):
    props: Properties = source(case["refrigerant"])
    latent = props.saturated_vapour_enthalpy(T_COLD) - props.liquid_enthalpy(T_COLD)
    assert latent / 1e3 == pytest.approx(case["heat_of_vaporisation_kj_kg"], rel=LATENT_RTOL)


@cases
def test_saturation_pressures(case, source):
    props: Properties = source(case["refrigerant"])
    cold, room = props.saturation_pressure(T_COLD), props.saturation_pressure(T_ROOM)
    assert cold / 1e5 == pytest.approx(case["saturation_pressure_cold_bar"], rel=PRESSURE_RTOL)
    assert room / 1e5 == pytest.approx(case["saturation_pressure_room_bar"], rel=PRESSURE_RTOL)

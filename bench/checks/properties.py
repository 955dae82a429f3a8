"""Property points against a published table."""

from __future__ import annotations

from dataclasses import dataclass

from bench.checks.row import Known, Part, Row, Source, most, near
from coldwright.refrigerant.kernels import liquid, vapour
from coldwright.refrigerant.saturation import (
    saturation_all,
    saturation_pressure,
    saturation_temperature,
)
from coldwright.refrigerant.tables import load_tables

GUIDELINE = Source("compressor industry guideline on R600a, November 2000, table 1",
                   Known.FULL_TEXT)  # fmt: skip
KELVIN = 273.15
COLD, ROOM, LIQUID, GAS = (t + KELVIN for t in (-25.0, 20.0, 55.0, 32.0))


@dataclass(frozen=True, slots=True)
class Printed:
    """One column of the guideline's table."""

    refrigerant: str
    capacity_kj_m3: float
    vaporisation_kj_kg: float
    cold_bar: float
    room_bar: float
    liquid_kg_l: float
    gas_kg_m3: float
    boiling_c: float


TABLE = (
    Printed("R600a", 373.0, 376.0, 0.58, 3.0, 0.60, 1.3, -11.6),
    Printed("R134a", 658.0, 216.0, 1.07, 5.7, 1.37, 4.4, -26.5),
    Printed("R12", 727.0, 163.0, 1.24, 5.7, 1.47, 6.0, -29.8),
)


def parts() -> tuple[Part, ...]:
    """All of them."""
    words = (
        "Our own tables, as the kernels read them, against the print of one guideline. "
        "Volumetric capacity: evaporating -25 °C, liquid at 55 °C without subcooling, vapour at "
        "32 °C. Our tables against CoolProp are held by tests of their own (0.02 %)."
    )
    return (Part("Properties", words, tuple(row for p in TABLE for row in _rows(p))),)


def _rows(p: Printed) -> list[Row]:
    name = p.refrigerant
    tab = load_tables(name)
    pe = saturation_pressure(tab, COLD)
    sat = saturation_all(tab, pe)
    gas = vapour(tab, pe, GAS)
    feed = liquid(tab, saturation_pressure(tab, LIQUID), LIQUID).h
    return [
        near(f"capacity-{name}", f"{name}: volumetric cooling capacity", GUIDELINE,
             p.capacity_kj_m3, 1e-3 * (gas[0] - feed) / gas[1], allowed=0.01, why="asked for",
             unit="kJ/m3"),
        near(f"vaporisation-{name}", f"{name}: heat of vaporisation at -25 °C", GUIDELINE,
             p.vaporisation_kj_kg, 1e-3 * (sat[2] - sat[1]), allowed=0.01, why="asked for",
             unit="kJ/kg"),
        near(f"pressure-cold-{name}", f"{name}: pressure at -25 °C", GUIDELINE, p.cold_bar,
             1e-5 * pe, allowed=0.01, why="printed to two or three figures", unit="bar absolute"),
        near(f"pressure-room-{name}", f"{name}: pressure at 20 °C", GUIDELINE, p.room_bar,
             1e-5 * saturation_pressure(tab, ROOM), allowed=0.0167, why="printed to two figures",
             unit="bar absolute"),
        near(f"liquid-{name}", f"{name}: liquid at -25 °C", GUIDELINE, p.liquid_kg_l,
             1e-3 / sat[3], allowed=0.015, why="printed to two figures", unit="kg/l"),
        near(f"gas-{name}", f"{name}: vapour at -25 °C saturation pressure and 32 °C", GUIDELINE,
             p.gas_kg_m3, 1.0 / gas[1], allowed=0.05, why="printed to two figures", unit="kg/m3"),
        most(f"boiling-{name}", f"{name}: normal boiling point", GUIDELINE,
             abs(saturation_temperature(tab, 101_325.0) - KELVIN - p.boiling_c), allowed=0.5,
             why="ours", published=f"{p.boiling_c} °C", scale=1.0, unit="K",
             note=f"Ours {saturation_temperature(tab, 101_325.0) - KELVIN:.2f} °C."
             + (" The print is off, not CoolProp: -26.07 °C is the accepted value."
                if name == "R134a" else "")),
    ]  # fmt: skip

"""One plain cycle with everything given, against a general-purpose cycle library (tests only)."""

from __future__ import annotations

import warnings
from dataclasses import astuple, dataclass

from bench.checks.row import Known, Part, Row, Source, most
from coldwright.cycle.compressor.physical import isentropic_work
from coldwright.refrigerant.kernels import liquid, vapour, vapour_temperature
from coldwright.refrigerant.saturation import saturation_all, saturation_pressure
from coldwright.refrigerant.tables import FULL_REFRIGERANTS, load_tables

TESPY = Source("TESPy 0.11 (Witte & Tuschy 2020) on CoolProp 8.0.0", Known.COMPUTED)
KELVIN = 273.15
ALLOWED = 3e-4  # our tables: enthalpies within 0.02 % of CoolProp


@dataclass(frozen=True, slots=True)
class Given:
    """The cycle's conditions."""

    evaporating_k: float = -25.0 + KELVIN
    condensing_k: float = 45.0 + KELVIN
    superheat_k: float = 10.0
    subcooling_k: float = 5.0
    isentropic_fraction: float = 0.65
    cooling_w: float = 120.0


@dataclass(frozen=True, slots=True)
class Found:
    """What both must agree on."""

    mass_flow_kg_s: float
    power_w: float
    condenser_heat_w: float
    discharge_k: float


def by_library(name: str, given: Given) -> Found:
    """The cycle solved by TESPy, simultaneous equations on CoolProp."""
    with warnings.catch_warnings():
        # Its own deprecation notes; its answer is compared, not its manners.
        warnings.simplefilter("ignore")
        from tespy.components import Compressor, CycleCloser, SimpleHeatExchanger, Valve
        from tespy.connections import Connection
        from tespy.networks import Network

        network = Network(iterinfo=False)
        network.units.set_defaults(
            temperature="K", pressure="Pa", enthalpy="J/kg", heat="W", power="W"
        )
        closer, pump, valve = CycleCloser("closer"), Compressor("compressor"), Valve("capillary")
        hot, cold = SimpleHeatExchanger("condenser"), SimpleHeatExchanger("evaporator")
        suction = Connection(closer, "out1", pump, "in1")
        discharge = Connection(pump, "out1", hot, "in1")
        liquid_line = Connection(hot, "out1", valve, "in1")
        feed = Connection(valve, "out1", cold, "in1")
        back = Connection(cold, "out1", closer, "in1")
        network.add_conns(suction, discharge, liquid_line, feed, back)
        pump.set_attr(eta_s=given.isentropic_fraction)
        hot.set_attr(pr=1)
        cold.set_attr(pr=1, Q=given.cooling_w)
        suction.set_attr(fluid={name: 1}, T_dew=given.evaporating_k, td_dew=given.superheat_k)
        liquid_line.set_attr(T_bubble=given.condensing_k, td_bubble=given.subcooling_k)
        network.solve("design")
    if network.status != 0:
        raise RuntimeError(f"{name}: the library did not solve the cycle ({network.status})")
    return Found(suction.m.val_SI, pump.P.val_SI, -hot.Q.val_SI, discharge.T.val_SI)


def by_ours(name: str, given: Given) -> Found:
    """The same cycle on our tables and our isentropic work."""
    tab = load_tables(name)
    pe = saturation_pressure(tab, given.evaporating_k)
    pc = saturation_pressure(tab, given.condensing_k)
    gas = vapour(tab, pe, given.evaporating_k + given.superheat_k)
    h4 = liquid(tab, pc, given.condensing_k - given.subcooling_k)[0]
    work = isentropic_work(tab, gas[0], gas[2], saturation_all(tab, pc), pe, pc)
    h2 = gas[0] + work / given.isentropic_fraction
    flow = given.cooling_w / (gas[0] - h4)
    return Found(flow, flow * (h2 - gas[0]), flow * (h2 - h4), vapour_temperature(tab, pc, h2))


def parts() -> tuple[Part, ...]:
    """All of them."""
    g = Given()
    words = (
        f"Evaporating {g.evaporating_k - KELVIN:g} °C, condensing {g.condensing_k - KELVIN:g} °C, "
        f"superheat {g.superheat_k:g} K, subcooling {g.subcooling_k:g} K, isentropic efficiency "
        f"{g.isentropic_fraction:g}, cooling {g.cooling_w:g} W. The library solves the cycle as "
        "simultaneous equations with CoolProp; ours uses the tables and the compression the "
        "kernels use. It tests properties and energy balance, not a refrigerator."
    )
    return (Part("A plain cycle", words, tuple(_row(name, g) for name in FULL_REFRIGERANTS)),)


def _row(name: str, given: Given) -> Row:
    theirs, ours = by_library(name, given), by_ours(name, given)
    off = max(abs(o / t - 1.0) for o, t in zip(astuple(ours), astuple(theirs), strict=True))
    return most(
        f"cycle-{name}", f"{name}: flow, power, condenser heat, discharge temperature", TESPY, off,
        allowed=ALLOWED, why="our tables' own error", published=_told(theirs),
        note=f"Ours: {_told(ours)}.",
    )  # fmt: skip


def _told(f: Found) -> str:
    return (
        f"{3600.0 * f.mass_flow_kg_s:.4f} kg/h, {f.power_w:.3f} W, {f.condenser_heat_w:.3f} W, "
        f"{f.discharge_k - KELVIN:.2f} °C"
    )

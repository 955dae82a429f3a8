"""The capillary march beside published correlations and theory."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from functools import cache

import numpy as np

from bench.checks.row import Known, Part, Row, Source, between, counted, most, near
from coldwright.cycle.capillary.flashing import NO_ENTRANCE
from coldwright.cycle.capillary.flow import capillary_flow, subcooled_inlet
from coldwright.cycle.capillary.march import march
from coldwright.cycle.capillary.records import CapillaryInlet, CapillaryTube
from coldwright.refrigerant.kernels import liquid
from coldwright.refrigerant.saturation import saturation_all, saturation_pressure
from coldwright.refrigerant.tables import Tables, load_tables
from coldwright.usecases.capillary import correlation
from tests.golden.capillary_spread import (
    BORES_MM,
    CONDENSING_C,
    ENTRANCE_LOSS,
    EVAPORATING_C,
    LENGTHS_M,
    ROUGHNESS_M,
    SUBCOOLING_K,
    ratios,
)

EXAMPLE = Source("worked example, ASHRAE Handbook Refrigeration 2014, ch. 11 (correlation value)",
                 Known.SECONDARY)  # fmt: skip
RP762 = Source("Wolf, Bittle & Pate 1995, ASHRAE RP-762", Known.SECONDARY)
TREND = Source("exponents of ASHRAE RP-762 and of turbulent friction", Known.SECONDARY)
THEORY = Source("choked flow (theory)", Known.FULL_TEXT)
HERMES = Source("Hermes, Melo & Knabben 2010, Appl. Thermal Eng. 30, 449-457 (algebraic model; "
                "its factor 6.0 from memory)", Known.MEMORY)  # fmt: skip
HERMES_BAND = Source("Hermes, Melo & Knabben 2010 (their model on measured data)", Known.ABSTRACT)
RASTI_JEONG = Source("Rasti & Jeong, continuous correlation (one public script)", Known.SECONDARY)
STOECKER = Source("Stoecker & Jones 1982, worked example", Known.MEMORY)
HUERTA = Source("Huerta, Fiorelli & Silvares 2007 and papers it quotes (metastable flow)",
                Known.ABSTRACT)  # fmt: skip
HEM = Source("homogeneous march with CoolProp 8.0.0, by another hand", Known.COMPUTED)

KELVIN = 273.15
TUBE = CapillaryTube(0.8e-3, ROUGHNESS_M, ENTRANCE_LOSS)


def parts() -> tuple[Part, ...]:
    """All of them."""
    words = (
        "Adiabatic march, untuned. No measured flow with complete inputs is at hand: every row "
        "but the trends is one correlation against another. All refrigerants and both kinds of "
        "inlet: [checks-capillary.md](checks-capillary.md). Grid: bore 0.66 to 0.9 mm, 2 to 4 m, "
        "condensing 35 to 55 °C, 2 to 15 K subcooled, evaporating -25 °C."
    )
    return (Part("Capillary", words, (*_example(), *_grid(), *_trends(), *_textbook(), *_late())),)


def _flow(tab: Tables, inlet: CapillaryInlet, tube: CapillaryTube, length: float) -> float:
    found = capillary_flow(tab, inlet, tube=tube, length=length, evaporating=EVAPORATING_C + KELVIN)
    return float(found.mass_flow_kg_s)


def _example() -> list[Row]:
    tab = load_tables("R134a")
    inlet = subcooled_inlet(tab, 14e5, 15.0)
    beside = correlation(tab, inlet, 1.10e-3, 3.0, "R134a")
    marched = _flow(tab, inlet, CapillaryTube(1.10e-3, ROUGHNESS_M, ENTRANCE_LOSS), 3.0)
    return [
        near("capillary-correlation", "R134a, 1.10 mm, 3.00 m, 14 bar absolute, 15 K: the "
             "correlation as we wrote it", EXAMPLE, 15.12, 3600.0 * beside.mass_flow_kg_s,
             allowed=0.0119, why="printed as 0.0042 kg/s", unit="kg/h",
             note="The property basis was selected on this value: a reproduction, not a proof."),
        near("capillary-march", "the same tube: the march", EXAMPLE, 15.12, 3600.0 * marched,
             allowed=0.03, why="a free roughness alone moves it by 4 %", unit="kg/h"),
    ]  # fmt: skip


@cache
def _spread(name: str) -> np.ndarray:
    return ratios(name, "subcooled")


def _grid() -> list[Row]:
    r134a, r600a = _spread("R134a"), _spread("R600a")
    after = np.abs(r134a * math.exp(-np.log(r134a).mean()) - 1.0).mean()
    inside = 100.0 * np.mean(np.abs(r134a - 1.0) <= 0.10)
    rows = [
        most("capillary-mean", "R134a: mean size of the deviation, untuned, 108 tubes", RP762,
             float(np.abs(r134a - 1.0).mean()), allowed=0.10, why="asked for",
             published="no band found"),
        most("capillary-mean-after", "the same after one fitted factor", RP762, float(after),
             allowed=0.05, why="asked for", published="no band found"),
        between("capillary-share", "R134a: share of tubes within 10 %", HERMES_BAND, 90.0, 100.0,
                float(inside), published="over 90 % of data within 10 %", unit="%",
                why="their band, but against a correlation, not against data"),
        most("capillary-R600a", "R600a: mean size of the deviation (extrapolation)", RP762,
             float(np.abs(r600a - 1.0).mean()), allowed=0.10, why="as for R134a, ours",
             published="R600a not among its fluids",
             note="The march gives less than the correlation; the algebraic model below, made with "
             "R600a data, stands near the march."),
    ]  # fmt: skip
    for name, ratio in (("R134a", r134a), ("R600a", r600a)):
        hermes, rasti = _others(name)
        march = ratio * np.array([_rp762(name, *case) for case in _cases()])
        rows += [
            between(f"capillary-algebraic-{name}", f"{name}: march over the algebraic model, mean",
                    HERMES, -15.0, 15.0, 100.0 * float(np.mean(march / hermes - 1.0)),
                    published="nearly all data within 15 %", why="their outer band", unit="%"),
            between(f"capillary-continuous-{name}", f"{name}: march over the continuous "
                    "correlation, mean", RASTI_JEONG, -15.0, 15.0,
                    100.0 * float(np.mean(march / rasti - 1.0)), published="band not found",
                    why="ours", unit="%"),
        ]  # fmt: skip
    return rows


def _cases() -> list[tuple[float, float, float, float]]:
    """Bore [m], length [m], condensing [K], subcooling [K], in the order of `ratios`."""
    grid = itertools.product(BORES_MM, LENGTHS_M, CONDENSING_C, SUBCOOLING_K)
    return [(b / 1e3, z, t + KELVIN, s) for b, z, t, s in grid]


def _rp762(name: str, bore: float, length: float, t: float, subcooling: float) -> float:
    tab = load_tables(name)
    inlet = subcooled_inlet(tab, saturation_pressure(tab, t), subcooling)
    return correlation(tab, inlet, bore, length, name).mass_flow_kg_s


def _others(name: str) -> tuple[np.ndarray, np.ndarray]:
    """Flows of the algebraic model and of the continuous correlation over the grid. [kg/s]"""
    tab = load_tables(name)
    found = [_algebraic_and_continuous(tab, *case) for case in _cases()]
    algebraic, continuous = np.array(found).T
    return algebraic, continuous


def _algebraic_and_continuous(
    tab: Tables, bore: float, length: float, t: float, subcooling: float
) -> tuple[float, float]:
    p = saturation_pressure(tab, t)
    at_inlet = saturation_all(tab, saturation_pressure(tab, t - subcooling))
    p_flash, v_f, v_g = saturation_pressure(tab, t - subcooling), at_inlet[3], at_inlet[4]
    mu = at_inlet[5]
    p_end = saturation_pressure(tab, EVAPORATING_C + KELVIN)
    k = 1.63e5 * p_flash**-0.72
    a, b = v_f * (1.0 - k), v_f * p_flash * k
    two_phase = (p_flash - p_end) / a + b / a**2 * math.log((a * p_end + b) / (a * p_flash + b))
    algebraic = 6.0 * math.sqrt(bore**5 / length * ((p - p_flash) / v_f + two_phase))
    sat = saturation_all(tab, p)
    h_in = liquid(tab, p, t - subcooling)[0]
    fall = 1.0 + (h_in - sat[1]) / (sat[2] - sat[1])
    pi2 = bore**2 * (sat[2] - sat[1]) / (v_f * mu) ** 2
    pi4 = bore**2 * p / (v_f * mu**2)
    continuous = bore * mu * (
        150.26 * (length / bore) ** -0.5708 * pi2**-1.4636 * pi4**1.953 * fall**0.6436
        * (v_g / v_f) ** 1.4181
    )  # fmt: skip
    return algebraic, continuous


def _trends() -> list[Row]:
    tab = load_tables("R134a")
    inlet = subcooled_inlet(tab, saturation_pressure(tab, 45.0 + KELVIN), 5.0)
    step = math.log(1.02 / 0.98)

    def slope(low: float, high: float) -> float:
        return math.log(high / low) / step

    on_bore = slope(*(_flow(tab, inlet, replace(TUBE, bore_m=0.8e-3 * k), 2.5)
                      for k in (0.98, 1.02)))  # fmt: skip
    on_length = slope(*(_flow(tab, inlet, TUBE, 2.5 * k) for k in (0.98, 1.02)))
    cold = [
        capillary_flow(tab, inlet, tube=TUBE, length=2.5, evaporating=t + KELVIN)
        for t in (-40.0, -25.0, -10.0, 0.0, 10.0)
    ]
    flows = [3600.0 * c.mass_flow_kg_s for c in cold]
    still = max(flows[:3]) / min(flows[:3]) - 1.0
    rough = [3600.0 * _flow(tab, inlet, replace(TUBE, roughness_m=r), 2.5) for r in (1e-7, 2e-6)]
    theirs = [5.32, 4.89, 5.20, 5.198, 5.163]
    ours = [*rough, flows[1], flows[3], flows[4]]
    return [
        between("capillary-bore", "dln(flow)/dln(bore), R134a 0.8 mm, 2.5 m, 45 °C, 5 K", TREND,
                2.45, 2.75, on_bore, published="2.6"),
        between("capillary-length", "dln(flow)/dln(length)", TREND, -0.55, -0.45, on_length,
                published="-0.5"),
        counted("capillary-choked", "once choked, the evaporator no longer counts (-40, -25, "
                "-10 °C)", THEORY, "constant", [still < 1e-4, all(c.choked for c in cold[:3])],
                ", ".join(f"{f:.4f}" for f in flows[:3]) + " kg/h"),
        most("capillary-twin", "the march against another hand's: roughness 0.1 and 2 µm, "
             "evaporating -25, 0 and 10 °C", HEM,
             max(abs(o / t - 1.0) for o, t in zip(ours, theirs, strict=True)), allowed=0.005,
             why="entrance loss of the other not said",
             published=", ".join(f"{t:g}" for t in theirs) + " kg/h",
             note="Ours: " + ", ".join(f"{o:.3f}" for o in ours) + " kg/h."),
    ]  # fmt: skip


def _textbook() -> list[Row]:
    """R22, 1.63 mm, 10 g/s, saturated liquid at 40 °C, smooth tube: to choking."""
    tab = load_tables("R22")
    p = saturation_pressure(tab, 40.0 + KELVIN)
    h = saturation_all(tab, p)[1]

    def length(evaporating_c: float) -> float:
        """From inside the tube, as the book has it: its mouth takes nothing. [m]"""
        p_end = saturation_pressure(tab, evaporating_c + KELVIN)
        return float(
            march(tab, p, h, p_end, 0.0, 0.010, 1.63e-3, 0.0, NO_ENTRANCE, 0.0, 0.0, 0.0, 1, 150)[0]
        )

    words = (
        "Friction by Churchill in a smooth tube, theirs by 0.33/Re^0.25; viscosity of the VDI "
        "Heat Atlas, theirs older. Another hand, with their friction and CoolProp's viscosity: "
        "2.390 m and 0.259 m."
    )
    return [
        near("R22-tube", "homogeneous march, R22, 1.63 mm, 10 g/s, 40 °C saturated: length to "
             "choking", STOECKER, 2.118, length(EVAPORATING_C), allowed=0.15, unit="m",
             why="ours: other friction, other viscosities, the print from memory", note=words),
        near("R22-first-step", "the same: the first kelvin", STOECKER, 0.2306, length(39.0),
             allowed=0.15, why="ours, as above", unit="m"),
    ]  # fmt: skip


def _late() -> list[Row]:
    gains = []
    for name in ("R134a", "R600a"):
        tab = load_tables(name)
        for tc, sub in itertools.product((40.0, 50.0), (3.0, 12.0)):
            inlet = subcooled_inlet(tab, saturation_pressure(tab, tc + KELVIN), sub)
            at_once, late = (
                _flow(tab, inlet, replace(TUBE, bore_m=0.69e-3, flash_delay_fraction=x), 3.0)
                for x in (0.0, 1.0)
            )
            gains.append(100.0 * (late / at_once - 1.0))
    return [
        counted("metastable", "liquid that flashes late passes more: R134a, R600a, 0.69 mm, 3 m, "
                "40 and 50 °C, 3 and 12 K", HUERTA, "more", [g > 0.0 for g in gains],
                f"{min(gains):+.2g} to {max(gains):+.2g} %",
                note="Delay by Chen et al. 1990, from memory and made with R12; only their test "
                "matrix is in the abstract, so the size is not held."),
    ]  # fmt: skip

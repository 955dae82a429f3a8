"""Void fraction, friction, heat transfer and oil beside libraries and published points."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import fluids
import fluids.two_phase_voidage as voidage
import ht
import numpy as np

from bench.checks.appliances import Appliance, all_shipped, settled, shipped
from bench.checks.row import Known, Part, Row, Source, between, counted, most
from coldwright.circuit.vector import pack_circuit
from coldwright.cycle import air_side as outside
from coldwright.cycle import friction, intube, void
from coldwright.cycle.capillary.exchange import counterflow
from coldwright.cycle.inventory import two_phase_density
from coldwright.refrigerant import oils
from coldwright.refrigerant.saturation import Saturation, saturation_all, saturation_pressure
from coldwright.refrigerant.tables import load_tables
from tests.golden import load_golden
from tests.golden.oil_fit import deviation, points

FLUIDS = Source("fluids 1.3 (Bell)", Known.COMPUTED)
HT = Source("ht 1.2 (Bell)", Known.COMPUTED)
HAND = Source("formulas by another hand with CoolProp 8.0.0", Known.COMPUTED)
RICE = Source("Rice 1987, ASHRAE paper 3035 (ten correlations)", Known.ABSTRACT)
NETO = Source("Marcelino Neto & Barbosa 2008, digitised points", Known.SECONDARY)
WAHLSTROM = Source("Wahlström & Vamling 2000, table", Known.SECONDARY)
GREBNER = Source("Grebner 1992, points (R134a in an unnamed ester)", Known.SECONDARY)
TAGLIAFICO = Source("Tagliafico & Tanda 1997, coefficients from memory; case by another hand",
                    Known.MEMORY)  # fmt: skip
SHAH = Source("Shah 1979 (mean over a tube, as printed)", Known.MEMORY)

KELVIN = 273.15
ROUNDING = 1e-9
DRAWS, SEED = 200, 20
R134A_MOLAR_G, R134A_CRITICAL_PA = 102.03, 40.59e5


def parts() -> tuple[Part, ...]:
    """All of them."""
    words = (
        f"Where a reference library has the same correlation, the worst of {DRAWS} random states "
        f"(seed {SEED}) over the household range is told; agreement to rounding says that it was "
        "written down right, not that it is true."
    )
    return (
        Part("Void fraction and inventory", words, (*_void(), *_inventory())),
        Part("Friction and heat transfer", words, (*_friction(), *_inside(), *_outside())),
        Part("Oil", "Mole fractions, mean size of the deviation over all points.", (*_oil(),)),
    )


def _worst(draw: Callable[[np.random.Generator], tuple[float, float]]) -> float:
    """Largest relative difference of (ours, theirs) over the draws."""
    rng = np.random.default_rng(SEED)
    pairs = [draw(rng) for _ in range(DRAWS)]
    return max(abs(ours / theirs - 1.0) for ours, theirs in pairs)


def _saturated(name: str, celsius: float) -> Saturation:
    tab = load_tables(name)
    return Saturation(*saturation_all(tab, saturation_pressure(tab, celsius + KELVIN)))


def _same(key: str, held: str, source: Source, off: float) -> Row:
    return most(key, held, source, off, allowed=ROUNDING, why="rounding",
                published="the library's value")  # fmt: skip


def _void() -> list[Row]:
    def pair(code: int) -> Callable[[np.random.Generator], tuple[float, float]]:
        def draw(rng: np.random.Generator) -> tuple[float, float]:
            s = _saturated(rng.choice(["R134a", "R600a"]), float(rng.uniform(-35.0, 60.0)))
            x, flux = float(rng.uniform(0.005, 0.995)), float(rng.uniform(5.0, 300.0))
            bore = 6e-3
            rho_l, rho_v, mu_l, mu_v, sigma = 1 / s[3], 1 / s[4], s[5], s[6], s[13]
            ours = void.void_fraction(code, x, rho_l, rho_v, mu_l, mu_v, sigma, flux, bore)
            m = flux * math.pi / 4 * bore**2
            theirs = {
                void.HOMOGENEOUS: lambda: voidage.homogeneous(x, rho_l, rho_v),
                void.ZIVI: lambda: voidage.Zivi(x, rho_l, rho_v),
                void.BAROCZY: lambda: voidage.Baroczy(x, rho_l, rho_v, mu_l, mu_v),
                void.ROUHANI: lambda: voidage.Rouhani_1(x, rho_l, rho_v, sigma, m, bore),
            }[code]()
            return ours, theirs

        return draw

    rows = [
        _same(f"void-{label}", f"void fraction, {label}", FLUIDS, _worst(pair(code)))
        for label, code in (
            ("homogeneous", void.HOMOGENEOUS), ("Zivi", void.ZIVI), ("Baroczy", void.BAROCZY),
            ("Rouhani", void.ROUHANI),
        )
    ]  # fmt: skip
    off = []
    for case in load_golden("void_fraction_computed.json"):
        s = _saturated(case["refrigerant"], case["temperature_c"])
        bore = 1e-3 * case["bore_mm"]
        flux = case["mass_flow_kg_h"] / 3600.0 / (math.pi / 4 * bore**2)
        ours = void.void_fraction(
            void.PREMOLI, case["quality"], 1 / s[3], 1 / s[4], s[5], s[6], s[13], flux, bore
        )
        off.append(abs(ours - case["premoli"]))
    rows.append(
        most("void-Premoli", "void fraction, Premoli (CISE), the default: five states", HAND,
             max(off), allowed=2e-3, why="printed to four figures; surface tension", scale=1.0,
             unit="in void fraction", published="0.8297 at 45 °C, quality 0.5, and four more",
             note="The formula is from memory on both sides; no library at hand has it.")
    )  # fmt: skip
    return rows


# Mean two-phase density, kg/m3, quality linear in length: homogeneous, Zivi, Baroczy, Rouhani;
# bore and flow as in the void fraction table.
DENSITIES = (
    ("R134a", 45.0, 4.0e-3, 4.0, 0.001, 0.999, (180.0, 279.0, 297.0, 318.0)),
    ("R134a", -25.0, 6.5e-3, 4.0, 0.25, 0.999, (10.1, 33.7, 52.5, 121.0)),
    ("R600a", 45.0, 4.0e-3, 1.5, 0.001, 0.999, (56.0, 101.0, 108.0, 128.0)),
    ("R600a", -25.0, 6.5e-3, 1.5, 0.25, 0.999, (3.1, 11.6, 18.6, 52.5)),
)
CODES = (void.HOMOGENEOUS, void.ZIVI, void.BAROCZY, void.ROUHANI)


def _inventory() -> list[Row]:
    rows = []
    for name, celsius, bore, flow, x0, x1, theirs in DENSITIES:
        s = _saturated(name, celsius)
        flux = flow / 3600.0 / (math.pi / 4 * bore**2)
        ours = [two_phase_density(code, x0, x1, s, flux, bore) for code in CODES]
        off = max(abs(o / t - 1.0) for o, t in zip(ours, theirs, strict=True))
        rows.append(
            most(f"density-{name}-{celsius:g}", f"mean two-phase density, {name} at {celsius:g} "
                 "°C: homogeneous, Zivi, Baroczy, Rouhani", HAND, off, allowed=0.02,
                 why="printed to two or three figures",
                 published=", ".join(f"{t:g}" for t in theirs) + " kg/m3",
                 note="Ours: " + ", ".join(f"{o:.3g}" for o in ours) + " kg/m3.")
        )  # fmt: skip
    cold = [_by_model(a, low_side=True) for a in all_shipped()]
    hot = [_by_model(a, low_side=False) for a in all_shipped()]
    rows += [
        between("rice-evaporator", "greatest over least evaporator charge among our five void "
                "models, median of eight examples", RICE, 2.0, 10.0,
                float(np.median([max(m) / min(m) for m in cold])),
                published="largest spread 4.2 cooling, 10 at low ambient", why="2 to 10, ours",
                note="The homogeneous model makes most of it; without it the factor is "
                f"{np.median([_slip(m) for m in cold]):.1f}. At -27 °C the vapour is thinner than "
                "in Rice's coils."),
        between("rice-condenser", "the same for the condenser", RICE, 1.2, 2.5,
                float(np.median([max(m) / min(m) for m in hot])),
                published="largest spread 1.7, no subcooling", why="1.2 to 2.5, ours"),
        counted("rice-high", "the default is not among the lowest: above homogeneous and Zivi in "
                "the evaporator", RICE, "Premoli among the highest, closest to measurement",
                [m[void.PREMOLI] > max(m[void.ZIVI], m[void.HOMOGENEOUS]) for m in cold],
                _shares(cold)),
    ]  # fmt: skip
    return rows


def _by_model(a: Appliance, *, low_side: bool) -> list[float]:
    """Mean two-phase density of one coil by each void model, at this appliance's own state."""
    s = settled(a)
    tab, coil = a.med.tables, a.circuit.evaporator if low_side else a.circuit.condenser
    sat = saturation_all(tab, s.evaporating_pressure_pa if low_side else s.condensing_pressure_pa)
    flux = s.mass_flow_kg_s / (math.pi / 4 * coil.tube_bore_m**2)
    start, end = (
        ((s.enthalpy_evaporator_in_j_kg - sat.h_l) / (sat.h_v - sat.h_l), 1.0)
        if low_side
        else (1.0, 0.0)
    )
    return [
        two_phase_density(m.code, start, end, sat, flux, coil.tube_bore_m) for m in void.VOID_MODELS
    ]


def _slip(by_model: list[float]) -> float:
    """Greatest over least among the models that let vapour run ahead."""
    held = [v for i, v in enumerate(by_model) if i != void.HOMOGENEOUS]
    return max(held) / min(held)


def _shares(found: list[list[float]]) -> str:
    middle = np.median(np.array(found), axis=0)
    return ", ".join(
        f"{m.name.split(' ')[0]} {v:.3g}" for m, v in zip(void.VOID_MODELS, middle, strict=True)
    ) + " kg/m3"  # fmt: skip


def _friction() -> list[Row]:
    def churchill(rng: np.random.Generator) -> tuple[float, float]:
        re, rough = float(10.0 ** rng.uniform(2.0, 6.0)), float(rng.uniform(0.0, 0.02))
        return friction.churchill(re, rough), fluids.friction.Churchill_1977(re, rough)

    def mcadams(rng: np.random.Generator) -> tuple[float, float]:
        x = float(rng.uniform(0.0, 1.0))
        s = _saturated("R134a", float(rng.uniform(-35.0, 60.0)))
        theirs = voidage.McAdams(x, s[5], s[6])
        return friction.mcadams_viscosity(x, s[5], s[6]), theirs

    def gradient(rng: np.random.Generator) -> tuple[float, float]:
        m, x = float(rng.uniform(5e-3, 2e-2)), float(rng.uniform(0.3, 0.9))
        s = _saturated("R134a", -25.0)
        state = (1.0 / s[3], 1.0 / s[4], s[5], s[6], 6.5e-3)
        return (friction.muller_steinhagen_heck(m, x, *state),
                fluids.two_phase.Muller_Steinhagen_Heck(m, x, *state))  # fmt: skip

    return [
        _same("friction-Churchill", "friction factor, Churchill 1977", FLUIDS, _worst(churchill)),
        _same("friction-McAdams", "two-phase viscosity, McAdams", FLUIDS, _worst(mcadams)),
        most("friction-gradient", "two-phase gradient, Müller-Steinhagen & Heck, turbulent", FLUIDS,
             _worst(gradient), allowed=0.03, why="another single-phase friction factor",
             published="the library's value"),
    ]  # fmt: skip


def _inside() -> list[Row]:
    bore = 6e-3

    def flow(flux: float) -> float:
        return flux * math.pi / 4 * bore**2

    def shah(rng: np.random.Generator) -> tuple[float, float]:
        x, flux = float(rng.uniform(0.0, 1.0)), float(rng.uniform(20.0, 300.0))
        s = _saturated("R134a", 45.0)
        args = {"mu_l": s[5], "k_l": s[11], "cp_l": s[9]}
        pr = saturation_pressure(load_tables("R134a"), 45.0 + KELVIN) / R134A_CRITICAL_PA
        theirs = ht.Shah(flow(flux), x, bore, 1.0 / s[3], *args.values(), pr * R134A_CRITICAL_PA,
                         R134A_CRITICAL_PA)  # fmt: skip
        return intube.shah_condensation(x, flux, bore, **args, reduced_pressure=pr), theirs

    def turbulent(rng: np.random.Generator) -> tuple[float, float]:
        re, pr = float(10.0 ** rng.uniform(3.7, 5.5)), float(rng.uniform(0.7, 6.0))
        factor = (1.8 * math.log10(re) - 1.5) ** -2
        theirs = ht.conv_internal.turbulent_Gnielinski(re, pr, fd=factor)
        return intube.single_phase(re, pr, 0.1, 0.01) / 10.0, theirs

    def lazarek(rng: np.random.Generator) -> tuple[float, float]:
        q, flux = float(rng.uniform(500.0, 2e4)), float(rng.uniform(20.0, 300.0))
        s = _saturated("R134a", -25.0)
        theirs = ht.Lazarek_Black(flow(flux), bore, s[5], s[11], s[2] - s[1], q=q)
        return intube.lazarek_black(q, flux, bore, s[5], s[11], s[2] - s[1]), theirs

    s = _saturated("R134a", 45.0)
    pr = saturation_pressure(load_tables("R134a"), 45.0 + KELVIN) / R134A_CRITICAL_PA
    whole = intube.shah_condensation_mean(1.0, 0.0, 60.0, 4e-3, s[5], s[11], s[9], pr)
    liquid = intube.liquid_dittus_boelter(60.0, 4e-3, s[5], s[11], s[9])
    printed = liquid * (0.55 + 2.09 / pr**0.38)
    ratio = [_gungor_over_liu(x, g) for x, g in ((0.1, 40.0), (0.5, 100.0), (0.8, 150.0))]
    return [
        _same("inside-Shah", "condensing inside, Shah 1979", HT, _worst(shah)),
        most("inside-Shah-mean", "its mean over a whole tube", SHAH, abs(whole / printed - 1.0),
             allowed=0.03, why="the print rounds the integral",
             published="0.55 + 2.09 / reduced pressure^0.38 of the liquid's"),
        _same("inside-Gnielinski", "turbulent single phase, Gnielinski with Konakov's friction", HT,
              _worst(turbulent)),
        _same("inside-Lazarek", "boiling inside, Lazarek & Black (kept beside)", HT,
              _worst(lazarek)),
        between("inside-boiling", "boiling inside, Gungor & Winterton over Liu & Winterton 1991, "
                "3 kW/m2, worst of three states", HT, 0.5, 1.6, max(ratio, key=_far),
                published="two fits of much the same data, 25 % scatter each", why="ours",
                note="Below the flow at which the wall is wet all round ours takes off a third; "
                "ht has no Gungor & Winterton."),
        _same("exchange", "counter-flow effectiveness (capillary to suction line)", HT,
              _worst(_effectiveness)),
    ]  # fmt: skip


def _far(ratio: float) -> float:
    return abs(math.log(ratio))


def _effectiveness(rng: np.random.Generator) -> tuple[float, float]:
    ntu, ratio = float(rng.uniform(0.1, 6.0)), float(rng.uniform(0.05, 0.99))
    return counterflow(ntu, ratio), ht.effectiveness_from_NTU(ntu, ratio, subtype="counterflow")


def _gungor_over_liu(x: float, flux: float) -> float:
    s, bore, heat = _saturated("R134a", -25.0), 6.5e-3, 3000.0
    p = saturation_pressure(load_tables("R134a"), -25.0 + KELVIN)
    m = flux * math.pi / 4 * bore**2

    def excess(dt: float) -> float:
        h = ht.Liu_Winterton(m, x, bore, 1 / s[3], 1 / s[4], s[5], s[11], s[9], R134A_MOLAR_G, p,
                             R134A_CRITICAL_PA, dt)  # fmt: skip
        return float(h * dt - heat)

    low, high = 1e-3, 60.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if excess(middle) < 0.0 else (low, middle)
    ours = intube.gungor_winterton(
        x, heat, flux, bore, 1 / s[3], 1 / s[4], s[5], s[11], s[9], s[2] - s[1]
    )
    return float(ours * low / heat)


def _outside() -> list[Row]:
    def plate(rng: np.random.Generator) -> tuple[float, float]:
        dt, height = float(rng.uniform(1.0, 30.0)), float(rng.uniform(0.2, 1.5))
        grashof = outside.RAYLEIGH_FACTOR * dt * height**3 / 0.71
        nu = ht.conv_free_immersed.Nu_vertical_plate_Churchill(0.71, grashof)
        return outside.vertical_plate(dt, height), nu * outside.AIR_CONDUCTIVITY / height

    rise, convection = (5.0, 10.0, 15.0, 20.0), (2.66, 3.72, 4.53, 5.21)
    radiated = (5.55, 5.69, 5.83, 5.98)
    circuit = shipped("plain_static_fan").circuit
    coil = replace(circuit.condenser, height_m=0.8, tube_diameter_m=4.8e-3, wire_diameter_m=1.5e-3,
                   tube_pitch_m=50e-3, wire_pitch_m=5e-3)  # fmt: skip
    packed = pack_circuit(replace(circuit, condenser=coil))
    shape = outside.wire_and_tube_shape(packed[0]["condenser"])
    ours = [outside.wire_and_tube(shape, dt) for dt in rise]
    glow = [outside.radiation(0.9, 298.15 + dt, 298.15) for dt in rise]
    return [
        most("outside-plate", "natural convection on a plate, Churchill & Chu 1975", HT,
             _worst(plate), allowed=3.1e-3, why="0.324 is a constant rounded, squared",
             published="the library's value"),
        most("outside-wires", "wire and tube 0.8 m high: convection at 5, 10, 15, 20 K", TAGLIAFICO,
             max(abs(o / t - 1.0) for o, t in zip(ours, convection, strict=True)), allowed=0.02,
             why="air properties at another temperature",
             published=", ".join(map(str, convection)) + " W/m2/K",
             note="Ours: " + ", ".join(f"{o:.2f}" for o in ours) + " W/m2/K."),
        most("outside-radiation", "its radiation, emissivity 0.9, room 25 °C", HAND,
             max(abs(o / t - 1.0) for o, t in zip(glow, radiated, strict=True)), allowed=0.01,
             why="printed to three figures", published=", ".join(map(str, radiated)) + " W/m2/K",
             note="Ours: " + ", ".join(f"{o:.2f}" for o in glow) + " W/m2/K."),
    ]  # fmt: skip


def _oil() -> list[Row]:
    def mean(oil: oils.Oil, *names: str) -> float:
        d = deviation(points(*names), oil.size_ratio, oil.chi0, oil.chi1)
        return float(np.abs(d).mean())

    return [
        most("oil-R600a", "R600a in POE ISO 7, 10 to 60 °C", NETO,
             mean(oils.R600A_POE7, "POE ISO 7"), allowed=0.03, why="asked for",
             published="points; 2.0 % by their own Peng-Robinson"),
        most("oil-R134a", "R134a in PEB8, 30 to 90 °C", WAHLSTROM, mean(oils.R134A_PEB8, "PEB8"),
             allowed=0.05, why="asked for", published="points; 3.8 % by Yokozeki's equation"),
        most("oil-unseen", "R134a in a household ester: points it was not fitted to", GREBNER,
             mean(oils.R134A_POE, "POE unspecified"), allowed=0.10, why="the record's own claim",
             published="points; 7 % by NRTL"),
    ]  # fmt: skip

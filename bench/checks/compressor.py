"""The compressor: closed forms, rating points, efficiency of an era, the ten-coefficient form."""

from __future__ import annotations

import warnings

import numpy as np

from bench.checks.appliances import all_shipped, middle_member
from bench.checks.row import Known, Part, Row, Source, between, most, near
from coldwright.circuit.vector import pack_circuit
from coldwright.cycle.compressor.physical import compress, isentropic_work, volumetric_efficiency
from coldwright.cycle.medium import medium
from coldwright.refrigerant.kernels import liquid, vapour, vapour_temperature
from coldwright.refrigerant.saturation import saturation_all, saturation_pressure
from coldwright.refrigerant.tables import load_tables

STOECKER = Source("Stoecker & Jones 1982, eq. (11.3)", Known.MEMORY)
IDEAL = Source("isentropic cycle with CoolProp 8.0.0, by another hand", Known.COMPUTED)
EPA = Source("US EPA 430-R-93-010 (large compressors; rating point and R12 taken by us)",
             Known.ABSTRACT)  # fmt: skip
SANTOS = Source("Santos, Ronzoni & Hermes 2019 (33 household compressors)", Known.ABSTRACT)
FORM = Source("EN 12900, AHRI 540 (form; the error allowed is ours)", Known.SECONDARY)

KELVIN = 273.15
# Rating points, °C: evaporating, condensing, return gas, liquid, room. ASHRAE low back pressure
# in part from memory; the second is CECOMAF's, liquid without subcooling, from memory.
ASHRAE = (-23.3, 54.4, 32.2, 32.2, 32.2)
CECOMAF = (-25.0, 55.0, 32.0, 55.0, 32.0)
IDEAL_COP = {
    "ASHRAE": (ASHRAE, {"R134a": 2.733, "R600a": 2.897, "R290": 2.720, "R12": 2.735}),
    "CECOMAF": (CECOMAF, {"R134a": 2.135, "R600a": 2.299, "R290": 2.116, "R12": 2.192}),
}
IDEAL_DISCHARGE_C = {"R600a": 103.0, "R134a": 119.0, "R12": 126.0}  # at ASHRAE
BTU_PER_WH = 3.412142
# Evaporating and condensing temperatures of the fitted field, °C
FIELD_TE, FIELD_TC = np.arange(-35.0, -9.9, 5.0), np.arange(30.0, 60.1, 5.0)


def parts() -> tuple[Part, ...]:
    """All of them."""
    words = (
        "Rating points (evaporating / condensing / return gas / liquid, °C): ASHRAE low back "
        "pressure -23.3/54.4/32.2/32.2, CECOMAF -25/55/32/55 without subcooling; room as the "
        "return gas. Measured volumetric efficiencies of household compressors were not found."
    )
    return (Part("Compressor", words, (*_closed(), *_eras(), *_form())),)


def _rating(name: str, point: tuple[float, ...]) -> tuple[float, float, float, float]:
    """Pressures and enthalpies of return gas and liquid."""
    tab = load_tables(name)
    te, tc, gas, liq, _ = (t + KELVIN for t in point)
    pe, pc = saturation_pressure(tab, te), saturation_pressure(tab, tc)
    return pe, pc, vapour(tab, pe, gas)[0], liquid(tab, pc, liq)[0]


def _ideal(name: str, point: tuple[float, ...]) -> tuple[float, float]:
    """COP [-] and end temperature [°C] of isentropic compression of the return gas."""
    tab = load_tables(name)
    pe, pc, h1, h4 = _rating(name, point)
    s1 = vapour(tab, pe, point[2] + KELVIN)[2]
    work = isentropic_work(tab, h1, s1, saturation_all(tab, pc), pe, pc)
    return (h1 - h4) / work, vapour_temperature(tab, pc, h1 + work) - KELVIN


def _closed() -> list[Row]:
    by_hand = 1.0 + 0.028 - 0.028 * 10.0 ** (1.0 / 1.05)
    rows = [
        near("clearance", "clearance volumetric efficiency, ratio 10, dead volume 2.8 %, exponent "
             "1.05", STOECKER, by_hand, volumetric_efficiency(10.0, 0.028, 1.05), allowed=1e-9,
             why="rounding"),
    ]  # fmt: skip
    for label, (point, cops) in IDEAL_COP.items():
        found = {name: _ideal(name, point)[0] for name in cops}
        off = max(abs(found[n] / c - 1.0) for n, c in cops.items())
        rows.append(
            most(f"ideal-cop-{label}", f"ideal COP at {label}: R134a, R600a, R290, R12", IDEAL, off,
                 allowed=0.002, why="printed to four figures, tables", scale=100.0,
                 published=", ".join(f"{c:.3f}" for c in cops.values()),
                 note="Ours: " + ", ".join(f"{c:.3f}" for c in found.values()) + ".")
        )  # fmt: skip
    hot = {name: _ideal(name, ASHRAE)[1] for name in IDEAL_DISCHARGE_C}
    off = max(abs(hot[n] - t) for n, t in IDEAL_DISCHARGE_C.items())
    rows.append(
        most("ideal-discharge", "ideal discharge temperature at ASHRAE: R600a, R134a, R12", IDEAL,
             off, allowed=0.6, why="printed to 1 K", scale=1.0, unit="K",
             published=", ".join(f"{t:.0f}" for t in IDEAL_DISCHARGE_C.values()) + " °C",
             note="Ours: " + ", ".join(f"{t:.1f}" for t in hot.values()) + " °C.")
    )  # fmt: skip
    swept = [1e6 * a.circuit.compressor.displacement_m3 for a in all_shipped()]
    rows += [
        between("displacement-least", "least displacement of the eight examples", SANTOS, 2.0,
                20.0, min(swept), unit="cm3",
                note="The R290 upright freezer, the densest gas of the four in a small cabinet."),
        between("displacement-most", "greatest displacement of the eight examples", SANTOS, 2.0,
                20.0, max(swept), unit="cm3"),
    ]  # fmt: skip
    return rows


def _rated(year: int) -> tuple[float, float, float]:
    """Rating COP, capacity [W] and volumetric efficiency of the era's side-by-side compressor."""
    a = middle_member("side_by_side", "R12", year, hertz=60.0)
    pe, pc, h1, h4 = _rating("R12", ASHRAE)
    row = pack_circuit(a.circuit)[0]
    flow, power = compress(a.med, row, pe, pc, h1, ASHRAE[4] + KELVIN, 0.0, 0.0)[:2]
    k = a.circuit.compressor
    volume = vapour(a.med.tables, pe, ASHRAE[2] + KELVIN)[1]
    eta = flow * volume / (k.displacement_m3 * k.speed_1_s)
    return flow * (h1 - h4) / power, flow * (h1 - h4), eta


def _eras() -> list[Row]:
    old, best = _rated(1980), _rated(1993)
    told = "capacity {:.0f} W, COP {:.2f}, volumetric efficiency at return gas {:.2f}."
    return [
        between("eer-1980", "EER of a large R12 compressor of 1980", EPA, 3.4, 4.6,
                BTU_PER_WH * old[0], published="4.0 Btu/Wh", why="15 %, ours", unit="Btu/Wh",
                note="Ours: " + told.format(old[1], old[0], old[2])),
        between("eer-1993", "EER of a large R12 compressor of 1993", EPA, 4.0, 5.5,
                BTU_PER_WH * best[0], published="5.5 Btu/Wh for the best", unit="Btu/Wh",
                why="between the old and the best",
                note="Ours is a middle one: " + told.format(best[1], best[0], best[2])),
    ]  # fmt: skip


def _form() -> list[Row]:
    """Fit the ten-coefficient form to our own field, gas always 32.2 °C."""
    te, tc = (x.ravel() for x in np.meshgrid(FIELD_TE, FIELD_TC))
    terms = np.stack(
        [te**0, te, tc, te**2, te * tc, tc**2, te**3, tc * te**2, te * tc**2, tc**3], axis=1
    )
    rows = []
    for a in all_shipped():
        if a.name not in ("plain_static_fan", "plain_static_plate"):
            continue
        med, row = medium(a.refrigerant), pack_circuit(a.circuit)[0]
        field = []
        for e, c in zip(te, tc, strict=True):
            pe, pc = (saturation_pressure(med.tables, t + KELVIN) for t in (e, c))
            h1 = vapour(med.tables, pe, 32.2 + KELVIN)[0]
            field.append(compress(med, row, pe, pc, h1, 32.2 + KELVIN, 0.0, 0.0)[:2])
        values = np.array(field)
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            fitted = terms @ np.linalg.lstsq(terms, values, rcond=None)[0]
        worst = np.max(np.abs(fitted / values - 1.0), axis=0)
        rows.append(
            most(f"ten-coefficients-{a.refrigerant}", f"flow and power of our {a.refrigerant} "
                 "compressor follow the ten-coefficient form, -35..-10 and 30..60 °C", FORM,
                 float(worst.max()), allowed=0.02, why="ours", published="ten coefficients",
                 note=f"Worst of flow {100 * worst[0]:.2f} %, of power {100 * worst[1]:.2f} %.")
        )  # fmt: skip
    return rows

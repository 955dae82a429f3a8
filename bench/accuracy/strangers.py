"""Appliances another hand designed, and visits to them. ``python -m bench.accuracy.strangers``.

Nothing that sizes in `catalogue.sizing` or `catalogue.prior_table` is used, and the order of
design is another one: wall by its foam, coils by the cabinet's outside, a compressor from a list of
displacements 0.6 to 1.8 times the need, a capillary from a stock bore cut to length, and the
charge by filling on the bench until the coil is frosted to near its end. Where a machine then
runs follows from its parts and was never intended. Its closures are not ours either: void
fraction, heat transfer and the bond are off.

Every number is a judgement of ours about how such machines are made, and was set before any of
them was diagnosed. One visit in two is from outside only; the other has suction and standing
pressure too.
"""

from __future__ import annotations

import json
import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from bench.accuracy import visit
from bench.accuracy.recipe import COMPLAINTS, GAS_MOL, LAST_YEAR
from bench.accuracy.score import apart
from coldwright.catalogue.families import family_of
from coldwright.catalogue.pairs import prior_with_pairs
from coldwright.catalogue.priors import Background
from coldwright.catalogue.sizing import DIMENSIONS, Known, Members
from coldwright.circuit.layout import Layout
from coldwright.circuit.records import CondenserKind, EvaporatorKind, Surroundings
from coldwright.circuit.vector import CIRCUIT, unpack_circuit
from coldwright.cli.as_json import joined
from coldwright.cycle.medium import Medium, fill_with, medium
from coldwright.cycle.solver.running import Running, solve_running
from coldwright.cycle.state import STATE
from coldwright.cycle.void import BAROCZY, HOMOGENEOUS, ROUHANI, ZIVI
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.population import Population, simulate
from coldwright.diagnosis.subject import Subject
from coldwright.errors import ColdwrightError

SEED, COUNT = 70_207, 600
FILE = Path(__file__).with_name("strangers.jsonl")
NAN = float("nan")
BENCH_K = 298.15  # room of the maker's bench

# Displacements a compressor list offers [cm3], and cooling of one cm3 at 50 Hz [W]: low back
# pressure, some -23 / 45 degC.
LISTS = {
    "R12": ((3.0, 4.0, 5.1, 6.6, 8.1, 10.0, 12.5, 15.0), 21.0),
    "R134a": ((3.1, 4.1, 5.0, 5.9, 7.5, 9.1, 11.2, 13.5), 20.0),
    "R600a": ((5.0, 6.2, 7.7, 9.0, 10.6, 12.7, 15.5, 19.0), 11.5),
    "R290": ((2.6, 3.4, 4.3, 5.2, 6.7, 8.4), 34.0),
}
STOCK_MM = (0.55, 0.60, 0.66, 0.71, 0.80, 0.91)
LENGTHS_M = (2.2, 2.6, 3.0, 3.5)
KINDS = {  # net litres fresh food and freezer, settings [degC]
    "single_door": ((120, 320), (8, 30), 5.0, -10.0),
    "top_mount": ((150, 380), (45, 140), 4.0, -18.0),
    "bottom_mount": ((150, 320), (60, 130), 4.0, -18.0),
    "side_by_side": ((300, 430), (140, 230), 3.5, -18.0),
    "upright_freezer": ((0, 0), (90, 330), 4.0, -19.0),
    "chest_freezer": ((0, 0), (100, 420), 4.0, -20.0),
    "compact": ((45, 120), (4, 14), 5.0, -6.0),
}


@dataclass(frozen=True, slots=True)
class Stranger:
    """One machine as it left its maker."""

    known: Known
    refrigerant: str
    med: Medium
    circuit: np.ndarray  # dtype CIRCUIT, shape (1,)
    bench: Running
    step: float  # compressor fitted over the need


def _between(rng: np.random.Generator, low: float, high: float) -> float:
    return float(np.exp(rng.uniform(np.log(low), np.log(high)))) if low > 0 else 0.0


def _gas(rng: np.random.Generator, year: int) -> str:
    if year < 1994:
        return "R12"
    if year < 2010:
        return "R134a" if rng.random() < 0.75 else "R600a"
    return str(rng.choice(["R600a", "R134a", "R290"], p=[0.65, 0.28, 0.07]))


def design(rng: np.random.Generator) -> Stranger | None:
    """One machine; None where the bench found no charge and capillary that work.

    Parameters
    ----------
    rng : Generator
        Source of randomness.

    Returns
    -------
    Stranger or None
        With its running state on the maker's bench.
    """
    kind = str(rng.choice(list(KINDS)))
    year = int(rng.integers(1985, LAST_YEAR))
    gas = _gas(rng, year)
    hertz = 60.0 if rng.random() < 0.4 else 50.0
    (ff_range, fz_range, ff_c, fz_c) = KINDS[kind]
    one = ff_range[1] == 0
    litres_ff, litres_fz = _between(rng, *ff_range), _between(rng, *fz_range)
    c = np.zeros(1, CIRCUIT)
    modern = float(np.clip((year - 1985) / 35.0, 0.0, 1.0))
    # Coils as makers of the kind choose them
    if kind == "chest_freezer":
        cond, evap = CondenserKind.SKIN, EvaporatorKind.COLD_WALL
    elif kind == "side_by_side":
        cond, evap = CondenserKind.FAN, EvaporatorKind.FAN
    else:
        cond = CondenserKind.SKIN if rng.random() < 0.2 + 0.3 * modern else CondenserKind.STATIC
        frost_free = kind not in ("single_door", "compact") and rng.random() < 0.2 + 0.5 * modern
        evap = EvaporatorKind.FAN if frost_free else EvaporatorKind.PLATE
    # Cabinet: depth 0.6 m, foam of a thickness, edges and gasket on top
    foam_mm = rng.uniform(28.0, 45.0) + 25.0 * modern + (20.0 if one else 0.0)
    u = rng.uniform(0.020, 0.028) / (foam_mm / 1e3) * rng.uniform(1.15, 1.45)
    shell = 5.6 * ((litres_ff + litres_fz) / 1e3 * 1.6) ** (2.0 / 3.0) + 0.15
    cold_part = 1.0 if one else float(np.clip(litres_fz / (litres_ff + litres_fz), 0.06, 0.6))
    cab = c["cabinet"]
    t_ff, t_fz = ff_c + 273.15 + rng.normal(0, 1.2), fz_c + 273.15 + rng.normal(0, 1.8)
    if one:
        t_ff = t_fz
    cab["freezer_conductance_w_k"] = u * shell * cold_part
    cab["fresh_food_conductance_w_k"] = 0.0 if one else u * shell * (1.0 - cold_part)
    cab["fresh_food_set_k"], cab["freezer_set_k"] = t_ff, t_fz
    fan_w = rng.uniform(3.0, 11.0)
    cab["evaporator_fan_power_w"] = fan_w if evap == EvaporatorKind.FAN else 0.0
    cab["condenser_fan_power_w"] = fan_w if cond == CondenserKind.FAN else 0.0
    cab["controls_power_w"] = 2.0 * modern * rng.random()
    cab["heater_power_w"] = rng.uniform(3.0, 12.0) if evap == EvaporatorKind.FAN else 0.0
    cab["opening_power_w"] = rng.uniform(0.5, 3.5) + 0.02 * litres_ff
    load = float(
        cab["freezer_conductance_w_k"][0] * (BENCH_K - t_fz)
        + cab["fresh_food_conductance_w_k"][0] * (BENCH_K - t_ff)
        + cab["heater_power_w"][0] + cab["opening_power_w"][0]
        + cab["evaporator_fan_power_w"][0]
    )  # fmt: skip
    # Compressor: the listed one nearest to need times how generous this maker is
    listed, watts = LISTS[gas]
    need = load / 0.5
    wanted = need * _between(rng, 0.6, 1.8) / (watts * hertz / 50.0)
    cc = min(listed, key=lambda d: abs(np.log(d / wanted)))
    cooling = cc * watts * hertz / 50.0
    k = c["compressor"]
    k["displacement_m3"], k["speed_1_s"] = cc * 1e-6, hertz * rng.uniform(0.955, 0.975)
    k["clearance_fraction"], k["reexpansion_exponent"] = rng.uniform(0.02, 0.045), 1.08
    k["flow_factor_fraction"] = 1.0
    k["leak_work_share_fraction"] = 0.5
    k["indicated_efficiency_fraction"] = 0.70 + 0.12 * modern + rng.uniform(-0.05, 0.05)
    k["motor_efficiency_fraction"] = 0.74 + 0.12 * modern + rng.uniform(-0.05, 0.05)
    k["idle_power_w"] = cooling * rng.uniform(0.10, 0.26) * (1.15 - 0.4 * modern)
    body = (cooling / 100.0) ** 0.6
    k["shell_conductance_w_k"] = rng.uniform(1.0, 2.4) * body
    k["suction_conductance_w_k"] = rng.uniform(0.12, 0.6) * body
    k["discharge_conductance_w_k"] = rng.uniform(0.4, 1.6) * body
    k["shell_volume_m3"], k["oil_mass_kg"] = rng.uniform(1.3e-3, 2.6e-3), rng.uniform(0.15, 0.35)
    k["power_factor_fraction"] = rng.uniform(0.6, 0.95)
    c["discharge_line"]["conductance_w_k"], c["discharge_line"]["volume_m3"] = 0.3, 10e-6
    # Coils by the cabinet's outside
    d, e = c["condenser"], c["evaporator"]
    d["kind_code"], e["kind_code"] = int(cond), int(evap)
    share = {CondenserKind.STATIC: 0.28, CondenserKind.SKIN: 0.42, CondenserKind.FAN: 0.13}[cond]
    d["area_m2"] = shell * share * np.exp(0.25 * rng.standard_normal())
    d["tube_bore_m"] = 3.36e-3
    d["tube_length_m"] = shell * rng.uniform(2.2, 4.0)
    d["height_m"], d["tube_diameter_m"], d["wire_diameter_m"] = 0.85, 4.8e-3, 1.4e-3
    d["tube_pitch_m"], d["wire_pitch_m"] = 55e-3, 5.5e-3
    d["emissivity_fraction"] = rng.uniform(0.6, 0.95)
    d["surface_efficiency_fraction"] = rng.uniform(0.65, 0.95)
    d["fan_coefficient_w_m2_k"] = rng.uniform(18.0, 35.0)
    d["air_capacity_w_k"] = rng.uniform(18.0, 40.0) if cond == CondenserKind.FAN else 0.0
    d["inward_conductance_w_k"] = 0.15 * u * shell if cond == CondenserKind.SKIN else 0.0
    d["air_factor_fraction"] = 1.0
    share_e = {EvaporatorKind.FAN: 0.34, EvaporatorKind.COLD_WALL: 0.42,
               EvaporatorKind.PLATE: 0.30}[evap]  # fmt: skip
    base = shell if one or evap == EvaporatorKind.FAN else 0.5 * shell + 0.6
    e["area_m2"] = base * share_e * np.exp(0.25 * rng.standard_normal())
    e["tube_bore_m"] = 6.8e-3 if evap == EvaporatorKind.FAN else 6.2e-3
    e["tube_length_m"] = base * rng.uniform(2.2, 4.0)
    e["height_m"] = {EvaporatorKind.FAN: 0.2, EvaporatorKind.COLD_WALL: 0.65}.get(evap, 0.35)
    e["emissivity_fraction"] = 0.0 if evap == EvaporatorKind.FAN else rng.uniform(0.6, 0.95)
    e["surface_efficiency_fraction"] = rng.uniform(0.7, 0.92)
    e["fan_coefficient_w_m2_k"] = rng.uniform(13.0, 26.0)
    e["frost_resistance_k_w"] = rng.uniform(0.003, 0.015)
    e["air_factor_fraction"] = 1.0
    for part in (d, e):
        part["volume_m3"] = 0.25 * np.pi * part["tube_bore_m"] ** 2 * part["tube_length_m"]
    cab["air_capacity_w_k"] = cooling / rng.uniform(4.0, 9.0)
    supply = t_fz - rng.uniform(2.0, 5.0)
    if not one:
        g_ff = cab["fresh_food_conductance_w_k"] * (BENCH_K - t_ff) / (t_ff - supply)
        g_fz = cab["freezer_conductance_w_k"] * (BENCH_K - t_fz) / (t_fz - supply)
        cab["air_share_fraction"] = np.clip(
            g_ff / (g_ff + g_fz) * np.exp(0.15 * rng.standard_normal()), 0.02, 0.95
        )
    c["drier"]["volume_m3"], c["drier"]["loss_coefficient_1_m4"] = 12e-6, _between(rng, 2e11, 1e12)
    p = c["capillary"]
    p["roughness_m"], p["entrance_loss_fraction"] = _between(rng, 0.3e-6, 1.6e-6), 0.6
    p["inlet_length_m"], p["bonded_length_m"] = rng.uniform(0.3, 0.7), rng.uniform(0.9, 1.4)
    p["bond_conductance_w_m_k"] = _between(rng, 0.35, 1.6)
    c["accumulator"]["volume_m3"] = rng.uniform(15e-6, 70e-6)
    c["accumulator"]["half_full_wetness_fraction"] = 0.1
    c["suction_line"]["bore_m"], c["suction_line"]["length_m"] = 6.2e-3, rng.uniform(1.8, 3.0)
    c["suction_line"]["room_conductance_w_k"] = rng.uniform(0.05, 0.4)
    voids = (ROUHANI, ZIVI, HOMOGENEOUS, BAROCZY)
    med = medium(gas)._replace(void_code=int(rng.choice(voids)))
    fill_with(c, med)
    found = _tuned(c, t_ff, t_fz, rng)
    if found is None:
        return None
    volumes = (NAN if one else litres_ff / 1e3, litres_fz / 1e3)
    plate = NAN
    if rng.random() < 0.5:  # the others state a defrost heater's current, or none that is read
        plate = float(found.state.compressor_power_w * _between(rng, 1.2, 2.0))
    known = Known(
        family_of(kind), float(year), float(c["charge_kg"][0]), *volumes, NAN, plate, hertz, cond,
        evap, Layout.PLAIN,
    )  # fmt: skip
    return Stranger(known, gas, med, c, found, cooling / need)


def _tuned(c: np.ndarray, ff: float, fz: float, rng: np.random.Generator) -> Running | None:
    """Cut the capillary and fill on the bench, in place; the state there."""
    room = Surroundings(BENCH_K, 0.0, ff, fz, 0.0)
    wish, frost = rng.uniform(1.5, 9.0), rng.uniform(1.0, 8.0)
    vol = float(c["condenser"]["volume_m3"][0] + c["evaporator"]["volume_m3"][0])
    dense = {"R12": 300.0, "R134a": 260.0, "R600a": 115.0, "R290": 115.0}
    gas = unpack_circuit(c[0]).refrigerant
    best: tuple[float, float, float, float, Running] | None = None
    for bore in STOCK_MM:
        p = c["capillary"]
        p["bore_m"] = p["stretch_bore_m"] = bore / 1e3
        p["length_m"] = rng.choice(LENGTHS_M)
        start = None
        for charge in vol * dense[gas] * np.geomspace(0.5, 2.2, 9) + 0.008:
            c["charge_kg"] = charge
            try:
                now = solve_running(unpack_circuit(c[0]), room, start=start, settled=False)
            except ColdwrightError:
                continue
            start = np.array(now.unknowns)
            s = now.state
            if not (s.mass_flow_kg_s > 0.0 and s.superheat_k == s.superheat_k):
                continue
            off = (s.subcooling_k - wish) ** 2 + (s.superheat_k - frost) ** 2
            if s.evaporator_outlet_quality < 1.0:
                off += 150.0 * (1.0 - s.evaporator_outlet_quality)
            if best is None or off < best[0]:
                best = (off, bore, float(p["length_m"][0]), charge, now)
    if best is None or best[0] > 60.0 or not 243.0 < best[4].state.evaporating_k < 258.0:
        return None
    if best[4].state.run_fraction > 0.97:
        return None  # no maker sells what cannot hold its temperature on the bench
    c["capillary"]["bore_m"] = c["capillary"]["stretch_bore_m"] = best[1] / 1e3
    c["capillary"]["length_m"], c["charge_kg"] = best[2], best[3]
    return best[4]


def _members(machine: Stranger) -> Members:
    """One member in the form a simulation of faults takes."""
    c, k = machine.circuit, machine.circuit["cabinet"]
    return Members(
        c, np.zeros(1, STATE), np.array([machine.bench.unknowns]), c["charge_kg"].copy(),
        np.zeros(1), np.ones(1, bool), k["fresh_food_set_k"].copy(), k["freezer_set_k"].copy(),
    )  # fmt: skip


def one_visit(rng: np.random.Generator, number: int) -> dict | None:
    """A stranger, a complaint, a fault and a visit; None where there is nothing to read.

    Parameters
    ----------
    rng : Generator
        Source of randomness.
    number : int
        Of the visit; odd ones are tapped. [-]
    """
    machine = design(rng)
    if machine is None:
        return None
    known, gas, med = machine.known, machine.refrigerant, machine.med
    assert known.condenser is not None
    assert known.evaporator is not None
    coils = known.condenser.name.lower(), known.evaporator.name.lower()
    complaint = str(rng.choice([*COMPLAINTS], p=[*COMPLAINTS.values()]))
    prior = prior_with_pairs(complaint, Background(condenser=coils[0], evaporator=coils[1]), gas)
    faults = list(prior)[rng.choice(len(prior), p=list(prior.values()))]
    room = float(np.clip(rng.normal(297.0, 4.5), 289.15, 311.15))
    volts = 120.0 if known.frequency_hz == 60.0 else 230.0
    z = rng.standard_normal((1, DIMENSIONS))
    members = _members(machine)

    def solved(faults: tuple[str, ...], ff: float, fz: float, settled: bool) -> Population:
        where = Subject(
            known, ((gas, 1.0),), room, ff, fz, settled, volts, float("inf"), (), ()
        )  # fmt: skip
        return simulate(med, where, hypothesis_named(*faults), z, members, refrigerant=gas)

    sound = solved(("nothing_wrong",), NAN, NAN, True)
    true = solved(faults, NAN, NAN, True)
    if not (true.solved[0] and sound.solved[0]):
        return None
    settled = bool(rng.random() < 0.4)
    keys: tuple[str, ...] = (*visit.OUTSIDE, "shell_temperature", *visit.SETTLED_TOO)
    boundary: dict[str, float] = {}
    one = known.family.one_compartment
    if not settled:
        part = rng.uniform(0.0, 0.4)
        ff, fz = (float(true.states[f"{n}_k"][0]) for n in ("fresh_food", "freezer"))
        ff, fz = ff + part * (room - ff), fz + part * (room - fz)
        true = solved(faults, ff, fz, False)
        if not true.solved[0]:
            return None
        names = ("freezer_temperature", "fresh_food_temperature")[: 1 if one else 2]
        boundary = {
            key: round(v + float(rng.normal(0.0, 0.5)), 3)
            for key, v in zip(names, (fz, ff), strict=False)
        }
        keys = (*visit.OUTSIDE, "shell_temperature", *visit.DRIFTING_TOO)
    elif one:
        keys = tuple(key for key in keys if key != "fresh_food_temperature")
    outside = visit.read(true, gas, med, keys, volts, rng, foreign=True)
    opened = visit.read(true, gas, med, visit.OPENED, volts, rng, foreign=True)
    if outside is None:
        return None
    tapped = number % 2 == 1 and opened is not None
    healthy, family = sound.states[0], known.family
    return {
        "number": number,
        "foreign": True,
        "kind": family.kind,
        "year": int(known.year),
        "refrigerant": gas,
        "charge_kg": round(known.charge_kg, 4),
        "fresh_food_m3": _number(known.fresh_food_m3),
        "freezer_m3": _number(known.freezer_m3),
        "plate_power_w": _number(known.plate_power_w),
        "frequency_hz": known.frequency_hz,
        "layout": "plain",
        "condenser": coils[0],
        "evaporator": coils[1],
        "complaint": complaint,
        "room_k": round(room, 2),
        "settled": settled,
        "fault": joined(faults),
        "severity": _number(true.severity[0]),
        "effect": _effect(faults[0], true, machine, room),
        "tapped": tapped,
        "readings": boundary | outside | (opened or {} if tapped else {}),
        "signs": visit.look(true, rng, foreign=True),
        "opened": None,
        "step": round(machine.step, 3),
        "healthy": {
            name: round(float(healthy[name]), 3)
            for name in ("run_fraction", "compressor_power_w", "shell_k", "discharge_line_k",
                         "evaporating_k", "condensing_k")
        },
    }  # fmt: skip


def _number(x: float) -> float | None:
    return round(float(x), 4) if np.isfinite(x) else None


def _effect(leading: str, true: Population, machine: Stranger, room: float) -> float | None:
    """As `recipe` states it: 1 - fraction; of the healthy load for added heat."""
    severity = float(true.severity[0])
    if leading == "nothing_wrong":
        return None
    if not np.isfinite(severity):
        return 1.0
    if leading == "overcharge":
        return round(severity - 1.0, 4)
    if leading == "non_condensables":
        return round(min(severity / GAS_MOL, 1.0), 4)
    if leading == "heat_load":
        k = machine.circuit["cabinet"]
        healthy = (
            k["fresh_food_conductance_w_k"][0] * (room - k["fresh_food_set_k"][0])
            + k["freezer_conductance_w_k"][0] * (room - k["freezer_set_k"][0])
            + k["heater_power_w"][0] + k["opening_power_w"][0]
        )  # fmt: skip
        return round(float(severity / healthy), 4)
    return round(1.0 - severity, 4)


def load(path: Path = FILE) -> list[dict]:
    """The frozen visits.

    Parameters
    ----------
    path : Path
        Another file of visits.
    """
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]


def faults_of(row: dict) -> tuple[str, ...]:
    """What ails the machine of a visit.

    Parameters
    ----------
    row : dict
        A frozen visit.
    """
    return apart(row["fault"])


def main(count: int = COUNT) -> None:
    """Write the frozen file; tells how many drawings the bench refused."""
    sequence = np.random.SeedSequence(SEED)
    made = tried = 0
    with FILE.open("w", encoding="utf-8") as out:
        while made < count:
            rng = np.random.default_rng(sequence.spawn(1)[0])
            tried += 1
            row = one_visit(rng, made)
            if row is not None:
                out.write(json.dumps(row) + "\n")
                out.flush()
                made += 1
    print(f"{made} visits of {tried} drawings written to {FILE.name}", file=sys.stderr)


if __name__ == "__main__":
    main(*(int(a) for a in sys.argv[1:2]))

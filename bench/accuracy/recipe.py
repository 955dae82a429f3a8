"""The frozen jobs: how they were made. Run as ``python -m bench.accuracy.recipe``.

Each job is an invented appliance drawn from the families with its own seed, a
fault drawn from the prior the catalogue states (so that odds can be held to
their word), a severity, a room, and exactly six readings a technician could take
without opening the circuit, compartment temperatures counted among them. The
readings carry instrument and model error drawn from the laws the diagnosis
assumes: this shows whether the inference is honest about its own model, not
whether the model is true to every appliance.
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np

from coldwright.catalogue.families import FAMILIES, likely_refrigerants
from coldwright.catalogue.instruments import instruments
from coldwright.catalogue.priors import fault_prior
from coldwright.catalogue.sizing import DIMENSIONS, Known, kinds
from coldwright.circuit.records import CondenserKind, EvaporatorKind
from coldwright.cycle.medium import medium
from coldwright.diagnosis.ensemble import Block, surroundings_of
from coldwright.diagnosis.likelihood import draw_readings, setup
from coldwright.diagnosis.population import Population, members_for, simulate
from coldwright.diagnosis.subject import Subject
from coldwright.faults.kinds import fault_named

SEED = 70_201
COUNT = 1_000
FILE = Path(__file__).with_name("jobs.jsonl")
NAN = float("nan")
LAST_YEAR = 2024
PLAIN_SCORES = 35  # those of plain circuits, which all of these are; the rest size loops

# Six readings each; which style is taken at a visit is drawn. "settled" visits find the
# thermostat in charge, "drifting" ones a cabinet on its way.
STYLES = (
    ("drifting", ("freezer_temperature", "appliance_power", "condenser_middle_temperature",
                  "condenser_outlet_temperature", "evaporator_inlet_temperature",
                  "evaporator_outlet_temperature")),
    ("drifting", ("freezer_temperature", "appliance_power", "discharge_line_temperature",
                  "condenser_middle_temperature", "condenser_outlet_temperature",
                  "frosted_fraction")),
    ("drifting", ("freezer_temperature", "compressor_current", "condenser_middle_temperature",
                  "drier_inlet_temperature", "evaporator_inlet_temperature", "frosted_fraction")),
    ("settled", ("freezer_temperature", "run_fraction", "appliance_power",
                 "condenser_middle_temperature", "condenser_outlet_temperature",
                 "evaporator_outlet_temperature")),
    ("settled", ("freezer_temperature", "run_fraction", "condenser_middle_temperature",
                 "condenser_outlet_temperature", "evaporator_inlet_temperature",
                 "frosted_fraction")),
)  # fmt: skip


def known_of(rng: np.random.Generator) -> tuple[Known, str]:
    """A random plate without charge, and its refrigerant."""
    family = FAMILIES[int(rng.integers(len(FAMILIES)))]
    year = int(rng.integers(1982, LAST_YEAR))
    names, shares = zip(*likely_refrigerants(year), strict=True)
    refrigerant = str(rng.choice(names, p=np.array(shares) / sum(shares)))
    hertz = 60.0 if rng.random() < 0.5 else 50.0
    known = Known(family, float(year), NAN, NAN, NAN, NAN, NAN, hertz, None, None)
    return known, refrigerant


def make(count: int = COUNT, seed: int = SEED) -> list[dict]:
    """Draw the jobs."""
    rng = np.random.default_rng(seed)
    prior = fault_prior()
    tools = instruments()
    jobs: list[dict] = []
    while len(jobs) < count:
        known, refrigerant = known_of(rng)
        fault = str(rng.choice(list(prior), p=list(prior.values())))
        style, keys = STYLES[int(rng.integers(len(STYLES)))]
        room = float(np.clip(rng.normal(297.0, 5.0), 285.15, 314.15))
        z = np.zeros((1, DIMENSIONS))
        z[:, :PLAIN_SCORES] = rng.standard_normal((1, PLAIN_SCORES))
        job = _one(known, refrigerant, fault, style, keys, room, z, tools, rng)
        if job is not None:
            job["number"] = len(jobs)
            jobs.append(job)
    return jobs


def _one(known, refrigerant, fault, style, keys, room, z, tools, rng):  # type: ignore[no-untyped-def]
    med = medium(refrigerant)
    condenser, evaporator = (int(k[0]) for k in kinds(known, z))
    volts = 120.0 if known.frequency_hz == 60.0 else 230.0
    subject = Subject(
        known, ((refrigerant, 1.0),), room, NAN, NAN, True, volts, float("inf"), (), ()
    )
    members = members_for(med, subject, z)
    if not members.good[0]:
        return None
    true = simulate(med, subject, fault_named(fault), z, members)
    if not true.solved[0]:
        return None
    boundary = {}
    if style == "drifting":
        # Doors opened, goods moved: part of the way from where it settles to the room.
        ff, fz = float(true.states["fresh_food_k"][0]), float(true.states["freezer_k"][0])
        part = rng.uniform(0.0, 0.4)
        imposed_ff, imposed_fz = ff + part * (room - ff), fz + part * (room - fz)
        subject = Subject(
            known, ((refrigerant, 1.0),), room, imposed_ff, imposed_fz, False, volts,
            float("inf"), (), (),
        )  # fmt: skip
        true = simulate(med, subject, fault_named(fault), z, members)
        if not true.solved[0]:
            return None
        boundary = {"freezer_temperature": imposed_fz + float(rng.normal(0.0, 0.5))}
    block = Block(refrigerant, 1.0, med, (true,))
    used = [k for k in keys if k not in boundary]
    truth = np.array([[block.column(true, k, volts)[0] for k in used]])
    if not np.isfinite(truth).all():
        return None
    chosen = tuple(tools[k] for k in used)
    air, start = surroundings_of(true, chosen, used, truth)
    setting = setup(chosen, np.full(len(used), np.nan), float("inf"))
    read = draw_readings(setting, truth[0], air[0], start[0], rng)
    low_high = {"run_fraction": (0.0, 1.0), "frosted_fraction": (0.0, 1.0)}
    readings = dict(boundary)
    for k, v in zip(used, read, strict=True):
        low, high = low_high.get(k, (-np.inf, np.inf))
        if k.endswith(("power", "current")):
            low = 0.0
        readings[k] = round(float(np.clip(v, low, high)), 4)
    cabinet = true.circuits["cabinet"]
    return {
        "kind": known.family.kind,
        "year": int(known.year),
        "refrigerant": refrigerant,
        "charge_kg": round(float(members.design_charge_kg[0]), 3),
        "frequency_hz": known.frequency_hz,
        "condenser": CondenserKind(condenser).name.lower(),
        "evaporator": EvaporatorKind(evaporator).name.lower(),
        "room_k": round(room, 2),
        "style": style,
        "fault": fault,
        "severity": _number(true.severity[0]),
        "effect": _effect(fault, true, members, cabinet, room),
        "readings": readings,
    }


def _number(x: float) -> float | None:
    return round(float(x), 4) if np.isfinite(x) else None


def _effect(fault: str, true: Population, members, cabinet, room: float) -> float | None:  # type: ignore[no-untyped-def]
    """1 - fraction; overcharge: fraction - 1; heat load: share of the healthy cabinet's load."""
    severity = float(true.severity[0])
    if fault == "nothing_wrong":
        return None
    if fault in ("capillary_blocked", "compressor_not_running"):
        return 1.0
    if fault == "overcharge":
        return round(severity - 1.0, 4)
    if fault == "heat_load":
        healthy = (
            cabinet["fresh_food_conductance_w_k"][0] * (room - members.set_fresh_food_k[0])
            + cabinet["freezer_conductance_w_k"][0] * (room - members.set_freezer_k[0])
            + cabinet["heater_power_w"][0] + cabinet["opening_power_w"][0]
        )  # fmt: skip
        return round(float(severity / healthy), 4)
    return round(1.0 - severity, 4)


def load(path: Path = FILE) -> list[dict]:
    """The frozen jobs."""
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]


def main() -> None:
    """Write the frozen file."""
    jobs = make()
    with FILE.open("w", encoding="utf-8") as out:
        for job in jobs:
            out.write(json.dumps(job) + "\n")
    print(f"{len(jobs)} jobs written to {FILE.name}")


if __name__ == "__main__":
    main()

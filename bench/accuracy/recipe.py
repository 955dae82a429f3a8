"""The frozen jobs: how they were made. Run as ``python -m bench.accuracy.recipe``.

Each job is an invented appliance drawn from the families, a complaint, and a fault or
a pair drawn from the prior the catalogue states for that complaint (so that odds can
be held to their word), a severity, a room, and a visit: the readings and signs of
`visit`, nothing opened; two pressures are kept apart for the second score. Two jobs
in three are foreign: the truth comes from other closures (`foreign`), and the
technician is not the catalogue's. The third is of our own model, its readings with
the model error that the diagnosis assumes.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import numpy as np

from bench.accuracy import foreign, visit
from coldwright.catalogue.families import FAMILIES, likely_refrigerants
from coldwright.catalogue.pairs import prior_with_pairs
from coldwright.catalogue.priors import Background
from coldwright.catalogue.sizing import DIMENSIONS, Known, Members, kinds
from coldwright.catalogue.ways import WAYS
from coldwright.circuit.layout import Layout
from coldwright.circuit.records import CondenserKind, EvaporatorKind
from coldwright.cli.as_json import joined
from coldwright.cycle.medium import medium
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.population import Population, members_for, simulate
from coldwright.diagnosis.subject import Subject

SEED = 90_101
COUNT = 1_500  # of which two thirds are foreign
FILE = Path(__file__).with_name("jobs.jsonl")
NAN = float("nan")
LAST_YEAR = 2024
# What owners call for; shares are ours. The prior of the faults follows the complaint.
COMPLAINTS = {
    "nothing_cold": 0.16, "fresh_food_warm_freezer_good": 0.16, "both_too_warm": 0.29,
    "runs_all_the_time": 0.13, "does_not_start": 0.06, "trips_the_breaker": 0.02,
    "too_cold": 0.02, "noise": 0.04, "frost_or_water": 0.10,
    "freezer_warm_fresh_food_good": 0.01, "fresh_food_freezes": 0.01,
}  # fmt: skip
LAYOUTS = (
    (Layout.PLAIN, 0.55), (Layout.FRAME_LOOP, 0.30), (Layout.OIL_COOLER, 0.08),
    (Layout.BOTH, 0.07),
)  # fmt: skip
TOLD = 0.5  # of the jobs name the layout; in the others it is what is usual
SETTLED = 0.4  # of the visits find the thermostat in charge, the others a cabinet on its way


def known_of(rng: np.random.Generator, z: np.ndarray) -> tuple[Known, str]:
    """A random plate without charge, and its refrigerant; the coils as seen."""
    family = FAMILIES[int(rng.integers(len(FAMILIES)))]
    year = int(rng.integers(1985, LAST_YEAR))
    names, shares = zip(*likely_refrigerants(year), strict=True)
    refrigerant = str(rng.choice(names, p=np.array(shares) / sum(shares)))
    hertz = 60.0 if rng.random() < 0.5 else 50.0
    layout = None
    if rng.random() < TOLD:
        at = int(rng.choice(len(LAYOUTS), p=[share for _, share in LAYOUTS]))
        layout = LAYOUTS[at][0]
    known = Known(
        family, float(year), NAN, NAN, NAN, NAN, NAN, hertz, None, None, layout
    )  # fmt: skip
    condenser, evaporator = (int(k[0]) for k in kinds(known, z))
    seen = Known(
        family, float(year), NAN, NAN, NAN, NAN, NAN, hertz, CondenserKind(condenser),
        EvaporatorKind(evaporator), layout,
    )  # fmt: skip
    return seen, refrigerant


def make(count: int = COUNT, seed: int = SEED) -> list[dict]:
    """Draw the jobs."""
    jobs: list[dict] = []
    sequence = np.random.SeedSequence(seed)
    while len(jobs) < count:
        rng = np.random.default_rng(sequence.spawn(1)[0])
        job = _one(rng, is_foreign=len(jobs) % 3 != 2)
        if job is not None:
            job["number"] = len(jobs)
            jobs.append(job)
            if len(jobs) % 50 == 0:
                print(f"\r{len(jobs)}", end="", file=sys.stderr)
    return jobs


def _one(rng: np.random.Generator, *, is_foreign: bool) -> dict | None:
    z = rng.standard_normal((1, DIMENSIONS))
    known, gas = known_of(rng, z)
    complaint = str(rng.choice([*COMPLAINTS], p=[*COMPLAINTS.values()]))
    assert known.condenser is not None
    assert known.evaporator is not None
    coils = known.condenser.name.lower(), known.evaporator.name.lower()
    prior = prior_with_pairs(complaint, Background(condenser=coils[0], evaporator=coils[1]), gas)
    faults = list(prior)[rng.choice(len(prior), p=list(prior.values()))]
    room = float(np.clip(rng.normal(297.0, 4.0), 289.15, 313.15))
    volts = 120.0 if known.frequency_hz == 60.0 else 230.0
    closures = foreign.draw(rng, 1)
    med = foreign.foreign_medium(gas, closures) if is_foreign else medium(gas)

    def at(fresh: float, cold: float, settled: bool) -> Subject:
        return Subject(
            known, ((gas, 1.0),), room, fresh, cold, settled, volts, float("inf"), (), ()
        )

    subject = at(NAN, NAN, True)
    members = foreign.sized(med, known, z, closures) if is_foreign else members_for(med, subject, z)
    if not members.good[0]:
        return None

    def solved(where: Subject) -> Population:
        chosen = hypothesis_named(*faults)
        if is_foreign:
            return foreign.truth(med, where, chosen, z, members, closures, gas)
        return simulate(med, where, chosen, z, members, refrigerant=gas)

    true = solved(subject)
    if not true.solved[0]:
        return None
    settled = bool(rng.random() < SETTLED)
    keys = (*visit.OUTSIDE, *visit.SETTLED_TOO)
    boundary: dict[str, float] = {}
    if not settled:
        # Doors opened, goods moved: part of the way from where it settles to the room.
        part = rng.uniform(0.0, 0.4)
        ff, fz = (float(true.states[f"{n}_k"][0]) for n in ("fresh_food", "freezer"))
        ff, fz = ff + part * (room - ff), fz + part * (room - fz)
        true = solved(at(ff, fz, False))
        if not true.solved[0]:
            return None
        names = ("freezer_temperature", "fresh_food_temperature")
        values = (fz, ff)[: 1 if known.family.one_compartment else 2]
        boundary = {
            k: round(v + float(rng.normal(0.0, 0.5)), 3)
            for k, v in zip(names, values, strict=False)
        }
        keys = (*visit.OUTSIDE, *visit.DRIFTING_TOO)
    elif known.family.one_compartment:
        keys = tuple(k for k in keys if k != "fresh_food_temperature")
    outside = visit.read(true, gas, med, keys, volts, rng, foreign=is_foreign)
    opened = visit.read(true, gas, med, visit.OPENED, volts, rng, foreign=is_foreign)
    if outside is None:
        return None
    return {
        "foreign": is_foreign,
        "kind": known.family.kind,
        "year": int(known.year),
        "refrigerant": gas,
        "charge_kg": round(float(members.design_charge_kg[0]), 3),
        "frequency_hz": known.frequency_hz,
        "layout": None if known.layout is None else known.layout.value,
        "condenser": coils[0],
        "evaporator": coils[1],
        "complaint": complaint,
        "room_k": round(room, 2),
        "settled": settled,
        "fault": joined(faults),
        "severity": _number(true.severity[0]),
        "way": None if true.way is None else WAYS[faults[0]][int(true.way[0])].effect.identifier,
        "effect": _effect(faults[0], true, members, room, settled),
        "readings": boundary | outside,
        "signs": visit.look(true, rng, foreign=is_foreign),
        "opened": opened,
    }


def _number(x: float) -> float | None:
    return round(float(x), 4) if np.isfinite(x) else None


def _effect(
    leading: str, true: Population, members: Members, room: float, settled: bool
) -> float | None:
    """1 - fraction; overcharge: fraction - 1; heat load: share of the healthy cabinet's load.

    A pair has the effect of its leading fault. Gas inside: its moles over those of
    a plainly spoilt one. Faults without a severity have 1, but none where the way they
    came about leaves nothing to see at this visit: a shifted setting or flap in a cabinet
    on its way, an ice plug that has just melted.
    """
    severity = float(true.severity[0])
    if leading == "nothing_wrong" or (true.way is not None and not _shows(true, settled)):
        return None
    if not np.isfinite(severity):
        return 1.0
    if leading == "overcharge":
        return round(severity - 1.0, 4)
    if leading == "non_condensables":
        return round(min(severity / GAS_MOL, 1.0), 4)
    if leading == "heat_load":
        cabinet = true.circuits["cabinet"]
        healthy = (
            cabinet["fresh_food_conductance_w_k"][0] * (room - members.set_fresh_food_k[0])
            + cabinet["freezer_conductance_w_k"][0] * (room - members.set_freezer_k[0])
            + cabinet["heater_power_w"][0] + cabinet["opening_power_w"][0]
        )  # fmt: skip
        return round(float(severity / healthy), 4)
    return round(1.0 - severity, 4)


def _shows(true: Population, settled: bool) -> bool:
    """Whether the way a fault came about moves anything at this visit."""
    assert true.way is not None
    way = WAYS[true.faults[0]][int(true.way[0])]
    if way.which == "wrong_refrigerant":
        return True
    return way.effect.identifier != "nothing_wrong" and (settled or not way.settled_only)


GAS_MOL = 0.03  # air that plainly spoils the condensing of a household circuit, ours


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

"""Diagnose the frozen jobs, resumable, with progress."""

from __future__ import annotations

import json
import os
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from bench.accuracy.recipe import load
from coldwright.readings.job import CircuitSeen, Job, Plate, Reading, Room, Taken

FOLDER = Path(os.environ.get("COLDWRIGHT_ACCURACY", ".cache/accuracy"))
MEMBERS = 1_650
PARTICLES = 100  # drawn nearer per fault in question and round
ENOUGH = 60.0  # effective members of a fault at which no more are drawn


def job_of(raw: dict) -> Job:
    """A job record from a frozen row."""
    return Job(
        source=f"accuracy {raw['number']}",
        title="",
        plate=Plate(
            kind=raw["kind"],
            year=raw["year"],
            refrigerant=raw["refrigerant"],
            charge_kg=raw["charge_kg"],
            voltage_v=120.0 if raw["frequency_hz"] == 60.0 else 230.0,
            frequency_hz=raw["frequency_hz"],
        ),
        circuit=CircuitSeen(condenser=raw["condenser"], evaporator=raw["evaporator"]),
        room=Room(temperature_k=raw["room_k"]),
        taken=Taken(settled=raw["style"] == "settled"),
        readings=tuple(Reading(k, v, None, str(v)) for k, v in raw["readings"].items()),
    )


def answer(raw: dict, members: int, seed: int = 20260101, refine: bool = True) -> dict:
    """Odds for one frozen job."""
    import numpy as np

    from coldwright.diagnosis.ensemble import build
    from coldwright.diagnosis.posterior import severity_interval, sharpen, surprise, weigh
    from coldwright.diagnosis.subject import subject_of
    from coldwright.usecases.diagnose import chosen_instruments, evidence_of

    job = job_of(raw)
    subject = _with_prior(subject_of(job))
    evidence = evidence_of(job, subject, chosen_instruments(job))
    posterior = weigh(build(subject, np.random.default_rng(seed), members), evidence)
    rough = posterior.odds
    if refine:
        posterior = sharpen(
            posterior,
            np.random.default_rng(seed + 1),
            particles=round(PARTICLES * members / MEMBERS),
            enough=ENOUGH * members / MEMBERS,
        )
    interval = severity_interval(posterior, raw["fault"])
    return {
        "number": raw["number"],
        "odds": {k: round(v, 5) for k, v in posterior.odds.items()},
        "rough": {k: round(v, 5) for k, v in rough.items()},
        "severity": interval,
        "surprise": round(surprise(posterior), 5),
        "effective": round(posterior.effective_members, 1),
        "unsolved": posterior.ensemble.unsolved,
        "members": posterior.ensemble.members,
    }


def _with_prior(subject):  # type: ignore[no-untyped-def]
    """The plain prior the jobs were drawn from, without the coil kinds' factors."""
    import dataclasses

    from coldwright.catalogue.priors import fault_prior

    return dataclasses.replace(subject, prior=tuple(fault_prior().items()))


def _task(arguments: tuple[dict, int]) -> dict:
    return answer(*arguments)


def run(jobs: list[dict], members: int, path: Path) -> list[dict]:
    """Answer all jobs, skipping those already in `path`."""
    for name in ("COLDWRIGHT_THREADS", "OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
        os.environ.setdefault(name, "1")  # one process per core
    path.parent.mkdir(parents=True, exist_ok=True)
    done: dict[int, dict] = {}
    if path.exists():
        for line in path.read_text(encoding="utf-8").splitlines():
            row = json.loads(line)
            done[row["number"]] = row
    rest = [j for j in jobs if j["number"] not in done]
    started = time.monotonic()
    with path.open("a", encoding="utf-8") as out, ProcessPoolExecutor(os.cpu_count()) as pool:
        for k, row in enumerate(pool.map(_task, [(j, members) for j in rest]), 1):
            done[row["number"]] = row
            out.write(json.dumps(row) + "\n")
            out.flush()
            if k % 10 == 0 or k == len(rest):
                each = (time.monotonic() - started) / k
                left = each * (len(rest) - k) / 60.0
                print(f"\r{k}/{len(rest)} jobs, {each:.1f} s each, {left:.0f} min left ",
                      end="", file=sys.stderr, flush=True)  # fmt: skip
    print(file=sys.stderr)
    return [done[j["number"]] for j in jobs]


def jobs_and_answers(members: int = MEMBERS) -> tuple[list[dict], list[dict]]:
    """The frozen jobs with their answers, worked out where missing."""
    jobs = load()
    return jobs, run(jobs, members, FOLDER / f"answers-{members}.jsonl")

"""Diagnose the frozen jobs, resumable, with progress."""

from __future__ import annotations

import json
import os
import sys
import time
from concurrent.futures import ProcessPoolExecutor, as_completed
from pathlib import Path

from bench.accuracy.score import apart
from coldwright.cli.as_json import joined
from coldwright.faults.record import Together
from coldwright.readings.job import CircuitSeen, History, Job, Plate, Reading, Room, Sign, Taken

FOLDER = Path(os.environ.get("COLDWRIGHT_ACCURACY", ".cache/accuracy"))
MEMBERS = 1_500
PARTICLES = 60  # drawn nearer per fault in question and round
ENOUGH = 25.0  # effective members of a fault at which no more are drawn
SURE = 0.90  # odds of the leading group at which a visit may end
MOST_STEPS = 12
POWERS = (1.0, 0.75, 0.5, 0.35)  # of the likelihood in severity intervals, to choose from
TAPPED_EVERY = 6  # jobs answered once more with the pressures, all of them foreign


def job_of(raw: dict, *, opened: bool = False) -> Job:
    """A job record from a frozen row; with the pressures where the circuit was tapped."""
    readings = raw["readings"] | (raw["opened"] or {} if opened else {})
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
        circuit=CircuitSeen(
            layout=raw["layout"], condenser=raw["condenser"], evaporator=raw["evaporator"]
        ),
        room=Room(temperature_k=raw["room_k"]),
        history=History(complaint=raw["complaint"]),
        taken=Taken(settled=raw["settled"]),
        readings=tuple(Reading(k, v, None, str(v)) for k, v in readings.items()),
        signs=tuple(Sign(k, seen) for k, seen in raw["signs"].items()),
    )


def answer(raw: dict, members: int, seed: int = 20260101, refine: bool = True) -> dict:
    """Odds for one frozen job: before, nearer, with pressures, and reading by reading."""
    from coldwright.case.background import Background, Refinement
    from coldwright.case.case import Case
    from coldwright.diagnosis.posterior import severity_interval, surprise, weigh

    started = time.process_time()
    near = Refinement(
        round(PARTICLES * members / MEMBERS), ENOUGH * members / MEMBERS,
        round(2 * PARTICLES * members / MEMBERS),
    )  # fmt: skip
    background = Background(seed, members, refine, near)
    case = Case(job_of(raw), background)
    rough = weigh(case.ensemble, case.evidence).odds
    posterior = case.weighed
    intervals = {
        f"{power:g}": severity_interval(posterior, apart(raw["fault"]), power=power)
        for power in POWERS
    }
    tapped = None
    if raw["opened"] and raw["number"] % TAPPED_EVERY == 0:
        tapped = _rounded(Case(job_of(raw, opened=True), background).weighed.odds)
    return {
        "number": raw["number"],
        "odds": _rounded(posterior.odds),
        "rough": _rounded(rough),
        "logs": {joined(g.population.faults): round(g.log_whole, 3) for g in posterior.groups},
        "tapped": tapped,
        "steps": _steps(posterior, case.evidence, seed),
        "severities": intervals,
        "surprise": round(surprise(posterior), 5),
        "effective": round(posterior.effective_members, 1),
        "unsolved": posterior.ensemble.unsolved,
        "members": posterior.ensemble.members,
        "seconds": round(time.process_time() - started, 2),
    }


def _rounded(odds: dict[Together, float]) -> dict[str, float]:
    return {joined(k): round(v, 6) for k, v in odds.items()}


def _steps(  # type: ignore[no-untyped-def]
    posterior, evidence, seed: int
) -> tuple[int, int] | None:
    """Readings and signs asked, the most telling per minute first, until one group is sure.

    All of them, and of these the readings of an instrument; None where none becomes sure.
    """
    import dataclasses

    import numpy as np

    from bench.accuracy.score import present
    from coldwright.catalogue.instruments import instruments
    from coldwright.diagnosis.next_check import outlook, plan
    from coldwright.diagnosis.posterior import weigh

    tools = dict(instruments())
    rng = np.random.default_rng(seed + 3)
    have: list[str] = []
    every = [*evidence.keys, *(s for s, _ in evidence.signs)]
    for step in range(MOST_STEPS + 1):
        keep = [i for i, k in enumerate(evidence.keys) if k in have]
        part = dataclasses.replace(
            evidence,
            keys=tuple(evidence.keys[i] for i in keep),
            values=evidence.values[keep],
            stated_sd=evidence.stated_sd[keep],
            instruments=tuple(evidence.instruments[i] for i in keep),
            signs=tuple(s for s in evidence.signs if s[0] in have),
        )
        now = weigh(posterior.ensemble, part)
        if max(present(now.odds).values()) >= SURE:
            return step, len(keep)
        left = frozenset(every) - set(have)
        seen = outlook(now, tools, rng)
        seen = dataclasses.replace(seen, views=tuple(v for v in seen.views if v.check in left))
        chosen = plan(seen, None, 1)
        if not chosen:
            return None
        have.append(chosen[0].check)
    return None


def _task(arguments: tuple[dict, int]) -> dict:
    return answer(*arguments)


def _cores() -> int:
    """Cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def answered(path: Path) -> dict[int, dict]:
    """Answers kept so far, by the job's number."""
    if not path.exists():
        return {}
    rows = (json.loads(line) for line in path.read_text(encoding="utf-8").splitlines())
    return {row["number"]: row for row in rows}


def run(jobs: list[dict], members: int, path: Path) -> list[dict]:
    """Answer all jobs, skipping those already in `path`."""
    for name in ("COLDWRIGHT_THREADS", "OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
        os.environ.setdefault(name, "1")  # one process per core
    path.parent.mkdir(parents=True, exist_ok=True)
    done = answered(path)
    rest = [j for j in jobs if j["number"] not in done]
    started = time.monotonic()
    with path.open("a", encoding="utf-8") as out, ProcessPoolExecutor(_cores()) as pool:
        asked = [pool.submit(_task, (job, members)) for job in rest]
        for k, finished in enumerate(as_completed(asked), 1):  # a slow job holds nobody up
            row = finished.result()
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

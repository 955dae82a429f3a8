"""Time of what a user waits for: a new appliance, a new reading, the start of a command."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from dataclasses import dataclass
from statistics import median

import numpy as np

from coldwright.case.evidence import chosen_instruments, evidence_of
from coldwright.diagnosis.ensemble import Ensemble, build
from coldwright.diagnosis.posterior import weigh
from coldwright.diagnosis.subject import Subject, subject_of
from coldwright.readings.job import Job
from coldwright.usecases.demo import SHOWN_FIRST, demo_jobs, pick_demo

MEMBERS = 10_000
# On one thread, as small ensembles fill no second one; there and back, so that a drift in the
# machine's load cancels.
COUNTS = (1_250, 2_500, 5_000, 2_500, 1_250)
RUN = "from coldwright.cli import main; main()"
STARTS = {
    "coldwright --help": ("-c", RUN, "--help"),
    "coldwright capillary": (
        "-c", RUN, "capillary", "--refrigerant", "R134a", "--bore", "0.66 mm", "--length", "2.9 m",
        "--inlet-pressure", "10 bar absolute", "--subcooling", "5 K",
    ),
}  # fmt: skip
BARE = ("-c", "import numpy")


@dataclass(frozen=True, slots=True)
class Ensembles:
    """One ensemble of MEMBERS on two threads, and what ensembles of COUNTS cost on one."""

    largest: Ensemble
    seconds: float
    processor_s: float  # of both threads together
    members: np.ndarray
    each_s: np.ndarray  # processor time a member

    @property
    def growth(self) -> float:
        """Power of the number of members the cost goes with; 1 = linear."""
        cost = np.log(self.members * self.each_s)
        return float(np.polyfit(np.log(self.members), cost, 1)[0])


def shown_job() -> Job:
    """The invented job the demo shows first."""
    return pick_demo(demo_jobs(), SHOWN_FIRST).job


def ensembles(job: Job, rng: np.random.Generator) -> Ensembles:
    """Build ensembles for a new appliance."""
    subject = subject_of(job)
    build(subject, rng, 300)  # loads what is compiled
    largest, seconds, processor = _build(subject, rng, MEMBERS, threads=2)
    small = [_build(subject, rng, count, threads=1) for count in COUNTS]
    members = np.array([made.members for made, _, _ in small], float)
    each = np.array([busy for _, _, busy in small]) / members
    return Ensembles(largest, seconds, processor, members, each)


def _build(
    subject: Subject, rng: np.random.Generator, count: int, *, threads: int
) -> tuple[Ensemble, float, float]:
    os.environ["COLDWRIGHT_THREADS"] = str(threads)  # read by `cycle.batches` at each loop
    start, busy = time.perf_counter(), time.process_time()
    made = build(subject, rng, count)
    return made, time.perf_counter() - start, time.process_time() - busy


def reweighing(job: Job, ensemble: Ensemble) -> tuple[float, int]:
    """Seconds to weigh an ensemble again when the last reading comes in, and its readings."""
    evidence = evidence_of(job, ensemble.subject, chosen_instruments(job))
    new = evidence.keys[-1]
    weigh(ensemble, evidence.without(new))
    taken = []
    for _ in range(9):
        for block in ensemble.blocks:  # the new reading's true values are worked out afresh
            for population in block.populations:
                block.columns.pop((population.faults, new), None)
        start = time.perf_counter()
        weigh(ensemble, evidence)
        taken.append(time.perf_counter() - start)
    return median(taken), len(evidence.keys)


def starts() -> dict[str, tuple[float, float]]:
    """Seconds, and of processor time, of each command and of a bare interpreter with numpy."""
    return {name: _start(arguments) for name, arguments in (*STARTS.items(), ("bare", BARE))}


def _start(arguments: tuple[str, ...]) -> tuple[float, float]:
    taken, processor = [], []
    for _ in range(4):
        start, busy = time.perf_counter(), _children()
        subprocess.run([sys.executable, *arguments], check=True, capture_output=True)
        taken.append(time.perf_counter() - start)
        processor.append(_children() - busy)
    return median(taken[1:]), median(processor[1:])  # the first warms the disk's cache


def _children() -> float:
    used = os.times()
    return used.children_user + used.children_system

"""Time of what a user waits for: a new appliance, a new reading, the start of a command."""

from __future__ import annotations

import subprocess
import sys
import time
from dataclasses import dataclass
from statistics import median

import CoolProp
import numpy as np

from coldwright.diagnosis.ensemble import Ensemble, build
from coldwright.diagnosis.posterior import weigh
from coldwright.diagnosis.subject import subject_of
from coldwright.readings.job import Job
from coldwright.usecases.demo import SHOWN_FIRST, demo_jobs, pick_demo
from coldwright.usecases.diagnose import chosen_instruments, evidence_of

COUNTS = (2_500, 5_000, 10_000)
STATES = 20_000  # CoolProp states the unit of time is taken from
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
    """Seconds to build ensembles of COUNTS members, and members really simulated."""

    members: np.ndarray
    seconds: np.ndarray
    last: Ensemble

    @property
    def growth(self) -> float:
        """Power of the number of members the cost goes with; 1 = linear."""
        return float(np.polyfit(np.log(self.members), np.log(self.seconds), 1)[0])


def coolprop_state() -> float:
    """Seconds of one direct CoolProp saturation state, the unit the ratios are against."""
    state = CoolProp.AbstractState("HEOS", "R134a")
    pressures = np.geomspace(0.5e5, 15e5, STATES).tolist()
    start = time.thread_time()
    for p in pressures:
        state.update(CoolProp.PQ_INPUTS, p, 0.0)
    return (time.thread_time() - start) / STATES


def shown_job() -> Job:
    """The invented job the demo shows first."""
    return pick_demo(demo_jobs(), SHOWN_FIRST).job


def ensembles(job: Job, rng: np.random.Generator) -> Ensembles:
    """Build ensembles for a new appliance on both threads."""
    subject = subject_of(job)
    build(subject, rng, 300)  # loads what is compiled
    members, seconds = [], []
    for count in COUNTS:
        start = time.perf_counter()
        made = build(subject, rng, count)
        seconds.append(time.perf_counter() - start)
        members.append(made.members)
    return Ensembles(np.array(members, float), np.array(seconds), made)


def reweighing(job: Job, ensemble: Ensemble) -> tuple[float, int]:
    """Seconds to weigh an ensemble again when the last reading comes in, and its readings."""
    evidence = evidence_of(job, ensemble.subject, chosen_instruments(job))
    new = evidence.keys[-1]
    weigh(ensemble, evidence.without(new))
    taken = []
    for _ in range(9):
        for block in ensemble.blocks:  # the new reading's true values are worked out afresh
            for population in block.populations:
                block.columns.pop((population.fault, new), None)
        start = time.perf_counter()
        weigh(ensemble, evidence)
        taken.append(time.perf_counter() - start)
    return median(taken), len(evidence.keys)


def starts() -> dict[str, float]:
    """Seconds from a command to its end, and of a bare interpreter with numpy, all warm."""
    return {name: _start(arguments) for name, arguments in (*STARTS.items(), ("bare", BARE))}


def _start(arguments: tuple[str, ...]) -> float:
    taken = []
    for _ in range(4):
        start = time.perf_counter()
        subprocess.run([sys.executable, *arguments], check=True, capture_output=True)
        taken.append(time.perf_counter() - start)
    return median(taken[1:])

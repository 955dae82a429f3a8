"""The shipped example circuits, as the physics tests use them."""

import math
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import coldwright
from coldwright.circuit.files import circuit_from_geometry
from coldwright.circuit.records import Circuit, Surroundings
from coldwright.readings.job import Job
from coldwright.readings.jobfile import load_job

ROOM_K = 298.15
FOLDER = Path(coldwright.__file__).parent / "examples"


@dataclass(frozen=True)
class Shipped:
    """One example: its job and its circuit."""

    job: Job
    circuit: Circuit


@cache
def example(name: str) -> Shipped:
    """An example by the stem of its file."""
    job = load_job(FOLDER / f"{name}.toml")
    assert job.plate.charge_kg is not None
    return Shipped(
        job, circuit_from_geometry(job.circuit.geometry, job.plate.charge_kg, job.plate.refrigerant)
    )


def names(pattern: str = "*") -> list[str]:
    """Stems of the examples of that pattern."""
    return sorted(path.stem for path in FOLDER.glob(f"{pattern}.toml"))


def settled_room(room_k: float = ROOM_K) -> Surroundings:
    """Nothing imposed but the room."""
    return Surroundings(room_k, 230.0, math.nan, math.nan, 0.0)

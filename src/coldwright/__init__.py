"""Coldwright: a physical model of the household refrigerator in front of you.

The names below are imported when they are first asked for: `import coldwright` costs nothing.
docs/tour.md walks through them.

Compiled kernels are kept on disk under a name made from their sources: a change in
any of them compiles all of them again (`refrigerant.compiled`).
"""

from __future__ import annotations

import hashlib
import importlib
import os
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from coldwright import errors, units
    from coldwright.case.background import Background
    from coldwright.case.case import Case
    from coldwright.circuit.records import Circuit, Surroundings
    from coldwright.cycle.capillary.flow import capillary_flow
    from coldwright.cycle.medium import Medium, medium
    from coldwright.faults.registry import FAULTS
    from coldwright.leak.rates import LeakRate
    from coldwright.readings.job import Job
    from coldwright.readings.jobfile import job_from_text, load_job
    from coldwright.readings.keys import READINGS
    from coldwright.usecases.diagnose import diagnose
    from coldwright.usecases.simulate import simulate

__version__ = "0.1.0"
__all__ = [
    "FAULTS",
    "READINGS",
    "Background",
    "Case",
    "Circuit",
    "Job",
    "LeakRate",
    "Medium",
    "Surroundings",
    "capillary_flow",
    "diagnose",
    "errors",
    "job_from_text",
    "load_job",
    "medium",
    "simulate",
    "units",
]
_HOME = {
    "FAULTS": "faults.registry",
    "READINGS": "readings.keys",
    "Background": "case.background",
    "Case": "case.case",
    "Circuit": "circuit.records",
    "Job": "readings.job",
    "LeakRate": "leak.rates",
    "Medium": "cycle.medium",
    "Surroundings": "circuit.records",
    "capillary_flow": "cycle.capillary.flow",
    "diagnose": "usecases.diagnose",
    "job_from_text": "readings.jobfile",
    "load_job": "readings.jobfile",
    "medium": "cycle.medium",
    "simulate": "usecases.simulate",
}

_KERNEL_ROOMS = ("refrigerant", "circuit", "cycle")
_KERNEL_FILES = ("diagnosis/likelihood.py",)


def kernel_digest() -> str:
    """Short digest of every source that compiled code may come from."""
    digest = hashlib.sha256()
    here = Path(__file__).parent
    paths = [p for room in _KERNEL_ROOMS for p in sorted((here / room).rglob("*.py"))]
    for path in (*paths, *(here / name for name in _KERNEL_FILES)):
        digest.update(path.relative_to(here).as_posix().encode())
        digest.update(path.read_bytes())
    return digest.hexdigest()[:12]


def cache_folder() -> Path:
    """Folder for tables and compiled code: COLDWRIGHT_CACHE, else the user's cache folder."""
    named = os.environ.get("COLDWRIGHT_CACHE")
    if named:
        return Path(named)
    base = os.environ.get("XDG_CACHE_HOME")
    if base:
        return Path(base) / "coldwright"
    try:
        return Path.home() / ".cache" / "coldwright"
    except RuntimeError:  # a process without a home
        return Path(tempfile.gettempdir()) / f"coldwright-{os.getpid()}"


def __getattr__(name: str) -> object:
    """A name of the library, imported now; kernels come with it where it needs them."""
    if name in _HOME:
        found = getattr(importlib.import_module(f"coldwright.{_HOME[name]}"), name)
    elif name in ("errors", "units"):
        found = importlib.import_module(f"coldwright.{name}")
    else:
        raise AttributeError(f"module 'coldwright' has no attribute {name!r}")
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})

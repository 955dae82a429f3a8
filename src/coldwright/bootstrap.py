"""Where settings become what the clients are given: folders, address, use cases.

Use cases are imported when first asked for; they bring the compiled kernels with them.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from coldwright.diagnosis.result import Diagnosis

if TYPE_CHECKING:
    from coldwright.usecases.pulldown import Hours
    from coldwright.usecases.simulate import Simulation

HOST = "127.0.0.1"  # loopback: nobody else on the network sees the jobs
PORT = 8700


@dataclass(frozen=True, slots=True)
class Settings:
    """What a user can set from outside."""

    jobs_folder: Path


def settings(environment: Mapping[str, str] = os.environ) -> Settings:
    """Settings from the environment.

    Parameters
    ----------
    environment : mapping
        COLDWRIGHT_JOBS names the folder of job files; else it is the user's data folder.
    """
    named = environment.get("COLDWRIGHT_JOBS")
    if named:
        return Settings(Path(named))
    data = environment.get("XDG_DATA_HOME") or str(Path.home() / ".local" / "share")
    return Settings(Path(data) / "coldwright" / "jobs")


def diagnose_use_case() -> Callable[..., Diagnosis]:
    """`usecases.diagnose.diagnose`."""
    from coldwright.usecases.diagnose import diagnose

    return diagnose


def simulate_use_case() -> Callable[..., Simulation]:
    """`usecases.simulate.simulate`."""
    from coldwright.usecases.simulate import simulate

    return simulate


def pulldown_use_case() -> Callable[..., Hours]:
    """`usecases.pulldown.pulldown`."""
    from coldwright.usecases.pulldown import pulldown

    return pulldown

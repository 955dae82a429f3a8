"""Where settings become what the clients are given: folders, address, use cases.

Use cases are imported when first asked for; they bring the compiled kernels with them.
"""

from __future__ import annotations

import datetime
import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING

from coldwright.diagnosis.result import Diagnosis

if TYPE_CHECKING:
    from coldwright.cycle.simulation import Simulation
    from coldwright.leak.search import SearchReport
    from coldwright.transient.hours import Hours
    from coldwright.usecases.inside import Inside
    from coldwright.worth.report import RepairReport

HOST = "127.0.0.1"  # loopback: nobody else on the network sees the jobs
PORT = 8700


@dataclass(frozen=True, slots=True)
class Settings:
    """What a user can set from outside."""

    jobs_folder: Path
    shop_file: Path | None = None  # rates and prices; None where there is none
    proven_folder: Path | None = None  # job files with outcomes; None where not named


def settings(environment: Mapping[str, str] = os.environ) -> Settings:
    """Settings from the environment.

    Parameters
    ----------
    environment : mapping
        COLDWRIGHT_JOBS names the folder of job files; else it is the user's data folder.
        COLDWRIGHT_SHOP names the shop file; else `shop.toml` beside the jobs' folder, if there.
        COLDWRIGHT_PROVEN names the folder of job files whose outcomes move the odds.
    """
    data = Path(environment.get("XDG_DATA_HOME") or Path.home() / ".local" / "share")
    named, shop = environment.get("COLDWRIGHT_JOBS"), environment.get("COLDWRIGHT_SHOP")
    usual = data / "coldwright" / "shop.toml"
    file = Path(shop) if shop else usual if usual.is_file() else None
    proven = environment.get("COLDWRIGHT_PROVEN")
    jobs = Path(named) if named else data / "coldwright" / "jobs"
    return Settings(jobs, file, Path(proven) if proven else None)


def this_year() -> int:
    """The year by this machine's clock."""
    return datetime.date.today().year


def diagnose_use_case() -> Callable[..., Diagnosis]:
    """`usecases.diagnose.diagnose`."""
    from coldwright.usecases.diagnose import diagnose

    return diagnose


def leak_search_use_case() -> Callable[..., SearchReport]:
    """`usecases.leak.leak_search`."""
    from coldwright.usecases.leak import leak_search

    return leak_search


def simulate_use_case() -> Callable[..., Simulation]:
    """`usecases.simulate.simulate`."""
    from coldwright.usecases.simulate import simulate

    return simulate


def repair_use_case() -> Callable[..., RepairReport]:
    """`usecases.repair.repair`."""
    from coldwright.usecases.repair import repair

    return repair


def pulldown_use_case() -> Callable[..., Hours]:
    """`usecases.pulldown.pulldown`."""
    from coldwright.usecases.pulldown import pulldown

    return pulldown


def inside_use_case() -> Callable[..., Inside]:
    """`usecases.inside.inside`."""
    from coldwright.usecases.inside import inside

    return inside


def inside_figures() -> ModuleType:
    """`usecases.inside`: its figures of what was found."""
    from coldwright.usecases import inside as module

    return module

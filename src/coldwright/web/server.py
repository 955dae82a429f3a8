"""The web app served to a browser."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import uvicorn

from coldwright.bootstrap import this_year
from coldwright.diagnosis.result import Diagnosis
from coldwright.kept import Kept
from coldwright.readings.job import Job
from coldwright.usecases.demo import demo_folder
from coldwright.web.app import create_app
from coldwright.web.deps import Deps
from coldwright.web.shelf import FolderShelf

if TYPE_CHECKING:
    from coldwright.case.background import Background
    from coldwright.usecases.inside import Inside
    from coldwright.usecases.outcomes import ProvenFiles
    from coldwright.worth.report import RepairReport

_KEPT_REPORTS = 16
_LOOPBACK = ("localhost", "127.0.0.1")
_EVERYWHERE = "0.0.0.0"


def serve(
    host: str,
    port: int,
    folder: Path,
    *,
    lan: bool = False,
    shop_file: Path | None = None,
    proven_folder: Path | None = None,
) -> None:
    """Serve until interrupted.

    Parameters
    ----------
    host : str
        Address to listen on, such as '127.0.0.1'.
    port : int
        Port to listen on. [-]
    folder : Path
        Where the technician's job files are kept; made when the first one is.
    lan : bool
        Listen on every network of this machine; `host` is then not used.
    shop_file : Path, optional
        Rates and prices.
    proven_folder : Path, optional
        Proven jobs beside those of `folder`.
    """
    proven = _proven(folder, proven_folder)
    background = partial(_background, proven, shop_file)
    deps = Deps(
        _diagnose(background),
        FolderShelf(folder, demo_folder()),
        repair=_repair(background),
        proven=proven.read,
        inside=_inside(background),
        first_look=_first_look(background),
    )
    address = _EVERYWHERE if lan else host
    print(f"Coldwright: http://{'localhost' if lan else host}:{port}  (jobs in {folder})")
    if lan:
        print(
            "Warning: open to every device on this network, without a password. "
            "Anyone on it can read and change the jobs. Use it on your own Wi-Fi only.",
            file=sys.stderr,
        )
    hosts = _LOOPBACK if address in _LOOPBACK else ("*",)
    uvicorn.run(create_app(deps, hosts=hosts), host=address, port=port, log_level="warning")


def _proven(folder: Path, also: Path | None) -> ProvenFiles:
    """The technician's own proven jobs; edited copies of invented ones do not count."""
    from coldwright.usecases.outcomes import ProvenFiles

    invented = frozenset(path.stem for path in demo_folder().glob("*.toml"))
    places = [folder, *([also] if also is not None else [])]
    return ProvenFiles(places, besides=invented, missing_too=True)


def _background(proven: ProvenFiles, shop_file: Path | None) -> Background:
    """What a diagnosis stands on now: prices and outcomes are read anew, they change."""
    from coldwright.learning.experience import background_of
    from coldwright.readings.shop import NO_SHOP, load_shop

    shop = NO_SHOP if shop_file is None else load_shop(shop_file)
    return background_of(shop=shop, this_year=this_year(), proven=proven.read())


def _diagnose(background: Callable[[], Background]) -> Callable[[Job], Diagnosis]:
    """The use case, imported only now: it brings the compiled kernels with it."""
    from coldwright.case.case import Case
    from coldwright.usecases.diagnose import diagnosis_of

    return lambda job: diagnosis_of(Case(job, background()))


def _first_look(background: Callable[[], Background]) -> Callable[[Job], Diagnosis | None]:
    """Odds at once from the appliances that were simulated before."""
    from coldwright.case.case import Case
    from coldwright.usecases.diagnose import first_look

    return lambda job: first_look(Case(job, background()))


def _inside(background: Callable[[], Background]) -> Callable[[Job], Inside]:
    """The leading fault of the same odds, drawn."""
    from coldwright.case.case import Case
    from coldwright.usecases.inside import inside_of

    return lambda job: inside_of(Case(job, background()))


def _repair(
    background: Callable[[], Background],
) -> Callable[[Job, Diagnosis, str | None], RepairReport]:
    """The use case with the shop's settings."""
    from coldwright.case.case import Case
    from coldwright.usecases.repair import repair_of
    from coldwright.worth.choice import with_sheet

    reports: Kept[RepairReport] = Kept(_KEPT_REPORTS)

    def worked_out(job: Job, diagnosis: Diagnosis, alternative: str | None) -> RepairReport:
        case = Case(job, background())
        key = (job, diagnosis, case.background.shop)
        report = reports.get(key, lambda: repair_of(case, diagnosis=diagnosis))
        return report if alternative is None else with_sheet(report, alternative)

    return worked_out

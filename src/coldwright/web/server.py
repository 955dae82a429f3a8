"""The web app served to a browser."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

import uvicorn

from coldwright.bootstrap import this_year
from coldwright.diagnosis.result import Diagnosis
from coldwright.readings.job import Job
from coldwright.usecases.demo import demo_folder
from coldwright.web.app import create_app
from coldwright.web.deps import Deps
from coldwright.web.shelf import FolderShelf

if TYPE_CHECKING:
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
    deps = Deps(
        _diagnose(proven, shop_file),
        FolderShelf(folder, demo_folder()),
        repair=_repair(shop_file),
        proven=proven.read,
        first_look=_first_look(proven, shop_file),
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


def _diagnose(proven: ProvenFiles, shop_file: Path | None) -> Callable[[Job], Diagnosis]:
    """The use case, imported only now: it brings the compiled kernels with it."""
    from coldwright.readings.shop import NO_SHOP, load_shop
    from coldwright.usecases.diagnose import diagnose

    def worked_out(job: Job) -> Diagnosis:
        shop = NO_SHOP if shop_file is None else load_shop(shop_file)
        return diagnose(job, proven=proven.read(), shop=shop, this_year=this_year())

    return worked_out


def _first_look(proven: ProvenFiles, shop_file: Path | None) -> Callable[[Job], Diagnosis | None]:
    """Odds at once from the appliances that were simulated before."""
    from coldwright.readings.shop import NO_SHOP, load_shop
    from coldwright.usecases.diagnose import first_look

    def looked(job: Job) -> Diagnosis | None:
        shop = NO_SHOP if shop_file is None else load_shop(shop_file)
        return first_look(job, proven=proven.read(), shop=shop, this_year=this_year())

    return looked


def _repair(shop_file: Path | None) -> Callable[[Job, Diagnosis, str | None], RepairReport]:
    """The use case with the shop's settings, read anew for each job: prices change."""
    from coldwright.readings.shop import NO_SHOP, Shop, load_shop
    from coldwright.usecases.repair import repair
    from coldwright.worth.choice import with_sheet

    @lru_cache(_KEPT_REPORTS)
    def kept(job: Job, diagnosis: Diagnosis, shop: Shop) -> RepairReport:
        return repair(job, shop=shop, diagnosis=diagnosis, this_year=this_year())

    def worked_out(job: Job, diagnosis: Diagnosis, alternative: str | None) -> RepairReport:
        shop = NO_SHOP if shop_file is None else load_shop(shop_file)
        report = kept(job, diagnosis, shop)
        return report if alternative is None else with_sheet(report, alternative)

    return worked_out

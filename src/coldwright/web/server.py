"""The web app served to a browser."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import uvicorn

from coldwright.diagnosis.result import Diagnosis
from coldwright.readings.job import Job
from coldwright.usecases.demo import demo_folder
from coldwright.web.app import create_app
from coldwright.web.deps import Deps
from coldwright.web.shelf import FolderShelf

_LOOPBACK = ("localhost", "127.0.0.1")
_EVERYWHERE = "0.0.0.0"


def serve(host: str, port: int, folder: Path, *, lan: bool = False) -> None:
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
    """
    deps = Deps(diagnose=_diagnose(), jobs=FolderShelf(folder, demo_folder()))
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


def _diagnose() -> Callable[[Job], Diagnosis]:
    """The use case, imported only now: it brings the compiled kernels with it."""
    from coldwright.usecases.diagnose import diagnose

    return diagnose

"""`coldwright serve`: the web page."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from coldwright.bootstrap import HOST, PORT, settings
from coldwright.cli.options import whole
from coldwright.cli.progress import Progress

PORTS = (1, 65_535)


def serve(
    host: Annotated[str, typer.Option(help="Address to listen on.")] = HOST,
    port: Annotated[str, typer.Option(help="Port to listen on.")] = str(PORT),
    folder: Annotated[
        Path | None, typer.Option(help="Where job files are kept; COLDWRIGHT_JOBS names it too.")
    ] = None,
    lan: Annotated[
        bool, typer.Option("--lan", help="Listen to every device on this network, no password.")
    ] = False,
) -> None:
    """The same as a page in a browser, on this machine only unless --lan is given."""
    number = whole("--port", port, *PORTS)
    with Progress("starting the page"):
        from coldwright.web.server import serve as listen
    known = settings()
    listen(
        host,
        number,
        folder or known.jobs_folder,
        lan=lan,
        shop_file=known.shop_file,
        proven_folder=known.proven_folder,
    )

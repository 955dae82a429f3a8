"""`coldwright demo`: the invented shop, and the diagnosis of one of its jobs."""

from __future__ import annotations

from typing import Annotated

import typer

from coldwright.bootstrap import HOST, PORT
from coldwright.cli.command_diagnose import diagnosed, show
from coldwright.cli.options import system
from coldwright.cli.text import table, wrapped


def demo(
    name: Annotated[str | None, typer.Argument(metavar="[NAME]", help="Job to diagnose.")] = None,
    units: Annotated[str, typer.Option(help="si or us, for reading.")] = "si",
) -> None:
    """An invented repair shop, and the diagnosis of one of its jobs."""
    from coldwright.usecases.demo import INVENTED, demo_jobs, pick_demo

    options = {"system": system(units).value}
    jobs = demo_jobs()
    picked = pick_demo(jobs, name)
    lines = ["COLDWRIGHT DEMO", *wrapped(INVENTED), ""]
    lines += table((job.name, job.job.title) for job in jobs)
    lines += ["", f"Diagnosing {picked.name}", "=" * len(f"Diagnosing {picked.name}")]
    print("\n".join(lines), flush=True)
    show(picked.job, diagnosed(picked.job, options), options["system"])
    others = "Another job: coldwright demo NAME"
    page = f"As a web page: make serve (or coldwright serve), then open http://{HOST}:{PORT}"
    print("\n".join(["", *wrapped(others), *wrapped(page)]))

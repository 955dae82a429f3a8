"""The command line: thin, parse, call a use case, show. Nothing heavy is imported to show help."""

from __future__ import annotations

import sys

import typer

from coldwright.cli.boundary import run
from coldwright.cli.command_capillary import capillary
from coldwright.cli.command_demo import demo
from coldwright.cli.command_diagnose import diagnose
from coldwright.cli.command_leak import leak
from coldwright.cli.command_outcomes import outcomes
from coldwright.cli.command_pulldown import pulldown
from coldwright.cli.command_refrigerant import refrigerant
from coldwright.cli.command_repair import repair
from coldwright.cli.command_serve import serve
from coldwright.cli.command_simulate import simulate
from coldwright.cli.command_windings import windings

app = typer.Typer(
    name="coldwright",
    help="A physical model of the household refrigerator in front of you: honest odds of each "
    "fault from the rating plate and a few readings.",
    add_completion=False,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)
for command in (
    diagnose, simulate, pulldown, capillary, refrigerant, repair, windings, outcomes, demo,
    serve,
):  # fmt: skip
    app.command()(command)
app.add_typer(leak)


@app.callback(invoke_without_command=True)
def _root(context: typer.Context) -> None:
    if context.invoked_subcommand is None:
        print(context.get_help())


def main() -> None:
    """Entry point: run and leave with the exit status."""
    sys.exit(run(app))

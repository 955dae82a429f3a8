"""`coldwright leak`: rate, search, hold."""

from __future__ import annotations

import typer

from coldwright.cli.command_leak_hold import hold
from coldwright.cli.command_leak_rate import rate
from coldwright.cli.command_leak_search import search

leak = typer.Typer(
    name="leak",
    help="Find the leak: how big, which method can see it, where to look first.",
)


@leak.callback(invoke_without_command=True)
def _root(context: typer.Context) -> None:
    if context.invoked_subcommand is None:
        print(context.get_help())


for command in (rate, search, hold):
    leak.command()(command)

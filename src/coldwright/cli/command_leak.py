"""`coldwright leak`: rate, search, hold."""

from __future__ import annotations

import typer

from coldwright.cli.command_leak_hold import hold
from coldwright.cli.command_leak_rate import rate
from coldwright.cli.command_leak_search import search

leak = typer.Typer(
    name="leak",
    help="Find the leak: how big, which method can see it, where to look first.",
    no_args_is_help=True,
)
for command in (rate, search, hold):
    leak.command()(command)

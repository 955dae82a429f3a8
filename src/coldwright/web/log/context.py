"""What the part "Log" of a job's page is given."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LogPart:
    """log/_log.html"""

    state: str
    name: str  # file name of the log; empty where there is none
    lines: tuple[str, ...]
    error: str

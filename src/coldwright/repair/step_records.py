"""One step of a repair sheet."""

from __future__ import annotations

from dataclasses import dataclass

USUAL_SOURCE = "common practice, no published source; minutes are a judgement of ours"


@dataclass(frozen=True, slots=True)
class Step:
    """What to do, with what, how long, what can hurt here, what to record before going on."""

    identifier: str
    title: str
    do: tuple[str, ...]
    tools: tuple[str, ...] = ()
    minutes: float = 5.0  # at work
    waiting_minutes: float = 0.0  # while something cures, drains, equalises
    cautions: tuple[str, ...] = ()
    hold: str = ""  # what must be recorded, and the limit, before the next step
    source: str = USUAL_SOURCE
    done: bool = False  # the state of the job says it is behind us
    joints: tuple[int, ...] = ()  # numbers of the joints made in this step, from 1

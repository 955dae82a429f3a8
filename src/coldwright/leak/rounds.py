"""Steps of a search put together for reading."""

from __future__ import annotations

from typing import Protocol, TypeVar


class _Step(Protocol):
    @property
    def circuit_holds(self) -> str: ...

    @property
    def hold_hours(self) -> float: ...


S = TypeVar("S", bound=_Step)
ANYTHING = "any"


def in_rounds(steps: tuple[S, ...]) -> list[list[S]]:
    """Neighbours with the same thing inside; what needs nothing inside joins its neighbours.

    Parameters
    ----------
    steps : tuple
        In the order of the plan.

    Returns
    -------
    list[list of S]
        Rounds, each a list of steps.
    """
    rounds: list[list[S]] = []
    inside = ""
    for step in steps:
        joins = bool(rounds) and ANYTHING in (step.circuit_holds, inside)
        joins = joins or (bool(rounds) and step.circuit_holds == inside)
        held = step.hold_hours > 0.0 or bool(rounds and rounds[-1][-1].hold_hours > 0.0)
        if joins and not held:
            rounds[-1].append(step)
            inside = step.circuit_holds if inside == ANYTHING else inside
        else:
            rounds.append([step])
            inside = step.circuit_holds
    return rounds

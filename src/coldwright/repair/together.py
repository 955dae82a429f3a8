"""Two repairs done at one visit, for two faults at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from coldwright.repair.alternative_records import Alternative, Ending
from coldwright.repair.causes import Cause
from coldwright.repair.step_records import Step

IN_QUESTION = 0.03  # probability of two causes at once from which both repairs are offered; ours
_FRAME = ("make_safe", "run_check", "papers")  # steps that every repair has and that count once


def with_pairs(
    offered: tuple[Alternative, ...], causes: Sequence[Cause]
) -> tuple[Alternative, ...]:
    """The alternatives, and for every pair of causes in question both repairs at one visit.

    Parameters
    ----------
    offered : tuple of Alternative
        What can be done here.
    causes : sequence of Cause
        With their probabilities.

    Returns
    -------
    tuple of Alternative
        Those offered first, then the pairs.
    """
    made: dict[str, Alternative] = {}
    for cause in causes:
        parts = cause.names
        if len(parts) < 2 or cause.probability < IN_QUESTION:
            continue
        if any(a.ending is Ending.KEPT and a.chance(cause.names) > 0.0 for a in offered):
            continue  # one repair mends both
        best = [_best(offered, part) for part in parts]
        first, second = best[0], best[1]
        if first is None or second is None or first is second:
            continue
        both = together(first, second)
        made.setdefault(both.identifier, both)
    return (*offered, *made.values())


def together(first: Alternative, second: Alternative) -> Alternative:
    """Both repairs, the one that opens the circuit as the frame; what they share counts once.

    Parameters
    ----------
    first, second : Alternative
        Two repairs.

    Returns
    -------
    Alternative
        One alternative with both works.
    """
    base, other = (second, first) if second.opens_circuit > first.opens_circuit else (first, second)
    done = {s.identifier for s in base.steps}
    extra = tuple(s for s in other.steps if s.identifier not in {*done, *_FRAME})
    causes = dict.fromkeys((*(c for c, _ in base.mends), *(c for c, _ in other.mends)))
    mends = tuple((c, max(base.chance((c,)), other.chance((c,)))) for c in causes)
    counts = dict(base.items)
    for key, count in other.items:
        counts[key] = max(counts.get(key, 0.0), count)
    return replace(
        base,
        identifier=f"{base.identifier}+{other.identifier}",
        title=f"{base.title}; and: {other.title[:1].lower()}{other.title[1:]}",
        says=f"{base.says} {other.says}",
        mends=mends,
        steps=_inserted(base.steps, extra),
        items=tuple(counts.items()),
        comeback_per_year=base.comeback_per_year + other.comeback_per_year,
        notes=(*base.notes, *other.notes),
        both=(base.identifier, other.identifier),
    )


def _best(offered: Sequence[Alternative], cause: str) -> Alternative | None:
    able = [a for a in offered if a.ending is Ending.KEPT and a.chance((cause,)) > 0.0]
    return max(able, key=lambda a: a.chance((cause,)), default=None)


def _inserted(steps: tuple[Step, ...], extra: tuple[Step, ...]) -> tuple[Step, ...]:
    """Closed work right after making safe: before anything is emptied or cut."""
    return (*steps[:1], *extra, *steps[1:])

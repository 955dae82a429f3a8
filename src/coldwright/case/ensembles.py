"""Ensembles of appliances asked for lately: a new reading weighs them again, none is simulated."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from coldwright.case.background import Background
from coldwright.diagnosis.ensemble import Block, Ensemble, build
from coldwright.diagnosis.subject import Subject
from coldwright.kept import Kept

_KEPT: Kept[tuple[Block, ...]] = Kept(6)  # some tens of megabytes each


def kept_ensemble(
    subject: Subject, background: Background, progress: Callable[[str], None] | None
) -> Ensemble:
    """The ensemble of this appliance at these conditions, built once and kept.

    Parameters
    ----------
    subject : Subject
        Appliance and visit.
    background : Background
        For seed, members and which hypotheses are drawn.
    progress : callable, optional
        Told a line when a slow step starts.

    Returns
    -------
    Ensemble
        With this subject's own prior.
    """

    def make() -> tuple[Block, ...]:
        rng = np.random.default_rng(background.seed)
        return build(subject, rng, background.members, progress, background.only).blocks

    return Ensemble(subject, _KEPT.get(_name(subject, background), make))


def known_ensemble(subject: Subject, background: Background) -> Ensemble | None:
    """The ensemble if it was built before and is still kept.

    Parameters
    ----------
    subject : Subject
        Appliance and visit.
    background : Background
        As in `kept_ensemble`.

    Returns
    -------
    Ensemble or None
        None where it would have to be simulated.
    """
    blocks = _KEPT.known(_name(subject, background))
    return None if blocks is None else Ensemble(subject, blocks)


def _name(subject: Subject, background: Background) -> object:
    """All that the draw depends on; the prior of the faults is not among it."""
    return (
        repr(subject.known), subject.refrigerants, repr(subject.room_k), repr(subject.fresh_food_k),
        repr(subject.freezer_k), subject.settled, subject.supply_v, repr(subject.standing_cold_k),
        subject.unmeasured, background.seed, background.members, background.only,
    )  # fmt: skip

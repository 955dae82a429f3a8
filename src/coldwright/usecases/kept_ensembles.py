"""Ensembles of appliances asked for lately: a new reading weighs them again, none is simulated."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable

import numpy as np

from coldwright.diagnosis.ensemble import Block, Ensemble, build
from coldwright.diagnosis.subject import Subject

KEPT = 6

_lock = threading.Lock()
_kept: OrderedDict[object, tuple[Block, ...]] = OrderedDict()


def kept_ensemble(
    subject: Subject, seed: int, members: int, progress: Callable[[str], None] | None
) -> Ensemble:
    """The ensemble of this appliance at these conditions, built once and kept.

    Parameters
    ----------
    subject : Subject
        Appliance and visit.
    seed : int
        Of the draw. [-]
    members : int
        Of all faults together. [-]
    progress : callable, optional
        Told a line when a slow step starts.
    """
    known = known_ensemble(subject, seed, members)
    if known is not None:
        return known
    made = build(subject, np.random.default_rng(seed), members, progress)
    with _lock:
        _kept[_name(subject, seed, members)] = made.blocks
        while len(_kept) > KEPT:
            _kept.popitem(last=False)
    return made


def known_ensemble(subject: Subject, seed: int, members: int) -> Ensemble | None:
    """The ensemble if it was built before and is still kept.

    Parameters
    ----------
    subject, seed, members
        As in `kept_ensemble`.
    """
    name = _name(subject, seed, members)
    with _lock:
        if name not in _kept:
            return None
        _kept.move_to_end(name)
        return Ensemble(subject, _kept[name])


def _name(subject: Subject, seed: int, members: int) -> object:
    """All that the draw depends on; the prior of the faults is not among it."""
    return (
        repr(subject.known), subject.refrigerants, repr(subject.room_k), repr(subject.fresh_food_k),
        repr(subject.freezer_k), subject.settled, subject.supply_v, repr(subject.standing_cold_k),
        seed, members,
    )  # fmt: skip

"""What to look at first, without any instrument, in the order of what it would tell per minute.

The information of a sign is that between the fault and the report, under the
present odds or, before any, the priors; a sign's chance under a fault is that of
`catalogue.signs`, averaged over the fault's severities.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from coldwright.catalogue.cautions import CAUTIONS
from coldwright.catalogue.checks import CHECKS
from coldwright.catalogue.look_first import LOOKS, SIGNS_FIRST, Look
from coldwright.catalogue.priors import Background, fault_prior, severity_from_uniform
from coldwright.catalogue.signs import sign_probability
from coldwright.cycle.state import STATE
from coldwright.diagnosis.result import LookFirst
from coldwright.readings.job import Job
from coldwright.readings.keys import SIGNS

_GRID = np.linspace(0.05, 0.95, 10)  # of the severity's prior
_TELLS = 1.5  # ratio of odds from which a sign speaks for a fault, ours
_TELLS_FROM = 0.03  # odds below which a fault is not named, ours
_FRONT_BITS = 0.05  # what a look is taken to be worth where the complaint points at it, ours
_BACK_BITS = 0.005
_FANS = {"condenser_fan_stopped": "condenser", "evaporator_fan_stopped": "evaporator"}


def look_first(
    job: Job, odds: Mapping[str, float] | None, words: Mapping[str, str]
) -> tuple[LookFirst, ...]:
    """What has not been looked at yet, the most telling per minute first.

    Parameters
    ----------
    job : Job
        Signs entered are left out.
    odds : Mapping or None
        Present odds of each fault; None before any. [-]
    words : Mapping
        Fault to plain words.
    """
    if odds is None:
        seen = job.circuit
        background = Background(condenser=seen.condenser, evaporator=seen.evaporator)
        odds = fault_prior(job.history.complaint, background)
    found = [_of_sign(sign, odds, words) for sign in SIGNS_FIRST if _open(job, sign)]
    found += [_of_look(look, job) for look in LOOKS if _asked(job, look)]
    return tuple(sorted(found, key=lambda item: -item.information_bits / item.minutes))


def _open(job: Job, sign: str) -> bool:
    """Not entered yet, and there to be seen in this build."""
    if job.sign(sign) is not None:
        return False
    part = _FANS.get(sign)
    return part is None or getattr(job.circuit, part) in (None, "fan")


def _asked(job: Job, look: Look) -> bool:
    if not look.after_sign:
        return True
    sign = job.sign(look.after_sign)
    return sign is not None and sign.seen


def _of_look(look: Look, job: Job) -> LookFirst:
    pointed = job.history.complaint in look.complaints or bool(look.after_sign)
    # by the minute as if it told this much: no sign records it, so no odds weigh it
    bits = (_FRONT_BITS if pointed else _BACK_BITS) * look.minutes
    return LookFirst(
        look.identifier, look.name, look.minutes, look.how, look.shows, "", bits, False,
        tuple(CAUTIONS[c].text for c in look.cautions),
    )  # fmt: skip


def _of_sign(sign: str, odds: Mapping[str, float], words: Mapping[str, str]) -> LookFirst:
    faults = [f for f, p in odds.items() if p > 0.0]
    prior = np.array([odds[f] for f in faults])
    prior = prior / prior.sum()
    p = np.array([_reported(sign, f) for f in faults])
    seen, unseen = prior * p, prior * (1.0 - p)
    bits = _entropy(prior) - sum(w.sum() * _entropy(w / w.sum()) for w in (seen, unseen))
    check = CHECKS[sign]
    return LookFirst(
        sign, SIGNS[sign].label, check.minutes, check.how,
        _says(faults, prior, seen / seen.sum(), words),
        _says(faults, prior, unseen / unseen.sum(), words),
        max(float(bits), 0.0), True, tuple(CAUTIONS[c].text for c in check.cautions),
    )  # fmt: skip


def _reported(sign: str, fault: str) -> float:
    """P(reported as seen) under a fault, over its severities; these signs need no flow."""
    severity = severity_from_uniform(fault, _GRID)
    state = np.zeros(severity.shape, dtype=STATE)
    return float(np.mean(sign_probability(sign, fault, severity, state)))


def _says(
    faults: list[str], before: np.ndarray, after: np.ndarray, words: Mapping[str, str]
) -> str:
    rises = [
        (float(a / b), f, float(b), float(a))
        for f, b, a in zip(faults, before, after, strict=True)
        if a >= _TELLS_FROM and a / b >= _TELLS
    ]
    falls = [
        (float(a / b), f, float(b), float(a))
        for f, b, a in zip(faults, before, after, strict=True)
        if b >= _TELLS_FROM and a / b <= 1.0 / _TELLS
    ]
    if rises:
        return "for " + ", ".join(_moved(r, words) for r in sorted(rises, reverse=True)[:2])
    if falls:
        return "against " + ", ".join(_moved(r, words) for r in sorted(falls)[:2])
    return "little changes in the odds"


def _moved(item: tuple[float, str, float, float], words: Mapping[str, str]) -> str:
    _, fault, before, after = item
    return f"{words.get(fault, fault)} ({before:.0%} to {after:.0%})"


def _entropy(p: np.ndarray) -> float:
    q = p[p > 0.0]
    return float(-np.sum(q * np.log2(q)))

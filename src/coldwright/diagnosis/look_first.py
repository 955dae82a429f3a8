"""What to look at first, without any instrument, in the order of what it would tell per minute.

The information of a sign is that between the fault and the report, under the
present odds or, before any, the priors; a sign's chance under a fault is that of
`catalogue.signs`, averaged over the fault's severities.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache

import numpy as np

from coldwright.catalogue.cautions import CAUTIONS
from coldwright.catalogue.checks import CHECKS
from coldwright.catalogue.findings import FINDINGS
from coldwright.catalogue.look_first import BEYOND_THE_ODDS, LOOKS, SIGNS_FIRST, Look
from coldwright.catalogue.pairs import prior_with_pairs
from coldwright.catalogue.priors import Background
from coldwright.catalogue.signs import sign_probability
from coldwright.cycle.state import STATE
from coldwright.diagnosis.fault_words import fault_words
from coldwright.diagnosis.findings import FindingEvidence, fan_chance, findings_of
from coldwright.diagnosis.result import LookFirst
from coldwright.electrical.evidence import STANDING_STILL
from coldwright.faults.record import Together
from coldwright.faults.registry import FAULTS
from coldwright.readings.job import Job
from coldwright.readings.keys import SIGNS

_GRID = np.linspace(0.05, 0.95, 10)  # of the severity's prior
_TELLS = 1.5  # ratio of odds from which a sign speaks for a fault, ours
_TELLS_FROM = 0.03  # odds below which a fault is not named, ours
_FRONT_BITS = 0.05  # what a look is taken to be worth where the complaint points at it, ours
_BACK_BITS = 0.005
_LEAST_BITS = 0.001  # a minute, ours
_NOTHING = "little changes in the odds"
FAN_LIKELY = 0.3  # chance of a fan from which one is asked for, ours


def look_first(job: Job, odds: Mapping[Together, float] | None) -> tuple[LookFirst, ...]:
    """What has not been looked at yet, the most telling per minute first.

    Parameters
    ----------
    job : Job
        Signs entered are left out.
    odds : Mapping or None
        Present odds of each hypothesis; None before any. [-]

    Returns
    -------
    tuple of LookFirst
        Information in bits, time in minutes; empty where all was looked at.
    """
    known = odds is not None
    if odds is None:
        seen = job.circuit
        background = Background(condenser=seen.condenser, evaporator=seen.evaporator)
        odds = prior_with_pairs(job.history.complaint, background)
    running = 1.0 - odds.get(STANDING_STILL, 0.0)
    findings = findings_of(job, job.room.temperature_k or math.nan)
    found = [_of_sign(job, findings, sign, odds, known) for sign in SIGNS_FIRST if _open(job, sign)]
    found += [_of_look(look, job, running) for look in LOOKS if _asked(job, look)]
    if known:  # what would change nothing any more is not asked for
        found = [item for item in found if item.information_bits >= _LEAST_BITS * item.minutes]
    return tuple(sorted(found, key=lambda item: -item.information_bits / item.minutes))


def _open(job: Job, sign: str) -> bool:
    """Not entered yet, and there to be seen in this build."""
    if job.sign(sign) is not None:
        return False
    if sign in FINDINGS and FINDINGS[sign].fan == "evaporator":
        return fan_chance(job) >= FAN_LIKELY
    return sign != "condenser_fan_stopped" or job.circuit.condenser in (None, "fan")


def _asked(job: Job, look: Look) -> bool:
    if not look.after_sign:
        return True
    sign = job.sign(look.after_sign)
    return sign is not None and sign.seen


def _of_look(look: Look, job: Job, running: float) -> LookFirst:
    pointed = job.history.complaint in look.complaints or bool(look.after_sign)
    # by the minute as if it told this much: no sign records it, so no odds weigh it
    bits = (_FRONT_BITS if pointed else _BACK_BITS) * look.minutes
    bits *= running if look.of_running else 1.0
    return LookFirst(
        look.identifier, look.name, look.minutes, look.how, look.shows, "", bits, False,
        tuple(CAUTIONS[c].text for c in look.cautions),
    )  # fmt: skip


def _of_sign(
    job: Job, findings: FindingEvidence, sign: str, odds: Mapping[Together, float], numbers: bool
) -> LookFirst:
    faults = [f for f, p in odds.items() if p > 0.0]
    prior = np.array([odds[f] for f in faults])
    prior = prior / prior.sum()
    p = np.array(
        [findings.chance(sign, f) if sign in FINDINGS else _reported(sign, f) for f in faults]
    )
    seen, unseen = prior * p, prior * (1.0 - p)
    bits = _entropy(prior) - sum(w.sum() * _entropy(w / w.sum()) for w in (seen, unseen))
    check = CHECKS[sign]
    says = _says(faults, prior, seen / seen.sum(), numbers)
    complaints, beyond = BEYOND_THE_ODDS.get(sign, ((), ""))
    if beyond:
        says = beyond if says == _NOTHING else f"{says}; {beyond}"
    if sign in FINDINGS:
        complaints = FINDINGS[sign].complaints
    if job.history.complaint in complaints:
        bits += _FRONT_BITS * check.minutes
    return LookFirst(
        sign, SIGNS[sign].label, check.minutes, check.how, says,
        _says(faults, prior, unseen / unseen.sum(), numbers),
        max(float(bits), 0.0), True, tuple(CAUTIONS[c].text for c in check.cautions),
    )  # fmt: skip


@cache
def _reported(sign: str, faults: Together) -> float:
    """P(reported as seen) under a fault, over its severities; none of these needs flow."""
    severity, *more = (FAULTS[f].severities(_GRID) for f in faults)
    at = np.zeros(_GRID.shape, dtype=STATE)
    second = more[0] if more else None
    return float(np.mean(sign_probability(sign, faults, severity, at, second=second)))


def _says(
    faults: list[Together],
    before: np.ndarray,
    after: np.ndarray,
    numbers: bool,
) -> str:
    """Which faults a report makes likelier, or less likely; without odds, without numbers."""
    moves = [
        (float(a / b), float(b), float(a), fault_words(f))
        for f, b, a in zip(faults, before, after, strict=True)
    ]
    rises = sorted((m for m in moves if m[2] >= _TELLS_FROM and m[0] >= _TELLS), reverse=True)
    falls = sorted(m for m in moves if m[1] >= _TELLS_FROM and m[0] <= 1.0 / _TELLS)
    for verb, found in (("for", rises), ("against", falls)):
        if found:
            told = (
                f"{name} ({b:.0%} to {a:.0%})" if numbers else name for _, b, a, name in found[:2]
            )
            return f"{verb} {', '.join(told)}"
    return _NOTHING


def _entropy(p: np.ndarray) -> float:
    q = p[p > 0.0]
    return float(-np.sum(q * np.log2(q)))

"""For each fault in question: what speaks for it and what against, strongest first.

A reading's weight for a fault is how many bits it moves the odds of that fault against
all others together: log2 of its odds with all evidence, less that without the reading
(the log odds factor of Good 1950, Probability and the Weighing of Evidence, chapter 6).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from coldwright.catalogue.findings import FINDINGS
from coldwright.catalogue.instruments import Instrument
from coldwright.diagnosis.fault_words import fault_words
from coldwright.diagnosis.posterior import Posterior, chance, weigh
from coldwright.diagnosis.result import Argument, Expectation, Reason, Speaks
from coldwright.diagnosis.shown import air_of, shown, shown_range
from coldwright.faults.record import Together
from coldwright.readings.job import Job
from coldwright.readings.keys import READINGS, SIGNS
from coldwright.units import Dimension, show

FROM, MOST = 0.03, 4  # odds from which a fault is argued, and how many, ours
EACH = 3  # readings for and against
LEAST_BITS = 0.3  # below which a reading speaks neither way, ours
SMALL = 1e-9


@dataclass(frozen=True, slots=True)
class Weighed:
    """One reading's weight for every fault. [bit]"""

    key: str
    without: Posterior
    bits: Mapping[Together, float]


def left_out(posterior: Posterior) -> dict[str, Posterior]:
    """The posterior without each reading, sign or electrical part in turn; nothing is simulated.

    Parameters
    ----------
    posterior : Posterior
        Members weighed by the evidence.

    Returns
    -------
    dict
        Posterior by the key of what was left out.
    """
    evidence = posterior.evidence
    keys = [*evidence.keys, *(sign for sign, _ in evidence.signs), *evidence.findings.keys]
    keys += [item.keys[0] for item in evidence.electrical.own]
    return {key: weigh(posterior.ensemble, evidence.without(key)) for key in keys}


def arguments_of(
    job: Job,
    posterior: Posterior,
    without: Mapping[str, Posterior],
    reasons: tuple[Reason, ...] = (),
    system: str = "si",
) -> tuple[Argument, ...]:
    """What speaks for and against each fault in question.

    Parameters
    ----------
    job : Job
        Readings as entered.
    posterior : Posterior
        All evidence in.
    without : Mapping
        From `left_out`.
    reasons : tuple of Reason
        Whose sentences serve for electrical parts.
    system : str
        Units of the sentences, 'si' or 'us'.

    Returns
    -------
    tuple of Argument
        One for each fault in question, the leading one first.
    """
    weighed = [Weighed(key, other, _bits(posterior, other)) for key, other in without.items()]
    leading = sorted(posterior.odds, key=lambda f: -posterior.odds[f])[:MOST]
    told = {r.reading: r.sentence for r in reasons}
    found = []
    for n, fault in enumerate(leading):
        if n and posterior.odds[fault] < FROM:
            break
        by_weight = sorted(weighed, key=lambda w: -w.bits[fault])
        for_it = [w for w in by_weight if w.bits[fault] >= LEAST_BITS][:EACH]
        against = [w for w in reversed(by_weight) if w.bits[fault] <= -LEAST_BITS][:EACH]
        speak = [
            tuple(_speaks(job, posterior, w, fault, told, system) for w in side)
            for side in (for_it, against)
        ]
        found.append(Argument(fault, posterior.odds[fault], *speak))
    return tuple(found)


def _bits(now: Posterior, other: Posterior) -> dict[Together, float]:
    return {f: _log2_odds(now.odds[f]) - _log2_odds(other.odds.get(f, 0.0)) for f in now.odds}


def _log2_odds(p: float) -> float:
    q = min(max(p, SMALL), 1.0 - SMALL)
    return float(np.log2(q / (1.0 - q)))


def _speaks(
    job: Job,
    posterior: Posterior,
    w: Weighed,
    fault: Together,
    told: Mapping[str, str],
    system: str,
) -> Speaks:
    rival = _rival(posterior, w, fault)
    bits = w.bits[fault]
    reading, sign = job.reading(w.key), job.sign(w.key)
    if w.key in posterior.evidence.keys and reading is not None:
        instrument = posterior.evidence.instruments[posterior.evidence.keys.index(w.key)]
        mine, its = (_expected(w.without, f, w.key, instrument) for f in (fault, rival))
        sentence = _of_reading(w.key, reading.entered, mine, its, system)
        return Speaks(w.key, reading.value, reading.entered, bits, mine, its, sentence)
    answer = posterior.evidence.findings.answer(w.key)
    if answer is not None and w.key not in FINDINGS:
        sentence = f"{answer.told[0].upper()}{answer.told[1:]}."
        return Speaks(w.key, float(answer.seen), answer.told, bits, None, None, sentence)
    if answer is not None:
        mine, its = (_chance(w.without, f, w.key) for f in (fault, rival))
        said = "yes" if answer.seen else "no"
        sentence = _of_sign(answer.told, said, mine, its)
        return Speaks(w.key, float(answer.seen), said, bits, mine, its, sentence)
    if sign is not None:
        mine, its = (_chance(w.without, f, w.key) for f in (fault, rival))
        said = "yes" if sign.seen else "no"
        sentence = _of_sign(SIGNS[w.key].label, said, mine, its)
        return Speaks(w.key, float(sign.seen), said, bits, mine, its, sentence)
    entered = "" if reading is None else reading.entered
    value = float("nan") if reading is None else reading.value
    label = READINGS[w.key].label
    sentence = told.get(w.key, f"{label[0].upper()}{label[1:]} read {entered}.")
    return Speaks(w.key, value, entered, bits, None, None, sentence)


def _rival(posterior: Posterior, w: Weighed, fault: Together) -> Together:
    """Whom this reading sets against the fault: moved the other way, and not far-fetched."""
    turn = 1.0 if w.bits[fault] > 0.0 else -1.0
    before, after = w.without.odds, posterior.odds

    def against(other: Together) -> float:
        share = max(before.get(other, 0.0), after[other])
        moved = np.log2(max(after[other], SMALL) / max(before.get(other, 0.0), SMALL))
        return -turn * share * float(moved)

    return max((f for f in after if f != fault), key=against)


def _expected(
    other: Posterior, fault: Together, key: str, instrument: Instrument
) -> Expectation | None:
    """What a fault would make this instrument show, by the members that fit the rest."""
    volts = other.ensemble.subject.supply_v
    truth, weights = other.members_of(fault, lambda g: g.block.column(g.population, key, volts))
    air, _ = other.members_of(fault, lambda g: air_of(g, instrument))
    if not truth.size:
        return None
    ends = shown_range(shown(truth, air, instrument), weights)
    if ends is None:
        return None
    if READINGS[key].dimension not in (Dimension.TEMPERATURE, Dimension.TEMPERATURE_RATE):
        ends = tuple(max(v, 0.0) for v in ends)  # the error of a small reading, not the reading
    return Expectation(fault, *ends)


def _chance(other: Posterior, fault: Together, sign: str) -> Expectation | None:
    """How often a fault shows this sign; all three points of the expectation are the chance."""
    chances, weights = other.members_of(fault, lambda g: chance(other, g, sign))
    if not chances.size:
        return None
    p = float(np.sum(chances * weights))
    return Expectation(fault, p, p, p)


def _of_reading(
    key: str, entered: str, mine: Expectation | None, its: Expectation | None, system: str
) -> str:
    spec = READINGS[key]
    label = f"{spec.label[0].upper()}{spec.label[1:]}"
    parts = []
    if mine is not None:
        parts.append(f"this fault would show {_range(mine, spec.dimension, system)}")
    if its is not None:
        parts.append(f"{fault_words(its.faults)} {_range(its, spec.dimension, system)}")
    return f"{label} read {entered}: {'; '.join(parts)}." if parts else f"{label} read {entered}."


def _of_sign(label: str, said: str, mine: Expectation | None, its: Expectation | None) -> str:
    parts = []
    if mine is not None:
        parts.append(f"this fault shows it in {_of_100(mine.median)}")
    if its is not None:
        parts.append(f"{fault_words(its.faults)} in {_of_100(its.median)}")
    told = f"{label[0].upper()}{label[1:]}: {said}"
    return f"{told}; {', '.join(parts)}." if parts else f"{told}."


def _of_100(p: float) -> str:
    return "under 1 of 100" if p < 0.005 else f"{100.0 * p:.0f} of 100"


def _range(e: Expectation, dimension: Dimension, system: str) -> str:
    low, high = (show(v, dimension, system, digits=2) for v in (e.low, e.high))
    if low == high:
        return low
    if low.partition(" ")[2] == high.partition(" ")[2]:
        low = low.partition(" ")[0]
    return f"{low} to {high}"

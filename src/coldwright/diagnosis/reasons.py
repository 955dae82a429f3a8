"""Why: for each reading, what was read, what the leading faults would give, in plain words."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from coldwright.catalogue.findings import FINDINGS
from coldwright.diagnosis.electrical_reasons import electrical_reasons
from coldwright.diagnosis.fault_words import fault_words
from coldwright.diagnosis.posterior import (
    Posterior,
    odds_of,
    weigh,
    weighted_quantiles,
)
from coldwright.diagnosis.result import Expectation, Reason
from coldwright.faults.record import Together
from coldwright.readings.job import Job
from coldwright.readings.keys import READINGS, SIGNS
from coldwright.units import Dimension, show

LEADERS = 3
SAYS_LITTLE = 0.4  # bits below which a reading speaks for nobody, ours


def reasons_of(
    job: Job,
    posterior: Posterior,
    system: str = "si",
    without: Mapping[str, Posterior] | None = None,
) -> tuple[Reason, ...]:
    """Reasons in order of how strongly they speak.

    A reading's weight is by how many bits it moves the odds between the two leading
    faults: the evidence of each with and without it.

    Parameters
    ----------
    job : Job
        Readings as entered.
    posterior : Posterior
        All evidence in.
    system : str
        Units of the sentences, 'si' or 'us'.
    without : Mapping, optional
        From `arguments.left_out`, if already worked out.

    Returns
    -------
    tuple of Reason
        Weights in bits; empty where fewer than two faults are in question.
    """
    leading = sorted(posterior.odds, key=lambda f: -posterior.odds[f])[:LEADERS]
    if len(leading) < 2:
        return ()
    out: list[Reason] = []
    findings = posterior.evidence.findings
    signs = (*(s for s, _ in posterior.evidence.signs), *findings.keys)
    for key in (*posterior.evidence.keys, *signs):
        other = without.get(key) if without is not None else None
        if other is None:
            other = weigh(posterior.ensemble, posterior.evidence.without(key))
        bits = {f: _bits(posterior, other, f) for f in leading}
        first, second = leading[0], leading[1]
        weight = bits[first] - bits[second]
        favours = max(leading, key=lambda f: bits[f])
        if key in posterior.evidence.keys:
            out.append(_of_reading(job, other, key, leading, favours, weight, bits, system))
        else:
            answer = findings.answer(key)
            if answer is None:
                sign = job.sign(key)
                told, seen = SIGNS[key].label, sign is not None and sign.seen
            else:
                told, seen = answer.told, answer.seen
            asked = answer is None or (key in FINDINGS and key in SIGNS)
            out.append(_of_sign(key, told, seen, asked, favours, weight, bits))
    out += electrical_reasons(job, posterior, leading, SAYS_LITTLE)
    return tuple(sorted(out, key=lambda r: -abs(r.weight_bits)))


def _bits(now: Posterior, other: Posterior, faults: Together) -> float:
    a = np.logaddexp.reduce([g.log_evidence for g in now.of(faults)])
    b = np.logaddexp.reduce([g.log_evidence for g in other.of(faults)])
    if not (np.isfinite(a) and np.isfinite(b)):
        # Impossible with the reading: against it; impossible without it too: it says nothing
        return 0.0 if not np.isfinite(b) else -40.0
    return float(np.clip((a - b) / np.log(2.0), -40.0, 40.0))


def _of_reading(
    job: Job,
    other: Posterior,
    key: str,
    leading: list[Together],
    favours: Together,
    weight: float,
    bits: dict[Together, float],
    system: str,
) -> Reason:
    reading = job.reading(key)
    assert reading is not None  # a key of the evidence is a reading of the job
    spec = READINGS[key]
    expectations = []
    for fault in leading:
        values, weights = other.members_of(
            fault, lambda g: g.block.column(g.population, key, other.ensemble.subject.supply_v)
        )
        good = np.isfinite(values)
        if good.any() and weights[good].sum() > 0:
            low, mid, high = weighted_quantiles(values[good], weights[good], (0.1, 0.5, 0.9))
            expectations.append(Expectation(fault, low, mid, high))
    parts = [
        f"{fault_words(e.faults)} would give {_range(e, spec.dimension, system)}"
        for e in expectations
    ]
    label = f"{spec.label[0].upper()}{spec.label[1:]}"
    sentence = f"{label} read {reading.entered}: " + "; ".join(parts)
    spread = max(bits.values()) - min(bits.values())
    if spread > SAYS_LITTLE:
        sentence += f". Speaks for {fault_words(favours)}."
    else:
        sentence += ". Says little here."
    return Reason(
        key, reading.value, reading.entered, tuple(expectations), favours, weight, sentence
    )


def _of_sign(
    key: str, label: str, seen: bool, asked: bool, favours: Together, weight: float,
    bits: dict[Together, float],
) -> Reason:  # fmt: skip
    says = f"Speaks for {fault_words(favours)}." if (
        max(bits.values()) - min(bits.values()) > SAYS_LITTLE) else "Says little here."  # fmt: skip
    answer = f": {'yes' if seen else 'no'}" if asked else ""
    text = f"{label[0].upper()}{label[1:]}{answer}. {says}"
    return Reason(key, float(seen), "yes" if seen else "no", (), favours, weight, text)


def _range(e: Expectation, dimension: Dimension, system: str) -> str:
    low, high = show(e.low, dimension, system, digits=2), show(e.high, dimension, system, digits=2)
    return low if low == high else f"{low} to {high}"


def leave_one_out_suspect(posterior: Posterior, measure) -> tuple[str, float]:  # type: ignore[no-untyped-def]
    """The reading whose removal makes the rest fit best, and that fit.

    Parameters
    ----------
    posterior : Posterior
        Members weighed by the evidence.
    measure : object
        Function of a posterior that tells how well it fits. [-]

    Returns
    -------
    tuple
        Key of the reading, and the fit without it. [-]
    """
    best, best_fit = posterior.evidence.keys[0], -1.0
    for key in posterior.evidence.keys:
        fit = measure(weigh(posterior.ensemble, posterior.evidence.without(key)))
        if fit > best_fit:
            best, best_fit = key, fit
    return best, best_fit


__all__ = ["LEADERS", "leave_one_out_suspect", "odds_of", "reasons_of"]

"""Reasons from electrical readings: for or against a stopped compressor, and for which part."""

from __future__ import annotations

import numpy as np

from coldwright.diagnosis.fault_words import fault_words
from coldwright.diagnosis.posterior import Posterior
from coldwright.diagnosis.result import Reason
from coldwright.electrical.evidence import (
    NOT_RUNNING,
    STANDING_STILL,
    ElectricalEvidence,
    Item,
    said,
)
from coldwright.faults.record import Together
from coldwright.readings.job import Job
from coldwright.readings.keys import READINGS

MOVED = 0.05  # change of a kind's odds worth a sentence, ours


def electrical_reasons(
    job: Job,
    posterior: Posterior,
    leading: list[Together],
    says_little: float,
) -> list[Reason]:
    """One reason per part that was read, weighed as the other readings are.

    Parameters
    ----------
    job : Job
        For the texts as entered.
    posterior : Posterior
        All evidence in.
    leading : list of tuple
        Leading faults, the first two are weighed against each other.
    says_little : float
        Bits below which a reading speaks for nobody. [bit]

    Returns
    -------
    list of Reason
        Reasons, weights in bits.
    """
    electrical = posterior.evidence.electrical
    running = 1.0 - posterior.odds.get(STANDING_STILL, 0.0)
    out = []
    for item in electrical.own:
        other = electrical.without(item.keys[0])
        bits = {
            f: float(
                np.clip((electrical.log_factor(f) - other.log_factor(f)) / np.log(2.0), -40.0, 40.0)
            )
            for f in leading
        }
        favours = max(leading, key=lambda f: bits[f])
        speaks = max(bits.values()) - min(bits.values()) > says_little
        parts = [f"{_read(job, item)}: {said(electrical, item.part, running)}"]
        parts += _kind_moved(electrical, other)
        if speaks:
            # every fault but one has sound electrics
            still = NOT_RUNNING in favours
            whom = fault_words(favours) if still else "a compressor that runs"
            parts.append(f"Speaks for {whom}")
        else:
            parts.append("Says little here of whether it runs")
        first = job.reading(item.keys[0])
        weight = bits[leading[0]] - bits[leading[1]]
        out.append(
            Reason(
                item.keys[0],
                first.value if first is not None else float("nan"),
                _entered(job, item),
                (),
                favours,
                weight,
                ". ".join(parts) + ".",
            )
        )
    return out


def _read(job: Job, item: Item) -> str:
    label = READINGS[item.keys[0]].label
    return f"{label[0].upper()}{label[1:]} read {_entered(job, item)}"


def _entered(job: Job, item: Item) -> str:
    texts = []
    for n, key in enumerate(item.keys):
        reading = job.reading(key)
        if reading is not None:
            name = f"{READINGS[key].label} " if n else ""
            texts.append(f"{name}{reading.entered}")
    return ", ".join(texts)


def _kind_moved(now: ElectricalEvidence, before: ElectricalEvidence) -> list[str]:
    new, old = now.which(), before.which()
    kind = max(new, key=lambda k: new[k] - old[k])
    if new[kind] - old[kind] < MOVED:
        return []
    return [f"If it does not run: {kind} up from {old[kind]:.0%} to {new[kind]:.0%}"]

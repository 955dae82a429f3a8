"""The JSON of `coldwright diagnose`; other programs rely on its keys."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from coldwright.cli.as_json import joined, plain
from coldwright.diagnosis.result import (
    Argument,
    Diagnosis,
    FaultOdds,
    MindChange,
    Reason,
    Speaks,
)
from coldwright.readings.keys import READINGS


def diagnoses_json(results: Sequence[Diagnosis]) -> dict[str, Any]:
    """All results of one run under the model and the seed they share.

    Parameters
    ----------
    results : sequence of Diagnosis
        One for each job, at least one.

    Returns
    -------
    dict
        What JSON can hold.
    """
    return {
        "model": results[0].model,
        "seed": results[0].seed,
        "results": [_result(result) for result in results],
    }


def _result(result: Diagnosis) -> dict[str, Any]:
    single = [odds for odds in result.faults if len(odds.faults) == 1]
    double = [odds for odds in result.faults if len(odds.faults) > 1]
    return {
        "job": result.job,
        "title": result.title,
        "faults": [_fault(odds) for odds in single],
        "pairs": [
            {
                "faults": list(odds.faults),
                "probability": odds.probability,
                "severities": [plain(odds.severity), plain(odds.second)],
            }
            for odds in double
        ],
        "restriction_probability": result.restriction_probability,
        "sealed_circuit_probability": result.sealed_circuit_probability,
        "open_circuit_advised": result.open_circuit_advised,
        "reasons": [_reason(reason) for reason in result.reasons],
        "arguments": [_argument(one) for one in result.arguments],
        "mind_changes": [_mind_change(one) for one in result.mind_changes],
        "next_checks": plain(result.next_checks),
        "decision": plain(result.decision),
        "plan": plain(result.plan),
        "look_first": plain(result.look_first),
        "fit": plain(result.fit),
        "cautions": plain(result.cautions),
        "notes": plain(result.notes),
        "log": plain(result.log),
        "refused": result.refused,
        "members": result.members,
        "effective_members": plain(result.effective_members),
        "unsolved": result.unsolved,
        "log_evidence": plain(result.log_evidence),
        "parameter_set": result.parameter_set,
    }


def _fault(odds: FaultOdds) -> dict[str, Any]:
    return {
        "fault": joined(odds.faults),
        "probability": odds.probability,
        "severity": plain(odds.severity),
        "which": plain(odds.which),
    }


def _argument(argument: Argument) -> dict[str, Any]:
    """What speaks for and against a fault; `mine` and `rival` in the reading's unit."""
    return {
        "fault": joined(argument.faults),
        "probability": argument.probability,
        "for": [_speaks(one) for one in argument.for_it],
        "against": [_speaks(one) for one in argument.against_it],
    }


def _speaks(one: Speaks) -> dict[str, Any]:
    known = READINGS.get(one.reading)
    return {**plain(one), "unit": known.dimension.si_unit if known is not None else None}


def _mind_change(one: MindChange) -> dict[str, Any]:
    known = READINGS.get(one.check)
    return {**plain(one), "unit": known.dimension.si_unit if known is not None else None}


def _reason(reason: Reason) -> dict[str, Any]:
    """A reason with the unit of its numbers; a sign has none."""
    known = READINGS.get(reason.reading)
    return {**plain(reason), "unit": known.dimension.si_unit if known is not None else None}

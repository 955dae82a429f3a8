"""A stand-in for the diagnosis: no physics, but it follows the job's readings and signs."""

from __future__ import annotations

import math

from coldwright.diagnosis.result import (
    Argument,
    Decision,
    Diagnosis,
    Expectation,
    FaultOdds,
    Fit,
    LookFirst,
    MindChange,
    NextCheck,
    PlannedCheck,
    Reason,
    SeverityInterval,
    Speaks,
    WhichOdds,
)
from coldwright.errors import ColdwrightError
from coldwright.readings.job import Job

# Log-odds that one kelvin or one watt above a made-up pivot gives to a fault.
_PIVOTS = {
    "discharge_line_temperature": (330.0, {"undercharge": -0.12, "capillary_restricted": -0.1}),
    "condenser_outlet_temperature": (303.0, {"capillary_restricted": -0.3, "condenser_air": 0.2}),
    "appliance_power": (100.0, {"undercharge": -0.03, "condenser_air": 0.03, "heat_load": 0.03}),
    "freezer_temperature": (258.0, {"nothing_wrong": -0.3}),
}
_SIGNS = {
    "frost_only_at_inlet": {"undercharge": 1.5, "capillary_restricted": 1.2},
    "condenser_dusty": {"condenser_air": 2.5},
    "compressor_silent": {"compressor_not_running": 4.0},
}
_FAULTS = (
    "nothing_wrong",
    "undercharge",
    "capillary_restricted",
    "drier_restricted",
    "weak_compressor",
    "condenser_air",
    "heat_load",
    "compressor_not_running",
)
_SEVERITIES = {
    "undercharge": SeverityInterval(0.45, 0.6, 0.75, "fraction"),
    "capillary_restricted": SeverityInterval(0.3, 0.45, 0.6, "fraction"),
    "condenser_air": SeverityInterval(0.3, 0.5, 0.7, "fraction"),
    "heat_load": SeverityInterval(15.0, 30.0, 60.0, "W"),
}


class FakeDiagnose:
    """Counts its calls; raises `trouble` while it is set."""

    def __init__(self) -> None:
        self.calls = 0
        self.trouble: ColdwrightError | None = None

    def __call__(self, job: Job) -> Diagnosis:
        """Odds that move with the readings."""
        self.calls += 1
        if self.trouble is not None:
            raise self.trouble
        if job.circuit.compressor_drive == "variable_speed":
            return _refusal(job)
        return _diagnosis(job)


def _scores(job: Job) -> dict[str, float]:
    scores = dict.fromkeys(_FAULTS, 0.0) | {"compressor_not_running": -4.0}
    for reading in job.readings:
        pivot, weights = _PIVOTS.get(reading.key, (0.0, {}))
        for fault, weight in weights.items():
            scores[fault] += weight * (reading.value - pivot)
    for sign in job.signs:
        for fault, weight in _SIGNS.get(sign.key, {}).items():
            scores[fault] += weight if sign.seen else -weight / 2
    return scores


def _diagnosis(job: Job) -> Diagnosis:
    scores = _scores(job)
    whole = sum(map(math.exp, scores.values()))
    odds = {fault: math.exp(score) / whole for fault, score in scores.items()}
    order = sorted(odds, key=lambda fault: -odds[fault])
    restriction = odds["capillary_restricted"] + odds["drier_restricted"]
    return Diagnosis(
        job=job.source,
        title=job.title,
        faults=tuple(_odds(fault, odds[fault]) for fault in order),
        restriction_probability=restriction,
        sealed_circuit_probability=restriction + odds["undercharge"] + odds["weak_compressor"],
        open_circuit_advised=False,
        reasons=tuple(_reason(job, key, order) for key in _PIVOTS if job.reading(key) is not None),
        next_checks=_checks(job),
        plan=tuple(PlannedCheck(c.check, c.information_bits, c.minutes) for c in _checks(job)),
        cautions=(),
        notes=_notes(job),
        fit=_fit(job),
        refused=None,
        members=4000,
        effective_members=731.4,
        unsolved=2,
        seed=20,
        model="stand-in 1",
        parameter_set="made up for tests",
        look_first=_looks(job),
        arguments=_arguments(job, odds, order),
        mind_changes=_minds(job, odds, order),
        decision=Decision("replace", "Replace the appliance", 1787.0, "Do nothing", 1822.0,
                          "crowns", 60.0, 0.11, True),
    )  # fmt: skip


def _odds(fault: str, probability: float) -> FaultOdds:
    which = ()
    if fault == "compressor_not_running":
        which = (WhichOdds("relay", 0.6), WhichOdds("winding", 0.4))
    return FaultOdds((fault,), probability, _SEVERITIES.get(fault), which)


def _reason(job: Job, key: str, order: list[str]) -> Reason:
    reading = job.reading(key)
    assert reading is not None
    expected = tuple(
        Expectation((fault,), reading.value - 4, reading.value, reading.value + 4)
        for fault in order[:2]
    )
    sentence = f"Read {reading.entered}; the leading fault would give about that."
    return Reason(key, reading.value, reading.entered, expected, (order[0],), 0.8, sentence)


def _arguments(job: Job, odds: dict[str, float], order: list[str]) -> tuple[Argument, ...]:
    """The leader has the odd readings for it, the second the even ones against it."""
    told = [
        Speaks(r.key, r.value, r.entered, 1.0, None, None, f"{r.key} read {r.entered}.")
        for r in job.readings
        if r.key in _PIVOTS
    ]
    leader, second, third = order[:3]
    return (
        Argument((leader,), odds[leader], tuple(told[::2]), ()),
        Argument((second,), odds[second], (), tuple(told[1::2])),
        Argument((third,), odds[third], (), ()),
    )


def _minds(job: Job, odds: dict[str, float], order: list[str]) -> tuple[MindChange, ...]:
    if not job.readings:
        return ()
    sentence = "If the frost stopped at the inlet, the leader would fall."
    return (
        MindChange((order[0],), "frost_only_at_inlet", 5.0, None, None, True, 0.12, odds[order[0]],
                   0.4, 0.4, (order[1],), sentence),
    )  # fmt: skip


def _checks(job: Job) -> tuple[NextCheck, ...]:
    all_checks = (
        NextCheck(
            "condenser_outlet_temperature",
            0.41,
            2.0,
            False,
            "Clamp the probe on the last pass, before the drier, under a strip of foam.",
            (),
        ),
        NextCheck("frost_only_at_inlet", 0.3, 3.0, False, "Open the freezer and look.", ()),
        NextCheck("suction_pressure", 0.6, 15.0, True, "Tap the process tube, stopped.", ()),
    )
    done = {reading.key for reading in job.readings} | {sign.key for sign in job.signs}
    return tuple(check for check in all_checks if check.check not in done)


def _looks(job: Job) -> tuple[LookFirst, ...]:
    mains = ("Isolate before a cover comes off.",)
    looks = (
        LookFirst(
            "condenser_dusty", "condenser dusty or covered", 2.0, "Look behind and below.",
            "for poor air over the condenser (5% to 20%)", "little changes in the odds",
            0.1, True, (),
        ),
        LookFirst("defrost_parts", "defrost parts", 10.0, "Thaw it.", "No heat: heater.", "",
                  0.5, False, mains),
    )  # fmt: skip
    return tuple(look for look in looks if job.sign(look.look) is None)


def _notes(job: Job) -> tuple[str, ...]:
    assumed = [reading.key for reading in job.readings if reading.gauge_assumed]
    return tuple(f"{key}: taken as gauge." for key in assumed)


def _fit(job: Job) -> Fit:
    freezer = job.reading("freezer_temperature")
    if freezer is not None and freezer.value > 313.0:
        message = "No fault here explains these readings well."
        return Fit(0.001, False, "freezer_temperature", message)
    return Fit(0.4, True, None, "")


def _refusal(job: Job) -> Diagnosis:
    return Diagnosis(
        job=job.source,
        title=job.title,
        faults=(),
        restriction_probability=0.0,
        sealed_circuit_probability=0.0,
        open_circuit_advised=False,
        reasons=(),
        plan=(),
        next_checks=_checks(job)[:2],
        cautions=(),
        notes=(),
        fit=None,
        refused="A variable-speed drive is not modelled yet; windings can still be measured.",
        members=0,
        effective_members=0.0,
        unsolved=0,
        seed=20,
        model="stand-in 1",
        parameter_set="made up for tests",
    )

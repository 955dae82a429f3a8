"""Resistances at a compressor's pins and what else a meter says: which pin, which part."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from coldwright.catalogue.cautions import caution_texts, cautions_for
from coldwright.catalogue.checks import CHECKS
from coldwright.catalogue.motor import PARTS
from coldwright.catalogue.part_states import SAID
from coldwright.catalogue.restart import with_restart
from coldwright.catalogue.stopped import STOPPED, STOPPED_VARIABLE_SPEED, which_odds
from coldwright.diagnosis.result import NextCheck, WhichOdds
from coldwright.diagnosis.windings_answer import Finding, WindingsAnswer
from coldwright.electrical.copper import COPPER, REFERENCE_K, Conductor
from coldwright.electrical.evidence import (
    NONE_READ,
    READINGS_OF,
    ElectricalEvidence,
    gather,
    likeliest,
)
from coldwright.electrical.from_job import (
    electrical_of,
    held_of,
    meters_of,
    notes_of,
    notes_on,
    restart_notes,
    taken_of,
)
from coldwright.electrical.limits import most_starting_a, running_above_plate
from coldwright.electrical.meters import Held, Meters
from coldwright.electrical.outcomes import Densities, windings
from coldwright.electrical.pins import Pattern, Pins, name_pins
from coldwright.readings.job import Job

CHECKS_SHOWN = 2
HEARD = ("compressor_silent", "compressor_hums_and_trips", "restarted_too_soon")
_LEAST_BITS = 0.05
_SURE = 0.7  # below it the second outcome is named too, ours
_STOPPED = 0.5  # of compressors whose parts somebody reads; ours, only for the wording
# Sizes of the three readings in every way of naming three pins.
_WAYS = ((0, 1, 2), (1, 0, 2), (0, 2, 1), (2, 0, 1), (1, 2, 0), (2, 1, 0))


@dataclass(frozen=True, slots=True)
class WindingsQuestion:
    """What was read. `between` are ohms between pins 1-2, 1-3, 2-3, if nobody named the pins."""

    between: tuple[float | None, float | None, float | None] | None = None
    meters: Meters = field(default_factory=Meters)
    held: Held = field(default_factory=Held)
    conductor: Conductor = COPPER
    winding_temperature_known: bool = False
    cold_run_ohm: float = math.nan  # of the run winding, before, at `cold_k`
    cold_k: float = REFERENCE_K
    heard: Mapping[str, bool] = field(default_factory=dict)  # silent, hums and trips
    refrigerant: str = "unknown"


def windings_answer(question: WindingsQuestion) -> WindingsAnswer:
    """Judge readings taken at one compressor.

    Parameters
    ----------
    question : WindingsQuestion
        Readings, and what they were held to.

    Returns
    -------
    WindingsAnswer
        Pins, numbers, findings and probabilities. [-]

    Raises
    ------
    OutOfRange
        If a resistance is negative or a temperature is out of range.
    Refused
        If unnamed pins were read but fewer than two pairs.
    """
    held, meters = question.held, question.meters
    namings: tuple[Pins, ...] = ()
    instead: dict[str, Densities | None] = {}
    notes: list[str] = []
    if question.between is not None:
        namings = name_pins(question.between)
        meters, densities = _unnamed(question.between, namings, meters, held)
        instead = {"windings": densities}
        notes += [pins.note for pins in namings if pins.note]
        if namings[0].pattern is Pattern.THREE_EQUAL and not held.variable_speed:
            held = replace(held, variable_speed=True)
            instead = {}
    usual = STOPPED_VARIABLE_SPEED if held.variable_speed else STOPPED
    kinds = with_restart(usual, question.heard)
    evidence = gather(
        meters, held, which_odds(None, question.heard, kinds=kinds), _taken(meters),
        instead=instead,
    )  # fmt: skip
    notes += restart_notes(question.heard)
    if question.between is None:
        notes += notes_on(meters, held)
    return _answer(evidence, meters, question, held, namings, notes)


def pins_of(job: Job, between: tuple[float | None, float | None, float | None]) -> WindingsAnswer:
    """Unnamed pins of a job's compressor, beside its other electrical readings.

    Parameters
    ----------
    job : Job
        Plate, supply, signs; its own winding resistances are left out.
    between : tuple of float or None
        Between pins 1-2, 1-3, 2-3; None where not read. [ohm]

    Returns
    -------
    WindingsAnswer
        Pins, numbers, findings and probabilities. [-]

    Raises
    ------
    Refused
        If fewer than two pairs were read.
    """
    bare = replace(meters_of(job), run_ohm=None, start_ohm=None, run_to_start_ohm=None)
    return windings_answer(
        WindingsQuestion(
            between=between,
            meters=bare,
            held=held_of(job),
            winding_temperature_known=job.reading("shell_temperature") is not None,
            heard={s.key: s.seen for s in job.signs if s.key in HEARD},
            refrigerant=job.plate.refrigerant,
        )
    )


def electrical_part(job: Job) -> WindingsAnswer:
    """The same for a job, whose windings are named.

    Parameters
    ----------
    job : Job
        Its electrical readings and the signs of a stopped compressor.

    Returns
    -------
    WindingsAnswer
        Pins, numbers, findings and probabilities. [-]
    """
    meters, held = meters_of(job), held_of(job)
    question = WindingsQuestion(
        meters=meters,
        held=held,
        winding_temperature_known=job.reading("shell_temperature") is not None,
        refrigerant=job.plate.refrigerant,
    )
    evidence = electrical_of(job) if taken_of(job) else NONE_READ
    if not evidence.kinds:
        evidence = replace(electrical_of(job), items=())
    return _answer(evidence, meters, question, held, (), list(notes_of(job)))


def _unnamed(
    between: tuple[float | None, float | None, float | None],
    namings: tuple[Pins, ...],
    meters: Meters,
    held: Held,
) -> tuple[Meters, Densities | None]:
    """Readings by name as far as they can be named, and the densities over all names that fit."""
    best = namings[0]
    if best.pattern is Pattern.INCONSISTENT:
        return meters, None
    named = replace(
        meters,
        run_ohm=best.run_ohm,
        start_ohm=best.start_ohm,
        run_to_start_ohm=best.run_to_start_ohm,
    )
    if best.pattern is not Pattern.ONE_PAIR:
        return named, windings(named, held)
    total: dict[str, float] = {}
    for way in _WAYS:
        ohms = [between[n] for n in way]
        one = replace(meters, run_ohm=ohms[0], start_ohm=ohms[1], run_to_start_ohm=ohms[2])
        for outcome, density in (windings(one, held) or {}).items():
            total[outcome] = total.get(outcome, 0.0) + density / len(_WAYS)
    return named, total


def _taken(meters: Meters) -> dict[str, tuple[str, ...]]:
    have = {
        "windings": any(r is not None for r in meters.ohms),
        "insulation": meters.insulation_ohm is not None,
        "start_device": meters.start_device_ohm is not None,
        "overload": meters.overload_ohm is not None,
        "capacitor": meters.capacitor_fraction is not None,
        "supply": meters.supply_v is not None,
        "draw": meters.starting_a is not None or meters.compressor_a is not None,
        "speed": meters.speed_per_s is not None,
    }
    return {part: READINGS_OF[part][:1] for part, taken in have.items() if taken}


def _answer(
    evidence: ElectricalEvidence,
    meters: Meters,
    question: WindingsQuestion,
    held: Held,
    namings: tuple[Pins, ...],
    notes: list[str],
) -> WindingsAnswer:
    known = not namings or namings[0].pattern is Pattern.WINDINGS
    run, start = (meters.run_ohm, meters.start_ohm) if known else (None, None)
    bound = most_starting_a(meters, held) if known else math.nan
    if meters.starting_a is not None and meters.starting_a > 1.05 * bound:
        notes.append(
            f"{meters.starting_a:.3g} A while starting cannot be: the ohms let at most"
            f" {bound:.3g} A through. Check the meter's range and the ohms."
        )
    above = running_above_plate(meters, held)
    if above > 1.1:
        notes.append(
            f"Runs at {above:.0%} of the plate current: hot room, dust, low supply or tight"
            " bearings; above 110 % it will not last (judgement of ours)."
        )
    which = evidence.which()
    return WindingsAnswer(
        namings=namings,
        run_at_20c_ohm=_at_20c(run, question, held),
        start_at_20c_ohm=_at_20c(start, question, held),
        mean_winding_temperature_k=_mean_temperature(run, question),
        most_starting_a=bound,
        running_to_plate_fraction=above,
        findings=tuple(_finding(evidence, item.part) for item in evidence.items),
        which=tuple(WhichOdds(k, p) for k, p in sorted(which.items(), key=lambda kv: -kv[1])),
        notes=tuple(notes),
        next_checks=_next(evidence),
        cautions=caution_texts(
            cautions_for(question.refrigerant, (CHECKS["winding_resistance_run"],))
        ),
    )


def _finding(evidence: ElectricalEvidence, part: str) -> Finding:
    odds = evidence.outcomes(part, 1.0 - _STOPPED)
    outcome = likeliest(evidence, part, 1.0 - _STOPPED)
    sentence = SAID[part][outcome]
    if odds[outcome] < _SURE:
        other = max((o for o in odds if o != outcome), key=lambda o: odds[o])
        if odds[other] > 0.5 * odds[outcome]:
            sentence += f"; or {SAID[part][other]}"
    return Finding(part, PARTS[part], outcome, odds[outcome], sentence)


def _at_20c(ohm: float | None, question: WindingsQuestion, held: Held) -> float:
    if ohm is None or not math.isfinite(ohm) or not question.winding_temperature_known:
        return math.nan
    return question.conductor.resistance_at(ohm, held.winding_k)


def _mean_temperature(run: float | None, question: WindingsQuestion) -> float:
    cold = question.cold_run_ohm
    if run is None or not math.isfinite(run) or math.isnan(cold):
        return math.nan
    return question.conductor.mean_temperature(run, cold, question.cold_k)


def _next(evidence: ElectricalEvidence) -> tuple[NextCheck, ...]:
    """What to read next, by information per minute on which part it is."""
    bits = {k: b for k, b in evidence.information(1.0).items() if b > _LEAST_BITS}
    order = sorted(bits, key=lambda key: -bits[key] / CHECKS[key].minutes)[:CHECKS_SHOWN]
    return tuple(
        NextCheck(
            key, bits[key], CHECKS[key].minutes, False, CHECKS[key].how,
            caution_texts(CHECKS[key].cautions),
        )
        for key in order
    )  # fmt: skip

"""What is taken from a job, what is assumed where it says nothing, and what is refused."""

from dataclasses import replace
from math import inf, isnan

import numpy as np
import pytest

from coldwright.circuit.layout import Layout
from coldwright.circuit.records import Position
from coldwright.diagnosis.subject import imposed, subject_of
from coldwright.errors import Refused
from coldwright.readings.job import CircuitSeen, Job, Plate, Reading, Room, Taken
from coldwright.usecases.diagnose import diagnose
from tests.inference.invented import subject

PLATE = Plate("top_mount", 2004, "R134a", charge_kg=0.11, voltage_v=120.0, frequency_hz=60.0)
FULL = Job(
    "invented", "", PLATE, circuit=CircuitSeen(layout="plain"), room=Room(297.15),
    taken=Taken(minutes_since_start=90.0),
    readings=(
        Reading("fresh_food_temperature", 284.15, None, "11 °C"),
        Reading("freezer_temperature", 264.15, None, "-9 °C"),
    ),
)  # fmt: skip


@pytest.mark.parametrize(
    ("job", "reason", "names"),
    [
        (replace(FULL, circuit=CircuitSeen(evaporators="two")), "than one evaporator", "valve"),
        (
            replace(FULL, circuit=CircuitSeen(compressor_drive="variable_speed")),
            "variable-speed", "drive board",
        ),
        (replace(FULL, plate=replace(PLATE, refrigerant="R404A")), "R404A", "door seal"),
    ],
    ids=["two evaporators", "variable speed", "R404A"],
)  # fmt: skip
def test_refusal_says_why_and_what_can_still_be_checked(job, reason, names):
    with pytest.raises(Refused) as caught:
        subject_of(job)
    assert reason in caught.value.reason
    assert any(names in still for still in caught.value.still_possible)
    assert any("fans" in still for still in caught.value.still_possible)
    answer = diagnose(job)
    assert answer.refused is not None
    assert reason in answer.refused
    assert names in answer.refused
    assert answer.faults == ()
    assert not answer.open_circuit_advised


def test_a_refused_job_with_a_flammable_refrigerant_keeps_its_cautions():
    plate = replace(PLATE, refrigerant="R600a")
    answer = diagnose(replace(FULL, plate=plate, circuit=CircuitSeen(evaporators="two")))
    assert answer.refused is not None
    assert any("ignition" in text or "burn" in text for text in answer.cautions)


def test_a_full_job_needs_no_assumption():
    got = subject_of(FULL)
    assert got.notes == ()
    assert got.refrigerants == (("R134a", 1.0),)
    assert (got.room_k, got.fresh_food_k, got.freezer_k) == (297.15, 284.15, 264.15)
    assert got.running_s == 5400.0
    assert not got.settled
    assert got.known.charge_kg == 0.11
    assert sum(p for _, p in got.prior) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("job", "words"),
    [
        (replace(FULL, plate=replace(PLATE, year=None)), "No year"),
        (replace(FULL, plate=replace(PLATE, refrigerant="unknown")), "Refrigerant unknown"),
        (replace(FULL, plate=replace(PLATE, charge_applies=False)), "does not apply"),
        (replace(FULL, room=Room()), "Room temperature not given"),
        (replace(FULL, taken=Taken()), "Minutes since the start"),
        (replace(FULL, circuit=CircuitSeen()), "Layout of the high side not given"),
    ],
    ids=["year", "refrigerant", "charge", "room", "minutes", "layout"],
)
def test_every_assumption_is_noted(job, words):
    (note,) = subject_of(job).notes
    assert words in note


@pytest.mark.parametrize("told", [None, "unknown", "after_condenser"])
def test_layout_and_position_are_what_was_seen(told):
    seen = CircuitSeen(layout="oil_cooler_and_frame_loop", frame_loop_position=told)
    known = subject_of(replace(FULL, circuit=seen)).known
    assert known.layout is Layout.BOTH
    assert known.frame_position == (Position.AFTER_CONDENSER if told == "after_condenser" else None)
    assert subject_of(replace(FULL, circuit=CircuitSeen())).known.layout is None


def test_what_stands_in_for_missing_entries():
    bare = Job("invented", "", Plate("top_mount"))
    got = subject_of(bare)
    assert isnan(got.room_k)
    assert got.settled  # nothing measured inside: the thermostat is taken to be in charge
    assert got.running_s == inf
    assert got.supply_v == 230.0
    assert len(got.refrigerants) > 1
    assert sum(share for _, share in got.refrigerants) == pytest.approx(1.0)
    altered = subject_of(replace(FULL, plate=replace(PLATE, charge_applies=False)))
    assert isnan(altered.known.charge_kg)


def test_settled_compartments_are_evidence_not_conditions():
    got = subject_of(replace(FULL, taken=Taken(minutes_since_start=90.0, settled=True)))
    assert got.settled
    assert isnan(got.fresh_food_k)
    assert isnan(got.freezer_k)


def test_the_compartment_not_measured_follows_the_other():
    drifting = replace(subject({}, settled=False), freezer_k=265.15)
    room, set_ff, set_fz = (np.array([t]) for t in (295.15, 277.15, 255.15))
    ff, fz = imposed(drifting, set_ff, set_fz, room)
    assert fz[0] == 265.15
    # a quarter of the way from its setting to the room, as the freezer is
    assert ff[0] == pytest.approx(277.15 + 0.25 * 18.0)

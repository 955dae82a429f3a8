"""What counts as evidence at a visit, and what the notes say of the rest."""

import math

import pytest

from coldwright.case.evidence import chosen_instruments, evidence_of
from coldwright.case.notes import visit_notes
from coldwright.diagnosis.predict import COMPARTMENTS, says_nothing
from coldwright.diagnosis.subject import subject_of
from coldwright.readings.jobfile import job_from_text

PLATE = '[plate]\nkind = "top_mount"\nrefrigerant = "R134a"\n'
READ = """[readings]
appliance_power = "96 W"
condenser_middle_temperature = "38 °C"
freezer_cooling_rate = "2 K/h"
"""


def seen(text):
    job = job_from_text(PLATE + text, "x.toml")
    subject = subject_of(job)
    evidence = evidence_of(job, subject, chosen_instruments(job))
    return evidence, " ".join(visit_notes(job, evidence, subject)), subject


def test_compartments_are_conditions_on_the_way_and_the_pace_counts():
    evidence, notes, _ = seen(READ + 'freezer_temperature = "-8 °C"\n')
    assert set(evidence.keys) == {
        "appliance_power", "condenser_middle_temperature", "freezer_cooling_rate"
    }  # fmt: skip
    assert "conditions the machine works in" in notes
    assert says_nothing(settled=False) == COMPARTMENTS


def test_in_a_settled_cabinet_the_pace_says_nothing():
    text = "[taken]\nsettled = true\n" + READ + 'freezer_temperature = "-18 °C"\n'
    evidence, notes, _ = seen(text)
    assert "freezer_cooling_rate" not in evidence.keys
    assert "freezer_temperature" in evidence.keys
    assert "says nothing: kept" in notes


def test_without_the_temperature_it_falls_from_it_is_asked_for():
    evidence, notes, subject = seen(READ)
    assert subject.settled
    assert "freezer_cooling_rate" not in evidence.keys
    assert "enter the freezer as well" in notes


@pytest.mark.parametrize(
    ("also", "counts"), [("lamp", False), ("defrost_heater", False), ("evaporator_fan", True)]
)
def test_watts_with_a_heater_or_lamp_in_them_do_not_count(also, counts):
    evidence, notes, _ = seen(f'[taken]\nalso_running = ["{also}"]\n' + READ)
    assert ("appliance_power" in evidence.keys) == counts
    assert ("not used in the odds: power of the whole appliance" in notes) != counts


def test_what_is_kept_for_nothing_is_said():
    _, notes, _ = seen("[taken]\ndoors_opened = 4\n" + READ)
    assert "door openings" in notes


def test_the_evaporator_at_rest_is_taken_as_measured():
    text = '[taken]\nstanding_evaporator_temperature = "12 °C"\n' + READ
    assert seen(text)[2].standing_cold_k == pytest.approx(285.15)
    assert math.isnan(seen(READ)[2].standing_cold_k)

"""Wording, cautions and form fields against the registry and the glossary."""

from __future__ import annotations

import pytest

from coldwright.diagnosis.result import SeverityInterval
from coldwright.faults import registry
from coldwright.readings import keys
from coldwright.readings.jobfile import JobFile
from coldwright.web import fields
from coldwright.web.readings.view import GROUPS
from coldwright.words import wording
from coldwright.words.cautions import at_reading, before_power
from tests.web.conftest import HALL

# The glossary's faults, written out: a job file and JSON output use the same words.
FAULTS = (
    "nothing_wrong undercharge overcharge capillary_restricted capillary_blocked drier_restricted "
    "moisture non_condensables weak_compressor compressor_not_running condenser_air "
    "evaporator_air heat_load control wrong_fill"
).split()


def test_every_fault_of_the_glossary_has_words() -> None:
    assert sorted(registry.FAULTS) == sorted(FAULTS)
    assert all(wording.fault(name) != name for name in FAULTS)


def test_every_reading_can_be_chosen_once() -> None:
    listed = [key for _, group in GROUPS for key in group]
    assert sorted(listed) == sorted(keys.READINGS)


def test_readings_that_open_the_circuit_stand_in_the_last_group_alone() -> None:
    opening = {key for key, reading in keys.READINGS.items() if reading.opens_circuit}
    assert set(GROUPS[-1][1]) == opening


@pytest.mark.parametrize(
    ("probability", "said"),
    [
        (0.0, "under 1 %"),
        (0.0049, "under 1 %"),
        (0.0051, "1 %"),
        (0.5, "50 %"),
        (0.9949, "99 %"),
        (0.9951, "over 99 %"),
        (1.0, "over 99 %"),
    ],
)
def test_percent_never_claims_certainty(probability: float, said: str) -> None:
    assert wording.percent(probability) == said.replace(" %", "\xa0%").replace(
        "r 99\xa0", "r 99\xa0"
    )


@pytest.mark.parametrize(
    ("fault", "interval", "said"),
    [
        (
            "undercharge",
            SeverityInterval(0.451, 0.6, 0.749, "fraction"),
            "45 to 75 % of the plate charge left, most likely about 60 %",
        ),
        (
            "heat_load",
            SeverityInterval(15.2, 30.0, 60.4, "W"),
            "15 to 60 W more heat than normal, most likely about 30 W",
        ),
        (
            "condenser_air",
            SeverityInterval(0.5, 0.5, 0.5, "fraction"),
            "about 50 % of the condenser's healthy heat release",
        ),
    ],
)
def test_severity_in_words(fault: str, interval: SeverityInterval, said: str) -> None:
    assert wording.severity(fault, interval).replace("\xa0", " ") == said


def test_pair_of_faults_reads_as_both() -> None:
    both = wording.fault(("undercharge", "non_condensables"))
    assert both == (
        "Undercharge: too little refrigerant together with air or nitrogen in the circuit"
    )


@pytest.mark.parametrize("refrigerant", ["R600a", "R290", "unknown", "R436A"])
def test_flammable_or_unknown_comes_first(refrigerant: str) -> None:
    first = before_power(refrigerant)[0]
    assert refrigerant in first.title or "unknown" in first.title
    assert "flammable" in first.title
    assert "gas alarm at floor level and inside the cabinet" in " ".join(first.lines)


@pytest.mark.parametrize("refrigerant", ["R134a", "R12", "R22"])
def test_mains_alone_for_what_does_not_burn(refrigerant: str) -> None:
    assert [caution.title for caution in before_power(refrigerant)] == ["Mains voltage"]


def titles(key: str, refrigerant: str) -> list[str]:
    """Titles of the cautions at a reading."""
    opens = keys.READINGS[key].opens_circuit
    return [caution.title for caution in at_reading(key, opens, refrigerant)]


def test_cautions_stand_at_their_step() -> None:
    opening, below = "This opens the circuit", "Low side below atmosphere"
    assert titles("suction_pressure", "R134a") == [opening, below]
    assert titles("standing_pressure", "R600a") == [opening, below]
    assert titles("recovered_mass", "R134a") == [opening]
    assert titles("insulation_resistance", "R134a") == ["Unplugged for this one"]
    assert titles("appliance_power", "R134a") == ["Mains voltage"]
    assert titles("discharge_line_temperature", "R134a") == ["Hot"]
    assert titles("freezer_temperature", "R600a") == []


def test_do_not_run_is_said_only_where_a_mixture_can_burn() -> None:
    def words(refrigerant: str) -> str:
        cautions = at_reading("suction_pressure", True, refrigerant)
        return " ".join(line for caution in cautions for line in caution.lines)

    assert "do not run it" in words("R600a")
    assert "do not run it" in words("unknown")
    assert "do not run it" not in words("R134a")
    assert "running, the circuit inhales" in words("R134a")


def test_form_covers_every_plain_key_of_the_file() -> None:
    listed = {entry.name for entry in fields.ENTRIES}
    for section, known in (
        ("plate", keys.PLATE_QUANTITIES),
        ("room", keys.ROOM_QUANTITIES),
        ("history", keys.HISTORY_QUANTITIES),
        ("taken", keys.TAKEN_QUANTITIES),
        ("circuit", keys.CIRCUIT_QUANTITIES),
    ):
        assert {f"{section}.{key}" for key in known} <= listed


def test_unchanged_form_leaves_the_file_as_it_was() -> None:
    text = HALL + '[taken]\nalso_running = ["lamp"]  # interior\ninstrument = { gauge = "dial" }\n'
    file = JobFile(text, "hall")
    form = fields.entered(file) | {"taken.also_running.lamp": "yes"}
    assert fields.put(file, form) == {}
    assert file.text == text


def test_field_left_empty_is_taken_out() -> None:
    file = JobFile(HALL, "hall")
    assert fields.put(file, {"plate.charge": "", "room.temperature": " 25 °C "}) == {}
    assert file.job.plate.charge_kg is None
    assert 'temperature = "25 °C"' in file.text


@pytest.mark.parametrize("entry", fields.ENTRIES, ids=lambda entry: entry.name)
def test_every_choice_of_every_field_is_accepted(entry: fields.Entry) -> None:
    for word in entry.words:
        file = JobFile(HALL, "hall")
        ticked = {f"{entry.name}.{word}": "yes"} if entry.many else {}
        assert fields.put(file, {entry.name: word, **ticked}) == {}
        assert fields.entered(file)[entry.name] == word


def test_ticks_become_a_list_and_an_instrument_keeps_its_neighbours() -> None:
    file = JobFile(HALL + '[taken]\ninstrument = { meter = "clamp" }\nsettled = true\n', "hall")
    form = {
        "taken.also_running": "",
        "taken.also_running.lamp": "yes",
        "taken.also_running.evaporator_fan": "yes",
        "taken.instrument.thermometer": "probe",
    }
    assert fields.put(file, form) == {}
    taken = file.job.taken
    assert set(taken.also_running) == {"lamp", "evaporator_fan"}
    assert (taken.instrument.thermometer, taken.instrument.meter) == ("probe", "clamp")
    assert taken.settled is True
    none = {"taken.also_running": "", "taken.instrument.thermometer": ""}
    assert fields.put(file, none | {"taken.instrument.meter": ""}) == {}
    assert file.job.taken.also_running == ()
    assert "instrument" not in file.text

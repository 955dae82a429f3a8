"""Contradictions that need no model: each rule speaks, and only when it should."""

import pytest

from coldwright.readings.jobfile import job_from_text
from coldwright.readings.plausibility import contradictions

CONSISTENT = {
    "readings": {
        "ambient_temperature": '"24 °C"',
        "appliance_power": '"110 W"',
        "compressor_power": '"98 W"',
        "appliance_current": '"1.1 A"',
        "supply_voltage": '"119 V"',
        "discharge_line_temperature": '"58 °C"',
        "condenser_inlet_temperature": '"50 °C"',
        "condenser_middle_temperature": '"38 °C"',
        "condenser_outlet_temperature": '"33 °C"',
        "drier_inlet_temperature": '"32 °C"',
        "drier_outlet_temperature": '"31 °C"',
        "evaporator_inlet_temperature": '"-24 °C"',
        "evaporator_outlet_temperature": '"-22 °C"',
        "suction_line_temperature": '"20 °C"',
        "fresh_food_temperature": '"4 °C"',
        "freezer_temperature": '"-18 °C"',
        "suction_pressure": '"0 psig"',
        "discharge_pressure": '"110 psig"',
        "run_fraction": "0.5",
        "frosted_fraction": "1.0",
        "winding_resistance_run": '"4 ohm"',
        "winding_resistance_start": '"9 ohm"',
        "winding_resistance_run_to_start": '"13 ohm"',
    },
    "signs": {"flow_sound_steady": "true", "compressor_silent": "false"},
    "taken": {"minutes_since_start": "45"},
    "circuit": {"condenser": '"static"', "evaporator": '"fan"'},
    "room": {"temperature": '"25 °C"'},
}


def job(kind="top_mount", **changes):
    """The consistent job with some entries changed, by table."""
    lines = ["[plate]", f'kind = "{kind}"', 'voltage = "120 V"']
    for table, entries in CONSISTENT.items():
        lines.append(f"[{table}]")
        merged = entries | changes.get(table, {})
        lines += [f"{key} = {value}" for key, value in merged.items() if value is not None]
    return job_from_text("\n".join(lines), "job.toml")


def test_a_consistent_job_has_none():
    assert contradictions(job()) == ()
    assert contradictions(job_from_text('[plate]\nkind = "compact"', "x")) == ()


CASES = [
    ("condenser outlet above discharge line",
     {"readings": {"condenser_outlet_temperature": '"66 °C"', "drier_inlet_temperature": None,
                   "condenser_inlet_temperature": None, "condenser_middle_temperature": None,
                   "drier_outlet_temperature": None}},
     {"condenser_outlet_temperature", "discharge_line_temperature"}),
    ("drier outlet much above its inlet", {"readings": {"drier_outlet_temperature": '"40 °C"'}},
     {"drier_outlet_temperature", "drier_inlet_temperature"}),
    ("evaporator outlet colder than its inlet",
     {"readings": {"evaporator_outlet_temperature": '"-34 °C"'}},
     {"evaporator_outlet_temperature", "evaporator_inlet_temperature"}),
    ("condenser colder than the room",
     {"readings": {"condenser_outlet_temperature": '"15 °C"', "drier_inlet_temperature": '"15 °C"',
                   "drier_outlet_temperature": '"15 °C"'}},
     {"condenser_outlet_temperature", "ambient_temperature"}),
    ("two room temperatures", {"room": {"temperature": '"32 °C"'}},
     {"ambient_temperature", "room.temperature"}),
    ("suction above discharge pressure", {"readings": {"suction_pressure": '"150 psig"'}},
     {"suction_pressure", "discharge_pressure"}),
    ("fresh food colder than freezer", {"readings": {"fresh_food_temperature": '"-25 °C"'}},
     {"fresh_food_temperature", "freezer_temperature"}),
    ("evaporator warmer than its air",
     {"readings": {"evaporator_inlet_temperature": '"-10 °C"',
                   "evaporator_outlet_temperature": '"-9 °C"'}},
     {"evaporator_inlet_temperature", "freezer_temperature"}),
    ("compressor above the whole", {"readings": {"compressor_power": '"125 W"'}},
     {"compressor_power", "appliance_power"}),
    ("compressor current above the whole", {"readings": {"compressor_current": '"1.3 A"'}},
     {"compressor_current", "appliance_current"}),
    ("more watts than volts times amps", {"readings": {"appliance_current": '"0.5 A"'}},
     {"appliance_power", "appliance_current"}),
    ("windings that do not add up", {"readings": {"winding_resistance_run_to_start": '"6 ohm"'}},
     {"winding_resistance_run", "winding_resistance_start", "winding_resistance_run_to_start"}),
    ("silent but running", {"signs": {"compressor_silent": "true"},
                            "readings": {"compressor_power": None}},
     {"compressor_silent", "run_fraction"}),
    ("silent but drawing power", {"signs": {"compressor_silent": "true"},
                                  "readings": {"run_fraction": "0.0"}},
     {"compressor_silent", "compressor_power"}),
    ("two flow sounds", {"signs": {"flow_sound_weak": "true"}},
     {"flow_sound_steady", "flow_sound_weak"}),
    ("frost only at the inlet and all over", {"signs": {"frost_only_at_inlet": "true"}},
     {"frost_only_at_inlet", "frosted_fraction"}),
    ("frost on a warm suction line", {"signs": {"suction_line_frosted": "true"}},
     {"suction_line_frosted", "suction_line_temperature"}),
    ("a fan where there is none", {"signs": {"condenser_fan_stopped": "true"}},
     {"condenser_fan_stopped", "circuit.condenser"}),
    ("fresh food in a chest freezer", {"kind": "chest_freezer"},
     {"fresh_food_temperature", "plate.kind"}),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "keys"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_a_contradiction_is_named_alone_in_a_plain_sentence(changes, keys):
    found = contradictions(job(**changes))
    assert [set(c.keys) for c in found] == [keys]
    sentence = found[0].sentence
    assert sentence.endswith(".")
    assert "\n" not in sentence
    assert not any(key in sentence for key in keys if "_" in key and "." not in key)


def test_the_text_as_entered_is_quoted():
    (found,) = contradictions(job(readings={"suction_pressure": '"150 psig"'}))
    assert "150 psig" in found.sentence
    assert "110 psig" in found.sentence


def test_a_clamps_own_error_is_no_contradiction():
    assert contradictions(job(readings={"drier_outlet_temperature": '"34.5 °C"'})) == ()


@pytest.mark.parametrize(
    "changes",
    [
        {"taken": {"minutes_since_start": "4"}},
        {"signs": {"compressor_hums_and_trips": "true"}},
        {
            "signs": {"compressor_silent": "true"},
            "readings": {"run_fraction": None, "compressor_power": None},
        },
    ],
)
def test_the_order_of_flow_holds_only_while_it_runs(changes):
    readings = {"condenser_outlet_temperature": '"66 °C"'} | changes.get("readings", {})
    found = contradictions(job(**(changes | {"readings": readings})))
    assert [c for c in found if "condenser_outlet_temperature" in c.keys] == []


def test_a_fresh_defrost_excuses_a_warm_evaporator():
    readings = {"evaporator_inlet_temperature": '"8 °C"', "evaporator_outlet_temperature": '"2 °C"'}
    assert contradictions(job(readings=readings)) != ()
    taken = {"minutes_since_defrost": "20"}
    assert contradictions(job(readings=readings, taken=taken)) == ()


def test_open_windings_are_left_to_the_diagnosis():
    readings = {"winding_resistance_run_to_start": '"open"', "winding_resistance_start": '"open"'}
    assert contradictions(job(readings=readings)) == ()

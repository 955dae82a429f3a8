"""`coldwright simulate` over a stand-in: what is asked of the use case, what is shown."""

import json
import math
from dataclasses import fields, replace

import pytest

from coldwright.circuit.records import CompressorKind, FlashKind, VoidKind
from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cli.text import WIDTH
from coldwright.cycle.model_choice import ModelChoice
from coldwright.cycle.ranges import Outside
from coldwright.cycle.state import RunningState
from tests.unit.cli_fakes import FakeSimulate, circuit_toml


@pytest.fixture
def fake(monkeypatch):
    stand_in = FakeSimulate()
    monkeypatch.setattr("coldwright.cli.command_simulate.simulate_use_case", lambda: stand_in)
    return stand_in


@pytest.fixture
def circuit(tmp_path):
    path = tmp_path / "circuit.toml"
    path.write_text(circuit_toml(), encoding="utf-8")
    return str(path)


@pytest.mark.usefixtures("fake")
def test_json_is_every_field_by_its_own_name(circuit, capsys):
    assert run(app, ["simulate", circuit, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert set(answer["running"]) == {f.name for f in fields(RunningState)}
    assert answer["running"]["capillary_exit_pa"] is None  # not a number there
    assert answer["standing"] == {
        **{"pressure_pa": 4e5, "evaporator_k": 297.15, "liquid_kg": 0.05},
        "pressure_tells_mass": True,
    }
    assert answer["models"] == ["void fraction of a book"]


def test_faults_and_charge_reach_the_use_case_in_si(fake, circuit, capsys):
    asked = ["--fault", "undercharge=60 %", "--fault", "heat_load=30 W", "--charge", "90 g"]
    assert run(app, ["simulate", circuit, *asked, "--fault", "capillary_blocked", "--json"]) == 0
    _, faults, charge = fake.asked[0]
    assert faults[:2] == (("undercharge", 0.6), ("heat_load", 30.0))
    assert faults[2][0] == "capillary_blocked"
    assert math.isnan(faults[2][1])
    assert charge == pytest.approx(0.09)
    assert json.loads(capsys.readouterr().out)["faults"][2] == {
        "fault": "capillary_blocked",
        "severity": None,
    }


@pytest.mark.usefixtures("fake")
def test_a_loop_taken_out_is_shown_before_and_after(circuit, capsys):
    assert run(app, ["simulate", circuit, "--without", "FRAME_LOOP"]) == 0
    out = capsys.readouterr().out
    assert max(map(len, out.splitlines())) <= WIDTH
    flat = " ".join(out.split())
    assert "WHAT CHANGES WITHOUT THE LOOP Charge 120 to 100 g" in flat
    assert "Sweats from humidity 100 to 60.0 %" in flat
    assert "Above it, mean 8.0 to -2.0 K" in flat
    assert "The door frame sweats." in flat
    assert run(app, ["simulate", circuit, "--without", "frame_loop", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["before"]["door_frame"]["margin_over_cycle_k"] == 8.0


@pytest.mark.usefixtures("fake")
def test_gas_is_told_in_mole_and_in_gram_of_air(circuit, capsys):
    assert run(app, ["simulate", circuit, "--fault", "non_condensables=0.005"]) == 0
    assert "0.005 mol (0.14 g of air)" in " ".join(capsys.readouterr().out.split())
    assert run(app, ["simulate", circuit, "--fault", "moisture"]) == 0


@pytest.mark.usefixtures("fake")
def test_text_is_grouped_and_narrow(circuit, capsys):
    assert run(app, ["simulate", circuit, "--fault", "undercharge=0.6"]) == 0
    out = capsys.readouterr().out
    assert max(map(len, out.splitlines())) <= WIDTH
    for title in ("PRESSURES", "POWER AND CAPACITY", "WHAT A THERMOMETER READS", "AT REST"):
        assert title in out
    flat = " ".join(out.split())
    assert "Fault: too little refrigerant: 60.0 %" in flat
    assert "Superheat 4.5 K" in flat
    assert "Charge in condenser 20.0 g" in flat
    assert "Share of the time it runs 50.0 %" in flat
    assert "Pressure tells mass yes" in flat
    assert "Discharge line 16.9 °C" in flat
    assert "MODELS - void fraction of a book" in flat


def test_sweep_of_nine_points_both_ends_counted(fake, circuit, capsys):
    assert run(app, ["simulate", circuit, "--vary", "capillary.bore=0.6..0.8mm", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["vary"] == {"key": "capillary.bore", "unit": "m"}
    bores = [point["value"] for point in answer["points"]]
    assert len(bores) == 9
    assert (bores[0], bores[-1]) == pytest.approx((0.6e-3, 0.8e-3))
    passed = [dict(job.circuit.geometry)["capillary.bore"] for job, _, _ in fake.asked]
    assert passed == bores
    temperatures = [point["running"]["evaporating_k"] for point in answer["points"]]
    assert temperatures == sorted(temperatures)
    assert len(set(temperatures)) == 9


def test_sweep_table_is_narrow_and_owns_up_to_unsolved_points(fake, circuit, capsys):
    fake.unsolved_above = 0.75e-3
    arguments = ["--vary", "capillary.bore=0.6..0.8mm", "--points", "5", "--units", "us"]
    assert run(app, ["simulate", circuit, *arguments]) == 0
    out, err = capsys.readouterr()
    rows = out.splitlines()
    assert max(map(len, rows)) <= WIDTH
    assert sum("not solved" in row for row in rows) == 1
    assert "°F" in out
    assert "point 5" in err


def test_a_sweep_of_which_nothing_is_solved_is_an_error(fake, circuit, capsys):
    fake.unsolved_above = 0.0
    assert run(app, ["simulate", circuit, "--vary", "capillary.bore=0.6..0.8mm"]) == 2
    assert "running state not solved" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("vary", "first", "last"),
    [
        ("charge=80..140 g", (None, 0.08), (None, 0.14)),
        ("room.temperature=10..43 °C", (283.15, None), (316.15, None)),
    ],
)
def test_charge_and_room_can_be_swept_too(fake, circuit, vary, first, last, capsys):
    assert run(app, ["simulate", circuit, "--vary", vary, "--points", "2"]) == 0
    for (job, _, charge), (room, mass) in zip(fake.asked, (first, last), strict=True):
        assert charge == (None if mass is None else pytest.approx(mass))
        assert job.room.temperature_k == pytest.approx(298.15 if room is None else room)
    assert capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (["--fault", "undercharge"], "undercharge"),
        (["--fault", "undercharged=0.6"], "did you mean undercharge"),
        (["--fault", "undercharge=lots"], "lots"),
        (["--fault", "heat_load=0.3"], "a power"),
        (["--fault", "capillary_blocked=1"], "no severity"),
        (["--fault", "non_condensables"], "without a severity"),
        (["--without", "condenser"], "one of frame_loop"),
        (["--charge", "90 mm"], "--charge"),
        (["--vary", "capillary.bore"], "--vary"),
        (["--vary", "capillary.bore=0.6mm"], "a span"),
        (["--vary", "capillary.boar=0.6..0.8mm"], "did you mean capillary.bore"),
        (["--vary", "condenser.kind=static..fan"], "--vary"),
        (["--vary", "condenser.kind=0..2"], "condenser.kind"),
        (["--vary", "capillary.bore=0.6..0.8 g"], "capillary.bore"),
        (["--vary", "capillary.bore=0.6..0.6mm"], "two ends"),
        (["--vary", "charge=80..90g", "--charge", "90 g"], "both"),
        (["--vary", "charge=80..90g", "--points", "1"], "--points"),
    ],
)
def test_bad_input_is_one_message_and_asks_nothing(fake, circuit, arguments, named, capsys):
    assert run(app, ["simulate", circuit, *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    message = [line for line in err.splitlines() if not line.startswith("... ")]
    assert len(message) == 1
    assert named in message[0]
    assert fake.asked == []


def test_objects_chosen_reach_the_use_case_by_kind(fake, circuit):
    words = ["--compressor", "fitted", "--void", "Zivi", "--flashing", "delayed"]
    assert run(app, ["simulate", circuit, *words]) == 0
    assert run(app, ["simulate", circuit, "--compressor", "physical"]) == 0
    assert run(app, ["simulate", circuit]) == 0
    first, second, none = fake.choices
    assert first == ModelChoice(
        fitted=True, void_fraction=VoidKind.ZIVI, flashing=FlashKind.DELAYED
    )
    assert second == ModelChoice(compressor=CompressorKind.PHYSICAL)
    assert none is None


@pytest.mark.parametrize(
    ("option", "named"),
    [("--compressor", "fitted"), ("--capillary", "generalised"), ("--flashing", "delayed"),
     ("--void", "baroczy")],
)  # fmt: skip
def test_an_object_that_is_not_there_is_one_message(fake, circuit, option, named, capsys):
    assert run(app, ["simulate", circuit, option, "perfect"]) != 0
    message = capsys.readouterr().err
    assert option in message
    assert named in message
    assert fake.asked == []


@pytest.mark.usefixtures("fake")
def test_what_lies_outside_is_told_with_its_range(circuit, monkeypatch, capsys):
    told = (
        Outside("compressor, ten coefficients", "evaporating temperature", 233.15, 238.15, 263.15,
                "K"),
        Outside("delay of flashing", "subcooling before it", 20.0, 1.0, 17.0, "K"),
        Outside("oil of a book", "an approximation without data", math.nan, 0.0, 0.0, ""),
    )  # fmt: skip
    plain_call = FakeSimulate.__call__

    def beyond(self, job, **asked):
        return replace(plain_call(self, job, **asked), outside=told)

    monkeypatch.setattr(FakeSimulate, "__call__", beyond)
    assert run(app, ["simulate", circuit]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "evaporating temperature -40.0 °C; made for -35.0 °C to -10.0 °C" in out
    assert "subcooling before it 20.0 K; made for 1.0 K to 17.0 K" in out
    assert "Oil of a book: an approximation without data." in out
    assert "Beyond the range of its ten coefficients" in out
    assert run(app, ["simulate", circuit, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["outside"][0]["value"] == 233.15
    assert answer["outside"][2]["value"] is None


def test_every_way_of_a_fault_is_told_in_words_and_units():
    from coldwright.cli import words
    from coldwright.cli.command_simulate import fault_of
    from coldwright.faults.registry import EFFECTS
    from coldwright.units import System

    asked = {"K": "5 K", "W": "200 W", "fraction": "1.2", "mol": "0.01"}
    for fault in EFFECTS.values():
        text = fault.identifier if fault.unit is None else f"{fault.identifier}={asked[fault.unit]}"
        name, severity = fault_of(text)
        assert name == fault.identifier
        told = words.fault(name)
        assert ":" not in told
        assert "_" not in told
        if fault.unit is not None:
            assert "00 %" not in words.simulated_severity(name, severity, System.SI)
    name, severity = fault_of("control:damper_shut=18 °F")
    assert severity == pytest.approx(10.0)
    assert words.simulated_severity(name, severity, System.US) == "18.0 °F"

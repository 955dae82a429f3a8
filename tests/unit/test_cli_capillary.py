"""`coldwright capillary` as typed: what it prints, what it refuses."""

import json

import pytest

from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cli.text import WIDTH

WANTED = {
    "--refrigerant": "R134a",
    "--bore": "0.66 mm",
    "--length": "2.9 m",
    "--inlet-pressure": "10 bar absolute",
    "--subcooling": "5 K",
}
KEYS = {
    *("mass_flow_kg_h", "choked", "exit_pressure_pa", "exit_quality"),
    *("length_liquid_m", "length_two_phase_m", "notes"),
}


def ask(capsys, *flags, **changed):
    """Status, output and messages of the command with some options changed, None left out."""
    options = WANTED | {"--" + name.replace("_", "-"): value for name, value in changed.items()}
    words = [word for pair in options.items() if pair[1] is not None for word in pair]
    status = run(app, ["capillary", *words, *flags])
    return status, *capsys.readouterr()


def test_json_has_the_promised_keys(capsys):
    status, out, _ = ask(capsys, "--json")
    answer = json.loads(out)
    assert status == 0
    assert set(answer) == KEYS
    assert answer["mass_flow_kg_h"] > 0
    assert answer["choked"] is True
    assert 0 < answer["exit_quality"] < 1
    assert all(isinstance(note, str) for note in answer["notes"])


def test_length_for_a_flow_is_the_inverse(capsys):
    forward = json.loads(ask(capsys, "--json")[1])
    flow = f"{forward['mass_flow_kg_h']:.12g} kg/h"
    back = json.loads(ask(capsys, "--json", length=None, flow=flow)[1])
    assert back["length_liquid_m"] + back["length_two_phase_m"] == pytest.approx(2.9, rel=1e-6)
    assert back["exit_pressure_pa"] == pytest.approx(forward["exit_pressure_pa"], rel=1e-6)


def test_human_output_is_narrow_and_says_what_it_rests_on(capsys):
    status, out, _ = ask(capsys)
    assert status == 0
    assert max(map(len, out.splitlines())) <= WIDTH
    flat = " ".join(out.split())
    for part in ("Flow", "kg/h", "Choked", "ASHRAE RP-762", "judgement of ours", "Adiabatic"):
        assert part in flat


def test_units_of_the_other_system(capsys):
    out = ask(capsys, "--units", "us")[1]
    assert "psig" in out
    assert "°F" in out


def test_a_bare_pressure_is_said_to_be_gauge(capsys):
    bare = json.loads(ask(capsys, "--json", inlet_pressure="9 bar")[1])
    said = json.loads(ask(capsys, "--json", inlet_pressure="9 bar gauge")[1])
    assert "taken as gauge: 10.01 bar absolute" in bare["notes"][0]
    assert bare["mass_flow_kg_h"] == said["mass_flow_kg_h"]
    assert not any("gauge" in note for note in said["notes"])


@pytest.mark.parametrize(
    ("feed", "branch"),
    [
        ({"subcooling": "25 K"}, "subcooled branch"),
        ({"subcooling": None, "inlet_quality": "10 %"}, "two-phase branch"),
        ({"subcooling": "0 K"}, "no value at saturation"),
    ],
)
def test_the_correlation_stands_beside_it_with_its_flags(capsys, feed, branch):
    note = json.loads(
        ask(capsys, "--json", refrigerant="r600a", inlet_pressure="6 bara", **feed)[1]
    )["notes"][0]
    assert branch in note
    assert ("R600a is an extrapolation" in note) == ("saturation" not in branch)
    assert ("subcooling 25 outside" in note) == (feed.get("subcooling") == "25 K")


@pytest.mark.parametrize("option", ["roughness", "entrance_loss", "evaporating", "bore"])
def test_every_option_moves_the_answer(capsys, option):
    other = {"roughness": "1 µm", "entrance_loss": "1.5", "evaporating": "25 °C", "bore": "0.7 mm"}
    plain = json.loads(ask(capsys, "--json")[1])
    moved = json.loads(ask(capsys, "--json", **{option: other[option]})[1])
    assert moved["mass_flow_kg_h"] != plain["mass_flow_kg_h"]


@pytest.mark.parametrize(
    ("changed", "named"),
    [
        ({"bore": "6 mm"}, ("--bore", "'6 mm'", "5.00 mm")),
        ({"bore": "6"}, ("--bore", "without a unit")),
        ({"bore": "6 K"}, ("--bore", "a length")),
        ({"length": "300 m"}, ("--length", "50.0 m")),
        ({"flow": "4 kg/h"}, ("--length, --flow", "both")),
        ({"length": None}, ("--length, --flow", "neither")),
        ({"length": None, "flow": "300 kg/h"}, ("--flow", "kg/h to")),
        ({"inlet_quality": "0.1"}, ("--subcooling, --inlet-quality", "both")),
        ({"subcooling": None}, ("--subcooling, --inlet-quality", "neither")),
        ({"subcooling": None, "inlet_quality": "1.4"}, ("--inlet-quality", "1.4")),
        ({"subcooling": "-5 K"}, ("--subcooling", "-5 K")),
        ({"evaporating": "50 °C"}, ("--evaporating", "50 °C", "°C to")),
        ({"evaporating": "-300 °C"}, ("--evaporating", "absolute zero")),
        ({"roughness": "1 mm"}, ("--roughness", "1 mm")),
        ({"refrigerant": "R502"}, ("R502", "no full property tables")),
        ({"refrigerant": "R123x"}, ("--refrigerant", "R123x")),
        ({"inlet_pressure": "90 bar"}, ("--inlet-pressure", "90 bar")),
    ],
    ids=str,
)
def test_bad_input_names_option_value_and_what_is_accepted(capsys, changed, named):
    status, out, err = ask(capsys, **changed)
    assert (status, out) == (2, "")
    message = [line for line in err.splitlines() if not line.startswith("... ")]
    assert len(message) == 1
    assert [part for part in named if part not in message[0]] == []

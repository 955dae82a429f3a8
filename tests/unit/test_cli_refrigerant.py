"""`coldwright refrigerant` as typed: what it prints, what it refuses."""

import json
import subprocess
import sys

import pytest

from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cli.text import WIDTH
from coldwright.refrigerant.facts import REFRIGERANTS
from coldwright.refrigerant.lines import load_lines

KEYS = {
    *("refrigerant", "facts", "full_model", "trust", "air_pressure_pa", "saturation"),
    *("at_pressure", "contents", "equivalent", "cylinder", "uses", "oils", "sayings"),
    *("notes", "cautions"),
}


def ask(capsys, *words):
    """Status, output and messages."""
    status = run(app, ["refrigerant", *words])
    return status, *capsys.readouterr()


def answer(capsys, *words):
    """The JSON of a question that is answered."""
    status, out, err = ask(capsys, *words, "--json")
    assert (status, err) == (0, "")
    return json.loads(out)


@pytest.mark.parametrize("name", [r.name for r in REFRIGERANTS])
def test_every_refrigerant_is_told_in_narrow_text(capsys, name):
    words = ("--temperature", "24 °C", "--mass", "100 g", "--volume", "2 l", "--cylinder", "12 l")
    status, out, err = ask(capsys, name, *words)
    assert (status, err) == (0, "")
    assert max(map(len, out.splitlines())) <= WIDTH
    flat = " ".join(out.split())
    for part in (
        "At 24.0 °C",
        "kg/l",
        "Class",
        "GWP",
        "Oil",
        "Trust: pressure within",
        "80 % full",
    ):
        assert part in flat
    blend = any(r.components for r in REFRIGERANTS if r.name == name)
    assert ("Glide" in flat) == ("Made of" in flat) == ("as formulated" in flat) == blend


def test_json_has_the_promised_keys(capsys):
    got = answer(capsys, "R401A", "--pressure", "1 bar absolute", "--temperature", "10 °C")
    assert set(got) == KEYS
    assert got["at_pressure"]["phase"] == "superheated"
    assert got["at_pressure"]["superheat_k"] == pytest.approx(283.15 - got["at_pressure"]["dew_k"])
    assert got["facts"]["components"][0]["name"] == "R22"
    assert got["full_model"] is False
    assert got["contents"] is None


def test_without_a_temperature_four_usual_ones_stand(capsys):
    rows = answer(capsys, "R600a")["saturation"]
    assert [row["temperature_k"] for row in rows] == [248.15, 273.15, 298.15, 318.15]
    assert rows[0]["bubble_pa"] == pytest.approx(0.58e5, rel=0.01)  # a guideline of 2000, read


def test_flammable_comes_first_and_only_where_it_burns(capsys):
    assert "burns" in ask(capsys, "R436A")[1].split("At ")[0]
    assert "burns" not in ask(capsys, "R134a")[1].split("Class")[0]
    assert "rated for this refrigerant" in ask(capsys, "R134a", "--cylinder", "12 l")[1]


def test_gauge_counts_from_the_air_of_the_place(capsys):
    """Standard atmosphere (ICAO 1993): 845.6 hPa at 1500 m."""
    high = answer(capsys, "R134a", "--pressure", "2 psig", "--altitude", "1500 m")
    low = answer(capsys, "R134a", "--pressure", "2 psig")
    assert high["air_pressure_pa"] == pytest.approx(84_560, rel=1e-3)
    lower = low["at_pressure"]["pressure_pa"] - high["at_pressure"]["pressure_pa"]
    assert lower == pytest.approx(101_325 - high["air_pressure_pa"], rel=1e-6)
    assert high["at_pressure"]["dew_k"] < low["at_pressure"]["dew_k"] - 3.0


def test_a_bare_pressure_is_said_to_be_gauge(capsys):
    bare = answer(capsys, "R134a", "--pressure", "5 bar")
    assert "taken as gauge: 6.01 bar absolute" in bare["notes"][0]
    assert not any("taken as gauge" in n for n in answer(capsys, "R134a")["notes"])


def test_equal_liquid_volume_is_called_a_comparison(capsys):
    got = answer(capsys, "R600a", "--instead-of", "r-134a", "--mass", "140 g")
    assert got["equivalent"]["instead_of"] == "R134a"
    assert got["equivalent"]["mass_kg"] == pytest.approx(0.140 * 0.456, rel=0.003)
    said = " ".join(got["notes"])
    assert "plate governs" in said
    assert "not leave to change over" in said


def test_units_of_the_other_system(capsys):
    out = ask(capsys, "R134a", "--temperature", "75 °F", "--units", "us")[1]
    assert "psig" in out
    assert "75.0 °F" in out


@pytest.mark.parametrize("name", [r.name for r in REFRIGERANTS])
@pytest.mark.parametrize("end", ["coldest_k", "hottest_k"])
def test_the_ends_of_a_line_are_still_on_it(capsys, name, end):
    t = getattr(load_lines(name), end)
    assert answer(capsys, name, "--temperature", f"{t} K")["saturation"][0]["glide_k"] >= 0.0


@pytest.mark.parametrize(
    ("words", "named"),
    [
        (["R134x"], ("NAME", "R134x", "did you mean R134a")),
        (["unknown"], ("unknown", "no saturation line", "R404A")),
        (["R134a", "--temperature", "warm"], ("--temperature", "warm")),
        (["R134a", "--temperature", "24"], ("--temperature", "without a unit")),
        (["R404A", "--temperature", "90 °C"], ("--temperature", "90 °C", "65.0 °C")),
        (["R134a", "--pressure", "200 bar"], ("--pressure", "200 bar", "bar gauge")),
        (["R134a", "--pressure", "5 K"], ("--pressure", "5 K")),
        (["R134a", "--volume", "2 l"], ("--volume", "--mass", "--temperature")),
        (["R134a", "--mass", "3 g"], ("--mass", "--volume or --instead-of")),
        (["R134a", "--instead-of", "R12"], ("--instead-of", "--mass")),
        (["R134a", "--instead-of", "R1x", "--mass", "1 g"], ("--instead-of", "R1x")),
        (["R134a", "--altitude", "9000 m"], ("--altitude", "6000 m")),
        (["R134a", "--cylinder", "0 l"], ("--cylinder", "0 l")),
        (["R134a", "--cylinder", "-3 l"], ("--cylinder", "-3 l")),
        (
            ["R134a", "--mass", "10 kg", "--volume", "1 l", "--temperature", "20 °C"],
            ("--mass", "10 kg", "1.2"),
        ),
        (
            ["R134a", "--mass", "0 g", "--volume", "1 l", "--temperature", "20 °C"],
            ("--mass", "0 g", "0.00100 g"),
        ),
        (
            ["R134a", "--mass", "1 g", "--volume", "0 l", "--temperature", "20 °C"],
            ("--volume", "0 l"),
        ),
    ],
    ids=str,
)
def test_bad_input_names_option_value_and_what_is_accepted(capsys, words, named):
    status, out, err = ask(capsys, *words)
    assert (status, out) == (2, "")
    assert len(err.splitlines()) == 1
    assert [part for part in named if part not in err] == []


def test_it_needs_neither_coolprop_nor_compiled_code():
    code = (
        "import sys; from coldwright.cli import app; from coldwright.cli.boundary import run;"
        "run(app, ['refrigerant', 'R409A', '--json']);"
        "sys.exit('CoolProp' in sys.modules or 'numba' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr

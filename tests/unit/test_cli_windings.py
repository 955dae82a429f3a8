"""`coldwright windings` as typed: pins, parts, numbers, and what it refuses."""

import json

import pytest

from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cli.text import WIDTH

THREE = ("8.2 ohm", "22 ohm", "30 ohm")
KEYS = {
    *("namings", "run_at_20c_ohm", "start_at_20c_ohm", "mean_winding_temperature_k"),
    *("most_starting_a", "running_to_plate_fraction", "findings", "which", "notes"),
    *("next_checks", "cautions"),
}


def ask(capsys, *words):
    status = run(app, ["windings", *words])
    return status, *capsys.readouterr()


def answer(capsys, *words):
    status, out, err = ask(capsys, *words, "--json")
    assert (status, err) == (0, "")
    return json.loads(out)


def test_json_has_the_promised_keys(capsys):
    found = answer(capsys, *THREE, "--shell", "5 Mohm")
    assert set(found) == KEYS
    (pins,) = found["namings"]
    assert (pins["pattern"], pins["common"], pins["run"], pins["start"]) == ("windings", 1, 2, 3)
    assert [f["part"] for f in found["findings"]] == ["windings", "insulation"]
    assert {f["outcome"] for f in found["findings"]} == {"sound", "good"}
    assert sum(k["probability"] for k in found["which"]) == pytest.approx(1.0)
    # Ohm's law for both windings in parallel
    assert found["most_starting_a"] == pytest.approx(230.0 / 8.2 + 230.0 / 22.0)
    assert found["run_at_20c_ohm"] is None
    assert len(found["next_checks"]) == 2


def test_order_of_the_three_does_not_matter(capsys):
    one = answer(capsys, "30 ohm", "22 ohm", "8.2 ohm")
    two = answer(capsys, *THREE)
    assert one["which"] == two["which"]
    assert one["namings"][0]["common"] == 3


def test_text_fits_a_phone_and_dangers_come_first(capsys):
    status, out, _ = ask(
        capsys, "22 ohm", "?", "8.2 ohm", "--start-device", "open", "--heard", "hums",
        "--winding-temperature", "70 °C", "--cold-run", "6.9 ohm",
    )  # fmt: skip
    assert status == 0
    assert max(map(len, out.splitlines())) <= WIDTH
    titles = ["CAUTION", "PINS", "NUMBERS", "PARTS", "IF IT DOES NOT RUN", "NOTES"]
    places = [out.index(title) for title in titles]
    assert places == sorted(places)
    flat = " ".join(out.split())
    for part in (
        "treat it as flammable",
        "Discharge capacitors through a resistor.",
        "Common is pin 2, run is pin 3, start is pin 1 (80 %)",
        "30.2 ohm, computed",
        "67.9 °C",  # 8.2 / 6.9 * (234.5 + 20) - 234.5
        "start device open",
        "Relay 97 %",
    ):
        assert part in flat


def test_named_windings_with_one_missing(capsys):
    found = answer(
        capsys, "--run", "18 ohm", "--run-to-start", "80 ohm", "--plate-voltage", "220 V"
    )
    assert any("62 ohm by the other two" in note for note in found["notes"])
    assert found["namings"] == []


def test_open_from_common_says_let_it_cool(capsys):
    found = answer(capsys, "--run", "open", "--start", "open", "--run-to-start", "30 ohm")
    assert found["findings"][0]["outcome"] == "common_open"
    assert any("cool" in note for note in found["notes"])


def test_lone_pair_between_unnamed_pins_stays_open(capsys):
    found = answer(capsys, "open", "open", "30 ohm")
    (finding,) = found["findings"]
    assert finding["probability"] < 0.7
    assert "; or " in finding["sentence"]
    assert found["namings"][0]["run_ohm"] is None


def test_three_equal_are_board_fed(capsys):
    found = answer(capsys, "8 ohm", "8.1 ohm", "8.05 ohm")
    assert {k["which"] for k in found["which"]} == {"board", "supply", "seized", "winding"}
    assert "never put it on the mains" in found["notes"][0]


def test_ohms_that_do_not_add_up_are_said_and_count_for_nothing(capsys):
    found = answer(capsys, "8 ohm", "22 ohm", "50 ohm")
    assert found["findings"] == []
    assert "50 ohm" in found["notes"][0]


def test_current_against_ohms_and_plate(capsys):
    found = answer(capsys, *THREE, "--starting-current", "60 A", "--plate-current", "1 A")
    assert any("cannot be" in note for note in found["notes"])
    found = answer(capsys, *THREE, "--running-current", "1.3 A", "--plate-current", "1 A")
    assert found["running_to_plate_fraction"] == pytest.approx(1.3)
    assert any("130% of the plate current" in note for note in found["notes"])


@pytest.mark.parametrize(
    ("volts", "outcome"),
    [
        ("208 V", "normal"),
        ("206 V", "low"),
        ("252 V", "normal"),
        ("254 V", "high"),
        ("3 V", "absent"),
    ],
)
def test_supply_is_held_to_ten_percent(capsys, volts, outcome):
    """Within 10 % of the plate: makers' service literature; EN 50160 (2010), from memory."""
    found = answer(capsys, "--supply", volts, "--plate-voltage", "230 V")
    assert found["findings"][0]["outcome"] == outcome


def test_insulation_is_held_to_two_megohm(capsys):
    """2 Mohm at 500 V: common practice, no published source."""
    assert answer(capsys, "--shell", "2 Mohm")["findings"][0]["outcome"] == "good"
    assert answer(capsys, "--shell", "1.9 Mohm")["findings"][0]["outcome"] == "low"


def test_hot_disc_is_no_evidence(capsys):
    found = answer(capsys, "--start-device", "20 kohm", "--minutes-since-stop", "2")
    assert found["findings"] == []
    assert any("let it cool" in note for note in found["notes"])


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--run", "-3 ohm"), "--run: read '-3 ohm'"),
        (("-3 ohm", "22 ohm", "30 ohm"), "OHM 1: read '−3 ohm'"),
        (("8 ohm", "22 ohm", "-.5 ohm"), "OHM 3: read '−.5 ohm'"),
        (("--heat", "3", *THREE), "No such option: --heat"),
        (("8 ohm", "22 ohm"), "read 2 resistances; accepted: three"),
        ((), "OHM: read nothing"),
        ((*THREE, "--run", "8 ohm"), "read both"),
        (("8 ohm", "?", "?"), "one resistance"),
        (("8 V", "22 ohm", "30 ohm"), "OHM 1: read '8 V'"),
        (("8", "22 ohm", "30 ohm"), "a number without a unit"),
        ((*THREE, "--metal", "iron"), "one of copper, aluminium"),
        ((*THREE, "--heard", "humms"), "did you mean hums?"),
        ((*THREE, "--plate-voltage", "2 V"), "10 V to 500 V"),
        ((*THREE, "--plate-current", "0 A"), "--plate-current"),
        ((*THREE, "--cold-run", "1 ohm"), "mean winding temperature"),
        ((*THREE, "--winding-temperature", "900 °C"), "winding temperature"),
        (("--capacitor", "400 %"), "--capacitor"),
    ],
)
def test_slips_are_refused_in_one_line(capsys, words, told):
    status, out, err = ask(capsys, *words)
    assert status == 2
    assert out == ""
    assert told in err
    assert len(err.splitlines()) == 1


def test_restarted_too_soon_says_to_wait_first(capsys):
    found = answer(capsys, *THREE, "--heard", "hums", "--too-soon")
    assert found["which"][0]["which"] == "pressures_not_level"
    assert any("wait 5 min" in note for note in found["notes"])
    _, text, _ = ask(capsys, *THREE, "--heard", "hums", "--too-soon")
    assert "Pressures not level" in text
    assert "pressures_not_level" not in text

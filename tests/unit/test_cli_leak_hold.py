"""`coldwright leak hold` as typed."""

import json

import pytest

from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cli.text import WIDTH

POINTS = ("--start", "10 bar gauge", "--end", "9.62 bar gauge", "--after", "24 h")
WARM = ("--start-temperature", "25 °C", "--end-temperature", "15 °C")
RISE = "time [min], pressure [micron]\n" + "".join(f"{t},{500 + 50 * t}\n" for t in range(0, 31, 2))


def ask(capsys, *words):
    """Status, output, messages."""
    status = run(app, ["leak", "hold", *words])
    return status, *capsys.readouterr()


def answer(capsys, *words):
    """The JSON of a command that must succeed."""
    status, out, _ = ask(capsys, *words, "--json")
    assert status == 0
    return json.loads(out)


def test_two_points_with_temperatures(capsys):
    words = ("--refrigerant", "R134a", "--volume", "3 l")
    found = answer(capsys, *POINTS, *WARM, *words, "--limit", "1000 g/yr")
    assert (found["kind"], found["verdict"]) == ("pressure_hold", "tight")
    read = found["pressure"]
    # 10 bar gauge from 25 to 15 degC: 9.631 ideal (computed), 9.621 as a real gas (CoolProp).
    assert read["expected_end_ideal_pa"] == pytest.approx(10.644e5, abs=100.0)
    assert read["expected_end_pa"] == pytest.approx(10.634e5, abs=100.0)
    assert found["limit_gauge_pa"] == 1e6


def test_same_points_without_temperatures_prove_nothing(capsys):
    found = answer(capsys, *POINTS, "--refrigerant", "R134a")
    assert found["verdict"] == "undecided"
    assert any("No temperature" in n for n in found["notes"])


def test_vacuum_log_is_a_leak(capsys, tmp_path):
    path = tmp_path / "v.csv"
    path.write_text(RISE, encoding="utf-8")
    found = answer(capsys, str(path), "--volume", "3 l", "--refrigerant", "R134a")
    assert (found["kind"], found["verdict"]) == ("vacuum_hold", "leak")
    # 500 to 1000 micron in 10 min, 3 l: 3.3e-4 Pa m3/s; 1 300 to 29 000 g/yr (computed).
    assert found["vacuum"]["explanations"][0]["leak_pa_m3_s"] == pytest.approx(3.3e-4, rel=0.1)
    low, high = found["vacuum"]["leak_g_yr"]
    assert low == pytest.approx(1300.0, rel=0.12)
    assert high == pytest.approx(29_000.0, rel=0.15)


@pytest.mark.parametrize("units", ["si", "us"])
def test_text_is_narrow_and_says_what_it_cannot_see(capsys, tmp_path, units):
    path = tmp_path / "v.csv"
    path.write_text(RISE, encoding="utf-8")
    for words in ((*POINTS, *WARM), (str(path),)):
        status, out, _ = ask(capsys, *words, "--units", units)
        assert status == 0
        assert max(map(len, out.splitlines())) <= WIDTH
        flat = " ".join(out.split())
        assert "5 g/yr leak it says nothing" in flat
        assert "CAUTION" in out


def test_lowest_rating_of_the_plate_rules(capsys, tmp_path):
    job = tmp_path / "job.toml"
    job.write_text(
        '[plate]\nkind = "compact"\nrefrigerant = "R600a"\n'
        '[leak]\nplate_pressure_low = "6 bar gauge"\nvolume = "1.5 l"\n',
        encoding="utf-8",
    )
    found = answer(capsys, *POINTS, "--job", str(job))
    assert found["limit_gauge_pa"] == pytest.approx(6e5)
    assert found["volume_m3"] == pytest.approx(1.5e-3)
    assert any("let it down now" in n for n in found["notes"])
    high = answer(capsys, *POINTS, "--job", str(job), "--part", "high_side")
    assert high["limit_gauge_pa"] == 1e6


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "--start"),
        (POINTS[:4], "--after"),
        ((*POINTS, *WARM[:2]), "both or none"),
        (("--start", "10 bar gauge", "--end", "9 bar absolute", "--after", "1 h"),
         "both gauge or both absolute"),
        (("--start", "0.2 bar gauge", "--end", "0.1 bar gauge", "--after", "1 h"),
         "from 0.5 bar gauge up"),
        (("--start", "50 Pa absolute", "--end", "60 Pa absolute", "--after", "1 h"),
         "two points have no shape"),
        (("nowhere.csv",), "no such file"),
        (("nowhere.csv", *POINTS), "one of the two"),
        ((*POINTS, "--volume", "9 m3"), "0.01 to 50 l"),
        ((*POINTS, "--limit", "3 K"), "--limit"),
        (("--start", "40 bar gauge", "--end", "39 bar gauge", "--after", "1 h"), "pressure"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(capsys, words, said):
    status, out, err = ask(capsys, *words)
    assert (status, out) == (2, "")
    assert said in err
    assert len(err.splitlines()) == 1

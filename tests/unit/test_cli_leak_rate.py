"""`coldwright leak rate` as typed: what it prints, what it refuses."""

import json

import pytest

from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cli.text import WIDTH

JOB = """\
[plate]
kind = "top_mount"
refrigerant = "R600a"
charge = "60 g"
[history]
months_since_ok = 6
[readings]
recovered_mass = "25 g"
"""


def ask(capsys, *words):
    """Status, output, messages."""
    status = run(app, ["leak", "rate", *words])
    return status, *capsys.readouterr()


def answer(capsys, *words):
    """The JSON of a command that must succeed."""
    status, out, _ = ask(capsys, *words, "--json")
    assert status == 0
    return json.loads(out)


def test_units_and_basis(capsys):
    given = ("--refrigerant", "R134a", "--rate", "5 g/yr")
    at_20 = answer(capsys, *given)["rate"]
    assert at_20["mbar_l_s"] == pytest.approx(3.785e-5, rel=1e-3)  # 5 times the table's 7.570e-6
    at_0 = answer(capsys, *given, "--basis", "0 °C")["rate"]
    assert at_0["mbar_l_s"] == pytest.approx(3.527e-5, rel=1e-3)
    assert at_0["g_yr"] == pytest.approx(5.0)


@pytest.mark.parametrize("text", ["3.785e-5 mbar·l/s", "3.785e-6 Pa·m³/s", "3.7354e-5 atm cc/s",
                                  "2.0883e-3 sccm", "0.17637 oz/yr"])  # fmt: skip
def test_every_unit_reads_the_same_leak(capsys, text):
    found = answer(capsys, "--refrigerant", "r-134a", "--rate", text)
    assert found["rate"]["g_yr"] == pytest.approx(5.0, rel=1e-3)


def test_a_job_gives_loss_and_time(capsys, tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(JOB, encoding="utf-8")
    found = answer(capsys, str(path))
    assert found["refrigerant"] == "R600a"
    assert found["rate_low_g_yr"] < 70.0 < found["rate_high_g_yr"] * 1.05  # 35 g in half a year
    low = next(a for a in found["air_drawn_in"] if a["side"] == "low_side")
    assert low["high_g_yr"] > 0.0
    assert any("burns" in c for c in found["cautions"])


def test_low_side_of_isobutane_draws_air(capsys):
    words = ("--refrigerant", "R600a", "--rate", "20 g/yr", "--side", "low_side")
    by_state = {e["state"]: e for e in answer(capsys, *words)["elsewhere"]}
    assert by_state["low_side_running"]["high"]["gas"] == "air"
    assert by_state["low_side_running"]["high"]["g_yr"] < 0.0
    assert by_state["standing"]["low"]["g_yr"] > 20.0


def test_bands_hold_where_sources_disagree(capsys):
    found = answer(capsys, "--refrigerant", "R134a", "--rate", "5 g/yr")
    assert found["regime_disputed"] is True
    test = next(e for e in found["elsewhere"] if e["state"] == "test_nitrogen")
    assert set(test["by_law"]) == {"viscous", "molecular"}
    assert test["low"]["mbar_l_s"] < test["high"]["mbar_l_s"]


@pytest.mark.parametrize("units", ["si", "us"])
def test_text_is_narrow_and_has_its_cautions(capsys, units):
    words = ("--refrigerant", "R600a", "--rate", "5 g/yr", "--units", units)
    status, out, _ = ask(capsys, *words)
    assert status == 0
    assert max(map(len, out.splitlines())) <= WIDTH
    flat = " ".join(out.split())
    for part in ("mbar·l/s at", "Sources disagree", "Never oxygen", "Never press a flammable"):
        assert part in flat


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--rate", "5 g/yr"), "--refrigerant"),
        (("--refrigerant", "R999", "--rate", "5 g/yr"), "one of R134a"),
        (("--refrigerant", "R134a", "--rate", "5 K"), "accepted: a rate such as"),
        (("--refrigerant", "R134a", "--rate", "5"), "accepted: a rate such as"),
        (("--refrigerant", "R134a", "--rate", "0 g/yr"), "1e-4 to 1e8"),
        (("--refrigerant", "R134a", "--lost", "60 g"), "--over"),
        (("--refrigerant", "R134a", "--lost", "60 g", "--over", "3 month", "--charge", "50 g"),
         "up to the charge of 50 g"),
        (("--refrigerant", "R134a", "--rate", "5 g/yr", "--pressure", "0.5 bar absolute"),
         "above the air pressure"),
        (("--refrigerant", "R134a", "--rate", "5 g/yr", "--test-pressure", "40 bar gauge"),
         "0.5 to 16.3 bar gauge"),
        (("--refrigerant", "R134a", "--rate", "5 g/yr", "--side", "left"), "low_side"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(capsys, words, said):
    status, out, err = ask(capsys, *words)
    assert (status, out) == (2, "")
    assert err.startswith("coldwright: ")
    assert said in err
    assert len(err.splitlines()) == 1

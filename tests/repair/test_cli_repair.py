"""`coldwright repair` at the command line."""

import json

import pytest

from coldwright.cli import app
from coldwright.cli.boundary import run
from tests.repair.conftest import FOLDER

SHOP = str(FOLDER / "shop.toml")
JOB = str(FOLDER / "jobs" / "frame-loop.toml")


def called(capsys, *arguments):
    status = run(app, ["repair", *arguments])
    out = capsys.readouterr()
    return status, out.out, out.err


def test_json_and_nothing_else_on_standard_output(capsys):
    status, out, _ = called(capsys, JOB, "--shop", SHOP, "--json", "--seed", "7")
    assert status == 0
    told = json.loads(out)
    assert told["seed"] == 7
    assert told["results"][0]["currency"] == "crowns"
    assert told["results"][0]["years_compared"] == 10.0


def test_the_sheet_of_another_alternative_over_other_years(capsys):
    status, out, _ = called(
        capsys, JOB, "--shop", SHOP, "--alternative", "replace", "--years", "5 year", "--brief"
    )
    assert status == 0
    assert "OVER 5 YEARS" in out
    assert "SHEET" not in out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--years", "90 year"), ("--years", "1 to 40")),
        (("--alternative", "mend"), ("--alternative", "mend", "left out")),
        (("--shop", "nowhere.toml"), ("nowhere.toml",)),
    ],
)
def test_bad_input_is_one_message_and_status_2(capsys, arguments, words):
    status, out, err = called(capsys, JOB, *arguments)
    assert status == 2
    assert out == ""
    line = [text for text in err.splitlines() if text.startswith("coldwright:")]
    assert len(line) == 1
    assert all(word in line[0] for word in words)


def test_the_shop_is_found_by_the_environment(capsys, monkeypatch):
    monkeypatch.setenv("COLDWRIGHT_SHOP", SHOP)
    status, out, _ = called(capsys, JOB, "--brief")
    assert status == 0
    assert "crowns" in out

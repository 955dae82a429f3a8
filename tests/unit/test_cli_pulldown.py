"""`coldwright pulldown` over the real use case, in short runs: contract, words, refusals."""

import csv
import io
import json
from pathlib import Path

import pytest

import coldwright
from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cli.text import WIDTH
from coldwright.readings.logfile import load_log
from coldwright.transient.records import PullDown, Sample

EXAMPLE = str(Path(coldwright.__file__).parent / "examples" / "plain_static_plate.toml")
PLATE_ONLY = '[plate]\nkind = "single_door"\nrefrigerant = "R600a"\nyear = 2012\n'


def answer(capsys, *arguments):
    status = run(app, ["pulldown", *arguments])
    out, err = capsys.readouterr()
    assert status == 0, err
    return out


def test_json_has_every_field_by_its_own_name(capsys):
    out = answer(capsys, EXAMPLE, "--hours", "1 h", "--every", "10 min", "--json")
    told = json.loads(out)
    assert set(PullDown.__dataclass_fields__) <= set(told)
    assert set(told["samples"][0]) == set(Sample.__dataclass_fields__)
    assert len(told["samples"]) == pytest.approx(7, abs=1)
    assert told["samples"][0]["phase"] == "running"
    assert told["pull_down_s"] is None  # not reached in an hour
    assert told["daily"] is None
    assert told["plan"]["thermostat"]["compartment"] == "fresh_food"
    assert abs(told["balance"]["relative_error"]) < 1e-9


def test_csv_is_one_line_a_sample(capsys):
    out = answer(capsys, EXAMPLE, "--hours", "1 h", "--every", "10 min", "--csv")
    rows = list(csv.DictReader(io.StringIO(out)))
    assert list(rows[0]) == list(Sample.__dataclass_fields__)
    assert float(rows[0]["freezer_k"]) == pytest.approx(298.15)
    assert float(rows[-1]["time_s"]) == pytest.approx(3600.0)
    assert float(rows[-1]["freezer_k"]) < 290.0
    assert rows[-1]["goods_k"] == ""


def test_text_is_narrow_and_names_what_was_asked(capsys):
    out = answer(
        capsys, EXAMPLE, "--hours", "90 min", "--fault", "undercharge=0.6", "--goods",
        "freezer=2 kg", "--warm-load", "fresh_food=3 kg", "--warm-load-after", "1 h",
        "--sensor", "freezer", "--span", "3 K", "--doors", "4",
    )  # fmt: skip
    assert max(map(len, out.splitlines())) <= WIDTH
    flat = " ".join(out.split())
    assert "Fault: too little refrigerant: 60.0 %" in flat
    assert "First stop after not reached" in flat
    assert "Doors one by one" in flat
    assert "THE COURSE" in out


def test_a_plate_alone_is_the_middle_member(tmp_path, capsys):
    job = tmp_path / "job.toml"
    job.write_text(PLATE_ONLY, encoding="utf-8")
    out = " ".join(answer(capsys, str(job), "--hours", "30 min").split())
    assert "The circuit is not fully given" in out


def test_a_log_is_drawn_and_compared(tmp_path, capsys):
    log, figure = tmp_path / "log.csv", tmp_path / "course.svg"
    log.write_text(
        "time [min], Freezer_temperature [°C]\n0, 25\n20, 18\n40,\n60, 12\n200, -15\n", "utf-8"
    )
    out = answer(
        capsys, EXAMPLE, "--hours", "1 h", "--log", str(log), "--svg", str(figure), "--json"
    )
    (beside,) = json.loads(out)["beside_log"]
    assert beside["words"] == "freezer"
    assert beside["points"] == 3  # one is empty, one lies behind the end
    assert abs(beside["mean_difference_k"]) < 15.0
    drawn = figure.read_text(encoding="utf-8")
    assert drawn.count("<circle") == 3
    assert "freezer, logged" in drawn
    assert "<title>" in drawn
    assert "<desc>" in drawn
    text = answer(capsys, EXAMPLE, "--hours", "1 h", "--log", str(log))
    assert "BESIDE THE LOG" in text
    assert max(map(len, text.splitlines())) <= WIDTH


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        (["--hours", "5 min"], "--hours"),
        (["--hours", "24"], "--hours"),
        (["--begin", "warm"], "--begin"),
        (["--sensor", "shelf"], "--sensor"),
        (["--span", "40 K"], "--span"),
        (["--goods", "freezer"], "--goods"),
        (["--goods", "cellar=2 kg"], "--goods"),
        (["--warm-load", "freezer=2 t"], "--warm-load"),
        (["--defrost", "5 W"], "--defrost"),
        (["--defrost", "250 W"], "defrost heater"),  # on a plate evaporator
        (["--defrost-end", "90 °C"], "--defrost-end"),
        (["--doors", "-3"], "--doors"),
        (["--every", "0 s"], "--every"),
        (["--csv", "--json"], "--csv, --json"),
        (["--fault", "gremlins"], "--fault"),
        (["--fault", "undercharge=1.5"], "undercharge"),
        (["--log", "no-such.csv"], "no-such.csv"),
    ],
)
def test_bad_input_is_one_message_with_the_place(arguments, named, capsys):
    assert run(app, ["pulldown", EXAMPLE, *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert named in err
    assert "Traceback" not in err
    assert len([line for line in err.splitlines() if not line.startswith("...")]) == 1


def test_no_fresh_food_side_is_said(capsys):
    chest = EXAMPLE.replace("plain_static_plate", "plain_skin_cold_wall")
    assert run(app, ["pulldown", chest, "--sensor", "fresh_food"]) == 2
    assert "no other compartment" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("", "nothing"),
        ("time [min]\n1\n2\n", "head"),
        ("time [min], fridge [°C]\n1, 2\n", "head"),
        ("time, freezer_temperature [°C]\n1, 2\n", "head"),
        ("time [min], freezer_temperature [°C]\n1, 2\n2\n", "line 3"),
        ("time [min], freezer_temperature [°C]\n1, cold\n2, 3\n", "line 2, freezer_temperature"),
        ("time [min], freezer_temperature [bar]\n1, 2\n2, 3\n", "head, freezer_temperature"),
        ("time [min], freezer_temperature [°C]\n2, 2\n1, 3\n", "time"),
        ("time [min], freezer_temperature [°C]\n, 2\n1, 3\n", "line 2, time"),
    ],
)
def test_a_bad_log_names_line_and_column(tmp_path, text, where):
    from coldwright.errors import BadInput

    path = tmp_path / "log.csv"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput) as caught:
        load_log(path)
    assert where in str(caught.value)
    assert str(path) in str(caught.value)


def test_a_log_in_fahrenheit_is_the_same(tmp_path):
    path = tmp_path / "log.csv"
    path.write_text("time [h], fresh_food_temperature [°F]\n0, 41\n1, 39.2\n", encoding="utf-8")
    log = load_log(path)
    assert log.time_s == (0.0, 3600.0)
    assert log.fresh_food_k == pytest.approx((278.15, 277.15))
    assert all(t != t for t in log.freezer_k)

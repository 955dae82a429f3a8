"""A log beside a job: what goes where, what goes first, how it errs, how it is told."""

import json
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from coldwright.case.evidence import instruments_of, stated_sd_of
from coldwright.case.notes import log_notes
from coldwright.catalogue.instruments import instruments
from coldwright.catalogue.reading_errors import covariance
from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cli.text import WIDTH
from coldwright.learning.proven import proven_of
from coldwright.logged.with_log import job_with_log, with_log, written
from coldwright.readings.jobfile import job_from_text, load_job
from coldwright.usecases.demo import demo_folder, demo_jobs, pick_demo
from coldwright.words.log import course_lines
from tests.unit.cli_fakes import DIAGNOSIS
from tests.unit.test_logged import cycling, log

JOB = """
[plate]
kind = "upright_freezer"
refrigerant = "R600a"
[room]
temperature = "24 °C"
[readings]
appliance_power = "96 W"
[signs]
compressor_hums_and_trips = false
"""
NAME = "laundry-upright"


def logged(**columns):
    _, power = cycling()
    usual = {"appliance_power": power, "freezer_temperature": 255.0, "ambient_temperature": 300.0}
    return with_log(job_from_text(JOB, "x.toml"), log(720, **(usual | columns)))


def test_what_was_entered_goes_first_and_is_told():
    job = logged()
    assert job.reading("appliance_power").value == 96.0
    assert job.reading("appliance_power").log is None
    assert job.reading("ambient_temperature") is None  # the room's temperature was entered
    assert job.reading("freezer_temperature").log is not None
    assert set(job.course.passed_over) == {"appliance_power", "ambient_temperature"}
    assert any("Entered by hand" in line for line in course_lines(job.course))
    assert any("entered by hand goes before" in note for note in log_notes(job))
    assert log_notes(job_from_text(JOB, "x.toml")) == ()


def test_circumstances_that_nobody_entered_come_from_the_log():
    job = logged()
    assert job.taken.settled is True
    assert job.taken.minutes_since_start == pytest.approx(job.course.running_s / 60.0)
    told = job_from_text(JOB + "[taken]\nsettled = false\nminutes_since_start = 5\n", "x.toml")
    _, power = cycling()
    kept = with_log(told, log(720, appliance_power=power, freezer_temperature=255.0))
    assert (kept.taken.settled, kept.taken.minutes_since_start) == (False, 5.0)


def test_a_sign_that_was_checked_stays():
    t = np.arange(120.0)
    bursts = log(120, appliance_power=np.where(t % 12 < 1, 600.0, 3.0))
    assert with_log(job_from_text(JOB, "x"), bursts).sign("compressor_hums_and_trips").seen is False
    bare = job_from_text('[plate]\nkind = "compact"\n', "x")
    assert with_log(bare, bursts).sign("compressor_hums_and_trips").seen is True


def test_readings_are_written_in_the_units_of_the_log():
    reading = logged().reading("freezer_temperature")
    assert reading.entered == "255.0 K"
    assert written(replace(reading.log, unit="°F")) == "-0.7 °F"
    assert "13 whole cycles" in logged().reading("run_fraction").note


def test_lines_are_in_the_units_asked_for():
    course = logged().course
    assert any("-18.1 °C" in line for line in course_lines(course))
    assert any("-0.7 °F" in line for line in course_lines(course, "us"))
    assert not any("°C" in line for line in course_lines(course, "us"))


def test_bias_of_the_thermometer_is_not_averaged_away():
    """Two logged temperatures keep the visit's shared bias, however many the samples."""
    job = logged(condenser_middle_temperature=310.0, condenser_outlet_temperature=308.0)
    keys = ("condenser_middle_temperature", "condenser_outlet_temperature")
    used = [job.reading(k) for k in keys]
    tools = instruments()
    own = np.array([r.value for r in used])
    cov = covariance(
        instruments_of(used, tools, math.inf), own, np.full(2, 297.0), stated_sd_of(used)
    )
    bias = tools[keys[0]].bias_sd
    assert cov[0, 1] >= bias**2
    assert cov[0, 0] > bias**2 + tools[keys[0]].model_sd ** 2
    plain = covariance([tools[k] for k in keys], own, np.full(2, 297.0))
    assert cov[0, 0] < plain[0, 0]


def test_lag_of_a_logged_reading_counts_by_its_own_time():
    job = logged(shell_temperature=310.0)
    shell, tools = job.reading("shell_temperature"), instruments()
    for running_s in (300.0, 900.0, 5000.0):
        (tool,) = instruments_of([shell], tools, running_s)
        left = shell.log.lag_left(tools["shell_temperature"].settling_s)
        assert math.exp(-running_s / tool.settling_s) == pytest.approx(left)


def test_path_counts_from_the_job_file(tmp_path):
    (tmp_path / "deep").mkdir()
    text = "time [min], freezer_temperature [°C]\n0, -18\n1, -18\n2, -18\n"
    (tmp_path / "deep" / "log.csv").write_text(text, encoding="utf-8")
    path = tmp_path / "job.toml"
    path.write_text('[plate]\nkind = "chest_freezer"\n[taken]\nlog = "deep/log.csv"\n')
    job = job_with_log(load_job(path), tmp_path)
    assert job.reading("freezer_temperature").value == pytest.approx(255.15)
    assert job_with_log(load_job(path), tmp_path, tmp_path / "deep" / "log.csv").course is not None


def test_a_logged_job_still_does_not_count_for_itself():
    plain = job_from_text(
        JOB + '[outcome]\nfound = "condenser_air"\nproven_by = "seen"\n', "x.toml"
    )
    asked = with_log(plain, log(720, appliance_power=cycling()[1], freezer_temperature=255.0))
    assert proven_of([plain]).jobs
    assert proven_of([plain]).without(asked).jobs == ()


# the demo and the command


def test_the_invented_shop_has_a_log():
    job = pick_demo(demo_jobs(), NAME).job
    assert "(invented)" in job.title
    assert job.course.steady
    assert job.course.settled
    assert {r.key for r in job.readings} >= {"run_fraction", "condenser_middle_temperature"}


@pytest.fixture
def seen(monkeypatch):
    asked = []

    def watch(job, **_options):
        asked.append(job)
        return replace(DIAGNOSIS, log=job.course)

    monkeypatch.setattr("coldwright.cli.command_diagnose.diagnose_use_case", lambda: watch)
    monkeypatch.delenv("COLDWRIGHT_PROVEN", raising=False)
    return asked


def test_command_takes_a_log_and_shows_what_came_of_it(seen, tmp_path, capsys):
    path = tmp_path / "job.toml"
    path.write_text('[plate]\nkind = "upright_freezer"\n')
    source = demo_folder() / f"{NAME}.csv"
    assert run(app, ["diagnose", str(path), "--log", str(source)]) == 0
    out = capsys.readouterr().out
    assert "FROM THE LOG" in out
    assert "9 whole cycles" in " ".join(out.split())
    assert max(map(len, out.splitlines())) <= WIDTH or str(tmp_path) in out
    assert seen[0].reading("run_fraction").log.samples == 9
    assert run(app, ["diagnose", str(path), "--log", str(source), "--json"]) == 0
    (result,) = json.loads(capsys.readouterr().out)["results"]
    assert result["log"]["cycles"] == 9
    assert run(app, ["diagnose", str(demo_folder() / f"{NAME}.toml")]) == 0
    assert seen[-1].course.cycles == 9


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (["--log", "nowhere.csv"], "nowhere.csv: read no such file"),
        (["--log", "LOG", "JOB"], "one job beside it"),
    ],
)
def test_slips_end_the_command_in_one_line(seen, tmp_path, capsys, more, told):
    path = tmp_path / "job.toml"
    path.write_text('[plate]\nkind = "upright_freezer"\n')
    words = [str(path) if w == "JOB" else w for w in more]
    assert run(app, ["diagnose", str(path), *words]) == 2
    err = capsys.readouterr().err
    assert told in err
    assert len(err.strip().splitlines()) == 1
    assert seen == []


def test_the_page_about_logs_names_a_log_that_can_be_read():
    import re

    from coldwright.readings.series import series_from_text

    page = (Path(__file__).parents[2] / "docs" / "logs.md").read_text(encoding="utf-8")
    (text,) = re.findall(r"```csv\n(.*?)```", page, re.S)
    assert series_from_text(text, "logs.md").time_s[1] == 60.0


def test_the_pace_of_a_freezer_on_its_way_comes_from_a_log():
    t = np.arange(240.0)
    falling = log(240, appliance_power=90.0, freezer_temperature=270.0 - 2.4 * t / 60.0)
    job = with_log(job_from_text(JOB, "x"), falling)
    reading = job.reading("freezer_cooling_rate")
    assert reading.value == pytest.approx(2.4 / 3600.0, rel=0.02)
    assert reading.entered == "2.4 K/h"
    assert any("2.40 K/h" in line for line in course_lines(job.course))
    assert any("4.32 °F/h" in line for line in course_lines(job.course, "us"))

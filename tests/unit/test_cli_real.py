"""The command line over the real use cases, on a small ensemble: contract, not accuracy."""

import json

import pytest

from coldwright.cli import app
from coldwright.cli.as_json import dumped
from coldwright.cli.boundary import run
from coldwright.cli.diagnosis_json import diagnoses_json
from coldwright.cli.diagnosis_text import diagnosis_lines
from coldwright.cli.text import WIDTH
from coldwright.readings.jobfile import load_job
from coldwright.readings.keys import READINGS, SIGNS
from coldwright.usecases.demo import SHOWN_FIRST, demo_jobs, pick_demo
from coldwright.usecases.diagnose import diagnose
from tests.unit.cli_fakes import JOB, circuit_toml

SMALL = ["--members", "500", "--seed", "3"]


@pytest.fixture(scope="module")
def job(tmp_path_factory):
    path = tmp_path_factory.mktemp("jobs") / "hall.toml"
    path.write_text(JOB.format(refrigerant="R134a"), encoding="utf-8")
    return str(path)


@pytest.fixture
def circuit(tmp_path):
    path = tmp_path / "circuit.toml"
    path.write_text(circuit_toml(), encoding="utf-8")
    return str(path)


def answer(capsys, *arguments):
    status = run(app, list(arguments))
    out, err = capsys.readouterr()
    assert status == 0, err
    return json.loads(out)


@pytest.mark.slow
def test_diagnose_keeps_the_contract_and_repeats_itself(job, capsys):
    first = answer(capsys, "diagnose", job, "--json", *SMALL)
    (result,) = first["results"]
    odds = [*result["faults"], *result["pairs"]]
    assert sum(item["probability"] for item in odds) == pytest.approx(1.0, abs=1e-9)
    assert result["faults"][0]["probability"] == max(f["probability"] for f in result["faults"])
    assert 0.0 <= result["sealed_circuit_probability"] <= 1.0
    assert first["seed"] == 3
    assert all(check["check"] in {*READINGS, *SIGNS} for check in result["next_checks"])
    known = {"appliance_power", "discharge_line_temperature"}
    assert {r["reading"] for r in result["reasons"]} == known
    assert known.isdisjoint(check["check"] for check in result["next_checks"])
    # The same seed again, by the use case itself: the same odds, and text that fits a phone.
    again = diagnose(load_job(job), seed=3, members=500, system="si")
    assert json.loads(dumped(diagnoses_json([again]))) == first
    lines = diagnosis_lines(load_job(job), again)
    assert max(map(len, lines)) <= WIDTH
    assert any(line.startswith("Sealed circuit at fault:") for line in lines)


def test_simulate_charge_and_fault_move_the_state(circuit, capsys):
    sound = answer(capsys, "simulate", circuit, "--json")
    leaky = answer(capsys, "simulate", circuit, "--fault", "undercharge=0.5", "--json")
    less = answer(capsys, "simulate", circuit, "--charge", "60 g", "--json")
    assert leaky["running"]["evaporating_k"] < sound["running"]["evaporating_k"]
    # Half the plate's 120 g, by either way of saying it.
    assert less["running"]["evaporating_k"] == pytest.approx(
        leaky["running"]["evaporating_k"], abs=0.01
    )
    assert sound["models"]
    assert sound["standing"]


def test_simulate_sweeps_the_real_model(circuit, capsys):
    found = answer(
        capsys,
        "simulate",
        circuit,
        "--vary",
        "capillary.bore=0.6..0.72mm",
        "--points",
        "3",
        "--json",
    )
    flows = [point["running"]["mass_flow_kg_s"] for point in found["points"]]
    assert len(set(flows)) == 3
    assert run(app, ["simulate", circuit, "--vary", "charge=80..120 g", "--points", "3"]) == 0
    assert max(map(len, capsys.readouterr().out.splitlines())) <= WIDTH


def test_the_invented_shop_is_there_and_readable():
    jobs = demo_jobs()
    assert len(jobs) >= 8
    assert pick_demo(jobs, None).name == SHOWN_FIRST
    assert all(job.job.title for job in jobs)

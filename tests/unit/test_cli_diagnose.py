"""`coldwright diagnose` over a stand-in: the JSON contract, the text, the order of things."""

import json
from dataclasses import replace

import pytest

from coldwright.catalogue.cautions import CAUTIONS
from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cli.text import WIDTH
from coldwright.errors import NotSolved
from tests.unit.cli_fakes import DIAGNOSIS, JOB, MISFIT, REFUSED, FakeDiagnose


@pytest.fixture
def fake(monkeypatch):
    stand_in = FakeDiagnose()
    monkeypatch.setattr("coldwright.cli.command_diagnose.diagnose_use_case", lambda: stand_in)
    return stand_in


@pytest.fixture
def job(tmp_path):
    path = tmp_path / "hall.toml"
    path.write_text(JOB.format(refrigerant="R134a"), encoding="utf-8")
    return str(path)


def test_json_keeps_the_contract(fake, job, capsys):
    assert run(app, ["diagnose", job, job, "--json", "--seed", "7", "--members", "500"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert {"model", "seed", "results"} <= set(answer)
    assert (answer["model"], answer["seed"]) == ("stand-in 1", 7)
    assert len(answer["results"]) == 2
    result = answer["results"][0]
    assert result["job"] == job
    assert set(result["faults"][0]) == {"fault", "probability", "severity", "which"}
    assert result["faults"][0]["severity"] == {
        **{"low": 0.3, "median": 0.45, "high": 0.6, "unit": "fraction"}
    }
    assert result["faults"][-1]["severity"] is None
    kinds = next(f for f in result["faults"] if f["fault"] == "compressor_not_running")["which"]
    assert kinds[0] == {"which": "relay", "probability": 0.6}
    (pair,) = result["pairs"]
    assert (pair["faults"], pair["probability"]) == (["undercharge", "non_condensables"], 0.07)
    both = [*result["faults"], *result["pairs"]]
    assert sum(item["probability"] for item in both) == pytest.approx(1.0)
    assert result["sealed_circuit_probability"] == 0.89
    assert result["open_circuit_advised"] is False
    needed = {"check", "information_bits", "minutes", "opens_circuit"}
    assert all(needed <= set(check) for check in result["next_checks"])
    assert result["reasons"][0]["unit"] == "K"
    assert set(result) >= {
        *("restriction_probability", "fit", "cautions", "notes", "members"),
        *("effective_members", "unsolved", "refused"),
    }
    assert [asked[1:] for asked in fake.asked] == [(7, 500), (7, 500)]


def test_without_seed_and_members_the_use_case_decides(fake, job):
    assert run(app, ["diagnose", job]) == 0
    assert fake.asked[0][1:] == (20, 4000)


@pytest.mark.usefixtures("fake")
def test_text_fits_a_phone_and_says_it_in_order(job, capsys):
    assert run(app, ["diagnose", job]) == 0
    out, err = capsys.readouterr()
    assert max(map(len, out.splitlines())) <= WIDTH
    titles = ["Hall refrigerator", "CAUTION", "ODDS", "WHY", "WHAT WOULD CHANGE"]
    titles += ["CHECK NEXT", "NOTES"]
    places = [out.index(title) for title in titles]
    assert places == sorted(places)
    flat = " ".join(out.split())
    for part in (
        "52 %",
        "Too little refrigerant",
        "about 45 % of the charge left (30 to 60 %)",
        "relay 60 %, winding 40 %",
        "all others together 1 %",
        "Restriction, drier or capillary: 30 %",
        "Sealed circuit at fault: yes (89 %)",
        "Do not open the circuit yet.",
        "Condenser outlet (4 min)",
        "Clamp the last pass",
        "(25 min, OPENS THE CIRCUIT)",
        "taken as gauge",
        "4000 simulated appliances, of which 731 carry weight",
    ):
        assert part in flat
    assert CAUTIONS["opens_circuit"].sentences[0] in flat  # spelled out where the step is shown
    assert "the best is now: replace the appliance; next: do nothing. A check pays" in flat
    assert "Tells much (0.41 bit). Pays: saves about 32 crowns, its minutes cost 3 crowns" in flat
    assert "in 38 of 100 the best is then: clean the condenser" in flat
    assert "+ Discharge line read 54 °C: this fault would show 47 to 58 °C" in flat
    assert "- Frost only at the inlet: no; this fault shows it in 80 of 100." in flat
    assert "Too little refrigerant together with air inside, 7 %" in flat
    assert "no reading speaks for or against it by itself" in flat
    assert "below 25.8 °C, too little refrigerant would fall from 52 % to 40 % or less" in flat
    assert "Oil trace" not in out  # three checks
    assert "!! " not in out
    assert "drawing members" in err


def test_without_arguments_the_reasons_stand_alone(fake, job, capsys):
    fake.result = replace(DIAGNOSIS, arguments=(), mind_changes=())
    assert run(app, ["diagnose", job]) == 0
    out = capsys.readouterr().out
    assert "Reason 3" in out
    assert "Reason 4" not in out
    assert "CHANGE OUR MIND" not in out


@pytest.mark.usefixtures("fake")
def test_the_bars_are_as_long_as_the_odds(job, capsys):
    run(app, ["diagnose", job])
    bars = [line.count("█") + line.count("#") for line in capsys.readouterr().out.splitlines()]
    bars = [length for length in bars if length]
    assert bars == sorted(bars, reverse=True)
    assert bars[0] > 2 * bars[1] > 0


def test_readings_nothing_explains_come_before_the_odds(fake, job, capsys):
    fake.result = MISFIT
    assert run(app, ["diagnose", job]) == 0
    flat = " ".join(capsys.readouterr().out.split())
    assert flat.index("No fault here explains") < flat.index("52 %")
    assert "First to check again: freezer compartment." in flat


def test_a_refusal_shows_no_odds_but_what_can_still_be_done(fake, job, capsys):
    fake.result = REFUSED
    assert run(app, ["diagnose", job]) == 0
    out = capsys.readouterr().out
    assert "variable-speed drive is not modelled yet" in " ".join(out.split())
    assert "ODDS\n" not in out
    assert "%" not in out
    assert "CHECK NEXT" in out
    run(app, ["diagnose", job, "--json"])
    assert json.loads(capsys.readouterr().out)["results"][0]["refused"] == REFUSED.refused


@pytest.mark.parametrize(
    ("refrigerant", "said"), [("R600a", "burns"), ("unknown", "treat it as flammable")]
)
def test_a_flammable_or_unknown_refrigerant_is_cautioned_first(
    fake, tmp_path, capsys, refrigerant, said
):
    fake.result = replace(DIAGNOSIS, cautions=())
    path = tmp_path / "kitchen.toml"
    path.write_text(JOB.format(refrigerant=refrigerant), encoding="utf-8")
    assert run(app, ["diagnose", str(path)]) == 0
    flat = " ".join(capsys.readouterr().out.split())
    assert said in flat[: flat.index("ODDS")]
    assert "gas alarm at floor level and inside the cabinet" in flat[: flat.index("ODDS")]


def test_a_bad_file_is_named_and_the_others_are_answered(fake, job, tmp_path, capsys):
    bad = tmp_path / "bad.toml"
    bad.write_text('[plate]\nkind = "spaceship"\n', encoding="utf-8")
    assert run(app, ["diagnose", job, str(bad), "--json"]) == 2
    out, err = capsys.readouterr()
    assert len(fake.asked) == 1
    assert out
    err = err.splitlines()[-1]
    assert "bad.toml" in err
    assert "plate.kind" in err
    assert "'spaceship'" in err


def test_a_solver_that_gives_up_is_told_without_a_traceback(fake, job, capsys):
    fake.trouble = NotSolved("running state", (1.0,), 0.5)
    assert run(app, ["diagnose", job]) == 2
    assert "running state not solved" in capsys.readouterr().err


@pytest.mark.parametrize("units", ["si", "us"])
def test_sentences_are_asked_for_in_the_chosen_units(fake, job, units):
    assert run(app, ["diagnose", job, "--units", units]) == 0
    assert fake.system == units


def test_opening_is_left_to_who_may(fake, job, capsys):
    fake.result = replace(DIAGNOSIS, open_circuit_advised=True)
    run(app, ["diagnose", job])
    flat = " ".join(capsys.readouterr().out.split())
    assert "Opening the circuit is advised now, by whoever may do that here." in flat
    assert "Do not open" not in flat


def test_where_nothing_is_left_to_check_it_says_so(fake, job, capsys):
    fake.result = replace(DIAGNOSIS, next_checks=())
    run(app, ["diagnose", job])
    assert "Nothing more from outside would tell much." in capsys.readouterr().out


class FakeInside:
    """Stands for the use case and its figures; remembers what it was asked."""

    faults = ("undercharge",)

    def __init__(self, drawn):
        self.drawn, self.asked, self.words = drawn, None, None

    def __call__(self, job, *, progress, **asked):
        progress(f"looking inside {job.source}")
        self.asked = asked
        return self

    def figures_inside(self, found, title, words):
        assert found is self
        assert title
        self.words = words
        return self.drawn


@pytest.mark.parametrize("drawn", [{"a.svg": "<svg>a</svg>"}, {}], ids=["flows", "stands"])
def test_figures_of_the_leading_fault_are_written(monkeypatch, fake, job, tmp_path, drawn, capsys):
    inside = FakeInside(drawn)
    monkeypatch.setattr("coldwright.cli.command_diagnose.inside_use_case", lambda: inside)
    monkeypatch.setattr("coldwright.cli.command_diagnose.inside_figures", lambda: inside)
    folder = tmp_path / "figures"
    asked = ["diagnose", job, "--figures", str(folder), "--seed", "7", "--members", "500"]
    assert run(app, asked) == 0
    assert inside.asked == {"seed": 7, "members": 500}
    assert inside.words == "too little refrigerant"
    assert {p.name: p.read_text() for p in folder.glob("*")} == drawn
    assert ("nothing flows" in capsys.readouterr().err) == (not drawn)
    assert fake.asked


def test_figures_are_of_one_job(fake, job, tmp_path, capsys):
    assert run(app, ["diagnose", job, job, "--figures", str(tmp_path)]) == 2
    assert "--figures" in capsys.readouterr().err
    assert fake.asked == []

"""`coldwright demo` and `coldwright serve` over stand-ins; settings."""

from pathlib import Path

import pytest

from coldwright.bootstrap import HOST, PORT, settings
from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cli.text import WIDTH
from coldwright.errors import BadInput
from coldwright.usecases.demo import demo_jobs, pick_demo
from tests.unit.cli_fakes import JOB, FakeDiagnose


@pytest.fixture
def shop(tmp_path, monkeypatch):
    for name, refrigerant in (("bakery_chest", "R600a"), ("attic_top_mount", "R134a")):
        (tmp_path / f"{name}.toml").write_text(JOB.format(refrigerant=refrigerant), "utf-8")
    monkeypatch.setattr("coldwright.usecases.demo.demo_folder", lambda: tmp_path)
    stand_in = FakeDiagnose()
    monkeypatch.setattr("coldwright.cli.command_diagnose.diagnose_use_case", lambda: stand_in)
    return stand_in


def test_demo_lists_says_invented_diagnoses_one_and_names_the_page(shop, capsys):
    assert run(app, ["demo"]) == 0
    out, err = capsys.readouterr()
    flat = " ".join(out.split())
    assert max(map(len, out.splitlines())) <= WIDTH
    assert "made up" in flat[: flat.index("attic_top_mount")]
    assert "bakery_chest" in flat
    assert "Diagnosing attic_top_mount" in flat
    assert "Sealed circuit at fault" in flat
    assert flat.endswith(f"make serve (or coldwright serve), then open http://{HOST}:{PORT}")
    assert "drawing members" in err
    assert len(shop.asked) == 1


@pytest.mark.parametrize("name", ["bakery_chest", "bakery_chest.toml"])
def test_another_job_by_name(shop, name):
    assert run(app, ["demo", name]) == 0
    assert shop.asked[0][0].plate.refrigerant == "R600a"


def test_an_unknown_name_is_told_with_the_nearest(shop, capsys):
    assert run(app, ["demo", "bakery_chets"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "did you mean bakery_chest" in err
    assert shop.asked == []


def test_the_hall_refrigerator_is_shown_first_where_there_is_one(shop, tmp_path):
    (tmp_path / "hall-refrigerator.toml").write_text(JOB.format(refrigerant="R12"), "utf-8")
    assert run(app, ["demo"]) == 0
    job = shop.asked[0][0]
    assert (job.plate.refrigerant, job.source) == ("R12", "hall-refrigerator.toml")


def test_an_empty_shop_is_an_error(tmp_path):
    assert demo_jobs(tmp_path) == ()
    with pytest.raises(BadInput, match="no job files"):
        pick_demo((), None)


def test_serve_passes_on_what_was_asked(monkeypatch, tmp_path):
    calls = []
    monkeypatch.setattr(
        "coldwright.web.server.serve",
        lambda host, port, folder, *, lan, shop_file, proven_folder: calls.append(
            (host, port, folder, lan, shop_file, proven_folder)
        ),
    )
    monkeypatch.setenv("COLDWRIGHT_JOBS", str(tmp_path / "van"))
    monkeypatch.setenv("COLDWRIGHT_SHOP", str(tmp_path / "shop.toml"))
    monkeypatch.setenv("COLDWRIGHT_PROVEN", str(tmp_path / "proven"))
    assert run(app, ["serve"]) == 0
    options = ["--host", "10.0.0.5", "--port", "9000", "--folder", str(tmp_path), "--lan"]
    assert run(app, ["serve", *options]) == 0
    assert calls == [
        (HOST, PORT, tmp_path / "van", False, tmp_path / "shop.toml", tmp_path / "proven"),
        ("10.0.0.5", 9000, tmp_path, True, tmp_path / "shop.toml", tmp_path / "proven"),
    ]


def test_the_folder_of_jobs_follows_the_environment():
    assert settings({"COLDWRIGHT_JOBS": "van"}).jobs_folder == Path("van")
    assert settings({"XDG_DATA_HOME": "data"}).jobs_folder == Path("data/coldwright/jobs")
    assert settings({}).jobs_folder == Path.home() / ".local/share/coldwright/jobs"

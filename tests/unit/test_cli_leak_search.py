"""`coldwright leak search` as typed; the search kept in the job."""

import json

import pytest

from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cli.text import WIDTH
from coldwright.readings.jobfile import JobFile, load_job

JOB = """\
# kept by hand
[plate]
kind = "bottom_mount"
refrigerant = "R600a"
charge = "60 g"

[history]
months_since_ok = 5
"""


@pytest.fixture
def path(tmp_path):
    file = tmp_path / "job.toml"
    file.write_text(JOB, encoding="utf-8")
    return file


def ask(capsys, *words):
    """Status, output, messages."""
    status = run(app, ["leak", "search", *map(str, words)])
    return status, *capsys.readouterr()


def test_json_has_every_field(capsys, path):
    status, out, _ = ask(capsys, path, "--json")
    found = json.loads(out)
    assert status == 0
    assert sum(p["probability"] for p in found["places"]) + found["nothing_to_find"] == (
        pytest.approx(1.0)
    )
    assert found["steps"][-1]["chance_so_far"] <= found["chance_found"] + 1e-9
    assert {m for m, _ in found["barred"]} >= {"fluorescent_dye", "heated_diode_detector"}
    assert found["pace"]["log_sd"] > 0


def test_a_step_is_kept_in_the_job_and_moves_the_plan(capsys, path):
    before = json.loads(ask(capsys, path, "--json")[1])
    step = "drier_joint bubble_test 3 no"
    after = json.loads(ask(capsys, path, "--tried", step, "--json")[1])
    text = path.read_text(encoding="utf-8")
    assert text.startswith("# kept by hand")
    assert 'method = "bubble_test"' in text
    kept = load_job(path).tried
    assert [(t.place, t.method, t.minutes, t.found) for t in kept] == [
        ("drier_joint", "bubble_test", 3.0, False)
    ]

    def chance(report):
        return next(p["probability"] for p in report["places"] if p["place"] == "drier_joint")

    assert chance(after) < chance(before)


def test_text_is_narrow_and_complete(capsys, path):
    status, out, _ = ask(capsys, path)
    assert status == 0
    assert max(map(len, out.splitlines())) <= WIDTH
    flat = " ".join(out.split())
    for part in ("WHERE IT MAY BE", "LOOK IN THIS ORDER", "This refrigerant burns",
                 "Never oxygen", "A leak of 5 g/yr takes", "NOT ON THIS CIRCUIT",
                 "are ours"):  # fmt: skip
        assert part in flat
    _, out, _ = ask(capsys, path, "--tried", "drier_joint tracer_gas 2 yes")
    assert "Found at the drier joint" in out
    assert "LOOK IN THIS ORDER" not in out


def test_the_shops_finds_are_read_and_strange_files_passed_over(capsys, path, tmp_path):
    shop = tmp_path / "shop"
    shop.mkdir()
    found = JobFile(JOB, "x")
    found.add_tried("condenser", "tracer_gas", 2.0, True)
    (shop / "one.toml").write_text(found.text, encoding="utf-8")
    (shop / "two.toml").write_text("nonsense", encoding="utf-8")
    report = json.loads(ask(capsys, path, "--shop", shop, "--json")[1])
    assert any("1 finds of this shop" in n for n in report["notes"])


def test_steps_are_added_and_taken_out_without_losing_a_comment():
    file = JobFile(JOB, "job.toml")
    file.add_tried("drier_joint", "visual", 1.0, False)
    file.add_tried("evaporator", "bubble_test", 2.5, False)
    assert len(file.job.tried) == 2
    file.remove_tried(0)
    assert [t.place for t in file.job.tried] == ["evaporator"]
    file.remove_tried(5)
    file.remove_tried(0)
    assert file.job.tried == ()
    assert file.text.startswith("# kept by hand")
    inline = JobFile(
        'tried = [{ place = "drier", method = "visual", minutes = 1, found = false }]\n' + JOB, "x"
    )
    inline.add_tried("evaporator", "bubble_test", 2.0, False)
    assert len(inline.job.tried) == 2


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--tried", "drier_joint bubble_test no"), "PLACE METHOD MINUTES"),
        (("--tried", "drier_joint bubble_test 3 perhaps"), "PLACE METHOD MINUTES"),
        (("--tried", "moon bubble_test 3 no"), "tried[1].place"),
        (("--tried", "drier_joint prayer 3 no"), "tried[1].method"),
        (("--shop", "nowhere"), "a folder of job files"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_kept(capsys, path, words, said):
    status, out, err = ask(capsys, path, *words)
    assert (status, out) == (2, "")
    assert said in err
    assert path.read_text(encoding="utf-8") == JOB


@pytest.mark.parametrize(
    ("extra", "said"),
    [
        ('[leak]\nmass_lost = "3 K"\n', "leak.mass_lost"),
        ('[leak]\ndraught = "storm"\n', "still, slight, draughty"),
        ('[leak]\ninstruments = "eyes"\n', "a list of"),
        ('[leak]\nwind = "slight"\n', "unknown key"),
        ('[leak]\nair_drawn_in = "maybe"\n', "true or false"),
        ('refrigerant = "R502"\n', "R502"),
    ],
)
def test_bad_keys_are_named(capsys, path, extra, said):
    text = JOB.replace('refrigerant = "R600a"\n', extra) if "refr" in extra else JOB + extra
    path.write_text(text, encoding="utf-8")
    status, _, err = ask(capsys, path)
    assert status == 2
    assert said in err

"""Outcomes of job files: read, counted once, never across refrigerants, before a diagnosis."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from coldwright.catalogue.priors import FAULTS
from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cli.text import WIDTH
from coldwright.diagnosis.subject import subject_of
from coldwright.errors import BadInput
from coldwright.learning.experience import Experience
from coldwright.learning.learned import CATALOGUE_WORTH, KINDS_WORTH, kind_worth, learned
from coldwright.learning.proven import base_of, proven_of
from coldwright.readings.jobfile import JobFile, job_from_text
from coldwright.readings.outcome import FINDABLE, INSIDE, PROVEN_BY
from coldwright.usecases.outcomes import ProvenFiles, outcomes

GLOSSARY = (Path(__file__).parents[2] / "docs" / "glossary.md").read_text(encoding="utf-8")


def text(number, found="undercharge", refrigerant="R600a", kind="top_mount", by="opened", **more):
    complaint = more.get("complaint", "both_too_warm")
    return (
        f'title = "Invented {number}"\n[plate]\nkind = "{kind}"\nrefrigerant = "{refrigerant}"\n'
        f'[history]\ncomplaint = "{complaint}"\n'
        f'[outcome]\nfound = {json.dumps(found)}\nproven_by = "{by}"\n'
    )


def job(number, found="undercharge", **more):
    return job_from_text(text(number, found, **more), f"job{number}.toml")


def shares(proven, refrigerant="R600a", kind="top_mount"):
    return {s.faults: s for s in learned(proven, refrigerant, kind).shares}


# the table of the job file


def test_outcome_becomes_its_record_and_keeps_comments():
    file = JobFile(
        '[plate]\nkind = "compact"\n\n# proven\n[outcome]\nfound = "undercharge"  # by weight\n'
        'severity = "60 %"\nproven_by = "opened"\ndate = 2026-05-12\n', "x.toml",
    )  # fmt: skip
    outcome = file.job.outcome
    assert (outcome.found, outcome.proven_by) == (("undercharge",), "opened")
    assert outcome.severity == pytest.approx(0.6)
    assert outcome.date == "2026-05-12"
    file.set_value("plate", "year", 2010)
    assert "# by weight" in file.text
    assert file.job.outcome == outcome


def test_outcome_is_written_changed_and_taken_out():
    before = '[plate]\nkind = "compact"\n'
    file = JobFile(before, "x.toml")
    file.set_outcome(["heat_load"], "seen", severity="30 W", date="2026-01-02")
    assert file.job.outcome.severity == pytest.approx(30.0)
    file.set_outcome(["undercharge", "non_condensables"], "repaired_and_held")
    assert file.job.outcome.found == ("undercharge", "non_condensables")
    assert file.job.outcome.severity is None
    assert JobFile(file.text, "x.toml").job == file.job
    file.remove_outcome()
    assert file.job.outcome is None
    assert file.text.strip() == before.strip()


@pytest.mark.parametrize(
    ("lines", "key", "told"),
    [
        ('found = "leak"', "outcome.found", "undercharge"),
        ('proven_by = "opened"', "outcome.found", "a list of two"),
        ('found = "undercharge"', "outcome.proven_by", "repaired_and_held"),
        ('found = "undercharge"\nproven_by = "guessed"', "outcome.proven_by", "opened"),
        ('found = ["heat_load", "heat_load"]\nproven_by = "seen"', "outcome.found", "different"),
        ('found = ["heat_load", "nothing_wrong"]\nproven_by = "seen"', "outcome.found", "two"),
        ("found = []\nproven_by = 'seen'", "outcome.found", "a list of two"),
        ('found = "control"\nseverity = "3 W"\nproven_by = "seen"', "outcome.severity", "no sev"),
        ('found = "heat_load"\nseverity = "3"\nproven_by = "seen"', "outcome.severity", "W"),
        ('found = "control"\nproven_by = "seen"\ndate = "May"', "outcome.date", "2026-05-12"),
        ('found = "control"\nproven_by = "seen"\nwho = "me"', "outcome.who", "proven_by"),
    ],
)
def test_slips_are_named(lines, key, told):
    with pytest.raises(BadInput) as caught:
        job_from_text(f'[plate]\nkind = "compact"\n[outcome]\n{lines}\n', "x.toml")
    assert caught.value.key == key
    assert told in caught.value.accepted


def test_names_stand_in_the_glossary_and_hold_every_fault_of_the_odds():
    for name in (*FINDABLE, *PROVEN_BY, "found", "proven_by"):
        assert f"`{name}`" in GLOSSARY
    assert set(FAULTS) <= set(FINDABLE)
    assert set(FINDABLE) >= INSIDE


# what counts


def test_jobs_of_one_refrigerant_do_not_move_another():
    proven = proven_of([job(n, refrigerant="R600a") for n in range(30)])
    assert shares(proven)["undercharge",].after > 1.5 * shares(proven)["undercharge",].before
    other = learned(proven, "R134a", "top_mount")
    assert (other.jobs_of_refrigerant, other.jobs_elsewhere) == (0, 30)
    assert [s.after for s in other.shares] == pytest.approx([s.before for s in other.shares])
    subject = subject_of(job_from_text('[plate]\nkind = "top_mount"\nrefrigerant = "R134a"\n', "n"))
    fresh = job_from_text('[plate]\nkind = "top_mount"\nrefrigerant = "R134a"\n', "n")
    moved = Experience(proven).applied(subject, fresh)
    assert dict(moved.prior) == pytest.approx(dict(subject.prior))
    assert "no proven job of R134a" in moved.notes[-1]
    assert "30 of other refrigerants do not count" in moved.notes[-1]


def test_an_unknown_refrigerant_counts_nowhere_and_learns_nothing():
    proven = proven_of([job(n, refrigerant="unknown") for n in range(5)])
    assert proven.jobs == ()
    assert all("refrigerant unknown" in u.reason for u in proven.uncounted)
    known = proven_of([job(n) for n in range(5)])
    asked = job_from_text('[plate]\nkind = "top_mount"\n', "n")
    moved = Experience(known).applied(subject_of(asked), asked)
    assert moved.prior == subject_of(asked).prior
    assert "Refrigerant unknown: proven jobs" in moved.notes[-1]


def test_posterior_of_one_kind_by_hand():
    # A' = 60, B = 120: 60 x 120 / 181 jobs; no complaint, so the factors are one
    plain = [replace(job(n), history=type(job(n).history)()) for n in range(10)]
    found = shares(proven_of(plain))["undercharge",]
    worth, share = 60.0 * 120.0 / 181.0, base_of("R600a")["undercharge",]
    assert kind_worth(CATALOGUE_WORTH) == pytest.approx(worth)
    assert found.after == pytest.approx((worth * share + 10) / (worth + 10), rel=1e-6)
    assert found.rests_on == pytest.approx(worth + 10, rel=1e-6)


def test_kinds_are_partly_pooled():
    same = shares(proven_of([job(n) for n in range(20)]))["undercharge",]
    others = shares(proven_of([job(n, kind="chest_freezer") for n in range(20)]))["undercharge",]
    assert same.before < others.after < same.after
    assert kind_worth(1e9) < KINDS_WORTH + 1e-3


def test_order_and_repetition_do_not_matter():
    jobs = [job(n, found) for n, found in enumerate(("undercharge", "heat_load", "control") * 4)]
    plain = proven_of(jobs)
    turned = proven_of([*reversed(jobs), *jobs])
    assert turned.mark == plain.mark
    assert learned(turned, "R600a", "top_mount") == learned(plain, "R600a", "top_mount")
    copies = [u for u in turned.uncounted if "counted once" in u.reason]
    assert len(copies) == len(jobs)


def test_same_job_with_two_outcomes_counts_nowhere():
    one, other = job(1, "undercharge"), job(1, "heat_load")
    proven = proven_of([one, replace(other, source="copy.toml")])
    assert proven.jobs == ()
    assert len(proven.uncounted) == 2


@pytest.mark.parametrize("fault", sorted(INSIDE))
def test_inside_the_circuit_seeing_is_no_proof(fault):
    proven = proven_of([job(1, fault, by="seen")])
    assert proven.jobs == ()
    assert "not proven by seeing" in proven.uncounted[0].reason


@pytest.mark.parametrize("turned", [False, True])
def test_a_pair_of_the_catalogue_counts_for_the_pair_in_either_order(turned):
    order = ["undercharge", "condenser_air"]
    found = shares(proven_of([job(1, order[::-1] if turned else order)]))
    assert found["undercharge", "condenser_air"].found_in_kind == 1.0
    assert found["undercharge",].found_in_kind == 0.0
    assert (
        found["undercharge", "condenser_air"].after > found["undercharge", "condenser_air"].before
    )


def test_another_pair_counts_half_for_each():
    found = shares(proven_of([job(1, ["control", "overcharge"])]))
    assert found["control",].found_in_kind == found["overcharge",].found_in_kind == 0.5
    assert sum(s.found_in_kind for s in found.values()) == pytest.approx(1.0)


def test_unmodelled_circuits_do_not_count():
    drive = job_from_text(
        text(1).replace("[history]", '[circuit]\ncompressor_drive = "variable_speed"\n[history]'),
        "drive.toml",
    )
    assert "variable-speed" in proven_of([drive]).uncounted[0].reason


def test_a_job_does_not_count_for_itself():
    own, others = job(0), [job(n, "heat_load") for n in range(1, 4)]
    proven = proven_of([own, *others])
    asked = replace(own, source="elsewhere/job0.toml")
    moved = Experience(proven).applied(subject_of(asked), asked)
    without = Experience(proven_of(others)).applied(subject_of(asked), asked)
    assert moved == without
    assert "3 proven jobs of R600a (3 of this kind)" in moved.notes[-1]


def test_complaint_still_acts_on_learned_shares():
    proven = proven_of([job(n, "condenser_air", by="seen") for n in range(40)])
    text_ = '[plate]\nkind = "top_mount"\nrefrigerant = "R600a"\n[history]\ncomplaint = "{}"\n'
    odds = {}
    for complaint in ("does_not_start", "runs_all_the_time"):
        asked = job_from_text(text_.format(complaint), "n")
        before, after = subject_of(asked), Experience(proven).applied(subject_of(asked), asked)
        assert sum(dict(after.prior).values()) == pytest.approx(1.0)
        odds[complaint] = dict(after.prior)["condenser_air",]
        assert odds[complaint] > dict(before.prior)["condenser_air",]
    assert odds["does_not_start"] < 0.5 * odds["runs_all_the_time"]


# files and command


@pytest.fixture
def folder(tmp_path):
    for n in range(6):
        (tmp_path / f"job{n}.toml").write_text(text(n), encoding="utf-8")
    (tmp_path / "copy.toml").write_text(text(0), encoding="utf-8")
    (tmp_path / "open.toml").write_text('[plate]\nkind = "compact"\nrefrigerant = "R600a"\n')
    (tmp_path / "odd.toml").write_text('[plate]\nkind = "wardrobe"\n')
    return tmp_path


def test_folder_is_read_and_what_does_not_count_is_told(folder):
    report = outcomes([folder, folder / "job0.toml"])
    assert (report.proven, report.without_outcome) == (6, 1)
    assert {u.source for u in report.uncounted} == {"odd.toml", "job0.toml"}
    assert "wardrobe" in next(u.reason for u in report.uncounted if u.source == "odd.toml")


def test_changed_files_are_read_again(folder):
    files = ProvenFiles([folder])
    first = files.read()
    assert files.read() is first
    (folder / "job9.toml").write_text(text(9, "heat_load"), encoding="utf-8")
    assert len(files.read().jobs) == 7
    (folder / "job9.toml").unlink()
    assert files.read() == first


def test_a_missing_folder_is_named(tmp_path):
    with pytest.raises(BadInput, match="nowhere"):
        ProvenFiles([tmp_path / "nowhere"]).read()
    assert ProvenFiles([tmp_path / "nowhere"], missing_too=True).read().jobs == ()


def test_command_shows_shares_with_the_jobs_they_rest_on(folder, capsys):
    assert run(app, ["outcomes", str(folder)]) == 0
    out = capsys.readouterr().out
    assert "6 proven jobs of R600a (6 of this kind)" in " ".join(out.split())
    assert "NOT COUNTED" in out
    assert all(len(line) <= WIDTH or str(folder)[:10] in line for line in out.splitlines())
    assert run(app, ["outcomes", str(folder), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    (group,) = answer["groups"]
    assert sum(s["after"] for s in group["shares"]) == pytest.approx(1.0)
    assert group["jobs_of_refrigerant"] == 6


def test_command_without_a_folder_asks_for_one(monkeypatch, capsys, folder):
    monkeypatch.delenv("COLDWRIGHT_PROVEN", raising=False)
    assert run(app, ["outcomes"]) == 2
    assert "a folder of job files" in capsys.readouterr().err
    monkeypatch.setenv("COLDWRIGHT_PROVEN", str(folder))
    assert run(app, ["outcomes"]) == 0


def test_diagnose_hands_the_proven_jobs_on(monkeypatch, folder, capsys):
    from tests.unit.cli_fakes import DIAGNOSIS

    seen = []

    def watch(_job, **options):
        seen.append(options.get("proven"))
        return DIAGNOSIS

    monkeypatch.delenv("COLDWRIGHT_PROVEN", raising=False)
    monkeypatch.setattr("coldwright.cli.command_diagnose.diagnose_use_case", lambda: watch)
    asked = str(folder / "open.toml")
    assert run(app, ["diagnose", asked]) == 0
    assert run(app, ["diagnose", asked, "--proven", str(folder)]) == 0
    monkeypatch.setenv("COLDWRIGHT_PROVEN", str(folder))
    assert run(app, ["diagnose", asked]) == 0
    assert [None if p is None else len(p.jobs) for p in seen] == [None, 6, 6]
    assert run(app, ["diagnose", asked, "--proven", "nowhere"]) == 2
    assert "no such folder" in capsys.readouterr().err

"""`coldwright repair --proven` builds on odds that proven jobs have moved."""

import pytest

from coldwright.cli import app
from coldwright.cli.boundary import run
from tests.unit.cli_fakes import JOB


class Stop(BaseException):
    """The report itself is not of interest here."""


@pytest.mark.parametrize("by_option", [True, False])
def test_repair_hands_the_proven_jobs_on(monkeypatch, tmp_path, by_option):
    calls = {}
    job = tmp_path / "job.toml"
    job.write_text(JOB.format(refrigerant="R600a"), encoding="utf-8")
    (tmp_path / "proven").mkdir()
    text = '[plate]\nkind = "compact"\nrefrigerant = "R600a"\n[outcome]\nfound = "control"\n'
    (tmp_path / "proven" / "one.toml").write_text(text + 'proven_by = "seen"\n', encoding="utf-8")

    def repair(_job, **options):
        calls["proven"] = options.get("proven")
        raise Stop

    monkeypatch.setattr("coldwright.cli.command_repair.repair_use_case", lambda: repair)
    monkeypatch.delenv("COLDWRIGHT_PROVEN", raising=False)
    with pytest.raises(Stop):
        run(app, ["repair", str(job)])
    assert calls == {"proven": None}
    more = ["--proven", str(tmp_path / "proven")] if by_option else []
    if not by_option:
        monkeypatch.setenv("COLDWRIGHT_PROVEN", str(tmp_path / "proven"))
    with pytest.raises(Stop):
        run(app, ["repair", str(job), *more])
    assert [j.found for j in calls["proven"].jobs] == [("control",)]

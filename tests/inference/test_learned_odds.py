"""Proven jobs before a diagnosis: the odds move by the priors' ratio, and the notes say so."""

import pytest

from coldwright.diagnosis.subject import subject_of
from coldwright.learning.experience import Experience
from coldwright.learning.proven import proven_of
from coldwright.readings.jobfile import job_from_text
from coldwright.usecases.demo import demo_jobs, pick_demo
from coldwright.usecases.diagnose import diagnose

MEMBERS = 440


def proven(refrigerant):
    text = (
        'title = "Invented {}"\n[plate]\nkind = "top_mount"\nrefrigerant = "{}"\n'
        '[outcome]\nfound = "drier_restricted"\nproven_by = "repaired_and_held"\n'
    )
    return proven_of(job_from_text(text.format(n, refrigerant), f"{n}.toml") for n in range(25))


def test_odds_move_by_the_ratio_of_the_priors():
    job = pick_demo(demo_jobs(), None).job
    plain = diagnose(job, members=MEMBERS, refine=False)
    taught = diagnose(job, members=MEMBERS, refine=False, proven=proven("R134a"))
    before = dict(subject_of(job).prior)
    after = dict(Experience(proven("R134a")).applied(subject_of(job), job).prior)
    was = {f.faults: f.probability for f in plain.faults}
    weights = {f: p * after[f] / before[f] for f, p in was.items()}
    whole = sum(weights.values())
    for odds in taught.faults:
        assert odds.probability == pytest.approx(weights[odds.faults] / whole, rel=1e-9)
    now = {f.faults: f.probability for f in taught.faults}
    assert now["drier_restricted"] > was["drier_restricted"]
    assert any("25 proven jobs of R134a" in note for note in taught.notes)
    other = diagnose(job, members=MEMBERS, refine=False, proven=proven("R600a"))
    assert {f.faults: f.probability for f in other.faults} == pytest.approx(was)
    assert any("no proven job of R134a" in note for note in other.notes)

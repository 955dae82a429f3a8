"""Diagnoses kept by content."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest

from coldwright.case.case import digest
from coldwright.diagnosis.result import Diagnosis
from coldwright.errors import NotSolved
from coldwright.readings.job import Job, Sign
from coldwright.readings.jobfile import job_from_text
from coldwright.web.odds_store import OddsStore
from tests.web.conftest import HALL
from tests.web.fakes import FakeDiagnose

JOB = job_from_text(HALL, "hall")


def test_digest_follows_the_content_not_the_place() -> None:
    assert digest(replace(JOB, source="elsewhere", title="other")) == digest(JOB)
    assert digest(replace(JOB, signs=(Sign("rust", True),))) != digest(JOB)
    assert digest(replace(JOB, readings=JOB.readings[:1])) != digest(JOB)


def test_askers_at_once_wait_for_one_answer() -> None:
    fake, asked, go = FakeDiagnose(), threading.Barrier(4), threading.Event()

    def slow(job: Job) -> Diagnosis:
        go.wait(10)
        return fake(job)

    store = OddsStore(slow)

    def ask(_: int) -> Diagnosis:
        asked.wait(10)
        return store.work_out(JOB)

    with ThreadPoolExecutor(4) as pool:
        answers = pool.map(ask, range(4))
        go.set()
        first, *others = list(answers)
    assert fake.calls == 1
    assert all(other is first for other in others)


def test_other_jobs_do_not_wait() -> None:
    blocked, release = threading.Event(), threading.Event()
    fake, other = FakeDiagnose(), replace(JOB, signs=())

    def diagnose(job: Job) -> Diagnosis:
        if job == JOB:
            blocked.set()
            release.wait(10)
        return fake(job)

    store = OddsStore(diagnose)
    with ThreadPoolExecutor(1) as pool:
        first = pool.submit(store.work_out, JOB)
        assert blocked.wait(10)
        assert store.work_out(other).faults
        assert not first.done()
        release.set()
        assert first.result(10).faults


def test_failure_passes_through_and_is_not_kept() -> None:
    fake = FakeDiagnose()
    fake.trouble = NotSolved("x", (), 1.0)
    store = OddsStore(fake)
    with pytest.raises(NotSolved):
        store.work_out(JOB)
    assert store.known(digest(JOB)) is None
    fake.trouble = None
    assert store.work_out(JOB) is store.known(digest(JOB))


def test_oldest_is_let_go() -> None:
    store = OddsStore(FakeDiagnose(), most=2)
    jobs = [replace(JOB, readings=JOB.readings[:n]) for n in range(3)]
    store.work_out(jobs[0])
    store.work_out(jobs[1])
    assert store.known(digest(jobs[0])) is not None  # looked at again: now the younger of the two
    store.work_out(jobs[2])
    kept = [store.known(digest(job)) is not None for job in jobs]
    assert kept == [True, False, True]

"""Diagnoses kept by what the job says, so that a page seen before is there at once."""

from __future__ import annotations

import hashlib
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import replace
from threading import Lock

from coldwright.diagnosis.result import Diagnosis
from coldwright.readings.job import Job, LeakSeen

_KEPT = 128  # diagnoses; some tens of kilobytes each


def digest(job: Job) -> str:
    """Names what a diagnosis depends on: equal jobs have equal digests, wherever their files lie.

    The search for a leak and the outcome follow the diagnosis and do not move it.
    """
    text = repr(replace(job, source="", title="", tried=(), leak=LeakSeen(), outcome=None))
    return hashlib.sha256(text.encode()).hexdigest()[:16]


class OddsStore:
    """Calls `diagnose` once for each content; a second asker waits for the first."""

    def __init__(
        self, diagnose: Callable[[Job], Diagnosis], mark: Callable[[], str] = lambda: ""
    ) -> None:
        self._diagnose = diagnose
        self._mark = mark  # names what else a diagnosis depends on, such as the shop's outcomes
        self._kept: OrderedDict[str, tuple[str, Diagnosis]] = OrderedDict()
        self._turns: dict[str, Lock] = {}
        self._guard = Lock()

    def known(self, key: str) -> Diagnosis | None:
        """The diagnosis of that digest if it was worked out and is still kept."""
        mark = self._mark()
        with self._guard:
            found = self._kept.get(key)
            if found is None or found[0] != mark:
                return None
            self._kept.move_to_end(key)
            return found[1]

    def work_out(self, job: Job) -> Diagnosis:
        """The diagnosis of a job; what `diagnose` raises passes through and is not kept."""
        key = digest(job)
        with self._guard:
            turn = self._turns.setdefault(key, Lock())
        try:
            with turn:
                mark = self._mark()
                return self.known(key) or self._keep(key, mark, self._diagnose(job))
        finally:
            with self._guard:
                self._turns.pop(key, None)

    def _keep(self, key: str, mark: str, diagnosis: Diagnosis) -> Diagnosis:
        with self._guard:
            self._kept[key] = (mark, diagnosis)
            while len(self._kept) > _KEPT:
                self._kept.popitem(last=False)
        return diagnosis

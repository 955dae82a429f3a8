"""Diagnoses kept by what the job says, so that a page seen before is there at once."""

from __future__ import annotations

from collections.abc import Callable

from coldwright.case.case import digest
from coldwright.diagnosis.result import Diagnosis
from coldwright.kept import Kept
from coldwright.readings.job import Job


class OddsStore:
    """Calls `diagnose` once for each content; a second asker waits for the first."""

    def __init__(
        self,
        diagnose: Callable[[Job], Diagnosis],
        mark: Callable[[], str] = lambda: "",
        most: int = 128,  # some tens of kilobytes each
    ) -> None:
        self._diagnose = diagnose
        self._mark = mark  # names what else a diagnosis depends on, such as the shop's outcomes
        self._kept: Kept[Diagnosis] = Kept(most)

    def known(self, key: str) -> Diagnosis | None:
        """The diagnosis of that digest if it was worked out and is still kept."""
        return self._kept.known((key, self._mark()))

    def work_out(self, job: Job) -> Diagnosis:
        """The diagnosis of a job; what `diagnose` raises passes through and is not kept."""
        return self._kept.get((digest(job), self._mark()), lambda: self._diagnose(job))

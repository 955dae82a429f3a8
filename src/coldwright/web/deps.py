"""What the pages are given: how to diagnose, and where jobs are kept."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from coldwright.diagnosis.result import Diagnosis
from coldwright.errors import ColdwrightError
from coldwright.readings.job import Job
from coldwright.readings.jobfile import JobFile

if TYPE_CHECKING:
    from coldwright.leak.search import SearchReport
    from coldwright.learning.proven import Proven
    from coldwright.transient.hours import Hours
    from coldwright.usecases.inside import Inside
    from coldwright.usecases.pulldown import Asked
    from coldwright.worth.report import RepairReport


def _leak_search(job: Job, shop: Mapping[str, int]) -> SearchReport:
    """The use case, imported when first asked for."""
    from coldwright.bootstrap import leak_search_use_case

    return leak_search_use_case()(job, shop)


class JobNotFound(ColdwrightError):
    """No job of that name on the shelf."""

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(f"no job named {name!r} here")


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """One job on the shelf; `job` is None and `fault` says why where its file cannot be used."""

    name: str
    invented: bool  # one of the demonstration jobs, untouched
    job: Job | None
    fault: str


class JobShelf(Protocol):
    """Where job files stand. Names are file stems; every method may raise `BadInput`."""

    def rows(self) -> tuple[ShelfRow, ...]:
        """Every job: the technician's own first, then the invented ones; each by name."""
        ...

    def open(self, name: str) -> JobFile:
        """The job of that name; raises `JobNotFound`."""
        ...

    def is_invented(self, name: str) -> bool:
        """True if the job is an untouched demonstration job."""
        ...

    def create(self, title: str, text: str) -> str:
        """Keep a new job file of that text and return the name it was given."""
        ...

    def log(self, file: JobFile) -> tuple[str, str]:
        """File name of the log a job names, and why it cannot be used; empty where neither."""
        ...

    def keep_log(self, name: str, data: bytes) -> None:
        """Keep a log beside a job, which names it from then on; raises `BadInput` unless it can
        be used."""
        ...

    def change(self, name: str, edit: Callable[[JobFile], object]) -> JobFile:
        """Edit and keep a job; if `edit` raises, nothing is kept. Raises `JobNotFound`."""
        ...


def _hours(job: Job, asked: Asked) -> Hours:
    """The use case, imported only now: it brings the compiled kernels with it."""
    from coldwright.usecases.pulldown import pulldown

    return pulldown(job, asked)


def _inside(job: Job) -> Inside:
    """The use case, imported only now: it brings the compiled kernels with it."""
    from coldwright.bootstrap import inside_use_case

    return inside_use_case()(job)


@dataclass(frozen=True, slots=True)
class Deps:
    """Handed to `create_app`."""

    diagnose: Callable[[Job], Diagnosis]
    jobs: JobShelf
    leak_search: Callable[[Job, Mapping[str, int]], SearchReport] = _leak_search
    repair: Callable[[Job, Diagnosis, str | None], RepairReport] | None = None
    hours: Callable[[Job, Asked], Hours] = _hours
    proven: Callable[[], Proven] | None = None  # what the shop's own jobs have proven
    inside: Callable[[Job], Inside] = _inside
    first_look: Callable[[Job], Diagnosis | None] | None = None  # at once, or None

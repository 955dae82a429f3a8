"""What a shop has proven, from its job files: read, counted, told, and put before a diagnosis."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from threading import Lock

from coldwright.errors import BadInput
from coldwright.learning.intentions import Shift, Told, shift_of
from coldwright.learning.learned import Learned, learned
from coldwright.learning.proven import Proven, Uncounted, content_of, proven_of
from coldwright.logged.with_log import job_with_log
from coldwright.readings.job import Job
from coldwright.readings.jobfile import load_job


@dataclass(frozen=True, slots=True)
class OutcomesReport:
    """What `coldwright outcomes` says."""

    places: tuple[str, ...]  # folders and files read
    proven: int
    without_outcome: int
    groups: tuple[Learned, ...]  # each refrigerant and kind with a proven job
    uncounted: tuple[Uncounted, ...]
    families: tuple[Shift, ...]  # intentions moved, each refrigerant and kind a job tells of
    silent: tuple[Uncounted, ...]  # that count, but tell nothing of their family
    notes: tuple[str, ...]


class ProvenFiles:
    """Proven jobs of folders and files, read again only where a file has changed.

    Parameters
    ----------
    places : iterable of Path
        Folders of job files, or job files.
    besides : frozenset of str
        Names of job files that are passed over, such as invented ones.
    missing_too : bool
        A place that is not there holds nothing, instead of being refused.
    """

    def __init__(
        self,
        places: Iterable[Path],
        *,
        besides: frozenset[str] = frozenset(),
        missing_too: bool = False,
    ) -> None:
        self._places = tuple(places)
        self._besides, self._missing_too = besides, missing_too
        self._kept: dict[Path, tuple[tuple[int, int], Job | Uncounted]] = {}
        self._last: tuple[tuple[object, ...], Proven] | None = None
        self._turn = Lock()

    def read(self) -> Proven:
        """All of them as they stand now.

        Raises
        ------
        BadInput
            If a place is neither a folder nor a file.
        """
        with self._turn:
            places = [p for p in self._places if p.exists() or not self._missing_too]
            paths = sorted(p for p in set(_paths(places)) if p.stem not in self._besides)
            stamps = tuple((path, _stamp(path)) for path in paths)
            if self._last is not None and self._last[0] == stamps:
                return self._last[1]
            fresh: dict[Path, tuple[tuple[int, int], Job | Uncounted]] = {}
            for path, stamp in stamps:
                known = self._kept.get(path)
                fresh[path] = known if known and known[0] == stamp else (stamp, _read(path))
            self._kept = fresh
            read = [item for _, item in fresh.values()]
            proven = proven_of(
                (item for item in read if isinstance(item, Job)),
                (item for item in read if isinstance(item, Uncounted)),
            )
            found = _told(self._counted(proven))
            proven = replace(proven, told=found)
            self._last = (stamps, proven)
            return proven

    def jobs(self) -> tuple[Job, ...]:
        """The jobs that count, in the order of their files."""
        proven = self.read()
        with self._turn:
            return self._counted(proven)

    def forget(self) -> None:
        """Read again what hangs on more than the files, such as what was worked out since."""
        with self._turn:
            self._last = None

    def _counted(self, proven: Proven) -> tuple[Job, ...]:
        sources = {job.source for job in proven.jobs}
        found = [job for _, job in self._kept.values() if isinstance(job, Job)]
        first = {content_of(job): job for job in reversed(found) if job.source in sources}
        return tuple(first[job.content] for job in proven.jobs if job.content in first)


def _told(jobs: Sequence[Job]) -> tuple[Told, ...]:
    """What was worked out of these jobs so far; nothing is simulated here."""
    if not jobs:
        return ()
    from coldwright.learning.told_store import ToldStore

    store = ToldStore()
    known = (store.known(job) for job in jobs)
    return tuple(t for t in known if isinstance(t, Told))


def _paths(places: Sequence[Path]) -> list[Path]:
    found: list[Path] = []
    for place in places:
        if place.is_dir():
            found += [path.resolve() for path in place.glob("*.toml") if path.is_file()]
        elif place.is_file():
            found.append(place.resolve())
        else:
            raise BadInput(str(place), "", "no such folder or file", "a folder of job files")
    return found


def _stamp(path: Path) -> tuple[int, int]:
    try:
        known = path.stat()
    except OSError:
        return (0, 0)
    return (known.st_mtime_ns, known.st_size)


def _read(path: Path) -> Job | Uncounted:
    try:
        job = replace(load_job(path), source=path.name)
        with contextlib.suppress(BadInput):  # an outcome counts without its log
            job = job_with_log(job, path.parent)
        return job
    except BadInput as error:
        where = f"{error.key}: " if error.key else ""
        return Uncounted(path.name, f"{where}read {error.read}; accepted: {error.accepted}")


def outcomes(
    places: Sequence[Path],
    *,
    families: bool = False,
    progress: Callable[[str], None] | None = None,
) -> OutcomesReport:
    """Counts, shares before and after, and what does not count.

    Parameters
    ----------
    places : sequence of Path
        Folders of job files, or job files.
    families : bool
        Work out what jobs say of their families' intentions where it is not known yet: a
        second or some for each job, kept for later diagnoses.
    progress : callable, optional
        Told a line for each job that has to be simulated.

    Returns
    -------
    OutcomesReport
        The whole report.

    Raises
    ------
    BadInput
        If a place is neither a folder nor a file.
    """
    files = ProvenFiles(places)
    silent: tuple[tuple[str, str], ...] = ()
    if families:
        from coldwright.usecases.intentions import work_out

        silent = work_out(files.jobs(), progress)
        files.forget()
    return report_of(files.read(), tuple(str(place) for place in places), silent)


def report_of(
    proven: Proven, places: tuple[str, ...], silent: Sequence[tuple[str, str]] = ()
) -> OutcomesReport:
    """The same from what is proven.

    Parameters
    ----------
    proven : Proven
        Jobs that count and those that do not.
    places : tuple of str
        Folders and files read.
    silent : sequence
        File and reason of jobs that say nothing of their family.

    Returns
    -------
    OutcomesReport
        The whole report.
    """
    pairs = sorted({(job.refrigerant, job.kind) for job in proven.jobs})
    unproven = sum(count for _, count in proven.without_outcome)
    notes = []
    if unproven and proven.jobs:
        notes.append(
            f"{unproven} jobs have no outcome. If faults that are hard to prove are left out,"
            " the shares lean to those that are easy to prove."
        )
    return OutcomesReport(
        places, len(proven.jobs), unproven,
        tuple(learned(proven, refrigerant, kind) for refrigerant, kind in pairs),
        proven.uncounted,
        tuple(shift_of(proven.told, r, k)
              for r, k in sorted({(t.refrigerant, t.kind) for t in proven.told})),
        tuple(Uncounted(source, reason) for source, reason in silent), tuple(notes),
    )  # fmt: skip

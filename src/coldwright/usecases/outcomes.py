"""What a shop has proven, from its job files: read, counted, told, and put before a diagnosis."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from threading import Lock

from coldwright.diagnosis.subject import Subject
from coldwright.errors import BadInput
from coldwright.learning.learned import Learned, learned
from coldwright.learning.proven import Proven, Uncounted, proven_of
from coldwright.readings.job import Job
from coldwright.readings.jobfile import load_job

_UNKNOWN = (
    "Refrigerant unknown: proven jobs count for one refrigerant each, so the catalogue's shares"
    " stand."
)


@dataclass(frozen=True, slots=True)
class OutcomesReport:
    """What `coldwright outcomes` says."""

    places: tuple[str, ...]  # folders and files read
    proven: int
    without_outcome: int
    groups: tuple[Learned, ...]  # each refrigerant and kind with a proven job
    uncounted: tuple[Uncounted, ...]
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
            self._last = (stamps, proven)
            return proven


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
        return replace(load_job(path), source=path.name)
    except BadInput as error:
        where = f"{error.key}: " if error.key else ""
        return Uncounted(path.name, f"{where}read {error.read}; accepted: {error.accepted}")


def outcomes(places: Sequence[Path]) -> OutcomesReport:
    """Counts, shares before and after, and what does not count.

    Parameters
    ----------
    places : sequence of Path
        Folders of job files, or job files.

    Raises
    ------
    BadInput
        If a place is neither a folder nor a file.
    """
    return report_of(ProvenFiles(places).read(), tuple(str(place) for place in places))


def report_of(proven: Proven, places: tuple[str, ...]) -> OutcomesReport:
    """The same from what is proven."""
    pairs = sorted({(job.refrigerant, job.kind) for job in proven.jobs})
    silent = sum(count for _, count in proven.without_outcome)
    notes = []
    if silent and proven.jobs:
        notes.append(
            f"{silent} jobs have no outcome. If faults that are hard to prove are left out,"
            " the shares lean to those that are easy to prove."
        )
    return OutcomesReport(
        places, len(proven.jobs), silent,
        tuple(learned(proven, refrigerant, kind) for refrigerant, kind in pairs),
        proven.uncounted, tuple(notes),
    )  # fmt: skip


def with_proven(subject: Subject, job: Job, proven: Proven | None) -> Subject:
    """The subject with the shop's shares in its prior; the job's own outcome left out.

    Parameters
    ----------
    subject : Subject
        From the job, by the catalogue.
    job : Job
        The job.
    proven : Proven or None
        What the shop has proven; None changes nothing.
    """
    if proven is None:
        return subject
    others = proven.without(job)
    if not others.jobs:
        return subject
    if job.plate.refrigerant == "unknown":
        return replace(subject, notes=(*subject.notes, _UNKNOWN))
    known = learned(others, job.plate.refrigerant, job.plate.kind)
    return replace(
        subject, prior=known.applied(subject.prior), notes=(*subject.notes, known.sentence)
    )

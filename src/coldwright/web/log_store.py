"""Logs beside the job files, reduced once for each state of a file."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Sequence
from pathlib import Path
from threading import Lock

from coldwright.errors import BadInput
from coldwright.readings.course import Course
from coldwright.readings.job import Job

LARGEST_BYTES = 10_000_000  # of a log sent from a page
_KEPT = 64
_WANTED = "the plain name of a file beside the job file"

_Stamp = tuple[int, int]


class LogStore:
    """Courses of the logs in some folders, the first that has the file going first."""

    def __init__(self, folders: Sequence[Path]) -> None:
        self._folders = tuple(folders)
        self._kept: OrderedDict[Path, tuple[_Stamp, Course | BadInput]] = OrderedDict()
        self._guard = Lock()

    def added(self, job: Job) -> Job:
        """The job with its log's readings; as it is where it has none that can be used."""
        if not job.taken.log:
            return job
        found = self._course(job.taken.log)
        if isinstance(found, BadInput):
            return job
        from coldwright.logged.with_log import with_course

        return with_course(job, found)

    def trouble(self, name: str) -> str:
        """Why a log cannot be used, empty where it can."""
        found = self._course(name)
        return str(found) if isinstance(found, BadInput) else ""

    def checked(self, data: bytes, name: str) -> None:
        """Raise `BadInput` unless the bytes are a log."""
        from coldwright.readings.series import series_from_text

        if len(data) > LARGEST_BYTES:
            raise BadInput(name, "", "more than 10 MB", "a CSV file in UTF-8")
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError:
            raise BadInput(name, "", "bytes that are no UTF-8 text", "a CSV file") from None
        series_from_text(text, name)

    def _course(self, name: str) -> Course | BadInput:
        # A job file may come from anywhere: it must not make the page read other files.
        if Path(name).name != name or name.startswith("."):
            return BadInput("job", "taken.log", f"'{name}'", _WANTED)
        path = next((p for f in self._folders if (p := f / name).is_file()), None)
        if path is None:
            return BadInput("job", "taken.log", f"'{name}', no such file", _WANTED)
        known = path.stat()
        stamp = (known.st_mtime_ns, known.st_size)
        with self._guard:
            kept = self._kept.get(path)
            if kept is not None and kept[0] == stamp:
                self._kept.move_to_end(path)
                return kept[1]
        made = _reduced(path)
        with self._guard:
            self._kept[path] = (stamp, made)
            while len(self._kept) > _KEPT:
                self._kept.popitem(last=False)
        return made


def _reduced(path: Path) -> Course | BadInput:
    from dataclasses import replace

    from coldwright.logged.reduce import course_of
    from coldwright.readings.series import load_series

    try:
        return course_of(replace(load_series(path), source=path.name))
    except BadInput as error:
        return BadInput(path.name, error.key, error.read, error.accepted, error.suggestion)

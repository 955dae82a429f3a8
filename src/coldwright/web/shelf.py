"""Job files in a folder, with the invented shop's jobs beside them until they are edited."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from threading import Lock

from coldwright.durable import held, sweep, write_whole
from coldwright.errors import BadInput
from coldwright.readings.job import Job
from coldwright.readings.jobfile import JobFile
from coldwright.web.deps import JobNotFound, ShelfRow
from coldwright.web.log_store import LogStore

_NAME = re.compile(r"[a-z0-9][a-z0-9_-]{0,63}")
_SUFFIX = ".toml"


class FolderShelf:
    """Own jobs in `folder`; demonstration jobs are read from `demo` and copied when edited.

    Two phones may write at once, and two servers: edits take turns, and each reads the file
    anew.
    """

    def __init__(self, folder: Path, demo: Path) -> None:
        self._folder, self._demo = folder, demo
        self._lock = Lock()
        sweep(folder)
        self._logs = LogStore((folder, demo))

    def rows(self) -> tuple[ShelfRow, ...]:
        """Every job: the technician's own first, then the invented ones; each by name."""
        own = _names(self._folder)
        invented = [name for name in _names(self._demo) if name not in own]
        return tuple(self._row(name) for name in (*own, *invented))

    def open(self, name: str) -> JobFile:
        """The job of that name; raises `JobNotFound`, or `BadInput` if its file is unusable."""
        return JobFile.open(self._path(name), self._logs.added)

    def is_invented(self, name: str) -> bool:
        """True if the job is an untouched demonstration job."""
        return self._path(name).parent == self._demo

    def create(self, title: str, text: str) -> str:
        """Keep a new job file of that text and return the name it was given."""
        with self._turn():
            taken = {*_names(self._folder), *_names(self._demo)}
            name = _free_name(title, taken)
            self._keep(JobFile(text, name), name)
        return name

    def change(self, name: str, edit: Callable[[JobFile], object]) -> JobFile:
        """Edit and keep a job; if `edit` raises, nothing is kept. Raises `JobNotFound`."""
        self.open(name)  # its log, which may be long, is reduced while nobody waits
        with self._turn():
            job = self.open(name)
            edit(job)
            self._keep(job, name)
        return job

    def log(self, file: JobFile) -> tuple[str, str]:
        """File name of the log a job names, and why it cannot be used; empty where neither."""
        named_log = file.job.taken.log
        return named_log, self._logs.trouble(named_log) if named_log else ""

    def keep_log(self, name: str, data: bytes) -> None:
        """Keep a log beside a job, which names it from then on; raises `BadInput` unless it can
        be used."""
        log = f"{name}.log.csv"
        self._logs.checked(data, log)
        self.open(name)
        with self._turn():
            job = self.open(name)
            self._folder.mkdir(parents=True, exist_ok=True)
            write_whole(self._folder / log, data)
            job.set_value("taken", "log", log)
            self._keep(job, name)

    def _keep(self, job: JobFile, name: str) -> None:
        self._folder.mkdir(parents=True, exist_ok=True)
        job.save(self._folder / f"{name}{_SUFFIX}")

    @contextmanager
    def _turn(self) -> Iterator[None]:
        """This thread alone of this process, and this process alone, in this folder."""
        try:
            with self._lock, held(self._folder):
                yield
        except OSError as error:
            read = (error.strerror or type(error).__name__).lower()
            raise BadInput(str(self._folder), "", read, "a folder that can be written") from None

    def _path(self, name: str) -> Path:
        """The file behind a name; only names that cannot leave the folder have one."""
        if _NAME.fullmatch(name):
            for folder in (self._folder, self._demo):
                path = folder / f"{name}{_SUFFIX}"
                if path.is_file():
                    return path
        raise JobNotFound(name)

    def _row(self, name: str) -> ShelfRow:
        invented = self.is_invented(name)
        try:
            return ShelfRow(name, invented, named(self.open(name).job, name), "")
        except BadInput as error:
            where = f"{name}{_SUFFIX}: {error.key}" if error.key else f"{name}{_SUFFIX}"
            return ShelfRow(
                name, invented, None, f"{where}: read {error.read}; accepted: {error.accepted}"
            )


def named(job: Job, name: str) -> Job:
    """The job under its shelf name instead of a path, titled by its name if it has no title.

    Parameters
    ----------
    job : Job
        The job, read and checked.
    name : str
        Name of the job.

    Returns
    -------
    Job
        The job renamed.
    """
    return replace(job, source=name, title=job.title or name.replace("_", " "))


def _names(folder: Path) -> list[str]:
    if not folder.is_dir():
        return []
    stems = (path.stem for path in folder.iterdir() if path.suffix == _SUFFIX and path.is_file())
    return sorted(stem for stem in stems if _NAME.fullmatch(stem))


def _free_name(title: str, taken: set[str]) -> str:
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    stem = re.sub(r"[^a-z0-9]+", "_", plain).strip("_")[:48] or "job"
    name, number = stem, 2
    while name in taken:
        name, number = f"{stem}_{number}", number + 1
    return name

"""A job file on disk: read into a `Job`, or edited in place without losing a comment."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, Self, cast

import tomlkit
from tomlkit.exceptions import ParseError, TOMLKitError
from tomlkit.items import AoT, Comment, Table, Whitespace

from coldwright.durable import write_whole
from coldwright.errors import BadInput, one_line
from coldwright.last_net import readable
from coldwright.plain_file import read_plain
from coldwright.readings.job import Job, tried_identities
from coldwright.readings.sections import job_from_table

_LARGEST_BYTES = 1_000_000  # no job file comes near; keeps a wrong path from filling memory
_WANTED = "a job file: TOML with a [plate] table"

Scalar = str | int | float | bool


def load_job(path: str | os.PathLike[str]) -> Job:
    """Read a job file.

    Parameters
    ----------
    path : path
        The file.

    Returns
    -------
    Job
        As written, in SI.

    Raises
    ------
    BadInput
        If the file cannot be read, is no job file, or holds anything that cannot be used.
    """
    return JobFile.open(path).job


def job_from_text(text: str, source: str) -> Job:
    r"""A job from the text of a job file.

    Parameters
    ----------
    text : str
        TOML.
    source : str
        Name for messages and results.

    Returns
    -------
    Job
        As written, in SI.

    Raises
    ------
    BadInput
        As `load_job`.

    Examples
    --------
    >>> job_from_text('[plate]\nkind = "compact"\ncharge = "28 g"\n', "desk.toml").plate.charge_kg
    0.028
    """
    return JobFile(text, source).job


class JobFile:
    """The text of a job with the job it means; every edit is checked before it is kept."""

    def __init__(
        self, text: str, source: str, also: Callable[[Job], Job] = lambda job: job
    ) -> None:
        self._source = source
        self._path = Path(source)
        self._also = also  # what else the job knows, such as its log; never written
        self._text = text
        self._job = also(job_from_table(_document(text, source).unwrap(), source))

    @classmethod
    def open(
        cls, path: str | os.PathLike[str], also: Callable[[Job], Job] = lambda job: job
    ) -> Self:
        """Read a file as it stands; `also` adds to the job what lies beside the file.

        Raises
        ------
        BadInput
            As `load_job`.
        """
        found = cls(_read(Path(path)), readable(str(path)), also)
        found._path = Path(path)
        return found

    @property
    def job(self) -> Job:
        """The job as records."""
        return self._job

    @property
    def tables(self) -> dict[str, Any]:
        """The file as plain values, as it was written."""
        return _document(self._text, self._source).unwrap()

    @property
    def text(self) -> str:
        """The file's text, comments and order kept."""
        return self._text

    def add_reading(
        self,
        key: str,
        value: Scalar,
        *,
        uncertainty: str | float | None = None,
        note: str = "",
    ) -> Job:
        """Enter a reading as written, replacing one of the same name.

        Parameters
        ----------
        key : str
            Identifier of the reading.
        value : str or float
            As written, with its unit.
        uncertainty : str or float or None
            One standard deviation as written. [as value]
        note : str
            Free text.
        """
        extra = {"uncertainty": uncertainty, "note": note or None}
        return self._enter("readings", key, value, "value", extra)

    def add_sign(
        self, key: str, seen: bool, place: str | None = None, confirmed: bool | None = None
    ) -> Job:
        """Enter a sign that was looked for, replacing one of the same name.

        Parameters
        ----------
        key : str
            Identifier of the sign.
        seen : bool
            Whether it was there.
        place : str or None
            Where, for those that have a place.
        confirmed : bool or None
            The answer to a finding's question back.
        """
        return self._enter("signs", key, seen, "seen", {"place": place, "confirmed": confirmed})

    def add_tried(self, place: str, method: str, minutes: float, found: bool) -> Job:
        """Add a step of the leak search.

        Parameters
        ----------
        place : str
            A place, or a part of the circuit for a hold.
        method : str
            Identifier of the method.
        minutes : float
            Time it took. [min]
        found : bool
            It answered yes.
        """
        step = {"place": place, "method": method, "minutes": minutes, "found": found}

        def edit(document: tomlkit.TOMLDocument) -> None:
            if "tried" not in document:
                document["tried"] = tomlkit.aot()
            rows = cast(Any, document["tried"])
            row = tomlkit.table() if isinstance(rows, AoT) else tomlkit.inline_table()
            row.update(step)
            rows.append(row)

        return self._edit(edit)

    def remove_tried(self, number: int) -> Job:
        """Take a step of the leak search out; nothing happens if it is not there.

        Parameters
        ----------
        number : int
            Counted from 0. [-]
        """
        return self._edit(lambda document: _take_out(document, number))

    def remove_step(self, identity: str) -> Job:
        """Take out the step of that identity; asked twice, it is taken out once.

        Parameters
        ----------
        identity : str
            One of `job.tried_identities`.
        """
        known = tried_identities(self._job.tried)
        if identity not in known:
            return self._job
        return self.remove_tried(known.index(identity))

    def set_outcome(
        self, found: Sequence[str], proven_by: str, *, severity: str = "", date: str = ""
    ) -> Job:
        """Enter what was found, in place of what was entered before.

        Parameters
        ----------
        found : sequence of str
            One fault, or two.
        proven_by : str
            How it is known.
        severity : str
            As written; empty where not known.
        date : str
            ISO 8601; empty where not given.
        """
        told = {"proven_by": proven_by, "severity": severity.strip(), "date": date.strip()}

        def edit(document: tomlkit.TOMLDocument) -> None:
            if "outcome" not in document:
                document["outcome"] = tomlkit.table()
            table = cast(Any, document["outcome"])
            _set(table, "found", found[0] if len(found) == 1 else list(found))
            for key, text in told.items():
                if text:
                    _set(table, key, text)
                elif key in table:
                    table.remove(key)

        return self._edit(edit)

    def remove_outcome(self) -> Job:
        """Take the outcome out: not known."""

        def edit(document: tomlkit.TOMLDocument) -> None:
            if "outcome" in document:
                del document["outcome"]

        return self._edit(edit)

    def set_value(self, section: str, key: str, value: Scalar) -> Job:
        """Set a plain key of [plate], [circuit], [room], [history] or [taken]."""
        return self._enter(section, key, value, "", {})

    def remove(self, section: str, key: str) -> Job:
        """Take a key out of a table; nothing happens if it is not there."""

        def edit(document: tomlkit.TOMLDocument) -> None:
            table = document.get(section)
            if table is not None and key in table:
                table.remove(key)

        return self._edit(edit)

    def remove_reading(self, key: str) -> Job:
        """Take a reading out."""
        return self.remove("readings", key)

    def remove_sign(self, key: str) -> Job:
        """Take a sign out: not checked."""
        return self.remove("signs", key)

    def save(self, path: str | os.PathLike[str] | None = None) -> None:
        """Write the text to the file it came from or to another, whole or not at all.

        Raises
        ------
        BadInput
            If the file cannot be written.
        """
        target = self._path if path is None else Path(path)
        try:
            write_whole(target, self._text.encode())
        except OSError as error:
            read = (error.strerror or type(error).__name__).lower()
            raise BadInput(readable(str(target)), "", read, "a file that can be written") from None

    def _enter(
        self, section: str, key: str, value: Scalar, name: str, extra: dict[str, Any]
    ) -> Job:
        present = {k: v for k, v in extra.items() if v is not None}
        item: Any = value
        if present:
            item = tomlkit.inline_table()
            item.update({name: value, **present})

        def edit(document: tomlkit.TOMLDocument) -> None:
            if section not in document:
                document[section] = tomlkit.table()
            _set(cast(Any, document[section]), key, item)

        return self._edit(edit)

    def _edit(self, edit: Callable[[tomlkit.TOMLDocument], None]) -> Job:
        """Edit a copy; keep it only if it still is a job."""
        document = _document(self._text, self._source)
        edit(document)
        text = ("\ufeff" if self._text.startswith("\ufeff") else "") + tomlkit.dumps(document)
        if len(text.encode("utf-8", "surrogateescape")) > _LARGEST_BYTES:
            raise BadInput(self._source, "note", "a job of more than 1 MB", "shorter notes")
        job = self._also(job_from_table(_document(text, self._source).unwrap(), self._source))
        self._text, self._job = text, job
        return job


def _read(path: Path) -> str:
    file = readable(str(path))
    data = read_plain(path, _LARGEST_BYTES, _WANTED)
    if not data.strip():
        raise BadInput(file, "", "an empty file", _WANTED)
    try:
        text = data.decode()
    except UnicodeDecodeError:
        raise BadInput(file, "", "bytes that are no UTF-8 text", _WANTED) from None
    if "\0" in text:
        raise BadInput(file, "", "a binary file", _WANTED)
    return text


def _document(text: str, source: str) -> tomlkit.TOMLDocument:
    try:
        return tomlkit.parse(text.removeprefix("\ufeff"))
    except ParseError as error:
        where = f"line {error.line}, column {error.col}"
        read = one_line(_line(text, error.line)) or "the end of the file"
        reason = str(error).split(" at line ")[0]
        raise BadInput(source, where, f"'{read}'", f"TOML ({one_line(reason)})") from None
    except (TOMLKitError, ValueError, RecursionError) as error:
        raise BadInput(source, "", one_line(str(error)), f"{_WANTED}, each key once") from None


def _take_out(document: tomlkit.TOMLDocument, number: int) -> None:
    rows = cast(Any, document.get("tried", []))
    if 0 <= number < len(rows):
        del rows[number]
        if not rows:
            del document["tried"]


def _set(table: Any, key: str, item: object) -> None:
    """Set a key; a new one goes before the blank lines and comments that end the table."""
    body = table.value.body if isinstance(table, Table) else []
    tail: list[Any] = []
    while key not in table and body and isinstance(body[-1][1], Whitespace | Comment):
        tail.insert(0, body.pop())
    table[key] = item
    body.extend(tail)


def _line(text: str, number: int) -> str:
    lines = text.splitlines()
    return lines[number - 1] if 0 < number <= len(lines) else ""

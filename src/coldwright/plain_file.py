"""Files named from outside are read here: plain ones alone, their size known first, no waiting.

A pipe would be waited for, a device read until memory ends. What a job names must also
lie beside it: a job file may come from anywhere and must not reach for other files.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path

from coldwright.errors import BadInput, one_line

_FLAGS = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
_KINDS = (
    (stat.S_ISDIR, "a directory"),
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a device"),
    (stat.S_ISSOCK, "a socket"),
)


def read_plain(path: Path, most: int, wanted: str) -> bytes:
    """All bytes of a plain file.

    Parameters
    ----------
    path : Path
        Which.
    most : int
        Bytes it may have. [-]
    wanted : str
        What is accepted, for messages.

    Returns
    -------
    bytes
        At most as many as allowed.

    Raises
    ------
    BadInput
        If it is no plain file, is larger, or cannot be read.
    """
    file = str(path)
    try:
        _looked_at(os.stat(path), file, most, wanted)  # opening alone may wind a tape
        handle = os.open(path, _FLAGS)
        with os.fdopen(handle, "rb") as stream:
            _looked_at(os.fstat(handle), file, most, wanted)
            data = stream.read(most + 1)
    except FileNotFoundError:
        raise BadInput(file, "", "no such file", wanted) from None
    except BadInput:
        raise
    except IsADirectoryError:
        raise BadInput(file, "", "a directory", wanted) from None
    except (OSError, ValueError) as error:
        read = getattr(error, "strerror", None) or str(error)
        raise BadInput(file, "", one_line(read).lower(), f"{wanted}, in a plain file") from None
    if len(data) > most:
        raise BadInput(file, "", f"more than {most / 1e6:g} MB", wanted)
    return data


def _looked_at(seen: os.stat_result, file: str, most: int, wanted: str) -> None:
    if not stat.S_ISREG(seen.st_mode):
        kind = next((name for is_it, name in _KINDS if is_it(seen.st_mode)), "no file")
        raise BadInput(
            file, "", kind, wanted if kind == "a directory" else f"{wanted}, a plain file"
        )
    if seen.st_size > most:
        raise BadInput(file, "", f"more than {most / 1e6:g} MB", wanted)


def beside(name: str, folder: Path, key: str, file: str = "job") -> Path:
    """The path of a file that a job names.

    Parameters
    ----------
    name : str
        As the job has it: a plain name, no folder.
    folder : Path
        Where the job lies.
    key : str
        Where in the job it stands, for messages.
    file : str
        The job, for messages.

    Returns
    -------
    Path
        In the folder; it need not be there.

    Raises
    ------
    BadInput
        If the name leads elsewhere.

    Examples
    --------
    >>> beside("hall.csv", Path("jobs"), "taken.log").as_posix()
    'jobs/hall.csv'
    """
    bad = not name or name.startswith(".") or Path(name).name != name or "\\" in name
    if bad or "\0" in name or ":" in name:
        raise BadInput(
            file, key, f"'{one_line(name)}'", "the plain name of a file beside the job file"
        )
    # In a locale without the letters the system's own spelling is looked for.
    return folder / os.fsdecode(name.encode("utf-8", "surrogateescape"))

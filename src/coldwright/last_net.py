"""What nobody foresaw: kept as a report for whoever mends it, told in one line."""

from __future__ import annotations

import contextlib
import os
import platform
import re
import sys
import tempfile
import traceback
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

from coldwright import __version__
from coldwright.durable import write_whole
from coldwright.errors import one_line

UNFORESEEN = 70  # exit status; EX_SOFTWARE of sysexits.h (BSD, 1980s)


def report_kept(error: BaseException, folders: Sequence[Path], doing: str) -> Path | None:
    """Keep a report in the first folder that can be written.

    Parameters
    ----------
    error : BaseException
        What was not foreseen.
    folders : sequence of Path
        Tried in order, the machine's folder for temporary files last.
    doing : str
        What was asked for: a command's words or a page's address.

    Returns
    -------
    Path or None
        Where the report lies; None where nothing could be written.
    """
    now = datetime.now(UTC)
    told = "".join(traceback.format_exception(error))
    text = (
        f"Coldwright {__version__}, Python {platform.python_version()}, {sys.platform}\n"
        f"{now.isoformat(timespec='seconds')}\n{doing}\n\n{told}"
    )
    name = f"coldwright-report-{now:%Y%m%d-%H%M%S}-{os.getpid()}.txt"
    for folder in (*folders, Path(tempfile.gettempdir())):
        with contextlib.suppress(OSError, ValueError):
            if folder.is_dir():
                write_whole(folder / name, text.encode("utf-8", "backslashreplace"))
                return folder / name
    return None


def in_one_line(error: BaseException, report: Path | None) -> str:
    """What is said of it.

    Parameters
    ----------
    error : BaseException
        What was not foreseen.
    report : Path or None
        Where its report lies.

    Returns
    -------
    str
        One line, without a traceback.

    Examples
    --------
    >>> in_one_line(ValueError("no such thing"), None).partition(";")[0]
    'an error that was not foreseen, ours and not yours (ValueError: no such thing)'
    """
    what = f"{type(error).__name__}: {error}" if str(error) else type(error).__name__
    where = f"report in {report}" if report else "no report could be written"
    return (
        f"an error that was not foreseen, ours and not yours ({one_line(what)}); "
        f"job files are as they were; {where}"
    )


def readable(text: str) -> str:
    """A file name as it can be printed and kept, whatever the locale made of it.

    Parameters
    ----------
    text : str
        As the system gave it.

    Returns
    -------
    str
        Text that UTF-8 can write.
    """
    if not re.search(r"[\ud800-\udfff]", text):
        return text
    return text.encode("utf-8", "surrogateescape").decode("utf-8", "replace")

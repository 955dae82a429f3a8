"""Where errors end: one message on standard error, an exit status, never a traceback for a user.

Status 0 done, 1 the answer is no, 2 bad input or no answer, 70 an error of ours (a report is
kept), 130 interrupted.
"""

from __future__ import annotations

import contextlib
import os
import re
import sys
import warnings
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import typer
from typer.exceptions import Abort, TyperException
from typer.main import get_command

from coldwright.errors import ColdwrightError

DONE, NO, BAD, INTERRUPTED = 0, 1, 2, 130
_NEGATIVE = re.compile(r"^-(?=[\d.,])")


def run(app: typer.Typer, arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status.

    Parameters
    ----------
    app : typer.Typer
        The commands.
    arguments : sequence of str, optional
        Without the program's name; those of the process where not given.

    Returns
    -------
    int
        Exit status: 0, 1, 2, 70 or 130. [-]
    """
    for stream in (sys.stdout, sys.stderr):
        # A terminal that cannot show a character shows a question mark.
        with contextlib.suppress(AttributeError, ValueError):
            stream.reconfigure(errors="replace")  # type: ignore[union-attr]
    if not sys.warnoptions:
        warnings.simplefilter("ignore")  # a user is told results and errors, in our words
    words = sys.argv[1:] if arguments is None else list(arguments)
    try:
        try:
            returned: Any = _run(app, words)
        except TyperException as error:
            if not _NEGATIVE.match(str(getattr(error, "option_name", ""))):
                raise
            # A number below zero is a value, not an option: the command refuses it by name.
            returned = _run(app, [_NEGATIVE.sub("\N{MINUS SIGN}", word) for word in words])
        sys.stdout.flush()
    except TyperException as error:
        return _fail(error.format_message())
    except ColdwrightError as error:
        return _fail(str(error))
    except BrokenPipeError:
        return _reader_left()
    except SystemExit as error:
        if isinstance(error.__context__, BrokenPipeError):
            return _reader_left()
        raise
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        return _fail(f"{where}{(error.strerror or str(error)).lower()}")
    except (KeyboardInterrupt, Abort):
        returned = INTERRUPTED
    except Exception as error:
        return _unforeseen(error, words)
    code = returned if isinstance(returned, int) else DONE
    if code == INTERRUPTED:
        print("\ncoldwright: stopped", file=sys.stderr)
    return code


def _run(app: typer.Typer, words: list[str]) -> Any:
    return get_command(app).main(args=words, prog_name="coldwright", standalone_mode=False)


def _unforeseen(error: Exception, words: list[str]) -> int:
    """The last net: one line, a report beside the file that was asked about."""
    from coldwright.last_net import UNFORESEEN, in_one_line, report_kept

    named = [Path(word) for word in words if not word.startswith("-")]
    folders = [path.parent for path in named if path.suffix and path.is_file()]
    report = report_kept(error, folders, f"coldwright {' '.join(words)}")
    print(f"coldwright: {in_one_line(error, report)}", file=sys.stderr)
    return UNFORESEEN


def _reader_left() -> int:
    """The reader, a pager perhaps, has had enough: spare the interpreter its last flush."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return DONE


def _fail(message: str) -> int:
    print(f"coldwright: {' '.join(message.split())}", file=sys.stderr)
    return BAD

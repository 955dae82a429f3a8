"""Progress on standard error: what is said, and a sign of life when nothing is said for a while."""

from __future__ import annotations

import sys
import threading
from collections.abc import Callable
from types import TracebackType
from typing import Self, TextIO

FIRST_AFTER = 1.0  # [s]
AGAIN_AFTER = 15.0  # [s]


class Progress:
    """Used with `with`; calling it prints a line at once.

    Parameters
    ----------
    doing : str
        What is under way, printed when a second passes in silence.
    stream : TextIO, optional
        Where to print; standard error where not given.
    wait : callable, optional
        Waits so many seconds and tells whether the work has ended. [s]
    """

    def __init__(
        self,
        doing: str,
        *,
        stream: TextIO | None = None,
        wait: Callable[[float], bool] | None = None,
    ) -> None:
        self._doing, self._stream = doing, stream
        self._ended = threading.Event()
        self._wait = wait or self._ended.wait
        self._said = ""
        self._thread = threading.Thread(target=self._watch, daemon=True)

    def __call__(self, line: str) -> None:
        """Print a line, once only if it is said again."""
        if line != self._said:
            self._said = line
            print(f"... {line}", file=self._stream or sys.stderr, flush=True)

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._ended.set()
        self._thread.join()

    def _watch(self) -> None:
        seconds, pause = 0.0, FIRST_AFTER
        while not self._wait(pause):
            seconds += pause
            self(self._doing if pause is FIRST_AFTER else f"still at it, {seconds:.0f} s")
            pause = AGAIN_AFTER

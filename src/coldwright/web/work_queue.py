"""One computation at a time; what is not wanted any more is called off, too many turned away."""

from __future__ import annotations

from collections.abc import Callable
from threading import Condition, Event
from typing import TypeVar

from coldwright.errors import ColdwrightError
from coldwright.stopping import until

T = TypeVar("T")
MOST_WAITING = 8  # requests that may wait; more would leave no thread for the other pages, ours


class Busy(ColdwrightError):
    """Too many computations are waiting."""

    def __init__(self) -> None:
        super().__init__("busy: several jobs are being worked out; ask again in a minute")


class WorkQueue:
    """Lets computations through one by one, in the order they came.

    A later one under the same name and another content calls the earlier off.
    """

    def __init__(self, most: int = MOST_WAITING) -> None:
        self._most = most
        self._turn = Condition()
        self._line: list[tuple[str, str, Event]] = []

    def __len__(self) -> int:
        return len(self._line)

    def run(self, name: str, content: str, work: Callable[[], T]) -> T:
        """The result of `work`.

        Parameters
        ----------
        name : str
            Whose computation it is, such as a job's.
        content : str
            Names what it depends on.
        work : callable
            The computation.

        Raises
        ------
        Busy
            If too many are waiting.
        CalledOff
            If a later one took its place.
        """
        mine = (name, content, Event())
        with self._turn:
            for other in self._line:
                if other[0] == name and other[1] != content:
                    other[2].set()
            if len(self._line) > self._most:
                raise Busy
            self._line.append(mine)
        try:
            with self._turn:
                self._turn.wait_for(lambda: self._line[0] is mine)
            with until(mine[2]):
                return work()
        finally:
            with self._turn:
                self._line.remove(mine)
                self._turn.notify_all()

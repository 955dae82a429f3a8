"""Answers kept in memory: bounded, made once however many ask, the longest unused given up."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

T = TypeVar("T")


class Kept(Generic[T]):
    """A bounded store of answers by what they depend on.

    Parameters
    ----------
    most : int
        Answers kept at the most. [-]

    Examples
    --------
    >>> squares = Kept(2)
    >>> squares.get(3, lambda: 9)
    9
    >>> squares.known(3), squares.known(4)
    (9, None)
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._answers: OrderedDict[Hashable, T] = OrderedDict()
        self._turns: dict[Hashable, Lock] = {}
        self._guard = Lock()

    def known(self, key: Hashable) -> T | None:
        """The answer if it is kept.

        Parameters
        ----------
        key : hashable
            All that the answer depends on.

        Returns
        -------
        object or None
            The answer; None where it is not kept.
        """
        with self._guard:
            if key not in self._answers:
                return None
            self._answers.move_to_end(key)
            return self._answers[key]

    def keep(self, key: Hashable, answer: T) -> T:
        """Keep an answer that was made elsewhere.

        Parameters
        ----------
        key : hashable
            All that the answer depends on.
        answer : object
            To be kept.

        Returns
        -------
        object
            The same answer.
        """
        with self._guard:
            self._answers[key] = answer
            self._answers.move_to_end(key)
            while len(self._answers) > self._most:
                self._answers.popitem(last=False)
        return answer

    def get(self, key: Hashable, make: Callable[[], T]) -> T:
        """The answer, made if it is not kept; a second asker waits for the first.

        Parameters
        ----------
        key : hashable
            All that the answer depends on.
        make : callable
            Makes the answer; what it raises passes through and is not kept.

        Returns
        -------
        object
            The answer.
        """
        with self._guard:
            turn = self._turns.setdefault(key, Lock())
        try:
            with turn:
                found = self.known(key)
                return self.keep(key, make()) if found is None else found
        finally:
            with self._guard:
                self._turns.pop(key, None)

    def forget(self) -> None:
        """Give up all of them."""
        with self._guard:
            self._answers.clear()

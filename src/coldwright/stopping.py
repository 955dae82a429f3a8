"""How long a computation may take, and how it is called off.

A context holds both, so that nothing between a client and an inner loop has to hand
them on. Inner loops ask between two pieces of work; nothing is torn.
"""

from __future__ import annotations

import math
import time
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from threading import Event

from coldwright.errors import ColdwrightError

_END: ContextVar[float] = ContextVar("end", default=math.inf)
_OFF: ContextVar[Event | None] = ContextVar("off", default=None)


class CalledOff(ColdwrightError):
    """Whoever asked does not want the answer any more."""

    def __init__(self) -> None:
        super().__init__("called off: something newer was asked")


@contextmanager
def at_most(seconds: float) -> Iterator[None]:
    """A time in which what follows should be done; the nearer of two ends counts.

    Parameters
    ----------
    seconds : float
        From now; infinite for none. [s]

    Yields
    ------
    None
        The time counts until the block ends.
    """
    token = _END.set(min(_END.get(), time.monotonic() + seconds))
    try:
        yield
    finally:
        _END.reset(token)


@contextmanager
def until(off: Event) -> Iterator[None]:
    """What follows is called off once the event is set.

    Parameters
    ----------
    off : Event
        Set from another thread.

    Yields
    ------
    None
        The event counts until the block ends.
    """
    token = _OFF.set(off)
    try:
        yield
    finally:
        _OFF.reset(token)


def time_is_up() -> bool:
    """Whether to be content with what there is; raises `CalledOff` where nobody waits for it.

    Returns
    -------
    bool
        Whether the time given by `at_most` has run out.

    Raises
    ------
    CalledOff
        If the event given by `until` is set.

    Examples
    --------
    >>> with at_most(-1.0):
    ...     time_is_up()
    True
    """
    off = _OFF.get()
    if off is not None and off.is_set():
        raise CalledOff
    return time.monotonic() > _END.get()

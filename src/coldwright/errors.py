"""Every error Coldwright raises on purpose.

::

    ColdwrightError
    ├── OutOfRange(ValueError)      a number outside what a formula or a quantity allows
    ├── BadInput(ValueError)        something read from outside is wrong: exit status 2
    ├── NotSolved(ArithmeticError)  a solver gave up; carries its last iterate
    └── Refused                     no honest answer here; says what can still be done

Errors carry their data as attributes; the message is one line.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterable

_SHOWN = 80  # characters of outside text quoted in a message; a judgement of ours
_SHOWN_PATH = 400  # a path cut short names nothing


class ColdwrightError(Exception):
    """Base of all errors raised on purpose."""


class OutOfRange(ColdwrightError, ValueError):
    """A number lies outside its allowed interval (or is not a number)."""

    def __init__(self, quantity: str, value: float, low: float, high: float, unit: str) -> None:
        self.quantity, self.value = quantity, value
        self.low, self.high, self.unit = low, high, unit
        super().__init__(f"{quantity} is {value:g}, allowed {low:g} to {high:g} [{unit}]")


class BadInput(ColdwrightError, ValueError):
    """Something read from outside cannot be used.

    Attributes
    ----------
    file : str
        Where it was read: a path as given, or "command line", "form".
    key : str
        The key, option or field; empty when the whole file is at fault.
    read : str
        What was read.
    accepted : str
        What is accepted there.
    suggestion : str or None
        The nearest accepted word, if one is near.
    """

    def __init__(
        self, file: str, key: str, read: object, accepted: str, suggestion: str | None = None
    ) -> None:
        self.file, self.key = str(file), key
        self.read, self.accepted, self.suggestion = str(read), accepted, suggestion
        file = one_line(self.file, _SHOWN_PATH)
        where = f"{file}: {one_line(key)}" if key else file
        message = f"{where}: read {one_line(self.read)}; accepted: {accepted}"
        if suggestion is not None:
            message += f"; did you mean {suggestion}?"
        super().__init__(message)


class NotSolved(ColdwrightError, ArithmeticError):
    """A solver did not converge.

    Attributes
    ----------
    what : str
        The problem that was being solved.
    last_iterate : tuple of float
        The unknowns when it gave up, in the solver's own order.
    residual : float
        Norm of what was left, in the solver's own scaling.
    """

    def __init__(self, what: str, last_iterate: tuple[float, ...], residual: float) -> None:
        self.what, self.last_iterate, self.residual = what, tuple(last_iterate), residual
        iterate = ", ".join(f"{x:.6g}" for x in self.last_iterate)
        super().__init__(f"{what} not solved: residual {residual:.3g} at ({iterate})")


class Refused(ColdwrightError):
    """Coldwright does not guess here.

    Attributes
    ----------
    reason : str
        Why no answer is given.
    still_possible : tuple of str
        What can still be checked or asked.
    """

    def __init__(self, reason: str, still_possible: tuple[str, ...] = ()) -> None:
        self.reason, self.still_possible = reason, tuple(still_possible)
        message = reason
        if self.still_possible:
            message += "; still possible: " + ", ".join(self.still_possible)
        super().__init__(message)


def require(quantity: str, value: float, unit: str, low: float, high: float) -> None:
    """Raise `OutOfRange` unless low <= value <= high and the value is a number.

    Parameters
    ----------
    quantity : str
        Name for the message.
    value : float
        The number to check, in the unit named by `unit`. [any]
    unit : str
        Unit for the message.
    low : float
        Least allowed value. [as value]
    high : float
        Greatest allowed value. [as value]

    Raises
    ------
    OutOfRange
        If the value lies outside, or is not a number.
    """
    if math.isnan(value) or not low <= value <= high:
        raise OutOfRange(quantity, value, low, high, unit)


def one_line(text: str, limit: int = _SHOWN) -> str:
    r"""Outside text made safe to quote in a one-line message.

    Parameters
    ----------
    text : str
        Anything read from outside.
    limit : int
        Characters kept. [-]

    Returns
    -------
    str
        Printable, without line breaks; ends in "…" where it was cut.

    Examples
    --------
    >>> one_line("a\nlong text", 6)
    'a lon…'
    """
    flat = "".join(c if c.isprintable() else "?" for c in " ".join(text.split()))
    return flat if len(flat) <= limit else flat[: limit - 1] + "…"


def nearest(word: str, accepted: Iterable[str]) -> str | None:
    """The accepted word most like the one read, None if none is near; for suggestions.

    Parameters
    ----------
    word : str
        What was read.
    accepted : iterable of str
        What would have been accepted.

    Returns
    -------
    str or None
        As spelled in `accepted`.

    Examples
    --------
    >>> nearest("undercharg", ["undercharge", "overcharge"])
    'undercharge'
    """
    by_lower = {choice.lower(): choice for choice in accepted}
    found = difflib.get_close_matches(word.lower(), by_lower, n=1, cutoff=0.6)
    return by_lower[found[0]] if found else None

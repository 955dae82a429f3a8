"""What is written on the command line, as SI numbers and known names."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from coldwright.errors import BadInput, OutOfRange, nearest, one_line
from coldwright.units import Dimension, System, parse, show

COMMAND_LINE = "command line"
_WHOLE = re.compile(r"\s*[-+]?[0-9]{1,19}\s*")
_BARE_NUMBER = re.compile(r"\s*[-+−]?\d+(?:[.,]\d+)?(?:e[-+]?\d+)?\s*", re.IGNORECASE)


def quantity(option: str, text: str, dimension: Dimension) -> float:
    """SI value of an option.

    Parameters
    ----------
    option : str
        Name of the option.
    text : str
        As written.
    dimension : Dimension
        What kind of quantity.

    Returns
    -------
    float
        Value. [SI]

    Raises
    ------
    BadInput
        If it is no such quantity.
    """
    return parse(text, dimension, file=COMMAND_LINE, key=option)


def outside(
    error: OutOfRange, options: Mapping[str, tuple[str, Dimension]], system: System
) -> BadInput:
    """A number refused further in, as a message that names the option.

    Parameters
    ----------
    error : OutOfRange
        Its `quantity` is the option's name without the dashes.
    options : mapping
        What was written for each option, and its dimension.
    system : System
        Units for what is accepted.

    Returns
    -------
    BadInput
        An error for the user, not raised here.
    """
    option = "--" + error.quantity.replace(" ", "-")
    read, dimension = options[option]
    low, high = (show(end, dimension, system) for end in (error.low, error.high))
    return BadInput(COMMAND_LINE, option, f"'{one_line(read)}'", f"{low} to {high}")


def choice(option: str, text: str, accepted: Iterable[str]) -> str:
    """The accepted word that was written, case and a hyphen or space apart.

    Parameters
    ----------
    option : str
        Name of the option.
    text : str
        As written.
    accepted : iterable of str
        Words that may be written.

    Returns
    -------
    str
        One of `accepted`.

    Raises
    ------
    BadInput
        If it is none of them.
    """
    by_plain = {_plain(word): word for word in accepted}
    if _plain(text) in by_plain:
        return by_plain[_plain(text)]
    words = list(by_plain.values())
    raise BadInput(
        COMMAND_LINE,
        option,
        f"'{one_line(text)}'",
        "one of " + ", ".join(words),
        nearest(_plain(text), words),
    )


def system(text: str) -> System:
    """The system of units that --units names.

    Parameters
    ----------
    text : str
        As written.

    Returns
    -------
    System
        The system.
    """
    return System(choice("--units", text, [member.value for member in System]))


def pair(option: str, text: str, example: str) -> tuple[str, str]:
    """NAME=VALUE taken apart.

    Parameters
    ----------
    option : str
        Name of the option.
    text : str
        As written.
    example : str
        How it may be written.

    Returns
    -------
    tuple
        Name and value.

    Raises
    ------
    BadInput
        If there is no name or no value.
    """
    name, equals, value = (part.strip() for part in text.partition("="))
    if not (name and equals and value):
        raise BadInput(COMMAND_LINE, option, f"'{one_line(text)}'", f"NAME=VALUE such as {example}")
    return name, value


def span(option: str, text: str, example: str) -> tuple[str, str]:
    """A..B taken apart; a unit written only once, behind B, holds for both.

    Parameters
    ----------
    option : str
        Name of the option.
    text : str
        As written.
    example : str
        How it may be written.

    Returns
    -------
    tuple
        First and last.

    Raises
    ------
    BadInput
        If it is no span.
    """
    first, dots, last = (part.strip() for part in text.partition(".."))
    number = _BARE_NUMBER.match(last)
    if not (first and dots and number):
        raise BadInput(COMMAND_LINE, option, f"'{one_line(text)}'", f"a span such as {example}")
    if _BARE_NUMBER.fullmatch(first):
        first += " " + last[number.end() :]
    return first.strip(), last


def whole(option: str, text: str, low: int, high: int) -> int:
    """A whole number held to its limits.

    Parameters
    ----------
    option : str
        Name of the option, for the message.
    text : str
        As written.
    low : int
        Least value accepted. [-]
    high : int
        Greatest value accepted. [-]

    Returns
    -------
    int
        The number. [-]

    Raises
    ------
    BadInput
        If it is no whole number or lies outside.
    """
    number = int(text) if _WHOLE.fullmatch(text) else None
    if number is None or not low <= number <= high:
        accepted = f"a whole number, {low} to {high}"
        raise BadInput(COMMAND_LINE, option, f"'{one_line(text)}'", accepted)
    return number


def _plain(word: str) -> str:
    return word.strip().casefold().replace("-", "").replace(" ", "")

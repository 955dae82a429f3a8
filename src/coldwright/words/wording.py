"""Identifiers in plain words. Readings, signs, kinds and complaints have theirs in the registry."""

from __future__ import annotations

import re
from collections.abc import Mapping

from coldwright.diagnosis.fault_words import TOGETHER, grams_of_air
from coldwright.diagnosis.result import FaultOdds, SeverityInterval
from coldwright.faults.record import Together
from coldwright.faults.registry import FAULTS
from coldwright.readings import keys

NBSP = "\N{NO-BREAK SPACE}"
_UNIT_AHEAD = re.compile(r"(?<=\d) (?=(?:%|°[CF]|K|W|A|g|kg|mm|m|bar|min|bit|of 100)\b|%)")

_CHOICES: Mapping[str, str] = {
    **keys.KINDS,
    **keys.COMPLAINTS,
    "oil_cooler": "oil-cooler loop",
    "frame_loop": "door-frame loop",
    "oil_cooler_and_frame_loop": "oil-cooler and door-frame loops",
    "skin": "skin (inside the wall)",
    "static": "static (at the back)",
    "cold_wall": "cold wall (behind the liner)",
    "unknown": "unknown",
}


def fault(faults: str | Together) -> str:
    """A fault by name, or two at once as both.

    Parameters
    ----------
    faults : str or Together
        One fault or two at once.

    Returns
    -------
    str
        Words.
    """
    names = (faults,) if isinstance(faults, str) else faults
    first, *more = (FAULTS[n].words.title if n in FAULTS else plain(n) for n in names)
    return TOGETHER.join((first, *(name[:1].lower() + name[1:] for name in more)))


def plain(identifier: str) -> str:
    """An identifier as words, in the registry's where it has some.

    Parameters
    ----------
    identifier : str
        Of a reading, sign, choice or place.

    Returns
    -------
    str
        Words.

    Examples
    --------
    >>> plain("no_such_identifier")
    'no such identifier'
    """
    if identifier in keys.READINGS:
        return keys.READINGS[identifier].label
    if identifier in keys.SIGNS:
        return keys.SIGNS[identifier].label
    return _CHOICES.get(identifier, identifier.replace("_", " "))


def capital(text: str) -> str:
    """With its first letter large.

    Parameters
    ----------
    text : str
        As written.

    Returns
    -------
    str
        The text.

    Examples
    --------
    >>> capital("too warm")
    'Too warm'
    """
    return text[:1].upper() + text[1:]


def percent(probability: float) -> str:
    """A probability in whole percent; never a false 0 or 100.

    Parameters
    ----------
    probability : float
        Between 0 and 1. [-]

    Returns
    -------
    str
        Such as '45 %', with a no-break space.

    Examples
    --------
    >>> percent(0.001)
    'under 1\\xa0%'
    """
    if probability < 0.005:
        return f"under 1{NBSP}%"
    if probability > 0.995:
        return f"over 99{NBSP}%"
    return f"{100 * probability:.0f}{NBSP}%"


def severity(identifier: str, interval: SeverityInterval) -> str:
    """A severity interval as a sentence part.

    Parameters
    ----------
    identifier : str
        Of the fault.
    interval : SeverityInterval
        10, 50 and 90 % points, in the fault's unit.

    Returns
    -------
    str
        Part of a sentence.
    """
    if interval.unit == "mol":
        ends = (interval.low, interval.median, interval.high)
        low, mid, high = (f"{grams_of_air(x):.1f}" for x in ends)
        unit, what = f"{NBSP}g", f"of air ({interval.median:.3f}{NBSP}mol)"
    elif interval.unit == "W":
        low, mid, high = (f"{x:.0f}" for x in (interval.low, interval.median, interval.high))
        unit, what = f"{NBSP}W", "more heat than normal"
    else:
        low, mid, high = (f"{100 * x:.0f}" for x in (interval.low, interval.median, interval.high))
        unit, what = f"{NBSP}%", FAULTS[identifier].words.left_long
    if low == high:
        return f"about {mid}{unit} {what}"
    return f"{low} to {high}{unit} {what}, most likely about {mid}{unit}"


def severities(odds: FaultOdds) -> str:
    """How bad each of the faults is, as sentences; empty where none has a severity.

    Parameters
    ----------
    odds : FaultOdds
        Hypothesis with its severities.

    Returns
    -------
    str
        Sentences, or empty.
    """
    names = odds.faults
    told = [
        (name, interval)
        for name, interval in zip(names, (odds.severity, odds.second), strict=False)
        if interval is not None
    ]
    if len(names) == 1:
        return "".join(f"{capital(severity(name, interval))}." for name, interval in told)
    return " ".join(
        f"{fault(name).split(':')[0]}: {severity(name, interval)}." for name, interval in told
    )


def glued(text: str) -> str:
    """A sentence whose numbers stay on one line with their units.

    Parameters
    ----------
    text : str
        As written.

    Returns
    -------
    str
        The text with no-break spaces.
    """
    return _UNIT_AHEAD.sub(NBSP, text)


def count(number: int, one: str, many: str) -> str:
    """A number with its noun.

    Parameters
    ----------
    number : int
        How many, 0 or more. [-]
    one : str
        Noun of one.
    many : str
        Noun of more.

    Returns
    -------
    str
        Such as '2 jobs'.

    Examples
    --------
    >>> count(0, "job", "jobs")
    'no jobs'
    """
    return f"{number or 'no'} {one if number == 1 else many}"

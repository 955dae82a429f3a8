"""Leaks: what a rate is elsewhere, what a hold says, where to look in which order."""

from __future__ import annotations

from coldwright.leak.elsewhere import LeakAnswer, leak_rate
from coldwright.leak.hold import HoldAnswer, leak_hold
from coldwright.leak.questions import HoldWords, RateWords, hold_question, rate_question
from coldwright.leak.search import SearchReport, first_minutes, leak_search, shop_finds

__all__ = [
    "HoldAnswer",
    "HoldWords",
    "LeakAnswer",
    "RateWords",
    "SearchReport",
    "first_minutes",
    "hold",
    "leak_search",
    "rate",
    "shop_finds",
]


def rate(words: RateWords) -> LeakAnswer:
    """A leak rate in every unit, its size, and what the same leak does elsewhere.

    Parameters
    ----------
    words : RateWords
        What was asked; a job fills the gaps.

    Returns
    -------
    LeakAnswer
        The whole answer, SI inside.

    Raises
    ------
    BadInput
        Naming what is missing or cannot be.
    OutOfRange
        If the rate or a pressure cannot be.
    """
    return leak_rate(rate_question(words))


def hold(words: HoldWords) -> HoldAnswer:
    """A pressure or vacuum hold, read.

    Parameters
    ----------
    words : HoldWords
        The log and what was held.

    Returns
    -------
    HoldAnswer
        Verdict, rates, explanations.

    Raises
    ------
    BadInput
        If something is missing, or the pressures are those of no hold.
    """
    return leak_hold(hold_question(words))

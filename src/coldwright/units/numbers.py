"""The number at the head of a written quantity."""

from __future__ import annotations

import re
import unicodedata
from decimal import Decimal

_MINUS = str.maketrans({"−": "-", "–": "-", "‒": "-", "﹣": "-", "－": "-"})
_NUMBER = re.compile(
    r"""\s*(?P<sign>[+-]?)\s*
    (?: (?:(?P<whole>[0-9]+)\s+)?(?P<over>[0-9]+)/(?P<under>[0-9]+)(?![0-9.,])
      | (?P<decimal>[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)(?P<power>[eE][+-]?[0-9]{1,3})?(?![0-9.,])
    )(?P<rest>.*)""",
    re.VERBOSE | re.DOTALL,
)
_GROUPED = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


class NotANumber(ValueError):
    """The text does not start with one number that can be read one way only."""


def split_number(text: str) -> tuple[Decimal, str]:
    """Exact value and the rest (the unit) of a text such as ``'-18 °C'`` or ``'1/4 in'``.

    A single comma is a decimal comma; ``1,200`` could be meant either way and is refused.

    Parameters
    ----------
    text : str
        As written.

    Returns
    -------
    tuple of (Decimal, str)
        Exact value, and the rest as written.

    Raises
    ------
    NotANumber
        If no number starts the text, or it is ambiguous or too large.

    Examples
    --------
    >>> split_number("1/4 in")
    (Decimal('0.25'), ' in')
    """
    plain = "".join(_spread_fraction(c) for c in text.translate(_MINUS))
    match = _NUMBER.fullmatch(plain)
    if match is None:
        raise NotANumber("a number, then its unit")
    sign = -1 if match["sign"] == "-" else 1
    if match["over"] is not None:
        if int(match["under"]) == 0:
            raise NotANumber("a fraction whose lower part is not zero")
        value = Decimal(match["whole"] or 0) + Decimal(match["over"]) / Decimal(match["under"])
        return sign * value, match["rest"]
    decimal = match["decimal"]
    if _GROUPED.fullmatch(decimal):
        raise NotANumber(
            f"a number without a thousands comma: {decimal.replace(',', '')}"
            f" or {decimal.replace(',', '.')}"
        )
    value = Decimal(decimal.replace(",", ".") + (match["power"] or ""))
    if float(value) == float("inf"):
        raise NotANumber("a smaller number")
    return sign * value, match["rest"]


def _spread_fraction(character: str) -> str:
    """A printed fraction such as ½ as ' 1/2', so that 1½ is not read as 11/2."""
    if unicodedata.decomposition(character).startswith("<fraction>"):
        return " " + unicodedata.normalize("NFKC", character).replace("⁄", "/")
    return character

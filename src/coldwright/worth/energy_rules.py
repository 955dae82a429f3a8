"""Published maximum-energy rules by year and class: a yardstick for old and new.

Sources: 42 U.S.C. 6295(b)(1) for 1990 (read); 10 CFR 430.32(a) for 1993, 2001 and 2014
(secondary; some 2014 and compact rows from memory); 89 FR 3026 for 2029, class 3 only.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import floor

from coldwright.errors import require

CUBIC_FOOT_M3 = 0.3048**3
LARGEST_REFRIGERATOR_FT3, LARGEST_FREEZER_FT3 = 39.0, 30.0  # the rules' own limits, read


@dataclass(frozen=True, slots=True)
class Rule:
    """Most a new appliance of that class may use: slope x adjusted volume + intercept."""

    first_year: int
    product_class: str
    slope_kwh_ft3: float
    intercept_kwh: float
    known: str


_ROWS = {
    1990: (
        "1 16.3 316, 2 21.8 429, 3 23.5 471, 4 27.7 488, 5 27.7 488, 6 26.4 535, 7 30.9 547, "
        "8 10.9 422, 9 16.0 623, 10 14.8 223"
    ),
    1993: (
        "1 13.5 299, 2 10.4 398, 3 16.0 355, 4 11.8 501, 5 16.5 367, 6 17.6 391, 7 16.3 527, "
        "8 10.3 264, 9 14.9 391, 10 11.0 160"
    ),
    2001: (
        "1 8.82 248.4, 2 8.82 248.4, 3 9.80 276.0, 4 4.91 507.5, 5 4.60 459.0, 6 10.20 356.0, "
        "7 10.10 406.0, 8 7.55 258.3, 9 12.43 326.1, 10 9.88 143.7, 11 10.70 299.0, "
        "13 12.70 355.0, 16 9.78 250.8, 18 10.45 152.0"
    ),
    2014: (
        "1 7.99 225.0, 2 7.99 225.0, 3 8.07 233.7, 4 8.51 297.8, 5 8.85 317.0, 6 8.40 385.4, "
        "7 8.54 432.8, 8 5.57 193.7, 9 8.62 228.3, 10 7.29 107.8, 11 9.03 252.3, 13 11.80 339.2, "
        "16 8.65 225.7, 18 9.25 136.8"
    ),
    2029: "3 6.86 198.6",
}
_MEMORY_2014 = ("5", "6", "7", "8", "9", "10", "11", "13", "16", "18")
_MEMORY_2001 = ("11", "13", "16", "18")


def _known(year: int, product_class: str) -> str:
    if year == 1990:
        return "read in full text"
    if (year == 2014 and product_class in _MEMORY_2014) or (
        year == 2001 and product_class in _MEMORY_2001
    ):
        return "from memory"
    return "read in a secondary source"


RULES: tuple[Rule, ...] = tuple(
    Rule(year, name, float(slope), float(intercept), _known(year, name))
    for year, text in _ROWS.items()
    for name, slope, intercept in (row.split() for row in text.split(", "))
)


def product_class(kind: str, *, automatic: bool) -> str:
    """Class of the rules by kind of appliance and defrost; ice through the door is not asked.

    Parameters
    ----------
    kind : str
        A kind of the glossary.
    automatic : bool
        Whether it defrosts by itself (a fan evaporator).

    Returns
    -------
    str
        Identifier of the class.
    """
    by_kind = {
        "single_door": ("1", "3"), "top_mount": ("1", "3"), "bottom_mount": ("1", "5"),
        "side_by_side": ("4", "4"), "upright_freezer": ("8", "9"), "chest_freezer": ("10", "10"),
        "compact": ("11", "13"),
    }  # fmt: skip
    return by_kind[kind][automatic]


def rule_of(year: int, product_class: str) -> Rule | None:
    """The rule in force in a year, None before the first or where the class has none.

    Parameters
    ----------
    year : int
        Of manufacture. [a]
    product_class : str
        Such as "3".

    Returns
    -------
    Rule or None
        Slope [kWh/ft3] and intercept [kWh], or None.
    """
    known = [r for r in RULES if r.product_class == product_class and r.first_year <= year]
    return max(known, key=lambda r: r.first_year, default=None)


def adjusted_volume(kind: str, fresh_food: float, freezer: float, rule_year: int) -> float:
    """Adjusted volume in the rules' cubic feet. [ft3]

    Parameters
    ----------
    kind : str
        A kind of the glossary.
    fresh_food : float
        Net volume. [m3]
    freezer : float
        Net volume. [m3]
    rule_year : int
        First year of the rule it is for: a 2014 rule takes other factors. [a]

    Returns
    -------
    float
        Adjusted volume. [ft3]

    Raises
    ------
    OutOfRange
        If the fresh-food volume or the freezer volume is out of range.

    References
    ----------
    .. [1] Factors 1.63 (freezers alone 1.73) to the rules of 2001, 1.76 from 2014: 10 CFR 430
       subpart B, from memory.
    """
    require("fresh-food volume", fresh_food, "m3", 0.0, LARGEST_REFRIGERATOR_FT3 * CUBIC_FOOT_M3)
    require("freezer volume", freezer, "m3", 0.0, LARGEST_FREEZER_FT3 * CUBIC_FOOT_M3)
    alone = kind in ("upright_freezer", "chest_freezer")
    factor = 1.76 if rule_year >= 2014 else 1.73 if alone else 1.63
    if alone:
        return factor * (freezer or fresh_food) / CUBIC_FOOT_M3
    return (fresh_food + factor * freezer) / CUBIC_FOOT_M3


def most_energy(rule: Rule, adjusted_ft3: float) -> int:
    """Most energy a year, to the nearest kWh, half goes up. [kWh]

    Parameters
    ----------
    rule : Rule
        The rule.
    adjusted_ft3 : float
        Adjusted volume. [ft3]

    Returns
    -------
    int
        Energy a year. [kWh]
    """
    return floor(rule.slope_kwh_ft3 * adjusted_ft3 + rule.intercept_kwh + 0.5)

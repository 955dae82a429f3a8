"""What windings, start devices and supplies of household compressors read, with sources.

"Trade" is common practice, no published source; where a number decides how
readily we believe something, it is a judgement of ours.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from coldwright.errors import require


@dataclass(frozen=True, slots=True)
class Span:
    """Low and high end of what is usual: taken as the central 90 % of a log-normal."""

    low: float
    high: float
    source: str

    def __post_init__(self) -> None:
        require("low end of a span", self.low, "-", 1e-12, self.high)


@dataclass(frozen=True, slots=True)
class SupplyClass:
    """Motors for one mains voltage: cold ohms of the run winding and running current."""

    nominal_v: float
    run_ohm: Span
    running_a: Span


_TRADE_OHM = "makers' service literature, typical values; read through a collection"
_TRADE = "common practice, no published source"
SUPPLY_CLASSES = (
    SupplyClass(115.0, Span(1.5, 10.0, _TRADE_OHM), Span(0.8, 2.5, _TRADE)),
    SupplyClass(230.0, Span(8.0, 40.0, _TRADE_OHM), Span(0.4, 1.2, _TRADE)),
)
BETWEEN_CLASSES_V = 160.0  # ours; no household mains lies near it

# Start over run winding: textbooks 3 to 5, makers 2 to 5; the wider span is taken.
START_TO_RUN = Span(2.0, 5.0, "makers' service literature")
SUM_RTOL = 0.05  # R-S against the sum: two meter readings and contact at the pins, ours
SUM_OHM = 0.6  # lead and contact resistance in three readings, ours
EQUAL_RTOL = 0.08  # three readings so near each other are one winding thrice, ours
TWINS_RATIO = 1.15  # below this run and start cannot be told by ohms, ours
OPEN_OHM = 1e4  # a hundred times the largest winding, ours

# PTC start discs, cold. A hot disc reads kilohms, so it must rest 5 min (common practice).
PTC_OHM = (
    Span(3.0, 10.0, "makers' service literature, refrigerators"),
    Span(25.0, 50.0, "makers' service literature, air conditioners"),
)
PTC_COOL_MIN = 5.0
PTC_OPEN_OHM = 1e3  # ours: no cold disc reads so much
OVERLOAD_CLOSED_OHM = 2.0  # bimetal, heater and leads of the meter, ours
OVERLOAD_OPEN_OHM = 100.0  # ours
OVERLOAD_COOL_MIN = 60.0  # an inside one cools with the whole shell; ours, trade says 1 to 2 h

INSULATION_GOOD_OHM = 2e6  # at 500 V, common practice; IEC 60335-1, 16.3 (from memory) the same
INSULATION_BAD_OHM = 5e5  # ours: below this nobody argues
SUPPLY_RTOL = 0.10  # of the plate voltage under load; EN 50160 (2010) the same, from memory
CAPACITOR_RTOL = 0.10  # of the printed value; ours, printed tolerances are 5 to 20 %

LOCKED_ROTOR_RATIO = Span(3.5, 8.0, _TRADE)  # of the rated current
LOCKED_FROM = 2.5  # times the rated current: no running compressor draws so much, ours
SPEED_SLIP = 0.04  # two-pole induction motor at load, common practice

PARTS: Mapping[str, str] = MappingProxyType(
    {
        "windings": "windings",
        "insulation": "insulation to the shell",
        "start_device": "start device",
        "overload": "overload",
        "capacitor": "capacitor",
        "supply": "supply",
        "draw": "current drawn",
        "speed": "speed",
    }
)


def supply_class(volts: float) -> SupplyClass:
    """The class of motors for a mains voltage.

    Parameters
    ----------
    volts : float
        Plate voltage, or the mains of the place. [V]

    Returns
    -------
    SupplyClass
        What is usual for that voltage.

    Examples
    --------
    >>> supply_class(115.0) is supply_class(127.0)
    True
    """
    return SUPPLY_CLASSES[0] if volts < BETWEEN_CLASSES_V else SUPPLY_CLASSES[1]

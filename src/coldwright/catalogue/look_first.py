"""What to look at before any instrument comes out: air, ice, doors, use and control.

Common practice, no published source; minutes are judgements of ours. What a
sign says for or against a fault is not written here but follows from `signs`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from coldwright.catalogue.findings import FINDINGS

_BARE = frozenset({"eyes", "ears", "clock"})
# Signs that take eyes, ears and a hand; listening to the circuit comes later.
SIGNS_FIRST = (
    "restarted_too_soon",
    "condenser_dusty",
    "door_seal_gap",
    "warm_food_loaded",
    *(f.identifier for f in FINDINGS.values() if f.how and set(f.needs.split()) <= _BARE),
)


# Signs that the odds in scope cannot weigh: the complaints that bring them forward, what they say.
BEYOND_THE_ODDS: Mapping[str, tuple[tuple[str, ...], str]] = MappingProxyType(
    {
        "restarted_too_soon": (
            ("does_not_start", "noise"),
            "wait 5 min and start once more before anything else",
        ),
    }
)


@dataclass(frozen=True, slots=True)
class Look:
    """Something to look at that no sign of the glossary records."""

    identifier: str
    name: str
    minutes: float
    how: str
    shows: str
    complaints: tuple[str, ...]  # that bring it to the front
    of_running: bool = True  # says nothing of a compressor that does not run
    after_sign: str = ""  # only once this sign was seen
    cautions: tuple[str, ...] = ()


LOOKS = (
    Look(
        "setting", "setting and control", 1.0,
        "Read the setting, turn it to coldest and wait for the click; see that no holiday,"
        " demonstration or defrost mode is on.",
        "A click and no start: the fault is behind the control. No click and no start: control or"
        " supply. It runs now: it was the setting.",
        ("too_cold", "does_not_start", "both_too_warm", "nothing_cold"), of_running=False,
    ),
    Look(
        "clearance", "air round the cabinet", 1.0,
        "Is there a hand's width behind and above, and no oven, sun or heap of things against it?",
        "No way for warm air to leave works like a dusty condenser; a hot room or a cold garage"
        " explains much by itself.",
        ("runs_all_the_time", "both_too_warm"),
    ),
    Look(
        "air_ways", "air ways inside", 2.0,
        "Are the grilles to the freezer and the fresh-food side free of food, bags and ice?",
        "Blocked grilles leave one side warm while the coil and the circuit are sound.",
        ("fresh_food_warm_freezer_good", "frost_or_water"),
    ),
    Look(
        "defrost_parts", "defrost heater, limiter, timer or sensor", 10.0,
        "Thaw it fully with the fan off, then start a defrost by hand (timer, service key): does"
        " the heater warm, and end by itself?",
        "No heat: heater, limiter, or no voltage from timer or board. Heat when started by hand:"
        " timer, sensor or board does not call for it. Never ends: limiter or sensor.",
        (), after_sign="coil_iced_over", cautions=("mains", "hot_surface", "moving_fan"),
    ),
)  # fmt: skip

"""Capillary and drier, partly or wholly blocked."""

from __future__ import annotations

from coldwright.faults.effects import Restriction, unaltered
from coldwright.faults.record import Factors, Fault, Severity, Words
from coldwright.faults.tells import Always

RESTRICTION = "restriction"  # of drier or capillary: mended alike, so asked for as one
NARROWED = Restriction("capillary_restricted", 0.03, 0.99, "fraction", True)
BLOCKED = unaltered("capillary_blocked", True, blocks=True)
_FLOW = Severity(0.05, 0.9, "fraction")
_COMPLAINTS = {
    "nothing_cold": 1.2, "fresh_food_warm_freezer_good": 0.5, "both_too_warm": 1.3,
    "runs_all_the_time": 1.2, "does_not_start": 0.15, "trips_the_breaker": 0.2, "too_cold": 0.2,
    "fresh_food_freezes": 0.3, "freezer_warm_fresh_food_good": 0.8, "noise": 0.7,
    "frost_or_water": 0.5,
}  # fmt: skip
_TOO_SOON = Always(0.08)  # high pressures take longer to level

CAPILLARY_RESTRICTED = Fault(
    identifier="capillary_restricted",
    meaning="partly blocked or crushed",
    measure="fraction of healthy flow at equal conditions",
    share=0.047,
    why="debris, oil wax, a kink; rarer than leaks",
    words=Words(
        "a restricted capillary", "Capillary partly blocked or crushed",
        "a fine tube inside is partly blocked", "of a sound tube's flow left",
        "of a healthy tube's flow",
    ),
    sealed=True,
    tell_tale="a starved coil beside a condenser that holds liquid, slow equalising after a stop:"
    " the model, as makers' fault charts have it",
    effect=NARROWED,
    severity=_FLOW,
    factors=Factors(complaints=_COMPLAINTS, repaired=2.5),  # flux and debris stay behind
    signs={"dent": Always(0.15), "restarted_too_soon": _TOO_SOON},
    mended_by={"renew_capillary": 0.88},
    asked_as=RESTRICTION,
)  # fmt: skip

CAPILLARY_BLOCKED = Fault(
    identifier="capillary_blocked",
    meaning="no flow",
    share=0.027,
    why="the end of a restriction",
    words=Words(
        "a blocked capillary", "Capillary blocked: no flow", "a fine tube inside is blocked"
    ),
    sealed=True,
    tell_tale="no flow sound, a low side pumped down, a compressor that runs light: the model, as"
    " makers' fault charts have it",
    effect=BLOCKED,
    factors=Factors(
        complaints={
            "nothing_cold": 2.5, "fresh_food_warm_freezer_good": 0.05, "both_too_warm": 0.7,
            "runs_all_the_time": 0.6, "does_not_start": 0.2, "trips_the_breaker": 0.2,
            "noise": 0.6, "frost_or_water": 0.2,
            "freezer_warm_fresh_food_good": 0.2, "too_cold": 0.02, "fresh_food_freezes": 0.02,
        },
        repaired=2.0,
        months=(1.5, 0.6),
    ),
    signs={"dent": Always(0.15), "restarted_too_soon": _TOO_SOON},
    mended_by={"renew_capillary": 0.85},
)  # fmt: skip

DRIER_RESTRICTED = Fault(
    identifier="drier_restricted",
    meaning="blocked drier: pressure falls before the capillary",
    measure="fraction of healthy flow at equal conditions",
    share=0.034,
    why="crumbling desiccant, debris on the screen",
    words=Words(
        "a restricted drier",
        "Filter drier partly blocked",
        "the filter inside is partly blocked",
        "of a sound drier's flow left",
        "of a healthy drier's flow",
    ),
    sealed=True,
    tell_tale="a drop of temperature over the drier beside the signs of a restricted capillary:"
    " the model, as makers' fault charts have it",
    effect=Restriction("drier_restricted", 0.03, 0.99, "fraction", True, in_drier=True),
    severity=_FLOW,
    factors=Factors(complaints=_COMPLAINTS, repaired=2.5),
    signs={"restarted_too_soon": _TOO_SOON},
    mended_by={"renew_capillary": 0.93},
    rid_by_opening=0.90,
    asked_as=RESTRICTION,
)

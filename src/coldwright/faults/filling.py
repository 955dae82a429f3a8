"""Too little, too much, and what does not belong into the circuit: air, water."""

from __future__ import annotations

from coldwright.faults.effects import NO_NUMBER, AddedGas, ChargeFraction, unaltered
from coldwright.faults.record import Factors, Fault, Severity, Way, Words
from coldwright.faults.restrictions import BLOCKED, NARROWED
from coldwright.faults.sound import AS_BUILT
from coldwright.faults.tells import Always

UNDERCHARGE = Fault(
    identifier="undercharge",
    meaning="refrigerant lost",
    measure="fraction of plate charge left",
    share=0.165,
    why="leaks are the usual end of a sealed circuit",
    words=Words(
        "too little refrigerant", "Undercharge: too little refrigerant",
        "it has lost cooling gas", "of the charge left", "of the plate charge left",
    ),
    sealed=True,
    tell_tale="low pressures, a coil frosted at its inlet only, a condenser without subcooling:"
    " the model, as makers' fault charts have it; oil at the leak: chance of ours",
    effect=ChargeFraction("undercharge", 0.10, 1.0, "fraction", True),
    severity=Severity(0.15, 0.95, "fraction"),
    factors=Factors(
        complaints={
            "nothing_cold": 1.3, "fresh_food_warm_freezer_good": 0.5, "both_too_warm": 1.3,
            "runs_all_the_time": 1.3, "does_not_start": 0.15, "trips_the_breaker": 0.2,
            "noise": 0.6, "frost_or_water": 0.8,
            "freezer_warm_fresh_food_good": 1.2, "too_cold": 0.3, "fresh_food_freezes": 0.6,
        },
        repaired=1.8,  # new joints leak
        topped_up=2.5,  # it leaked then; was the leak found?
        months=(0.7, 1.6),  # a slow leak starves it over months
        age=(0.8, 1.3),  # steel rusts
    ),
    signs={"oil_trace": Always(0.4), "rust": Always(0.35), "dent": Always(0.08)},
    # what mends it depends on where it leaks: `repair.causes.place_shares`
)  # fmt: skip

OVERCHARGE = Fault(
    identifier="overcharge",
    meaning="too much put in",
    measure="fraction of plate charge",
    share=0.019,
    why="only after somebody added some",
    words=Words(
        "too much refrigerant", "Overcharge: too much refrigerant",
        "it holds too much cooling gas", "of the plate charge", "of the plate charge",
    ),
    sealed=True,
    tell_tale="a cold or frosted suction line, high pressures: the model, as makers' fault charts"
    " have it",
    effect=ChargeFraction("overcharge", 1.0, 1.8, "fraction", True),
    severity=Severity(1.05, 1.6, "fraction"),
    factors=Factors(
        complaints={
            "nothing_cold": 0.5, "fresh_food_warm_freezer_good": 0.5, "runs_all_the_time": 1.3,
            "does_not_start": 0.2, "trips_the_breaker": 0.3, "noise": 1.5,
            "frost_or_water": 2.5,
            "freezer_warm_fresh_food_good": 0.5, "too_cold": 0.7, "fresh_food_freezes": 0.7,
        },
        repaired=8.0,  # charges are put in by feel
        never_opened=0.05,
        topped_up=3.0,
    ),
    signs={"compressor_hums_and_trips": Always(0.05)},
    mended_by={"charge_anew": 0.95},
    rid_by_opening=0.95,
)  # fmt: skip

NON_CONDENSABLES = Fault(
    identifier="non_condensables",
    meaning="air or nitrogen inside",
    measure="mole of gas (shown also as gram of air)",
    share=0.006,
    why="a hasty evacuation; air drawn in by a leak comes with a lost charge",
    words=Words(
        "air inside", "Air or nitrogen in the circuit", "air got into its tubes"
    ),
    sealed=True,
    tell_tale="condenser colder than its pressure says: partial pressures (Dalton); at rest the"
    " pressure stands above saturation",
    effect=AddedGas("non_condensables", 0.0, 0.15, "mol", True),
    severity=Severity(0.002, 0.05, "mol", by_ratio=True),
    factors=Factors(
        complaints={
            "nothing_cold": 0.8, "fresh_food_warm_freezer_good": 0.4, "both_too_warm": 1.3,
            "runs_all_the_time": 1.5, "does_not_start": 0.3, "trips_the_breaker": 0.3,
            "noise": 1.5, "frost_or_water": 0.5,
            "freezer_warm_fresh_food_good": 0.7, "too_cold": 0.2, "fresh_food_freezes": 0.2,
        },
        repaired=4.0,
        never_opened=0.2,
    ),
    mended_by={"charge_anew": 0.9},
    rid_by_opening=0.95,
    rare=True,
)  # fmt: skip

MOISTURE = Fault(
    identifier="moisture",
    meaning="ice plug that comes and goes at the capillary outlet",
    share=0.01,
    why="circuits that were opened, or leak below atmospheric pressure",
    words=Words(
        "moisture that freezes", "Moisture: ice plug that comes and goes",
        "water got into its tubes",
    ),
    sealed=True,
    tell_tale="it cools again after warming up: an ice plug melts with the cabinet; makers' fault"
    " charts, chance of ours",
    effect=unaltered("moisture", True, blocks=True, comes_and_goes=True),
    factors=Factors(
        complaints={
            "nothing_cold": 1.5, "fresh_food_warm_freezer_good": 0.3, "both_too_warm": 1.2,
            "runs_all_the_time": 0.8, "does_not_start": 0.15, "trips_the_breaker": 0.2,
            "noise": 0.6, "frost_or_water": 0.5,
            "freezer_warm_fresh_food_good": 0.7, "too_cold": 0.1, "fresh_food_freezes": 0.1,
        },
        repaired=4.0,
        never_opened=0.4,
    ),
    ways=(
        Way("", 0.45, BLOCKED, NO_NUMBER, NO_NUMBER,
            "the plug is there when the technician comes"),
        Way("", 0.35, NARROWED, 0.05, 0.8, "it grows, or is half melted"),
        Way("", 0.20, AS_BUILT, NO_NUMBER, NO_NUMBER, "it has just melted: all looks well"),
    ),
    signs={"cools_again_after_warming": Always(0.7)},
    mended_by={"charge_anew": 0.85},
    rid_by_opening=0.85,
    rare=True,
)  # fmt: skip

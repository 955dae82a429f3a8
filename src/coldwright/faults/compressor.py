"""The compressor: worn, or standing still."""

from __future__ import annotations

from coldwright.faults.effects import Factor, unaltered
from coldwright.faults.record import Factors, Fault, Severity, Words

WEAK_COMPRESSOR = Fault(
    identifier="weak_compressor",
    meaning="valve leak or worn pump",
    measure="fraction of healthy mass flow at equal pressures",
    share=0.052,
    why="worn valves, old machines",
    words=Words(
        "a weak compressor", "Weak compressor: valves or pump worn", "its pump is worn",
        "of a sound pump's flow left", "of a healthy pump's flow",
    ),
    sealed=True,
    tell_tale="suction pressure high and discharge low together, little power: the model, as"
    " makers' fault charts have it",
    effect=Factor(
        "weak_compressor", 0.05, 1.0, "fraction", True,
        part="compressor", field="flow_factor_fraction",
    ),
    severity=Severity(0.1, 0.9, "fraction"),
    factors=Factors(
        complaints={
            "nothing_cold": 1.2, "fresh_food_warm_freezer_good": 0.3, "both_too_warm": 1.4,
            "runs_all_the_time": 1.3, "does_not_start": 0.2, "trips_the_breaker": 0.3,
            "noise": 1.2, "frost_or_water": 0.4,
            "freezer_warm_fresh_food_good": 0.8, "too_cold": 0.1, "fresh_food_freezes": 0.1,
        },
        repaired=1.3,
        months=(0.8, 1.2),
        age=(0.5, 2.0),  # valves wear
    ),
    mended_by={"new_compressor": 0.93},
)  # fmt: skip

COMPRESSOR_NOT_RUNNING = Fault(
    identifier="compressor_not_running",
    meaning="winding, relay, overload, supply, seized; board where the compressor is of variable"
    " speed",
    measure="which",
    share=0.09,
    why="starting device, supply, winding, seized",
    words=Words(
        "a compressor that does not run", "Compressor does not run", "its motor does not run"
    ),
    sealed=False,
    tell_tale="silence or a hum and a trip, and what windings, start device and supply read"
    " (`catalogue.stopped`, `catalogue.part_states`): common practice, chances of ours",
    effect=unaltered("compressor_not_running", False, runs=False),
    factors=Factors(
        complaints={
            "nothing_cold": 2.5, "fresh_food_warm_freezer_good": 0.03, "both_too_warm": 0.6,
            "runs_all_the_time": 0.03, "does_not_start": 10.0, "trips_the_breaker": 8.0,
            "noise": 0.8, "frost_or_water": 0.3,
            "freezer_warm_fresh_food_good": 0.05, "too_cold": 0.03, "fresh_food_freezes": 0.03,
        },
        months=(1.6, 0.6),
    ),
    # what mends it depends on the part: `repair.causes`
)  # fmt: skip

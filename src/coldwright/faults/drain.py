"""The drain of meltwater: blocked or frozen."""

from __future__ import annotations

from coldwright.faults.effects import unaltered
from coldwright.faults.record import Factors, Fault, Words

DRAIN_BLOCKED = Fault(
    identifier="drain_blocked",
    meaning="meltwater finds no way out",
    share=0.03,
    why="ice, slime or crumbs in the drain; many are cleared without a call",
    words=Words(
        "a blocked drain", "Drain blocked: meltwater stays inside",
        "the drain for its meltwater is blocked",
    ),
    sealed=False,
    tell_tale="water or ice below the coil or under the drawers while it cools as it should: common"
    " practice, chances of ours",
    effect=unaltered("drain_blocked", False),  # the coil behind it is a fault of its own
    factors=Factors(
        complaints={
            "nothing_cold": 0.03, "fresh_food_warm_freezer_good": 0.3, "both_too_warm": 0.12,
            "runs_all_the_time": 0.2, "does_not_start": 0.02, "trips_the_breaker": 0.1,
            "too_cold": 0.1, "noise": 0.5, "frost_or_water": 8.0,
            "freezer_warm_fresh_food_good": 0.1, "fresh_food_freezes": 0.1,
        },
        evaporator={"fan": 1.2, "plate": 0.8, "cold_wall": 0.8},
    ),
    mended_by={"defrost_and_fan": 0.80},  # thawed, cleared, its heater seen to
    rare=True,
)  # fmt: skip

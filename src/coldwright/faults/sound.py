"""Nothing wrong: works as built."""

from __future__ import annotations

from coldwright.faults.effects import unaltered
from coldwright.faults.record import Factors, Fault, Words
from coldwright.faults.tells import Always

AS_BUILT = unaltered("nothing_wrong", False)

NOTHING_WRONG = Fault(
    identifier="nothing_wrong",
    meaning="works as built (hot room, setting, use)",
    share=0.115,
    why="hot room, setting, use: a common call",
    words=Words(
        "nothing wrong", "Nothing wrong: works as built", "nothing is wrong with it"
    ),
    sealed=False,
    tell_tale="every reading as the model has it at the room, setting and use of the visit",
    effect=AS_BUILT,
    factors=Factors(
        complaints={
            "nothing_cold": 0.3, "fresh_food_warm_freezer_good": 1.2, "both_too_warm": 0.6,
            "runs_all_the_time": 1.2, "noise": 2.5, "frost_or_water": 1.2,
            "freezer_warm_fresh_food_good": 2, "too_cold": 1.8, "fresh_food_freezes": 1.6,
        },
    ),
    signs={
        "warm_food_loaded": Always(0.2),
        "restarted_too_soon": Always(0.12),
    },
    rid_by_opening=1.0,
)  # fmt: skip

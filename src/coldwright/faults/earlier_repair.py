"""What an earlier repair put in: another refrigerant, another capillary, too much oil."""

from __future__ import annotations

from coldwright.faults.effects import Factor, OtherBore
from coldwright.faults.record import Factors, Fault, Way, Words
from coldwright.faults.sound import AS_BUILT

WRONG_REFRIGERANT = "wrong_refrigerant"  # the way filled with what the van held
_WRONG_CAPILLARY = OtherBore("wrong_fill:capillary", 0.6, 1.6, "fraction", True)
_OIL_LOGGED = Factor(
    "wrong_fill:oil_logged", 1.0, 20.0, "fraction", True,
    part="evaporator", field="frost_resistance_k_w",
)  # fmt: skip

WRONG_FILL = Fault(
    identifier="wrong_fill",
    meaning="wrong refrigerant, wrong capillary or oil-logged after an earlier repair",
    measure="which",
    share=0.006,
    why="only after somebody worked on it",
    words=Words(
        "a wrong fill or part from an earlier repair",
        "Wrong fill or part from an earlier repair",
        "it was filled with the wrong cooling gas",
    ),
    sealed=True,
    tell_tale="pressures that do not belong to the plate's refrigerant, or a flow that does not"
    " belong to the circuit: the model with what was put in",
    factors=Factors(
        complaints={
            "fresh_food_warm_freezer_good": 0.5, "both_too_warm": 1.2, "runs_all_the_time": 1.2,
            "does_not_start": 0.3, "trips_the_breaker": 0.5,
            "freezer_warm_fresh_food_good": 0.8, "too_cold": 0.3, "fresh_food_freezes": 0.3,
        },
        repaired=8.0,
        never_opened=0.02,
        topped_up=1.5,
    ),
    ways=(
        Way(WRONG_REFRIGERANT, 0.25, AS_BUILT, 0.5, 1.4, "what the van held; filled by feel"),
        Way("wrong_capillary", 0.45, _WRONG_CAPILLARY, 0.75, 1.3,
            "the nearest bore on the shelf", "a capillary of another bore"),
        Way("oil_logged", 0.30, _OIL_LOGGED, 3.0, 12.0,
            "oil added with the charge lies in the evaporator",
            "oil lying in the evaporator"),
    ),
    mended_by={"charge_anew": 0.92},
    rid_by_opening=0.92,
    rare=True,
)  # fmt: skip

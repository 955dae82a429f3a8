"""Air over the two coils, and heat that gets in."""

from __future__ import annotations

from coldwright.faults.effects import AddedLoad, Factor
from coldwright.faults.record import Factors, Fault, Severity, Words
from coldwright.faults.tells import AlongSeverity, Always, AtLeast, Between

CONDENSER_AIR = Fault(
    identifier="condenser_air",
    meaning="dust, stopped fan, no clearance",
    measure="fraction of healthy outside conductance",
    share=0.08,
    why="dust and built-in cabinets",
    words=Words(
        "poor air over the condenser", "Condenser short of air",
        "its warm coil gets too little air", "of its heat exchange left",
        "of the condenser's healthy heat release",
    ),
    sealed=False,
    tell_tale="a condenser far above the room, more power: the model, as makers' fault charts have"
    " it; dust and a stopped fan are seen",
    effect=Factor(
        "condenser_air", 0.05, 1.0, "fraction", False,
        part="condenser", field="air_factor_fraction",
    ),
    severity=Severity(0.1, 0.9, "fraction"),
    factors=Factors(
        complaints={
            "nothing_cold": 0.6, "fresh_food_warm_freezer_good": 0.5, "both_too_warm": 1.3,
            "runs_all_the_time": 1.5, "does_not_start": 0.3, "trips_the_breaker": 0.3,
            "noise": 1.3, "frost_or_water": 0.5,
            "freezer_warm_fresh_food_good": 0.7, "too_cold": 0.2, "fresh_food_freezes": 0.2,
        },
        months=(0.8, 1.2),
        condenser={"fan": 1.3, "static": 1.0, "skin": 0.4},
    ),
    signs={
        "condenser_dusty": AlongSeverity(0.85, 0.25, 0.75, 0.1),
    },
    mended_by={"clean_condenser": 0.93},
)  # fmt: skip

EVAPORATOR_AIR = Fault(
    identifier="evaporator_air",
    meaning="fan stopped, coil iced",
    measure="fraction of healthy outside conductance",
    share=0.17,
    why="defrost parts and fans of frost-free machines fail often",
    words=Words(
        "poor air over the evaporator", "Evaporator short of air: ice or fan",
        "ice or a stopped fan keeps the cold from the food", "of its heat exchange left",
        "of the evaporator's healthy heat uptake",
    ),
    sealed=False,
    tell_tale="a coil far below its air, fresh food warm beside a good freezer: the model, as"
    " makers' fault charts have it; ice and a stopped fan are seen",
    effect=Factor(
        "evaporator_air", 0.03, 1.0, "fraction", False,
        part="evaporator", field="air_factor_fraction",
    ),
    severity=Severity(0.05, 0.9, "fraction"),
    factors=Factors(
        complaints={
            "nothing_cold": 0.4, "fresh_food_warm_freezer_good": 3.0, "both_too_warm": 0.9,
            "does_not_start": 0.15, "trips_the_breaker": 0.3, "noise": 1.5, "frost_or_water": 2.5,
            "freezer_warm_fresh_food_good": 1.2, "too_cold": 0.6, "fresh_food_freezes": 0.6,
        },
        evaporator={"fan": 1.3, "plate": 0.4, "cold_wall": 0.4},
    ),
    signs={
        "door_seal_gap": Always(0.2),
    },
    mended_by={"defrost_and_fan": 0.85},
)  # fmt: skip

HEAT_LOAD = Fault(
    identifier="heat_load",
    meaning="seal, stuck heater, warm load",
    measure="watt above normal",
    share=0.076,
    why="seals and doors; gasket air 1.5-29 W (quoted in gasket studies), stuck heater above",
    words=Words(
        "too much heat getting in", "Extra heat: seal, heater or warm load",
        "too much warmth gets in: door, seal or a heater",
    ),
    sealed=False,
    tell_tale="a circuit that works well at its evaporating temperature and never rests: the"
    " model; gap, heater and warm food are seen or told",
    effect=AddedLoad("heat_load", 0.0, 400.0, "W", False),
    severity=Severity(5.0, 150.0, "W", by_ratio=True),
    factors=Factors(
        complaints={
            "nothing_cold": 0.3, "runs_all_the_time": 1.8, "does_not_start": 0.1,
            "trips_the_breaker": 0.5, "noise": 0.6, "frost_or_water": 2.0,
            "freezer_warm_fresh_food_good": 0.8, "too_cold": 0.3, "fresh_food_freezes": 0.3,
        },
        months=(0.8, 1.2),
        age=(0.7, 1.4),  # seals harden
    ),
    signs={
        # a gap lets in tens of watts; above about 80 W a heater explains more
        "door_seal_gap": Between(0.1, 0.5, (9.0, 3.0), (90.0, 20.0)),
        "warm_food_loaded": AlongSeverity(0.1, 0.45, 25.0, 10.0),
        "door_frame_cold_or_sweating": AtLeast(0.15),
    },
    mended_by={"seal_and_heater": 0.85},
)  # fmt: skip

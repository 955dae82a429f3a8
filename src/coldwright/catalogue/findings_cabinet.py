"""Findings round the cabinet: air, defrost, door and drain, control, use and place.

Numbers are ours, with the reason beside them; directions are those of trade texts and of
stories told by owners and technicians. No published rates are known to us. A part measured
failed that is not the cause is rare: such findings err in about 1 of 100.
"""

from __future__ import annotations

from coldwright.catalogue.finding import Finding
from coldwright.catalogue.sides import BOARDS, SENSORS

_NR = "compressor_not_running"
_DEFROST = ("defrost_heater", "defrost_limiter", "defrost_timer", "defrost_sensor")
_NO_CALL = ("control:not_calling", "control:defrosting")


def _of(names: tuple[str, ...], p: float) -> dict[str, float]:
    return dict.fromkeys(names, p)


AIR = (
    Finding(
        "evaporator_fan_stopped",
        {"evaporator_fan": 0.95, "fan_blocked": 0.85, "fan_weak": 0.15, **_of(_NO_CALL, 0.93),
         **_of(_DEFROST, 0.10), "drain_ice": 0.12, "supply_absent": 0.97, "supply_was_off": 0.3,
         "supply_beyond": 0.6, _NR: 0.06},
        0.015, 0.93, 0.015,
        "a door switch stops it too, and none turns where nothing calls for cold or no mains",
        "Was the fan asked to run: door switch held in, compressor running, no defrost?",
        "Thermostat to coldest, door switch held in: does air blow in the freezer? A fan that"
        " turns beside a silent compressor says that cold is called for.", 3, "eyes ears",
        "moving_fan", fan="evaporator",
        complaints=("fresh_food_warm_freezer_good", "both_too_warm"),
    ),
    Finding(
        "evaporator_fan_slow",
        {"fan_weak": 0.88, "fan_blocked": 0.45, "evaporator_fan": 0.20, **_of(_DEFROST, 0.15)},
        0.02, 0.82, 0.02, "dry bearings, ice on the blade; judged by eye",
        "Compared with one that blows well, or did it have to be started by hand?",
        "Door switch held in: does the fan come up to speed by itself and blow hard?", 3,
        "eyes ears", "moving_fan", fan="evaporator",
    ),
    Finding(
        "evaporator_fan_noisy",
        {"fan_blocked": 0.70, "fan_weak": 0.50, "evaporator_fan": 0.25, **_of(_DEFROST, 0.20),
         "drain_ice": 0.25},
        0.04, 0.90, 0.02, "ice at the blade scrapes, dry bearings whine",
        "Did the noise stop when the freezer door was opened?",
        "Does something scrape or whine in the freezer, and stop with the door open?", 1, "ears",
        fan="evaporator",
    ),
    Finding(
        "evaporator_fan_blocked",
        {"fan_blocked": 0.95, **_of(_DEFROST, 0.20), "drain_ice": 0.25},
        0.004, 0.93, 0.005, "ice or foil seen at the blade",
        "Did the blade stand still, held by it?",
        "Unplugged, cover off: does ice or foil hold the blade?", 8, "eyes", "mains moving_fan",
        fan="evaporator",
    ),
    Finding(
        "no_air_at_vents",
        {"evaporator_fan": 0.93, "fan_blocked": 0.85, "fan_weak": 0.35, **_of(_DEFROST, 0.65),
         "drain_ice": 0.55, "humid_ice": 0.5, "air_way": 0.70, "damper_shut": 0.70,
         **_of(_NO_CALL, 0.9), "supply_absent": 0.95, "supply_beyond": 0.5},
        0.04, 0.88, 0.03, "no fan, iced coil, shut flap or covered duct; a resting machine too",
        "With the compressor running and the door switch held in?",
        "Compressor running, door switch held in: a strip of paper at the vents, freezer and"
        " fresh food: does it move?", 2, "eyes", fan="evaporator",
        complaints=("fresh_food_warm_freezer_good", "both_too_warm"),
    ),
    Finding(
        "weak_air_at_vents",
        {"fan_weak": 0.80, **_of(_DEFROST, 0.65), "drain_ice": 0.6, "humid_ice": 0.6,
         "air_way": 0.60, "fan_blocked": 0.3, "damper_shut": 0.3},
        0.07, 0.75, 0.06, "judged by hand; some machines never blow hard",
        "Weaker than it used to be?",
        "The same strip of paper: does it hang nearly still?", 2, "eyes", fan="evaporator",
    ),
    Finding(
        "air_way_blocked",
        {"air_way": 0.92, **_of(_DEFROST, 0.30), "drain_ice": 0.3, "humid_ice": 0.35},
        0.05, 0.90, 0.02, "bags and frost before a grille; some of it is everywhere",
        "Before the grille or duct itself, so that air cannot pass?",
        "Are intake and outlet grilles free of food, bags and frost?", 2, "eyes",
    ),
    Finding(
        "condenser_fan_stopped",
        {"condenser_fan": 0.95, **_of(_NO_CALL, 0.93), "supply_absent": 0.97,
         "supply_beyond": 0.6, _NR: 0.08, "supply_was_off": 0.3},
        0.008, 0.95, 0.012,
        "wired beside the compressor: where that is silent and no fan turns, nothing calls",
        "Did the compressor run at that moment?",
        "Thermostat to coldest: does the condenser's fan turn and blow? It is wired beside the"
        " compressor: where that is silent and no fan turns, nothing calls for cold.", 2, "eyes",
        "moving_fan", fan="condenser",
    ),
    Finding(
        "condenser_matted",
        {"dust": 0.70, "condenser_fan": 0.15},
        0.03, 0.90, 0.02, "felt that covers most of it, not the usual dust",
        "Was most of the condenser hidden under it?",
        "Lamp and mirror: is most of the condenser hidden under a blanket of dust?", 2, "eyes",
        "moving_fan",
    ),
    Finding(
        "no_clearance",
        {"clearance": 0.93, "dust": 0.15},
        0.12, 0.90, 0.02, "built in tight or covered; many are, and cool",
        "Less than a hand's width above and behind?",
        "Is there a hand's width behind and above, nothing hot beside?", 1, "eyes",
    ),
    Finding(
        "cabinet_outside_hot",
        {"condenser_air": 0.60, "heat_load": 0.30, "hot_room": 0.50, "undercharge": 0.05,
         "capillary_blocked": 0.05, _NR: 0.02, "control:not_calling": 0.02},
        0.15, 0.85, 0.05, "side walls hold many a condenser; hot ones mean heat that cannot leave",
        "Hotter than it used to be?",
        "A hand on the side walls and between the doors: hot?", 1, "eyes", "hot_surface",
    ),
)  # fmt: skip
DEFROST = (
    Finding(
        "coil_iced_over",
        {**_of(_DEFROST, 0.93), "drain_ice": 0.85, "humid_ice": 0.92, "evaporator_fan": 0.35,
         "fan_blocked": 0.60, "fan_weak": 0.35, "air_way": 0.35, "door_seal": 0.22,
         "door_ajar": 0.28, "drain_blocked": 0.25, "control:defrosting": 0.01},
        0.02, 0.92, 0.018, "a block of ice, not white frost; moist air of a bad seal makes some",
        "Solid ice between the fins, over most of the coil?",
        "Unplug, take the cover off: is the coil a block of ice rather than white with frost?", 8,
        "eyes", "mains moving_fan",
        complaints=("fresh_food_warm_freezer_good", "both_too_warm", "frost_or_water"),
    ),
    Finding(
        "defrost_heater_stuck_on",
        {"heater_on": 0.92, "control:defrosting": 0.75},
        0.001, 0.90, 0.002, "heaters of 100 W and more, seen to glow while it cools",
        "Did the compressor run at that moment, so that it was no ordinary defrost?",
        "Feel the air at the coil while the compressor runs: warm, and the condenser hot"
        " as well?", 5, "eyes", "hot_surface moving_fan mains",
    ),
    Finding(
        "defrost_heater_open",
        {"defrost_heater": 0.96},
        0.004, 0.97, 0.008, "ohms through it; a broken glass tube is seen",
        "Was it read with its leads off?",
        "Unplugged, leads off: ohms through the defrost heater; open?", 10, "multimeter",
        "mains hot_surface", fan="evaporator",
    ),
    Finding(
        "defrost_limiter_open",
        {"defrost_limiter": 0.95},
        0.008, 0.96, 0.015, "it is open when warm, as it should be: read it cold",
        "Was it below freezing when it was read?",
        "Unplugged, coil still frozen: ohms through the limiter; open?", 10, "multimeter",
        "mains", fan="evaporator",
    ),
    Finding(
        "defrost_sensor_off_its_table",
        {"defrost_sensor": 0.95, "timer_in_defrost": 0.05, "board_in_defrost": 0.3},
        0.005, 0.95, 0.01, "ohms against the table at a known temperature",
        "The sensor at the coil, in ice water, leads off, against its own table?",
        "Unplugged: the coil sensor's ohms in ice water against its table; off by a tenth?", 8,
        "multimeter", "mains", fan="evaporator",
    ),
    Finding(
        "defrost_timer_stuck",
        {"defrost_timer": 0.85, "timer_in_defrost": 0.75},
        0.015, 0.95, 0.02, "it does not go on by itself in an hour or two",
        "Was it marked and looked at again after an hour of running or more?",
        "Mark the timer's shaft; after two hours of running, has it moved?", 5, "eyes clock",
        "mains", fan="evaporator",
    ),
    Finding(
        "defrost_gives_no_heat",
        {"defrost_heater": 0.95, "defrost_limiter": 0.90, "defrost_timer": 0.25,
         "defrost_sensor": 0.15},
        0.03, 0.95, 0.03, "forced by hand, heater and limiter are all that is left",
        "Was the coil below freezing, so that the limiter conducts?",
        "Force a defrost by hand (timer, service key), coil cold: does the heater warm?", 8,
        "eyes", "mains hot_surface moving_fan", fan="evaporator",
    ),
    Finding(
        "defrost_not_called",
        {"defrost_timer": 0.85, "defrost_sensor": 0.75, "defrost_heater": 0.1,
         "defrost_limiter": 0.1},
        0.04, 0.90, 0.04, "it heats by hand and never by itself: timer, sensor or board",
        "Was it watched over a day or more?",
        "Has it defrosted by itself in the last day (water in the pan, clicks, heat)?", 3, "ears",
        fan="evaporator", no_counts=False,
    ),
    Finding(
        "cools_again_after_warming",
        {**_of(_DEFROST, 0.80), "drain_ice": 0.75, "humid_ice": 0.65, "fan_blocked": 0.65,
         "evaporator_fan": 0.12, "moisture": 0.78, "capillary_blocked": 0.10,
         "capillary_restricted": 0.10, "drier_restricted": 0.08, "drain_blocked": 0.25,
         "board_no_call": 0.2, "cold_room": 0.2},
        0.04, 0.88, 0.02,
        "an iced coil works again for days once thawed, an ice plug melts with the cabinet",
        "For how long, and was it thawed fully?",
        "Ask: did it cool again after thawing, does frost come and go? Or warm the capillary's"
        " outlet, wet cloth, no flame: does the flow sound come back?", 2, "ears",
    ),
    Finding(
        "good_for_weeks_after_thaw",
        {**_of(_DEFROST, 0.85), "drain_ice": 0.75, "humid_ice": 0.5, "moisture": 0.25,
         "fan_blocked": 0.6},
        0.06, 0.95, 0.02,
        "a coil takes days to weeks to ice up again; an ice plug is back in hours or days",
    ),
)  # fmt: skip
DOOR = (
    Finding(
        "door_stays_ajar",
        {"door_ajar": 0.92, "door_seal": 0.25, "humid_ice": 0.80, "door_was_open": 0.5},
        0.03, 0.93, 0.015, "it does not fall shut by itself, a drawer or hinge holds it",
        "Does it come to rest open by itself now?",
        "Open it a hand's width and let go: does it close by itself?", 1, "eyes",
    ),
    Finding(
        "door_left_open_hours",
        {"door_ajar": 0.80, "door_was_open": 0.97, "humid_ice": 0.50},
        0.012, 0.97, 0.006, "hours with the door open warm any cabinet, and ice its coil",
    ),
    Finding(
        "door_warped",
        {"door_seal": 0.45, "door_ajar": 0.40, "humid_ice": 0.45},
        0.015, 0.90, 0.01, "a bent door or hinge leaves a gap no new seal fills",
        "Is there light or a gap at the seal?",
        "Look along the door from the side: bent, or hinges worn?", 1, "eyes",
    ),
    Finding(
        "drain_blocked",
        {"drain_blocked": 0.95, "drain_ice": 0.92, "humid_ice": 0.25, **_of(_DEFROST, 0.30)},
        0.03, 0.93, 0.015, "a coil that never thaws freezes its drain as well",
        "Did water poured in stay standing?",
        "A cup of warm water into the drain inside: does it run into the pan below?", 4, "eyes",
        complaints=("frost_or_water",),
    ),
    Finding(
        "water_or_ice_on_floor",
        {"drain_blocked": 0.90, "drain_ice": 0.75, **_of(_DEFROST, 0.30), "humid_ice": 0.4,
         "door_seal": 0.25, "door_ajar": 0.3},
        0.08, 0.92, 0.03, "meltwater that finds no drain stands under drawers or runs out",
        "Water or ice at the bottom inside, not from a leaking vessel?",
        "Under the drawers and on the freezer's floor: water or a sheet of ice?", 1, "eyes",
        complaints=("frost_or_water",),
    ),
    Finding(
        "out_of_level",
        {"door_ajar": 0.30, "humid_ice": 0.25, "drain_blocked": 0.15, "drain_ice": 0.15},
        0.10, 0.85, 0.05, "leaning forward the door does not fall shut",
        "By a level?", "A level on top: does it lean forward?", 1, "eyes", no_counts=False,
    ),
)  # fmt: skip
_STILL = ("thermostat_open", "board_no_call")
CONTROL = (
    Finding(
        "control_set_off",
        {"setting_off": 0.97, "setting": 0.60},
        0.004, 0.97, 0.004, "off, holiday or demonstration mode explains it by itself",
        "Was it found so before anybody touched it?",
        "Read the setting as found: off, holiday or demonstration mode?", 1, "eyes",
        complaints=("nothing_cold", "does_not_start", "both_too_warm"),
    ),
    Finding(
        "control_set_warm",
        {"setting": 0.60, "setting_low": 0.93},
        0.08, 0.92, 0.02, "some users like it so; others never look",
        "Warmer than it was when it cooled well?",
        "Read the setting as found: at its warmest?", 1, "eyes",
    ),
    Finding(
        "setting_without_effect",
        {**_of(_STILL, 0.90), "sensor_no_call": 0.6, "control:always_calling": 0.90,
         "control:damper_shut": 0.4, "control:damper_open": 0.5, "thermostat_drift": 0.3,
         "supply_absent": 0.95, "supply_beyond": 0.75, _NR: 0.25, "setting": 0.05,
         "control:defrosting": 0.7},
        0.15, 0.92, 0.05, "no click, no start, no stop: nothing behind the knob answers",
        "Turned from off to coldest, and waited a few minutes?",
        "Turn it from off to coldest: does it click, does anything start or stop?", 1, "eyes ears",
    ),
    Finding(
        "thermostat_contact_open",
        {"thermostat_open": 0.95, "setting_off": 0.3},
        0.006, 0.95, 0.012, "open with the bulb warm and the setting at coldest",
        "Bulb warm, setting at coldest, leads off?",
        "Unplugged, bulb warm, setting at coldest: ohms across the thermostat's contact; open?", 6,
        "multimeter", "mains",
    ),
    Finding(
        "sensor_off_its_table",
        {**_of(SENSORS, 0.93)},
        0.005, 0.95, 0.01, "ohms against the table at a known temperature",
        "The compartment's sensor, in ice water, leads off, against its own table?",
        "Unplugged: the sensor's ohms in ice water against its table; off by a tenth or more?", 8,
        "multimeter", "mains",
    ),
    Finding(
        "board_gives_no_output",
        {**_of(BOARDS, 0.6), "board_no_call": 0.93, "defrost_timer": 0.2, "supply_beyond": 0.05},
        0.008, 0.93, 0.015, "a joint, relay or fuse on it; it may wait a few minutes by design",
        "After ten minutes, with sensor and door switch good?",
        "Covered, plugged in: voltage at the board's compressor output when it calls? Wait"
        " 10 min.", 10, "multimeter", "mains",
    ),
    Finding(
        "cools_when_switched_by_hand",
        {"control:not_calling": 0.85, "control:always_calling": 0.92, "control:drifted_warm": 0.85,
         "nothing_wrong": 0.5, "supply_absent": 0.5},
        0.10, 0.92, 0.04, "a circuit that holds when a timer or a hand switches it is sound",
        "Did it hold its temperature by a thermometer for a day?",
        "Run it from a plug timer for a day: does it reach and hold its temperature?", 5,
        "thermometer clock",
    ),
    Finding(
        "damper_stuck",
        {"damper_shut": 0.93, "damper_open": 0.93},
        0.012, 0.90, 0.015, "a flap that does not move is the fault, or was noticed beside it",
        "Was it asked to move, by setting or a warm sensor?",
        "Find the air flap to the fresh-food side: does it move when the setting is changed?", 6,
        "eyes", "moving_fan",
    ),
)  # fmt: skip
USE = (
    Finding("cold_room_for_class", {"cold_room": 0.97}, 0.04, 0.97, 0.01,
            "below its climate class one thermostat calls too little and the freezer softens",
            source="IEC 62552-1 (2015), climate classes; rates ours"),
    Finding("far_below_class", {"cold_room": 0.97}, 0.008, 0.97, 0.004,
            "8 K below it the thermostat hardly calls at all: few stand so, most of them suffer",
            source="IEC 62552-1 (2015), climate classes; rates ours"),
    Finding("hot_room_for_class", {"hot_room": 0.95, "condenser_air": 0.10}, 0.04, 0.97, 0.01,
            "above its climate class a sound one may not hold",
            source="IEC 62552-1 (2015), climate classes; rates ours"),
    Finding("first_day", {"first_day": 0.95}, 0.015, 0.97, 0.01,
            "a day is needed before anything can be judged; few fail on their first"),
    Finding("was_unplugged", {"supply_was_off": 0.85, "first_day": 0.5}, 0.06, 0.95, 0.02,
            "hours without mains warm any cabinet"),
    Finding("thawed_and_wet", {"wet_after_thaw": 0.95}, 0.04, 0.93, 0.02,
            "water in terminals and heaters leaks to earth until it dries",
            "Water near terminals, heater or plug?",
            "Ask: thawed with hot water or washed in the last days?", 1, "ears", "mains"),
)  # fmt: skip
CABINET = (*AIR, *DEFROST, *DOOR, *CONTROL, *USE)

"""The control: thermostat, air flap between the compartments, the defrost's."""

from __future__ import annotations

from coldwright.faults.effects import NO_NUMBER, HeldElsewhere, Unaltered
from coldwright.faults.record import Factors, Fault, Way, Words

_NOT_CALLING = Unaltered(
    "control:not_calling", NO_NUMBER, NO_NUMBER, None, False, runs=False, called=False
)  # fmt: skip
_ALWAYS_CALLING = HeldElsewhere(
    "control:always_calling", 5.0, 60.0, "K", False, fresh_food=-1.0, freezer=-1.0
)
_DRIFTED_WARM = HeldElsewhere(
    "control:drifted_warm", 0.0, 12.0, "K", False, fresh_food=1.0, freezer=1.0
)
_DAMPER_SHUT = HeldElsewhere("control:damper_shut", 0.0, 20.0, "K", False, fresh_food=1.0)
_DAMPER_OPEN = HeldElsewhere("control:damper_open", 0.0, 10.0, "K", False, fresh_food=-1.0)
_DEFROSTING = Unaltered(
    "control:defrosting", 50.0, 600.0, "W", False, runs=False, heats_coil=True, called=False
)  # fmt: skip

CONTROL = Fault(
    identifier="control",
    meaning="thermostat, defrost control, air damper, switching valve, drive board",
    measure="which",
    share=0.073,
    why="thermostat, air flap, defrost control: sound circuits all",
    words=Words(
        "a control that calls wrongly", "Control: thermostat, defrost, damper or board",
        "its thermostat or control is at fault",
    ),
    sealed=False,
    tell_tale="compartments held elsewhere than set by a sound circuit, or nothing runs and no fan"
    " turns: common practice, chances of ours",
    factors=Factors(
        complaints={
            "fresh_food_warm_freezer_good": 3.0, "both_too_warm": 0.7, "runs_all_the_time": 0.7,
            "does_not_start": 2.0, "trips_the_breaker": 0.5, "noise": 0.5,
            "freezer_warm_fresh_food_good": 1.3, "too_cold": 9, "fresh_food_freezes": 9,
        },
    ),
    ways=(
        Way("thermostat", 0.30, _NOT_CALLING, NO_NUMBER, NO_NUMBER,
            "contacts, bulb or board do not call: nothing runs",
            "a control that does not call"),
        Way("thermostat", 0.10, _ALWAYS_CALLING, 15.0, 40.0,
            "it never stops: both too cold", "a control that calls without end",
            settled_only=True),
        Way("thermostat", 0.15, _DRIFTED_WARM, 2.0, 9.0,
            "a drifted or ill-placed bulb holds both too warm",
            "a thermostat that holds both too warm", settled_only=True),
        Way("air_damper", 0.22, _DAMPER_SHUT, 3.0, 12.0,
            "fresh food starves of cold air", "an air flap stuck shut",
            two_compartments=True, settled_only=True),
        Way("air_damper", 0.08, _DAMPER_OPEN, 2.0, 6.0,
            "fresh food freezes", "an air flap stuck open",
            two_compartments=True, settled_only=True),
        Way("defrost_control", 0.15, _DEFROSTING, 120.0, 420.0,
            "it stays in defrost: heater on, nothing runs",
            "a defrost that does not end", fan_only=True),
    ),
    mended_by={"mend_control": 0.85},
)  # fmt: skip

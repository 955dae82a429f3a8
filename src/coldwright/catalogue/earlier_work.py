"""What was done before, and which parts that work would have mended. Judgement of ours."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from coldwright.catalogue.finding import Finding
from coldwright.catalogue.sides import BOARDS, DEFROST_PARTS, SENSORS

_RELAY = ("start_device_open", "start_device_short", "start_device_worn", "capacitor_weak")
_OUTSIDE = ("evaporator_air", "condenser_air", "heat_load", "control", "compressor_not_running")
# Work to the parts, kinds or faults it would have mended
MENDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "thermostat": ("thermostat_open", "thermostat_shut", "thermostat_drift"),
        "sensor": SENSORS,
        "control_board": (*BOARDS, "defrost_timer"),
        "setting": ("setting", "setting_off", "setting_low"),
        "damper": ("damper_shut", "damper_open"),
        "start_device": _RELAY,
        "overload": ("overload_outside",),
        "compressor": ("weak_compressor", "seized", "winding", "overload_inside"),
        "supply": ("supply", "supply_was_off"),
        "wiring": ("supply_beyond", "evaporator_fan", "board_no_call"),
        "evaporator_fan": ("evaporator_fan", "fan_weak"),
        "fan_freed": ("fan_blocked",),
        "condenser_fan": ("condenser_fan",),
        "condenser_cleaned": ("dust",),
        "defrost_heater": ("defrost_heater",),
        "defrost_limiter": ("defrost_limiter",),
        "defrost_timer": ("defrost_timer", "timer_in_defrost"),
        "thawed": (*DEFROST_PARTS, "humid_ice", "fan_blocked", "moisture"),
        "drain_cleared": ("drain_blocked", "drain_ice"),
        "door_seal": ("door_seal", "humid_ice"),
        "charge": ("undercharge",),
        "leak_mended": ("undercharge",),
        "drier": ("drier_restricted", "moisture"),
        "capillary": ("capillary_restricted", "capillary_blocked"),
        # parts outside the circuit that are not named
        "parts_outside": _OUTSIDE,
    }
)
# Mends that leave the cause in place: a relapse names the same cause again
PASSING = frozenset({"thawed", "charge", "fan_freed", "drain_cleared", "condenser_cleaned"})
HELPED = 0.85  # a new part may be wrong or badly fitted
ELSE = 0.04  # some faults go by themselves, or two things were done at once
UNNAMED = 0.35  # chance that parts not named were those at fault
RELAPSED = 0.25  # of renewed parts that were the cause, those that failed again or were poor


@cache
def finding_of(work: str, held: bool) -> Finding:
    """What it says that a piece of work helped, or did not.

    Parameters
    ----------
    work : str
        A key of `MENDS`.
    held : bool
        False where it helped for a time only.
    """
    passing = not held and work not in PASSING
    there = UNNAMED if work == "parts_outside" else RELAPSED if passing else 1.0
    return Finding(
        work, dict.fromkeys(MENDS[work], there), 0.0, HELPED, ELSE,
        "work that helps names its cause; work that does not leaves the others",
    )  # fmt: skip

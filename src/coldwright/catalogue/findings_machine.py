"""Findings at the machine: compressor, supply, sealed circuit. Numbers ours, reasons beside them.

Directions are those of trade texts and of stories told by owners and technicians; no
published rates are known to us.
"""

from __future__ import annotations

from coldwright.catalogue.finding import Finding
from coldwright.catalogue.stopped import STOPPED

_NR = "compressor_not_running"
_RELAY = ("start_device_open", "start_device_short", "start_device_worn", "capacitor_weak")


def _relay(p: float) -> dict[str, float]:
    return dict.fromkeys(_RELAY, p)


MACHINE = (
    Finding(
        "compressor_runs",
        {_NR: 0.02, "control:not_calling": 0.02, "control:defrosting": 0.03,
         "control:always_calling": 0.99, "nothing_wrong": 0.80, "cold_room": 0.45,
         "setting": 0.65, "supply_was_off": 0.75},
        0.93, 0.98, 0.02,
        "a fault that warms the cabinet makes it run nearly always; a sound one rests in between",
        "Was it the compressor (hand on the shell), not a fan, and was cold called for?",
        "Thermostat to coldest, then a hand on the shell: does it run, with a steady hum?", 2,
        "ears eyes", "hot_surface",
    ),
    Finding(
        "compressor_silent",
        {**{k.which: k.silent for k in STOPPED.values()}, "pressures_not_level": 0.05,
         "control:not_calling": 0.97, "control:defrosting": 0.97, "nothing_wrong": 0.08,
         "cold_room": 0.5, "setting": 0.3, "supply_was_off": 0.3, "control:always_calling": 0.01},
        0.04, 0.95, 0.02,
        "felt by hand as well as heard; an overload may have opened on a hot shell",
        "Was cold called for, and was it silent for more than a rest of half an hour?",
        "Thermostat to coldest, then a hand on the shell: does it run at all?", 2, "ears eyes",
        "hot_surface",
    ),
    Finding(
        "compressor_hums_and_trips",
        {**{k.which: k.hums_and_trips for k in STOPPED.values()}, "pressures_not_level": 0.90,
         "nothing_wrong": 0.04, "overcharge": 0.05},
        0.02, 0.92, 0.01,
        "minutes apart: may be missed; a relay of a board or timer clicks too",
        "Had it been off for 5 min or more before that start?",
        "After 5 min off, power up and listen for a hum, then a click within half a minute."
        " Two tries at most.", 6, "ears clock",
    ),
    Finding(
        "starts_with_help",
        {**_relay(0.85), "relay": 0.85, "pressures_not_level": 0.7, "supply_low": 0.15,
         "seized": 0.12, "winding": 0.06, "overload": 0.05, "supply": 0.03},
        0.5, 0.95, 0.03,
        "a new or borrowed start device starts a sound motor and no other; asked only of one"
        " that does not start",
        "Did it keep running after the help was taken away or only with it?",
        "Unplugged, a test start device of the right kind on the pins, cover back on: does it"
        " start and run? Two tries at most.", 12, "multimeter", "mains",
    ),
    Finding(
        "runs_when_bridged",
        {"control:not_calling": 0.93, "control:defrosting": 0.85, "supply_beyond": 0.65,
         "supply_absent": 0.05, _NR: 0.04},
        0.5, 0.97, 0.02,
        "with thermostat or board bridged a sound compressor runs: the call was missing; says"
        " nothing of one that runs anyway",
        "Was only the control bridged, start device and overload left in place?",
        "Unplugged, thermostat or board switch bridged at its terminals, cover back on, then"
        " power: does the compressor run?", 12, "multimeter", "mains",
    ),
    Finding(
        "start_device_burnt",
        {"start_device_open": 0.75, "start_device_short": 0.55, "start_device_worn": 0.40,
         "capacitor_weak": 0.10, _NR: 0.08},
        0.01, 0.92, 0.01,
        "a cracked disc rattles, a burnt one smells; an old sound one may be discoloured",
        "Does it rattle when shaken, or is it burst, not only brown?",
        "Unplugged, pulled off the pins: cracked, burnt, or does it rattle when shaken?", 4,
        "eyes", "mains",
    ),
    Finding(
        "windings_judged_good",
        {"winding": 0.06, "shorted": 0.35, "grounded": 0.30, "overload_inside": 0.15},
        0.97, 0.95, 0.02,
        "a meter finds open windings; few shorted turns and a leak to the shell need numbers",
        "Were all three pairs read, leads off, and each pin to the shell?",
        "Unplugged, leads off the pins: all three pairs read ohms that add up, none to the"
        " shell? Better: enter the numbers.", 8, "multimeter", "mains",
    ),
    Finding(
        "no_mains",
        {"supply_absent": 0.97, "supply_was_off": 0.9, _NR: 0.01},
        0.002, 0.97, 0.003,
        "0 V at the socket explains all that stands still and nothing else",
        "Was the meter or lamp tried on a socket that works?",
        "A lamp or meter in the same socket: dead? Look at fuse, breaker and residual-current"
        " device.", 2, "eyes", "mains",
    ),
    Finding(
        "runs_on_another_socket",
        {"supply_absent": 0.97, "supply_low": 0.85, "supply_was_off": 0.9, "wet_after_thaw": 0.4,
         _NR: 0.06, "control:not_calling": 0.05, "control:defrosting": 0.15},
        0.5, 0.97, 0.03,
        "then the first socket is at fault; says nothing of one that ran there too",
        "Did it stand still on the first socket right before?",
        "Plug it into a socket of another circuit, no long cord: does it run?", 4, "eyes", "mains",
    ),
    Finding(
        "lamp_dead",
        {"supply_absent": 0.95, "supply_was_off": 0.7, "supply_beyond": 0.35,
         "board_no_call": 0.20, "control:not_calling": 0.06},
        0.05, 0.95, 0.01,
        "no lamp, no display: no mains, or a burnt-out lamp",
        "Is it dead with the door switch worked by hand?",
        "Open the door: lamp or display alive?", 0.5, "eyes",
    ),
    Finding(
        "residual_device_trips",
        {"grounded": 0.85, "wet_after_thaw": 0.85, "shorted": 0.2, "defrost_heater": 0.12,
         "winding": 0.1},
        0.015, 0.95, 0.01,
        "current to earth: a winding on the shell, wet or cracked heaters and terminals",
        "Was it the residual-current device, and does it hold with the appliance unplugged?",
        "Which trips: the residual-current device or the breaker? At once, or when a defrost"
        " begins?", 2, "eyes", "mains",
    ),
    Finding(
        "frost_on_capillary",
        {"drier_restricted": 0.50, "capillary_restricted": 0.40, "capillary_blocked": 0.20,
         "moisture": 0.25},
        0.004, 0.92, 0.006,
        "outside the cabinet only a pressure drop makes drier or capillary colder than the room",
        "Outside the cabinet, with the compressor running?",
        "Compressor running: is the drier or the capillary outside the cabinet cold, wet or"
        " frosted?", 2, "eyes",
    ),
    Finding(
        "knock_starts_flow",
        {"moisture": 0.80, "capillary_blocked": 0.35, "capillary_restricted": 0.30,
         "drier_restricted": 0.15},
        0.015, 0.90, 0.015,
        "ice melts, a crumb moves: the hiss comes back at once",
        "Did the hiss come back within a minute of it?",
        "Compressor running: warm the capillary's end with a wet cloth, no flame, or knock it"
        " lightly: does the hiss start?", 5, "ears", no_counts=False,
    ),
    Finding(
        "known_hole",
        {"undercharge": 0.15},
        0.002, 0.98, 0.002,
        "a hole seen, pierced or rusted through; most leaks are not seen, so a no says little",
        "Is it in a tube of the refrigerant, not in a liner or drain?",
        "A hole, crack or pierced tube that can be seen?", 2, "eyes",
    ),
    Finding(
        "gas_hissed_out",
        {"undercharge": 0.12},
        0.004, 0.95, 0.003,
        "a hiss at a knife or screw is the charge going",
        "Was it at the evaporator or a tube, and did cooling end then?",
        "Ask: did it hiss once, at a knife, screw or drill?", 1, "ears",
    ),
    Finding(
        "other_circuit_good",
        {"supply_absent": 0.03, "supply_was_off": 0.05, "hot_room": 0.4, "cold_room": 0.4},
        0.85, 0.95, 0.05,
        "the second circuit of the same cabinet shares socket and room, nothing else",
        "Has that part a compressor of its own?",
        "In a cabinet with two compressors: does the other one's part cool well?", 1, "eyes",
        no_counts=False,
    ),
    Finding(
        "never_cycled_off",
        {"undercharge": 0.75, "weak_compressor": 0.75, "overcharge": 0.5, "non_condensables": 0.6,
         "control:always_calling": 0.97, "capillary_restricted": 0.7, "drier_restricted": 0.7,
         "heat_load": 0.6, "condenser_air": 0.6, "evaporator_air": 0.5, _NR: 0.15,
         "control": 0.2, "capillary_blocked": 0.5, "moisture": 0.5, "wrong_fill": 0.7},
        0.15, 0.90, 0.06,
        "capacity falls short for weeks before it warms; a dead motor or contact gives no such"
        " warning",
        "For weeks before, not only on hot days?",
        "Ask: did it run without a stop in the weeks before it failed?", 1, "ears",
        no_counts=False,
    ),
    Finding(
        "comes_and_goes",
        {"moisture": 0.80, "board_no_call": 0.45, "start_device_worn": 0.45, "overload": 0.35,
         "supply_beyond": 0.40, "evaporator_fan": 0.25, "fan_weak": 0.30, "control": 0.25,
         "capillary_restricted": 0.12, "drier_restricted": 0.12, "capillary_blocked": 0.10,
         "defrost_timer": 0.2, "start_device_open": 0.2, "cold_room": 0.3},
        0.06, 0.88, 0.03,
        "ice plugs melt, joints and contacts open when warm; a leak or a worn pump only gets"
        " worse",
        "Did it cool well in between, by a thermometer?",
        "Ask: does it cool well for hours or days in between, by itself?", 1, "ears",
    ),
)  # fmt: skip

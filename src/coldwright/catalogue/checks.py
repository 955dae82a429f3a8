"""What can be checked next: how long it takes, what it needs, how it is done.

Minutes are a judgement of ours, with the tool at hand and the settling of the
tool counted; how it is done is common practice, no published source, where no
other is named. Cautions are identifiers of `cautions.CAUTIONS`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from coldwright.catalogue.findings import FINDINGS
from coldwright.errors import require

TOOLS: Mapping[str, str] = MappingProxyType(
    {
        "eyes": "eyes, a lamp and a hand",
        "ears": "ears, or a screwdriver held to one",
        "thermometer": "thermometer with a clamp or taped probe",
        "hygrometer": "hygrometer",
        "power_meter": "plug-in power meter",
        "clamp_meter": "clamp meter",
        "multimeter": "multimeter",
        "insulation_tester": "insulation tester, 500 V",
        "vibration_meter": "vibration meter or strobe",
        "clock": "clock",
        "gauges": "gauges, short purged hoses and a tap valve",
        "scale": "scale, 1 g",
        "recovery_machine": "recovery machine and cylinder",
    }
)
_ALWAYS = frozenset({"eyes", "ears", "clock"})
_WITH_THERMOMETER = _ALWAYS | {"thermometer", "hygrometer"}
_WITH_METER = _WITH_THERMOMETER | {
    "power_meter", "clamp_meter", "multimeter", "insulation_tester", "vibration_meter",
}  # fmt: skip
# What somebody has who names the best of it
TOOL_KITS: Mapping[str, frozenset[str]] = MappingProxyType(
    {
        "thermometer": _WITH_THERMOMETER,
        "power_meter": _WITH_METER,
        "gauges": frozenset(TOOLS),
    }
)


@dataclass(frozen=True, slots=True)
class Check:
    """One reading or sign that can be looked for next."""

    identifier: str
    minutes: float
    needs: tuple[str, ...]  # keys of TOOLS
    opens_circuit: bool
    how: str
    cautions: tuple[str, ...]

    def __post_init__(self) -> None:
        require(f"{self.identifier}: minutes", self.minutes, "min", 0.1, math.inf)


def _check(identifier: str, minutes: float, needs: str, how: str, cautions: str = "") -> Check:
    return Check(identifier, minutes, tuple(needs.split()), False, how, tuple(cautions.split()))


def _tap(identifier: str, minutes: float, needs: str, how: str, cautions: str) -> Check:
    every = ("opens_circuit", *cautions.split())
    return Check(identifier, minutes, tuple(needs.split()), True, how, every)


_THERMOMETER = (
    _check("ambient_temperature", 2, "thermometer",
           "Hang the probe in the air near the condenser, out of its warm stream."),
    _check("shell_temperature", 3, "thermometer",
           "Probe on the side of the shell at half height, under a strip of foam.", "hot_surface"),
    _check("discharge_line_temperature", 3, "thermometer",
           "Clamp the discharge line a hand's width from the shell, under a strip of foam.",
           "hot_surface"),
    _check("condenser_inlet_temperature", 4, "thermometer",
           "Clamp the tube where it enters the condenser.", "hot_surface"),
    _check("condenser_middle_temperature", 4, "thermometer",
           "Clamp a bend halfway along the condenser; note where."),
    _check("condenser_outlet_temperature", 4, "thermometer",
           "Clamp the last pass before the drier, under a strip of foam. Feel whether it turns"
           " cool along the pass."),
    _check("drier_inlet_temperature", 3, "thermometer",
           "Clamp the tube just before the drier, under a strip of foam."),
    _check("drier_outlet_temperature", 3, "thermometer",
           "Clamp the capillary just after the drier with the same thermometer as before it."),
    _check("evaporator_inlet_temperature", 8, "thermometer",
           "Clamp the tube where the capillary enters the evaporator. Melt frost off the spot with"
           " a warm cloth, never with a sharp tool.", "moving_fan"),
    _check("evaporator_outlet_temperature", 8, "thermometer",
           "Clamp the tube where it leaves the evaporator, clear of frost.", "moving_fan"),
    _check("suction_line_temperature", 3, "thermometer",
           "Clamp the suction line a hand's width before the shell, under a strip of foam."),
    _check("fresh_food_temperature", 5, "thermometer",
           "Probe in the middle of the compartment, not on a wall; keep the door shut 5 min."),
    _check("freezer_temperature", 5, "thermometer",
           "Probe between the packages in the middle; keep the door shut 5 min."),
    _check("door_frame_temperature", 3, "thermometer",
           "Probe on the frame beside the seal, on the handle side."),
)  # fmt: skip
_METER = (
    _check("ambient_humidity", 3, "hygrometer", "Let it rest in the room air for 3 min."),
    _check("supply_voltage", 3, "multimeter",
           "Read at the socket with the compressor running; a drop at the start counts too.",
           "mains"),
    _check("appliance_power", 4, "power_meter",
           "Plug the meter between socket and appliance; read once steady, and note which fans,"
           " lamps or heaters run."),
    _check("compressor_power", 8, "power_meter",
           "Read with fans, lamp and heaters off or unplugged, so that the compressor alone runs.",
           "mains moving_fan"),
    _check("appliance_current", 4, "clamp_meter",
           "Clamp one conductor of a split lead, never the whole cord.", "mains"),
    _check("compressor_current", 6, "clamp_meter",
           "Clamp the lead to the common pin, cover back on, and read once steady.", "mains"),
    _check("compressor_speed", 5, "vibration_meter",
           "Hold it on the shell and take the strongest low tone.", "hot_surface"),
    _check("winding_resistance_run", 8, "multimeter",
           "Unplugged, leads off the pins: ohms from common to run. A hot overload reads open:"
           " let it cool.", "mains"),
    _check("winding_resistance_start", 8, "multimeter",
           "Unplugged, leads off the pins: ohms from common to start.", "mains"),
    _check("winding_resistance_run_to_start", 8, "multimeter",
           "Unplugged, leads off the pins: ohms from run to start; it should be the sum of the"
           " other two.", "mains"),
    _check("insulation_resistance", 8, "insulation_tester",
           "Unplugged, leads off the pins: each pin to bare metal of the shell. Never under"
           " vacuum.", "mains"),
    _check("start_device_resistance", 6, "multimeter",
           "Unplugged, pulled off the pins, cold for 5 min: ohms between the start device's run"
           " and start sockets.", "mains"),
    _check("overload_resistance", 5, "multimeter",
           "Unplugged, overload taken off: ohms through it. Hot it may be open: let it cool.",
           "mains hot_surface"),
    _check("capacitor_share", 6, "multimeter",
           "Unplugged, discharged through a resistor, one lead off: capacitance over the printed"
           " value.", "mains"),
    _check("starting_current", 5, "clamp_meter",
           "Clamp the common lead, cover back on, and read while it hums. Two tries at most, 5 min"
           " apart.", "mains"),
)  # fmt: skip
_WATCHED = (
    _check("run_fraction", 90, "clock",
           "Time running and resting over at least two whole cycles with the doors shut."),
    _check("freezer_cooling_rate", 20, "thermometer clock",
           "Only where it has run without a stop: probe in the freezer's air, door shut, two"
           " readings 20 min apart; three times the fall is K/h (or °F/h). Falling is positive."),
    _check("frosted_fraction", 6, "eyes",
           "Look at the whole evaporator, cover off if it has one: which share of its tubes is"
           " white?", "moving_fan"),
    _check("equalising_time", 12, "ears clock",
           "Let it run 15 min, stop it, and listen at the capillary's outlet: time until the flow"
           " sound ends."),
    _check("oil_trace", 8, "eyes",
           "Wipe joints and tubes with white paper, process tube and evaporator joints first;"
           " note the place."),
    _check("rust", 4, "eyes", "Look at steel tubes near the drain pan, floor and welds."),
    _check("dent", 4, "eyes", "Follow the tubes, the capillary above all, for kinks and crushing."),
    _check("flow_sound_steady", 3, "ears",
           "Compressor running, fans stopped: listen where the capillary enters the evaporator"
           " for a steady hiss."),
    _check("flow_sound_weak", 3, "ears",
           "Compressor running, fans stopped: listen there for a faint, gurgling or broken hiss."),
    _check("no_flow_sound", 3, "ears",
           "Compressor running, fans stopped: listen there for a full minute for any sound."),
    _check("condenser_dusty", 2, "eyes", "Look and feel behind and below, fins included.",
           "moving_fan"),
    _check("door_seal_gap", 4, "eyes",
           "Pull a strip of paper from under the closed seal, all the way round."),
    _check("warm_food_loaded", 1, "ears", "Ask what was put in during the last day."),
    _check("frost_only_at_inlet", 5, "eyes",
           "Look at the evaporator, cover off if it has one: frost at the first passes and the"
           " rest bare?", "moving_fan"),
    _check("suction_line_frosted", 2, "eyes",
           "Look at the suction line outside the cabinet, down to the shell: frost or ice on it?"),
    _check("door_frame_cold_or_sweating", 2, "eyes",
           "Compressor running: feel all round the door frame for cold or wet stretches."),
    _check("restarted_too_soon", 1, "ears",
           "Ask whether it was switched on again within 5 min of stopping."),
)  # fmt: skip
_TAPPED = (
    _tap("suction_pressure", 25, "gauges clock",
         "Connect stopped, hoses purged; then run, read once steady, and close the tap.",
         "low_side_below_atmosphere"),
    _tap("discharge_pressure", 25, "gauges clock",
         "Connect stopped, with the shortest hose; liquid that fills a hose is charge lost."
         " Run and read once steady.", "hot_surface"),
    _tap("standing_pressure", 25, "gauges thermometer clock",
         "Read at rest, and with it the time since the stop and the evaporator's temperature.",
         "low_side_below_atmosphere"),
    _tap("recovered_mass", 60, "recovery_machine scale gauges",
         "Recover all of it into a weighed cylinder, machine and cylinder fit for the gas. Warm"
         " the shell, without flame, so that the oil lets go; weigh again.",
         "low_side_below_atmosphere"),
)  # fmt: skip
_FOUND = tuple(
    _check(f.identifier, f.minutes, f.needs, f.how, f.cautions) for f in FINDINGS.values() if f.how
)
CHECKS: Mapping[str, Check] = MappingProxyType(
    {c.identifier: c for c in (*_THERMOMETER, *_METER, *_WATCHED, *_FOUND, *_TAPPED)}
)

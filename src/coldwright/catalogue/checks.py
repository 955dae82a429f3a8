"""What can be checked next: how long it takes, what it needs, how it is done.

Minutes are a judgement of ours, with the tool at hand and the settling of the
tool counted; how it is done is common practice, no published source, where no
other is named. Cautions are identifiers of `cautions.CAUTIONS`.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from coldwright.catalogue.findings import FINDINGS
from coldwright.catalogue.readings import READINGS
from coldwright.catalogue.readings import Check as Check

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


def _check(identifier: str, minutes: float, needs: str, how: str, cautions: str = "") -> Check:
    return Check(identifier, minutes, tuple(needs.split()), False, how, tuple(cautions.split()))


_SIGNS = (
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
_FOUND = tuple(
    _check(f.identifier, f.minutes, f.needs, f.how, f.cautions) for f in FINDINGS.values() if f.how
)
CHECKS: Mapping[str, Check] = MappingProxyType(
    {name: reading.check for name, reading in READINGS.items()}
    | {check.identifier: check for check in (*_SIGNS, *_FOUND)}
)

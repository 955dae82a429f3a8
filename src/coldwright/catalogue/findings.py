"""All findings by identifier; `findings_machine` and `findings_cabinet` hold them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from coldwright.catalogue.finding import Finding
from coldwright.catalogue.findings_cabinet import CABINET
from coldwright.catalogue.findings_machine import MACHINE

FINDINGS: Mapping[str, Finding] = MappingProxyType({f.identifier: f for f in (*MACHINE, *CABINET)})
# An answer that the other answers of the same look repeat: seen -> what it leaves nothing to say of
COVERS: Mapping[tuple[str, bool], tuple[str, ...]] = MappingProxyType(
    {
        ("compressor_runs", True): ("compressor_silent", "compressor_hums_and_trips"),
        ("compressor_silent", True): ("compressor_runs", "compressor_hums_and_trips"),
        ("compressor_hums_and_trips", True): ("compressor_runs", "compressor_silent"),
        ("evaporator_fan_blocked", True): ("evaporator_fan_stopped", "no_air_at_vents"),
        ("evaporator_fan_stopped", True): ("no_air_at_vents", "weak_air_at_vents"),
        ("no_air_at_vents", True): ("weak_air_at_vents",),
        ("good_for_weeks_after_thaw", True): ("cools_again_after_warming",),
        ("no_mains", True): ("lamp_dead",),
    }
)

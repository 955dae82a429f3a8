"""What a technician reads, looks at and is told at a visit: drawn from the truth.

Readings carry instrument error from the laws of `catalogue.instruments`; a foreign
visit adds no model error on top, since its truth comes from other equations, where
one of our own model draws it from the error law. Signs are reported by the
catalogue's chances; a foreign technician misses more and fancies more than those say.
"""

from __future__ import annotations

import dataclasses

import numpy as np

from coldwright.catalogue.finding import Finding
from coldwright.catalogue.findings import FINDINGS
from coldwright.catalogue.instruments import Instrument, instruments
from coldwright.catalogue.sides import PARTS, Part
from coldwright.catalogue.signs import SIGN_MODELS
from coldwright.circuit.records import CondenserKind, EvaporatorKind
from coldwright.cycle.medium import Medium
from coldwright.diagnosis.ensemble import Block, surroundings_of
from coldwright.diagnosis.findings import shares
from coldwright.diagnosis.likelihood import draw_readings, setup
from coldwright.diagnosis.population import Population
from coldwright.diagnosis.predict import sign_chance
from coldwright.faults.registry import FAULTS

# A thermometer, a plug-in meter, eyes and ears; nothing opened.
OUTSIDE = (
    "appliance_power", "discharge_line_temperature", "condenser_middle_temperature",
    "condenser_outlet_temperature", "evaporator_inlet_temperature",
    "evaporator_outlet_temperature", "suction_line_temperature", "frosted_fraction",
)  # fmt: skip
DRIFTING_TOO = ("freezer_cooling_rate",)
STOWED = 0.45  # log sd of how a foreign cabinet's load follows, against the household one, ours
UNEVEN_K_S = 1.5e-4  # of the freezer beside the cabinet as a whole, ours: some 0.5 K/h
SETTLED_TOO = ("fresh_food_temperature", "freezer_temperature", "run_fraction")
OPENED = ("suction_pressure", "standing_pressure")
# Findings a technician may look for beside them, each at some visits
FOUND = (
    "compressor_runs", "no_air_at_vents", "evaporator_fan_slow", "air_way_blocked",
    "condenser_matted", "no_clearance", "defrost_heater_open", "defrost_timer_stuck",
    "drain_blocked", "water_or_ice_on_floor", "door_stays_ajar", "control_set_off",
    "setting_without_effect", "thermostat_contact_open", "sensor_off_its_table",
    "frost_on_capillary", "comes_and_goes", "never_cycled_off", "start_device_burnt", "lamp_dead",
)  # fmt: skip
LOOKED_FOR = 0.4  # share of visits at which each of these is looked for, ours
SIGNS = (
    "condenser_dusty", "condenser_fan_stopped", "evaporator_fan_stopped", "coil_iced_over",
    "door_seal_gap", "warm_food_loaded", "defrost_heater_stuck_on", "damper_stuck",
    "compressor_silent", "compressor_hums_and_trips", "cools_again_after_warming", "oil_trace",
    "flow_sound_steady", "no_flow_sound", "suction_line_frosted",
)  # fmt: skip
MISSED = (0.75, 1.0)  # hit rate of a foreign technician against the catalogue's, ours
FANCIED = (0.5, 2.5)  # false reports likewise
_DECIMALS = {"freezer_cooling_rate": 7}
_LIMITS = {"run_fraction": (0.0, 1.0), "frosted_fraction": (0.0, 1.0)}


def read(
    true: Population,
    refrigerant: str,
    med: Medium,
    keys: tuple[str, ...],
    volts: float,
    rng: np.random.Generator,
    *,
    foreign: bool,
) -> dict[str, float] | None:
    """Readings of one member, None where one has no value. [SI]

    Parameters
    ----------
    true : Population
        One member.
    refrigerant : str
        What `med` is.
    med : Medium
        Refrigerant of the truth.
    keys : tuple of str
        Readings wanted.
    volts : float
        Supply. [V]
    rng : Generator
        Source of randomness.
    foreign : bool
        Truth by other closures: no model error is added.
    """
    block = Block(refrigerant, 1.0, med, (true,))
    truth = np.array([[block.column(true, k, volts)[0] for k in keys]])
    if not np.isfinite(truth).all():
        return None
    if foreign and "freezer_cooling_rate" in keys:
        at = keys.index("freezer_cooling_rate")
        truth[0, at] *= np.exp(STOWED * rng.standard_normal())
        truth[0, at] += UNEVEN_K_S * rng.standard_normal()
    tools = instruments()
    chosen = tuple(_exact(tools[k]) if foreign else tools[k] for k in keys)
    air, start = surroundings_of(true, chosen, keys, truth)
    setting = setup(chosen, np.full(len(keys), np.nan), float("inf"))
    values = draw_readings(setting, truth[0], air[0], start[0], rng)
    out = {}
    for key, value in zip(keys, values, strict=True):
        low, high = _LIMITS.get(key, (-np.inf, np.inf))
        if key.endswith(("power", "current", "pressure")):
            low = 0.0
        out[key] = round(float(np.clip(value, low, high)), _DECIMALS.get(key, 4))
    return out


def _exact(instrument: Instrument) -> Instrument:
    return dataclasses.replace(instrument, model_sd=0.0, model_relative_sd=0.0)


def _part(true: Population, fault: str, fan: float, rng: np.random.Generator) -> Part:
    """The part at fault: drawn by the shares of the way the fault came about."""
    way = ""
    if true.way is not None and len(true.faults) == 1:
        way = FAULTS[fault].ways[int(true.way[0])].effect.identifier
    names, odds = zip(*shares(fault, fan, way), strict=True)
    return PARTS[str(rng.choice(names, p=odds))]


def _finding_chance(
    model: Finding, parts: tuple[Part, ...], misses: float, fancies: float
) -> float:
    there = max(model.present(part) for part in parts)
    false = min(fancies * model.false, 0.5)
    return false + (misses * model.hit - false) * there


def look(true: Population, rng: np.random.Generator, *, foreign: bool) -> dict[str, bool]:
    """Signs reported at one member.

    Parameters
    ----------
    true : Population
        One member.
    rng : Generator
        Source of randomness.
    foreign : bool
        The technician is not the catalogue's.
    """
    circuit = true.circuits[0]
    skip = set()
    if int(circuit["condenser"]["kind_code"]) != int(CondenserKind.FAN):
        skip.add("condenser_fan_stopped")
    if int(circuit["evaporator"]["kind_code"]) != int(EvaporatorKind.FAN):
        skip.add("evaporator_fan_stopped")
    misses, fancies = rng.uniform(*MISSED), rng.uniform(*FANCIED)
    out = {}
    fan = float(int(circuit["evaporator"]["kind_code"]) == int(EvaporatorKind.FAN))
    parts = tuple(_part(true, fault, fan, rng) for fault in true.faults)
    for sign in (*SIGNS, *(s for s in FOUND if rng.random() < LOOKED_FOR)):
        if sign in FINDINGS:
            p = _finding_chance(FINDINGS[sign], parts, misses if foreign else 1.0,
                                fancies if foreign else 1.0)  # fmt: skip
            if sign not in skip:
                out[sign] = bool(rng.random() < p)
            continue
        p = float(sign_chance(sign, true)[0])
        if foreign:
            model = SIGN_MODELS[sign]
            there = (p - model.false) / max(model.hit - model.false, 1e-9)
            hit, false = misses * model.hit, min(fancies * model.false, 0.5)
            p = false + (hit - false) * float(np.clip(there, 0.0, 1.0))
        if sign not in skip:
            out[sign] = bool(rng.random() < p)
    return out

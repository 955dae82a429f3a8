"""The registry of everything a job file may hold: names, dimensions, ranges, plain words.

Ranges are what can be at all at a household refrigerator (judgement of ours);
they catch a slip of the pen, not an unusual fault.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from coldwright.catalogue import readings
from coldwright.faults import record
from coldwright.refrigerant.facts import NAMES, UNKNOWN
from coldwright.units import Dimension as D


@dataclass(frozen=True, slots=True)
class SignKey:
    """One sign that can be seen, heard, felt or tested; `group` is where a form shows it."""

    identifier: str
    label: str
    takes_place: bool = False
    group: str = "circuit"


@dataclass(frozen=True, slots=True)
class QuantityKey:
    """A key of [plate], [room], [history], [taken] or [circuit] that holds a quantity."""

    identifier: str
    dimension: D
    low: float
    high: float
    label: str


_COLD = 193.15  # -80 °C


SIGN_GROUPS: Mapping[str, str] = MappingProxyType(
    {
        "machine": "compressor",
        "supply": "supply",
        "air": "air and fans",
        "defrost": "ice and defrost",
        "door": "door, drain and load",
        "control": "control",
        "circuit": "sealed circuit",
    }
)


def _signs(group: str, *rows: tuple[str, str]) -> tuple[SignKey, ...]:
    return tuple(SignKey(identifier, label, group=group) for identifier, label in rows)


_SIGNS = (
    SignKey("oil_trace", "oil trace on a tube or joint", takes_place=True),
    SignKey("rust", "rust on a tube", takes_place=True),
    SignKey("dent", "dent or kink in a tube", takes_place=True),
    SignKey("known_hole", "hole in a tube, seen", takes_place=True),
    *_signs(
        "circuit",
        ("gas_hissed_out", "gas hissed out once"),
        ("flow_sound_steady", "steady flow sound at the capillary outlet"),
        ("flow_sound_weak", "weak or gurgling flow sound"),
        ("no_flow_sound", "no flow sound"),
        ("knock_starts_flow", "a knock or warmth at the capillary's end starts the flow"),
        ("frost_on_capillary", "frost or cold on drier or capillary outside"),
        ("frost_only_at_inlet", "frost only at the evaporator inlet"),
        ("suction_line_frosted", "suction line frosted outside the cabinet"),
        ("door_frame_cold_or_sweating", "door frame cold or sweating"),
        ("never_cycled_off", "ran without a stop in the weeks before"),
        ("comes_and_goes", "comes and goes by itself"),
        ("other_circuit_good", "the same cabinet's other circuit cools well"),
    ),
    *_signs(
        "machine",
        ("compressor_runs", "compressor runs"),
        ("compressor_silent", "compressor silent"),
        ("compressor_hums_and_trips", "compressor hums, then the overload trips"),
        ("restarted_too_soon", "restarted too soon after a stop"),
        ("starts_with_help", "starts with another start device or a start aid"),
        ("runs_when_bridged", "runs with thermostat or board bridged"),
        ("start_device_burnt", "start device burnt, broken or rattling"),
        ("windings_judged_good", "windings judged good, no numbers"),
    ),
    *_signs(
        "supply",
        ("no_mains", "no voltage at the socket"),
        ("runs_on_another_socket", "runs on another socket"),
        ("lamp_dead", "lamp or display dead"),
        ("residual_device_trips", "residual-current device trips, not the breaker"),
        ("thawed_and_wet", "just thawed or washed, wet"),
    ),
    *_signs(
        "air",
        ("condenser_dusty", "condenser dusty or covered"),
        ("condenser_matted", "most of the condenser under a blanket of dust"),
        ("condenser_fan_stopped", "condenser fan stopped"),
        ("no_clearance", "no room for air round the cabinet"),
        ("cabinet_outside_hot", "outside of the cabinet hot"),
        ("evaporator_fan_stopped", "evaporator fan stopped"),
        ("evaporator_fan_slow", "evaporator fan slow"),
        ("evaporator_fan_noisy", "evaporator fan noisy"),
        ("evaporator_fan_blocked", "evaporator fan held by ice or foil"),
        ("no_air_at_vents", "no air from the vents"),
        ("weak_air_at_vents", "weak air from the vents"),
        ("air_way_blocked", "air way blocked by frost or food"),
        ("damper_stuck", "air damper stuck"),
    ),
    *_signs(
        "defrost",
        ("coil_iced_over", "evaporator coil iced over"),
        ("cools_again_after_warming", "cools again for a while after warming up"),
        ("defrost_heater_stuck_on", "defrost heater stuck on"),
        ("defrost_heater_open", "defrost heater open"),
        ("defrost_limiter_open", "defrost limiter open while cold"),
        ("defrost_sensor_off_its_table", "coil sensor off its table"),
        ("defrost_timer_stuck", "defrost timer does not advance"),
        ("defrost_gives_no_heat", "no heat in a forced defrost"),
        ("defrost_not_called", "never defrosts by itself"),
    ),
    *_signs(
        "door",
        ("door_seal_gap", "gap at the door seal"),
        ("door_stays_ajar", "door does not stay shut"),
        ("door_warped", "door or hinge bent"),
        ("out_of_level", "appliance out of level"),
        ("warm_food_loaded", "warm food loaded lately"),
        ("drain_blocked", "drain blocked or frozen"),
        ("water_or_ice_on_floor", "water or ice on the floor inside"),
    ),
    *_signs(
        "control",
        ("control_set_off", "control found at off, holiday or demonstration"),
        ("control_set_warm", "control found at its warmest"),
        ("setting_without_effect", "turning the setting has no effect"),
        ("thermostat_contact_open", "thermostat contact open while it should call"),
        ("sensor_off_its_table", "compartment sensor off its table"),
        ("board_gives_no_output", "board gives no output"),
        ("cools_when_switched_by_hand", "cools well when switched by hand or timer"),
    ),
)

_KINDS = {
    "single_door": "single door",
    "top_mount": "freezer on top",
    "bottom_mount": "freezer below",
    "side_by_side": "side by side",
    "upright_freezer": "upright freezer",
    "chest_freezer": "chest freezer",
    "compact": "compact",
    "unknown": "not told",
}

ReadingKey = readings.ReadingRecord
READINGS = readings.READINGS
SIGNS: Mapping[str, SignKey] = MappingProxyType({k.identifier: k for k in _SIGNS})
KINDS: Mapping[str, str] = MappingProxyType(_KINDS)

REFRIGERANTS = (*NAMES, UNKNOWN.name)
COMPLAINTS = record.COMPLAINTS
CONDENSERS, EVAPORATORS = record.CONDENSERS, record.EVAPORATORS
LAYOUTS = ("plain", "oil_cooler", "frame_loop", "oil_cooler_and_frame_loop")
EVAPORATOR_COUNTS = ("one", "series", "switched")
COMPRESSOR_DRIVES = ("fixed_speed", "variable_speed")
FRAME_LOOP_POSITIONS = ("before_condenser", "between_sections", "after_condenser", "unknown")
# IEC 62552-1 (2015) classes; a plate may carry a span of two.
CLIMATE_CLASSES = (
    *("SN", "N", "ST", "T"),
    *("SN-N", "SN-ST", "SN-T", "N-ST", "N-T", "ST-T"),
)
SEGMENTS = (
    "compressor",
    "discharge_line",
    "oil_cooler",
    "drain_pan_loop",
    "condenser",
    "frame_loop",
    "drier",
    "capillary",
    "suction_exchanger",
    "evaporator",
    "accumulator",
    "suction_line",
    "process_tube",
)
PLACES = SEGMENTS + tuple(f"{segment}_joint" for segment in SEGMENTS)
LEAK_METHODS = (
    "visual",
    "bubble_test",
    "electronic_detector",
    "fluorescent_dye",
    "tracer_gas",
    "pressure_hold",
    "vacuum_hold",
    "ultrasonic",
    "heated_diode_detector",
    "infrared_detector",
    "corona_detector",
    "combustible_gas_detector",
    "helium_tracer",
    "halide_torch",
)
# A hold tests a part of the circuit, not a place.
LEAK_PARTS = ("whole_circuit", "high_side", "low_side")
LEAK_PLACES = PLACES + LEAK_PARTS
DRAUGHTS = ("still", "slight", "draughty")
CIRCUIT_HOLDS = ("refrigerant", "nitrogen", "hydrogen_mixture", "nothing")
MATERIALS = ("copper", "steel", "aluminium", "unknown")
ALSO_RUNNING = (
    "evaporator_fan",
    "condenser_fan",
    "lamp",
    "defrost_heater",
    "frame_heater",
    "electronics",
)
THERMOMETERS = ("clamp", "probe", "infrared", "dial")
GAUGES = ("dial", "digital")
METERS = ("plug_in", "clamp")
TOOL_KITS = ("thermometer", "power_meter", "gauges")  # each with all before it

_INF = math.inf


def _quantities(*keys: QuantityKey) -> Mapping[str, QuantityKey]:
    return MappingProxyType({key.identifier: key for key in keys})


PLATE_QUANTITIES = _quantities(
    QuantityKey("charge", D.MASS, 0.005, 2.0, "refrigerant charge"),
    QuantityKey("voltage", D.VOLTAGE, 10.0, 500.0, "rated voltage"),
    QuantityKey("frequency", D.FREQUENCY, 40.0, 70.0, "rated frequency"),
    QuantityKey("current", D.CURRENT, 0.05, 30.0, "rated current"),
    QuantityKey("power", D.POWER, 5.0, 5000.0, "rated power"),
    QuantityKey("volume_fresh_food", D.VOLUME, 0.0, 1.5, "net volume, fresh food"),
    QuantityKey("volume_freezer", D.VOLUME, 0.0, 1.5, "net volume, freezer"),
)
ROOM_QUANTITIES = _quantities(
    QuantityKey("temperature", D.TEMPERATURE, 253.15, 333.15, "air in the room"),
    QuantityKey("humidity", D.FRACTION, 0.0, 1.0, "relative humidity in the room"),
    QuantityKey("altitude", D.ALTITUDE, -500.0, 6000.0, "height above sea level"),
)
HISTORY_QUANTITIES = _quantities(
    QuantityKey("age", D.TIME, 0.0, 80.0 * 31_557_600.0, "age of the appliance"),
    QuantityKey("months_since_ok", D.NUMBER, 0.0, 960.0, "months since it last worked well"),
    QuantityKey("charge_added", D.MASS, 0.0, 2.0, "refrigerant added since it was made"),
    QuantityKey("hours_since_first_start", D.NUMBER, 0.0, _INF, "hours since its first start"),
    QuantityKey("door_left_open_hours", D.NUMBER, 0.0, 10_000.0, "hours the door was left open"),
    QuantityKey("good_after_thaw_weeks", D.NUMBER, 0.0, 1000.0, "weeks it was good after a thaw"),
)
DONE_QUANTITIES = _quantities(
    QuantityKey("held_weeks", D.NUMBER, 0.0, 5000.0, "weeks until it was back"),
)
WORK = (
    *("thermostat", "sensor", "control_board", "setting", "damper", "start_device", "overload"),
    *("compressor", "supply", "wiring", "evaporator_fan", "fan_freed", "condenser_fan"),
    *("condenser_cleaned", "defrost_heater", "defrost_limiter", "defrost_timer", "thawed"),
    *("drain_cleared", "door_seal", "charge", "leak_mended", "drier", "capillary"),
    *("parts_outside", "other"),
)
TAKEN_QUANTITIES = _quantities(
    QuantityKey("minutes_since_start", D.NUMBER, 0.0, _INF, "minutes since the compressor started"),
    QuantityKey("minutes_since_stop", D.NUMBER, 0.0, _INF, "minutes since the compressor stopped"),
    QuantityKey("minutes_since_defrost", D.NUMBER, 0.0, _INF, "minutes since the last defrost"),
    QuantityKey("hours_since_unplugged", D.NUMBER, 0.0, _INF, "hours since it was unplugged"),
    QuantityKey("doors_opened", D.NUMBER, 0.0, 1000.0, "door openings in the hour before"),
    QuantityKey(
        "standing_evaporator_temperature",
        D.TEMPERATURE,
        _COLD,
        343.15,
        "evaporator when the standing pressure was read",
    ),
    QuantityKey(
        "defrost_peak_temperature", D.TEMPERATURE, _COLD, 373.15, "coil at the end of a defrost"
    ),
)
CIRCUIT_QUANTITIES = _quantities(
    QuantityKey("displacement", D.VOLUME, 1e-6, 1e-4, "compressor displacement"),
)
LEAK_QUANTITIES = _quantities(
    QuantityKey("mass_lost", D.MASS, 1e-4, 2.0, "refrigerant missing"),
    QuantityKey("volume", D.VOLUME, 1e-4, 2e-2, "inner volume of the circuit"),
    QuantityKey("plate_pressure_high", D.PRESSURE, 1.2e5, 1.2e7, "high-side rating on the plate"),
    QuantityKey("plate_pressure_low", D.PRESSURE, 1.2e5, 1.2e7, "low-side rating on the plate"),
)
SETTLED_MEANS = (
    "compartments have been at these temperatures for hours, thermostat cycling normally"
)

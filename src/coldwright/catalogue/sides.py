"""The sides outside the sealed circuit, part by part: how often each, how to prove it, what mends.

A part is one way in which a fault outside the circuit comes about, as the states of
`part_states` are for a compressor that does not run. Shares are within the fault, or
within its way where it has ways. No published shares are known to us: every share is a
judgement of ours; tests and mends are common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from coldwright.catalogue.part_states import STATES
from coldwright.catalogue.stopped import STOPPED


@dataclass(frozen=True, slots=True)
class Part:
    """One part, or one circumstance, that brings a fault about."""

    identifier: str
    fault: str
    share: float
    test: str
    mends: str
    cautions: tuple[str, ...] = ()
    way: str = ""  # the fault's way it belongs to, where the fault has ways
    kind: str = ""  # of a compressor that does not run
    fan_only: bool = False  # only where a fan blows through the evaporator

    @property
    def names(self) -> tuple[str, ...]:
        """What it answers to, the most particular first."""
        return tuple(name for name in (self.identifier, self.kind, self.way, self.fault) if name)


_MAINS_FAN = ("mains", "moving_fan")
_HEATER = ("mains", "hot_surface")
_FAN = (
    Part("evaporator_fan", "evaporator_air", 0.22,
         "Thermostat to coldest, door switch held in: voltage at the motor's plug and no turning"
         " is the motor, no voltage the wiring, switch or board.",
         "Renew the motor, or mend its wiring or door switch.", _MAINS_FAN, fan_only=True),
    Part("fan_blocked", "evaporator_air", 0.10,
         "Unplugged, cover off: does the blade turn freely, or does ice or foil hold it?",
         "Free the blade; then find where the ice comes from (defrost, drain, door).", _MAINS_FAN,
         fan_only=True),
    Part("fan_weak", "evaporator_air", 0.06,
         "Does it come up to speed at once and blow as hard as a hand's width away can feel?",
         "Renew the motor.", _MAINS_FAN, fan_only=True),
)  # fmt: skip
_DEFROST = (
    Part("defrost_heater", "evaporator_air", 0.14,
         "Unplugged, leads off: ohms through the heater; open is dead. Or force a defrost and feel"
         " for warmth.", "Renew the heater after a full thaw.", _HEATER, fan_only=True),
    Part("defrost_limiter", "evaporator_air", 0.11,
         "Below freezing it must conduct: ohms through the limiter (bimetal) while the coil is"
         " cold.", "Renew the limiter after a full thaw.", ("mains",), fan_only=True),
    Part("defrost_timer", "evaporator_air", 0.17,
         "Turn the timer by hand until it clicks, or call the board's forced defrost: heat now,"
         " and never by itself, is the timer or board.",
         "Renew the timer or board after a full thaw.", _HEATER, fan_only=True),
    Part("defrost_sensor", "evaporator_air", 0.05,
         "Unplugged: the coil sensor's ohms against its table at a known temperature (ice water).",
         "Renew the sensor.", ("mains",), fan_only=True),
    Part("drain_ice", "evaporator_air", 0.05,
         "Ice from the pan upward: pour a cup of warm water into the drain and see it run out.",
         "Thaw pan and drain, clear it to its end, see that its heater or clip is there.",
         ("mains",)),
)  # fmt: skip
_AIR = (
    Part("air_way", "evaporator_air", 0.07,
         "Look at grilles and ducts to both compartments: free of food, bags, frost?",
         "Clear them, keep a hand's width free before each."),
    Part("humid_ice", "evaporator_air", 0.03,
         "Ice thickest near the door or a gap: does the door close by itself, is the seal tight?",
         "Thaw, then mend door or seal; a drawer or bag may hold it open."),
    Part("dust", "condenser_air", 0.60, "Lamp and mirror at the condenser, behind and below.",
         "Brush and vacuum it, fan blades too.", _MAINS_FAN),
    Part("condenser_fan", "condenser_air", 0.18,
         "Compressor running: does the fan turn? Voltage at its plug and no turning is the motor.",
         "Free or renew the motor.", _MAINS_FAN),
    Part("clearance", "condenser_air", 0.22, "A hand's width behind and above, nothing hot beside?",
         "Pull it out, make room for the air."),
)  # fmt: skip
_DOOR = (
    Part("door_seal", "heat_load", 0.40, "A strip of paper under the seal, all the way round.",
         "Warm and shape the seal, set the hinges, or renew it."),
    Part("door_ajar", "heat_load", 0.22,
         "Open it a hand's width and let go: does it close? Level, hinges, bins, drawers.",
         "Tilt it back a little, set the hinges, clear what holds it; ask how long it stood open."),
    Part("heater_on", "heat_load", 0.13,
         "Compressor running: is the defrost heater warm, or does it glow?",
         "Unplug; renew the relay, timer or board that holds it on.", (*_HEATER, "moving_fan")),
    Part("warm_load", "heat_load", 0.16, "Ask what went in during the last day or two.",
         "Leave it a day with the door shut, then read again."),
    Part("lamp_on", "heat_load", 0.09, "Press the door switch by hand: does the lamp go out?",
         "Renew or set the switch.", ("mains",)),
    Part("drain_iced", "drain_blocked", 0.60,
         "Warm water into the drain from inside: does it run into the pan below?",
         "Thaw it with warm water, no sharp tool; see to its heater or clip."),
    Part("drain_clogged", "drain_blocked", 0.40, "The same; slime or crumbs instead of ice.",
         "Flush it through with warm water and a soft line."),
)  # fmt: skip


def _control(
    identifier: str, way: str, share: float, test: str, mends: str, cautions: tuple[str, ...] = ()
) -> Part:
    return Part(identifier, "control", share, test, mends, cautions, way=f"control:{way}")


_CONTACT = (
    "Unplugged, setting at coldest, bulb warm: ohms across the thermostat's contact; open is it."
)
_SENSOR = "Unplugged: the sensor's ohms against its table in ice water and at room temperature."
_BOARD = "Sensor, door switch and setting good, and still no voltage to the compressor: the board."
_CONTROL = (
    _control("setting_off", "not_calling", 0.17,
             "Setting, holiday, demonstration and defrost modes.", "Set it and wait a day."),
    _control("thermostat_open", "not_calling", 0.40, _CONTACT, "Renew the thermostat.", ("mains",)),
    _control("sensor_no_call", "not_calling", 0.13, _SENSOR, "Renew the sensor.", ("mains",)),
    _control("board_no_call", "not_calling", 0.30, _BOARD,
             "Renew or mend the board (relay, joint, fuse on it).", ("mains",)),
    _control("thermostat_shut", "always_calling", 0.50,
             "Turn it to off: does the compressor stop? If not, the contact is welded.",
             "Renew the thermostat.", ("mains",)),
    _control("sensor_warm", "always_calling", 0.25, _SENSOR, "Renew the sensor.", ("mains",)),
    _control("board_on", "always_calling", 0.25, "Compressor runs with the sensor in ice: board.",
             "Renew the board.", ("mains",)),
    _control("thermostat_drift", "drifted_warm", 0.50,
             "A probe beside the bulb: cut-in and cut-out against the setting.",
             "Seat the bulb as it was, or renew the thermostat.", ("mains",)),
    _control("sensor_drift", "drifted_warm", 0.30, _SENSOR, "Renew the sensor.", ("mains",)),
    _control("setting_low", "drifted_warm", 0.20, "Read the setting.", "Set it colder."),
    _control("damper_shut", "damper_shut", 0.85,
             "Find the flap: does it move when the setting or the sensor's temperature changes?",
             "Free or renew the flap.", ("moving_fan",)),
    _control("sensor_no_air", "damper_shut", 0.15, _SENSOR, "Renew the sensor.", ("mains",)),
    _control("damper_open", "damper_open", 0.65, "The same: does it shut?",
             "Free or renew the flap.", ("moving_fan",)),
    _control("sensor_cold", "damper_open", 0.35, _SENSOR, "Renew the sensor.", ("mains",)),
    _control("timer_in_defrost", "defrosting", 0.60,
             "Turn the timer on by hand: does cooling start?", "Renew the timer.", _HEATER),
    _control("board_in_defrost", "defrosting", 0.40,
             "Cut the power for a minute: does cooling start again?", "Renew sensor or board.",
             _HEATER),
)  # fmt: skip
_USE = (
    Part("as_built", "nothing_wrong", 0.22, "A probe in a glass of water overnight, door shut.",
         "Explain what is usual for it."),
    Part("setting", "nothing_wrong", 0.14, "Read the setting; ask what it was.", "Set it."),
    Part("hot_room", "nothing_wrong", 0.12, "Room against the climate class.",
         "Cooler place, or air round it."),
    Part("cold_room", "nothing_wrong", 0.11,
         "Below its climate class one thermostat calls too little and the freezer softens.",
         "Warmer place; a low-ambient kit where the maker has one."),
    Part("first_day", "nothing_wrong", 0.06, "When was it first switched on?", "Wait 24 h."),
    Part("just_loaded", "nothing_wrong", 0.13, "Ask what went in.", "Wait a day."),
    Part("door_was_open", "nothing_wrong", 0.09, "Ask; look for what held it.",
         "Shut it, wait a day."),
    Part("supply_was_off", "nothing_wrong", 0.08, "Socket, switch, residual-current device.",
         "Restore it; then see that it cools.", ("mains",)),
    Part("wet_after_thaw", "nothing_wrong", 0.05, "Thawed or washed lately, trips since?",
         "Dry it a day, unplugged; measure insulation before it is used again.", ("mains",)),
)  # fmt: skip
_SIMPLE = (
    "undercharge", "overcharge", "capillary_restricted", "capillary_blocked", "drier_restricted",
    "weak_compressor", "non_condensables", "moisture", "wrong_fill",
)  # fmt: skip
_STOPPED = tuple(
    # the kinds of a restart too soon and of a drive board have no share of their own here
    Part(s.identifier, "compressor_not_running",
         s.share * STOPPED[s.kind].share if s.kind in STOPPED else 0.0, "", "", kind=s.kind)
    for s in STATES.values()
)  # fmt: skip
_ALL = (*_FAN, *_DEFROST, *_AIR, *_DOOR, *_CONTROL, *_USE, *_STOPPED)
PARTS: Mapping[str, Part] = MappingProxyType(
    {
        **{part.identifier: part for part in _ALL},
        **{fault: Part(fault, fault, 1.0, "", "") for fault in _SIMPLE},
    }
)
DEFROST_PARTS = tuple(p.identifier for p in _DEFROST)
SENSORS = ("sensor_no_call", "sensor_warm", "sensor_drift", "sensor_no_air", "sensor_cold")
BOARDS = ("board_no_call", "board_on", "board_in_defrost")


def parts_of(fault: str, way: str = "") -> tuple[Part, ...]:
    """Parts of one fault, of one of its ways where it has parts by way.

    Parameters
    ----------
    fault : str
        A single fault.
    way : str
        One of its ways; empty for all of them.
    """
    found = tuple(p for p in PARTS.values() if p.fault == fault)
    return tuple(p for p in found if not way or not p.way or p.way == way)

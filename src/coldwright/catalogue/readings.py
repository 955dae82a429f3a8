"""Every reading that can be taken, once: name, range, how it is taken, how it errs.

Ranges are what can be at all at a household refrigerator (judgement of ours); they catch a slip
of the pen, not an unusual fault. Minutes are judgements of ours, with the tool at hand and its
settling counted; how it is done is common practice, no published source. A new reading is one
record here; one the model predicts has its column in `diagnosis.predict` as well, or names the
field of the running state that it is.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from coldwright.catalogue.errors_of import (
    Current,
    Error,
    HighSide,
    LowSide,
    Own,
    Power,
    Spot,
)
from coldwright.errors import BadInput, require
from coldwright.units import Dimension as D

_COLD, _HOT = 193.15, 473.15  # -80 °C and 200 °C


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


@dataclass(frozen=True, slots=True)
class ReadingRecord:
    """One reading that can be taken. `low` and `high` are SI."""

    identifier: str
    label: str
    dimension: D
    low: float
    high: float
    group: str  # where the page lists it
    check: Check
    error: Error | None = None  # None where no simulated appliance is weighed by it
    state: str = ""  # the field of the running state that it is; empty: a column of its own

    def __post_init__(self) -> None:
        require(
            f"{self.identifier}: lowest", self.low, self.dimension.si_unit, -math.inf, self.high
        )
        if self.check.identifier != self.identifier:
            raise BadInput("reading", self.identifier, self.check.identifier, self.identifier)

    @property
    def opens_circuit(self) -> bool:
        """Whether it is taken from a tapped or opened circuit."""
        return self.check.opens_circuit

    @property
    def air(self) -> str:
        """The air a tube's reading is drawn to and starts from; empty where there is none."""
        return self.error.air if isinstance(self.error, Spot) else ""


_READINGS = (
    ReadingRecord(
        "ambient_temperature", "air in the room", D.TEMPERATURE, 253.15, 333.15,
        "Compartments and room",
        Check(
            "ambient_temperature", 2, ("thermometer",), False,
            "Hang the probe in the air near the condenser, out of its warm stream.",
            (),
        ),
    ),
    ReadingRecord(
        "ambient_humidity", "relative humidity in the room", D.FRACTION, 0.0, 1.0,
        "Compartments and room",
        Check(
            "ambient_humidity", 3, ("hygrometer",), False,
            "Let it rest in the room air for 3 min.",
            (),
        ),
    ),
    ReadingRecord(
        "supply_voltage", "voltage at the socket", D.VOLTAGE, 0.0, 500.0,
        "Power and running",
        Check(
            "supply_voltage", 3, ("multimeter",), False,
            "Read at the socket with the compressor running; a drop at the start counts too.",
            ("mains",),
        ),
    ),
    ReadingRecord(
        "appliance_power", "power of the whole appliance", D.POWER, 0.0, 5000.0,
        "Power and running",
        Check(
            "appliance_power", 4, ("power_meter",), False,
            "Plug the meter between socket and appliance; read once steady, and note which fans,"
            " lamps or heaters run.",
            (),
        ),
        error=Power(3.0, 0.10),
        state="appliance_power_w",
    ),
    ReadingRecord(
        "compressor_power", "power of the compressor alone", D.POWER, 0.0, 3000.0,
        "Power and running",
        Check(
            "compressor_power", 8, ("power_meter",), False,
            "Read with fans, lamp and heaters off or unplugged, so that the compressor alone"
            " runs.",
            ("mains", "moving_fan"),
        ),
        error=Power(0.0, 0.12),
        state="compressor_power_w",
    ),
    ReadingRecord(
        "appliance_current", "current of the whole appliance", D.CURRENT, 0.0, 60.0,
        "Power and running",
        Check(
            "appliance_current", 4, ("clamp_meter",), False,
            "Clamp one conductor of a split lead, never the whole cord.",
            ("mains",),
        ),
        error=Current(0.02, 0.12),
    ),
    ReadingRecord(
        "compressor_current", "current of the compressor", D.CURRENT, 0.0, 60.0,
        "Power and running",
        Check(
            "compressor_current", 6, ("clamp_meter",), False,
            "Clamp the lead to the common pin, cover back on, and read once steady.",
            ("mains",),
        ),
        error=Current(0.0, 0.14),
    ),
    ReadingRecord(
        "compressor_speed", "compressor speed", D.ROTATIONAL_SPEED, 0.0, 120.0,
        "Power and running",
        Check(
            "compressor_speed", 5, ("vibration_meter",), False,
            "Hold it on the shell and take the strongest low tone.",
            ("hot_surface",),
        ),
    ),
    ReadingRecord(
        "shell_temperature", "compressor shell", D.TEMPERATURE, _COLD, _HOT,
        "Compressor, condenser, drier",
        Check(
            "shell_temperature", 3, ("thermometer",), False,
            "Probe on the side of the shell at half height, under a strip of foam.",
            ("hot_surface",),
        ),
        error=Spot(1.5, "room", 4.0, "shell", 2700.0),
        state="shell_k",
    ),
    ReadingRecord(
        "discharge_line_temperature", "discharge line near the shell", D.TEMPERATURE, _COLD, _HOT,
        "Compressor, condenser, drier",
        Check(
            "discharge_line_temperature", 3, ("thermometer",), False,
            "Clamp the discharge line a hand's width from the shell, under a strip of foam.",
            ("hot_surface",),
        ),
        error=Spot(0.5, "room", 4.3, "shell", 2700.0),
        state="discharge_line_k",
    ),
    ReadingRecord(
        "condenser_inlet_temperature", "condenser inlet", D.TEMPERATURE, _COLD, _HOT,
        "Compressor, condenser, drier",
        Check(
            "condenser_inlet_temperature", 4, ("thermometer",), False,
            "Clamp the tube where it enters the condenser.",
            ("hot_surface",),
        ),
        error=Spot(0.5, "room", 3.4, "shell", 1800.0),
        state="condenser_inlet_k",
    ),
    ReadingRecord(
        "condenser_middle_temperature", "middle of the condenser", D.TEMPERATURE, _COLD, _HOT,
        "Compressor, condenser, drier",
        Check(
            "condenser_middle_temperature", 4, ("thermometer",), False,
            "Clamp a bend halfway along the condenser; note where.",
            (),
        ),
        error=Spot(0.5, "room", 2.0, "condensing", 600.0),
        state="condenser_middle_k",
    ),
    ReadingRecord(
        "condenser_outlet_temperature", "condenser outlet", D.TEMPERATURE, _COLD, _HOT,
        "Compressor, condenser, drier",
        Check(
            "condenser_outlet_temperature", 4, ("thermometer",), False,
            "Clamp the last pass before the drier, under a strip of foam. Feel whether it turns"
            " cool along the pass.",
            (),
        ),
        error=Spot(0.3, "room", 4.0, "condensing", 600.0),
        state="condenser_outlet_k",
    ),
    ReadingRecord(
        "drier_inlet_temperature", "drier inlet", D.TEMPERATURE, _COLD, _HOT,
        "Compressor, condenser, drier",
        Check(
            "drier_inlet_temperature", 3, ("thermometer",), False,
            "Clamp the tube just before the drier, under a strip of foam.",
            (),
        ),
        error=Spot(0.2, "room", 4.0, "condensing", 600.0),
        state="drier_inlet_k",
    ),
    ReadingRecord(
        "drier_outlet_temperature", "drier outlet", D.TEMPERATURE, _COLD, _HOT,
        "Compressor, condenser, drier",
        Check(
            "drier_outlet_temperature", 3, ("thermometer",), False,
            "Clamp the capillary just after the drier with the same thermometer as before it.",
            (),
        ),
        error=Spot(0.2, "room", 4.1, "condensing", 600.0),
        state="drier_outlet_k",
    ),
    ReadingRecord(
        "evaporator_inlet_temperature", "evaporator inlet", D.TEMPERATURE, _COLD, _HOT,
        "Evaporator and suction line",
        Check(
            "evaporator_inlet_temperature", 8, ("thermometer",), False,
            "Clamp the tube where the capillary enters the evaporator. Melt frost off the spot"
            " with a warm cloth, never with a sharp tool.",
            ("moving_fan",),
        ),
        error=Spot(0.5, "freezer", 2.4, "evaporating", 600.0),
        state="evaporator_inlet_k",
    ),
    ReadingRecord(
        "evaporator_outlet_temperature", "evaporator outlet", D.TEMPERATURE, _COLD, _HOT,
        "Evaporator and suction line",
        Check(
            "evaporator_outlet_temperature", 8, ("thermometer",), False,
            "Clamp the tube where it leaves the evaporator, clear of frost.",
            ("moving_fan",),
        ),
        error=Spot(0.5, "freezer", 5.5, "evaporating", 600.0),
        state="evaporator_outlet_k",
    ),
    ReadingRecord(
        "suction_line_temperature", "suction line at the shell", D.TEMPERATURE, _COLD, _HOT,
        "Evaporator and suction line",
        Check(
            "suction_line_temperature", 3, ("thermometer",), False,
            "Clamp the suction line a hand's width before the shell, under a strip of foam.",
            (),
        ),
        error=Spot(0.3, "room", 2.5, "", 900.0),
        state="suction_line_k",
    ),
    ReadingRecord(
        "door_frame_temperature", "door frame", D.TEMPERATURE, _COLD, 373.15,
        "Compartments and room",
        Check(
            "door_frame_temperature", 3, ("thermometer",), False,
            "Probe on the frame beside the seal, on the handle side.",
            (),
        ),
        error=Spot(1.5, "room", 3.0, "", 900.0),
    ),
    ReadingRecord(
        "fresh_food_temperature", "fresh-food compartment", D.TEMPERATURE, _COLD, 343.15,
        "Compartments and room",
        Check(
            "fresh_food_temperature", 5, ("thermometer",), False,
            "Probe in the middle of the compartment, not on a wall; keep the door shut 5 min.",
            (),
        ),
        error=Spot(0.7, "", 1.0, "air", 7200.0),
        state="fresh_food_k",
    ),
    ReadingRecord(
        "freezer_temperature", "freezer compartment", D.TEMPERATURE, _COLD, 343.15,
        "Compartments and room",
        Check(
            "freezer_temperature", 5, ("thermometer",), False,
            "Probe between the packages in the middle; keep the door shut 5 min.",
            (),
        ),
        error=Spot(0.7, "", 1.0, "air", 7200.0),
        state="freezer_k",
    ),
    ReadingRecord(
        "run_fraction", "share of the time it runs", D.FRACTION, 0.0, 1.0,
        "Power and running",
        Check(
            "run_fraction", 90, ("clock",), False,
            "Time running and resting over at least two whole cycles with the doors shut.",
            (),
        ),
        error=Own(sd=0.05, model_sd=0.07, settling_s=7200.0),
        state="run_fraction",
    ),
    ReadingRecord(
        "freezer_cooling_rate", "fall of the freezer while it runs", D.TEMPERATURE_RATE,
        -0.02, 0.02,
        "Power and running",
        Check(
            "freezer_cooling_rate", 20, ("thermometer", "clock"), False,
            "Only where it has run without a stop: probe in the freezer's air, door shut, two"
            " readings 20 min apart; three times the fall is K/h (or °F/h). Falling is positive.",
            (),
        ),
        # two readings of one thermometer 20 min apart, 0.2 K each; the model's part: how much is
        # stowed and how it follows, against our own march (tests/physics/test_trend.py)
        error=Own(sd=0.00024, model_sd=0.0002, model_relative_sd=0.5),
    ),
    ReadingRecord(
        "frosted_fraction", "share of the evaporator frosted", D.FRACTION, 0.0, 1.0,
        "Evaporator and suction line",
        Check(
            "frosted_fraction", 6, ("eyes",), False,
            "Look at the whole evaporator, cover off if it has one: which share of its tubes is"
            " white?",
            ("moving_fan",),
        ),
        error=Own(sd=0.08, bias_sd=0.05, model_sd=0.13, settling_s=1800.0),
        state="frosted_fraction",
    ),
    ReadingRecord(
        "equalising_time", "time to equalise after a stop", D.TIME, 0.0, 86400.0,
        "Power and running",
        Check(
            "equalising_time", 12, ("ears", "clock"), False,
            "Let it run 15 min, stop it, and listen at the capillary's outlet: time until the"
            " flow sound ends.",
            (),
        ),
        error=Own(sd=60.0, relative_sd=0.1, model_relative_sd=0.6),
    ),
    ReadingRecord(
        "winding_resistance_run", "run winding", D.RESISTANCE, 0.0, 1000000000.0,
        "Windings and start, unplugged",
        Check(
            "winding_resistance_run", 8, ("multimeter",), False,
            "Unplugged, leads off the pins: ohms from common to run. A hot overload reads open:"
            " let it cool.",
            ("mains",),
        ),
    ),
    ReadingRecord(
        "winding_resistance_start", "start winding", D.RESISTANCE, 0.0, 1000000000.0,
        "Windings and start, unplugged",
        Check(
            "winding_resistance_start", 8, ("multimeter",), False,
            "Unplugged, leads off the pins: ohms from common to start.",
            ("mains",),
        ),
    ),
    ReadingRecord(
        "winding_resistance_run_to_start", "run to start pin", D.RESISTANCE, 0.0, 1000000000.0,
        "Windings and start, unplugged",
        Check(
            "winding_resistance_run_to_start", 8, ("multimeter",), False,
            "Unplugged, leads off the pins: ohms from run to start; it should be the sum of the"
            " other two.",
            ("mains",),
        ),
    ),
    ReadingRecord(
        "insulation_resistance", "winding to shell", D.RESISTANCE, 0.0, 1000000000000.0,
        "Windings and start, unplugged",
        Check(
            "insulation_resistance", 8, ("insulation_tester",), False,
            "Unplugged, leads off the pins: each pin to bare metal of the shell. Never under"
            " vacuum.",
            ("mains",),
        ),
    ),
    ReadingRecord(
        "start_device_resistance", "start device, cold", D.RESISTANCE, 0.0, 1000000000.0,
        "Windings and start, unplugged",
        Check(
            "start_device_resistance", 6, ("multimeter",), False,
            "Unplugged, pulled off the pins, cold for 5 min: ohms between the start device's run"
            " and start sockets.",
            ("mains",),
        ),
    ),
    ReadingRecord(
        "overload_resistance", "overload by itself", D.RESISTANCE, 0.0, 1000000000.0,
        "Windings and start, unplugged",
        Check(
            "overload_resistance", 5, ("multimeter",), False,
            "Unplugged, overload taken off: ohms through it. Hot it may be open: let it cool.",
            ("mains", "hot_surface"),
        ),
    ),
    ReadingRecord(
        "capacitor_share", "capacitor, share of its label", D.FRACTION, 0.0, 3.0,
        "Windings and start, unplugged",
        Check(
            "capacitor_share", 6, ("multimeter",), False,
            "Unplugged, discharged through a resistor, one lead off: capacitance over the"
            " printed value.",
            ("mains",),
        ),
    ),
    ReadingRecord(
        "starting_current", "current while trying to start", D.CURRENT, 0.0, 100.0,
        "Power and running",
        Check(
            "starting_current", 5, ("clamp_meter",), False,
            "Clamp the common lead, cover back on, and read while it hums. Two tries at most, 5"
            " min apart.",
            ("mains",),
        ),
    ),
    ReadingRecord(
        "suction_pressure", "suction pressure, running", D.PRESSURE, 0.0, 2500000.0,
        "Only with the circuit tapped or opened",
        Check(
            "suction_pressure", 25, ("gauges", "clock"), True,
            "Connect stopped, hoses purged; then run, read once steady, and close the tap.",
            ("opens_circuit", "low_side_below_atmosphere"),
        ),
        error=LowSide(2e3, 0.11, "evaporating"),
        state="suction_pressure_pa",
    ),
    ReadingRecord(
        "discharge_pressure", "discharge pressure, running", D.PRESSURE, 0.0, 6000000.0,
        "Only with the circuit tapped or opened",
        Check(
            "discharge_pressure", 25, ("gauges", "clock"), True,
            "Connect stopped, with the shortest hose; liquid that fills a hose is charge lost."
            " Run and read once steady.",
            ("opens_circuit", "hot_surface"),
        ),
        error=HighSide(0.06, "condensing"),
        state="condensing_pressure_pa",
    ),
    ReadingRecord(
        "standing_pressure", "pressure at rest", D.PRESSURE, 0.0, 2500000.0,
        "Only with the circuit tapped or opened",
        Check(
            "standing_pressure", 25, ("gauges", "thermometer", "clock"), True,
            "Read at rest, and with it the time since the stop and the evaporator's temperature.",
            ("opens_circuit", "low_side_below_atmosphere"),
        ),
        error=LowSide(5e3, 0.16, ""),
    ),
    ReadingRecord(
        "recovered_mass", "refrigerant recovered", D.MASS, 0.0, 2.0,
        "Only with the circuit tapped or opened",
        Check(
            "recovered_mass", 60, ("recovery_machine", "scale", "gauges"), True,
            "Recover all of it into a weighed cylinder, machine and cylinder fit for the gas."
            " Warm the shell, without flame, so that the oil lets go; weigh again.",
            ("opens_circuit", "low_side_below_atmosphere"),
        ),
        # the model's part: what stays behind in oil and hoses
        error=Own(1e-3, relative_sd=0.02, bias_sd=1e-3, model_sd=3e-3, model_relative_sd=0.05),
    ),
)  # fmt: skip
READINGS: Mapping[str, ReadingRecord] = MappingProxyType({r.identifier: r for r in _READINGS})

"""A job as frozen records: the plate, what was seen, read, heard and tried.

Everything is SI here; `jobfile.py` is where text becomes these records.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, field

from coldwright.readings.course import Course, LoggedReading
from coldwright.readings.measured import Measured
from coldwright.readings.mending import Mending
from coldwright.readings.outcome import Outcome

STANDARD_AIR_PRESSURE_PA = 101_325.0  # ICAO standard atmosphere, Doc 7488 (1993), sea level


@dataclass(frozen=True, slots=True)
class Plate:
    """The rating plate. Only `kind` is certain to be there."""

    kind: str
    year: int | None = None
    refrigerant: str = "unknown"
    charge_kg: float | None = None
    charge_applies: bool | None = None  # False: the circuit was altered since the plate was made
    voltage_v: float | None = None
    frequency_hz: float | None = None
    current_a: float | None = None
    power_w: float | None = None
    volume_fresh_food_m3: float | None = None
    volume_freezer_m3: float | None = None
    climate_class: str | None = None

    @property
    def built_as(self) -> str:
        """Kind whose build is taken: a freezer on top where nobody told the kind, ours."""
        return "top_mount" if self.kind == "unknown" else self.kind


@dataclass(frozen=True, slots=True)
class CircuitSeen:
    """What is known of the circuit; None or absent where it was not seen.

    `geometry` holds (dotted key, SI value) pairs such as
    ``("capillary.bore", 0.00066)``; its keys are `circuit.files.geometry_keys`.
    """

    layout: str | None = None
    condenser: str | None = None
    evaporator: str | None = None
    evaporators: str | None = None
    compressor_drive: str | None = None
    displacement_m3: float | None = None
    frame_loop_position: str | None = None
    geometry: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Room:
    """The room the appliance stands in."""

    temperature_k: float | None = None
    humidity_fraction: float | None = None
    altitude_m: float | None = None
    air_pressure_pa: float = STANDARD_AIR_PRESSURE_PA  # follows from the altitude


@dataclass(frozen=True, slots=True)
class Done:
    """One piece of work at an earlier visit, or by another hand."""

    work: str  # one of `keys.WORK`
    helped: bool | None = None
    held_weeks: float | None = None  # where it helped for a time only
    date: str = ""  # ISO 8601
    note: str = ""


@dataclass(frozen=True, slots=True)
class History:
    """What the owner tells."""

    complaint: str | None = None
    age_s: float | None = None
    months_since_ok: float | None = None
    earlier_repair: bool | None = None
    charge_added_kg: float | None = None
    hours_since_first_start: float | None = None
    door_left_open_hours: float | None = None
    good_after_thaw_weeks: float | None = None
    done: tuple[Done, ...] = ()


@dataclass(frozen=True, slots=True)
class Instruments:
    """What the readings were taken with."""

    thermometer: str | None = None
    gauge: str | None = None
    meter: str | None = None


@dataclass(frozen=True, slots=True)
class Taken:
    """How the readings were taken."""

    minutes_since_start: float | None = None
    minutes_since_stop: float | None = None
    minutes_since_defrost: float | None = None
    hours_since_unplugged: float | None = None
    doors_opened: float | None = None  # in the hour before the readings
    settled: bool | None = None  # at these temperatures for hours, thermostat cycling normally
    also_running: tuple[str, ...] = ()  # what else the plug-in meter read
    standing_evaporator_temperature_k: float | None = None  # when standing_pressure was read
    defrost_peak_temperature_k: float | None = None
    instrument: Instruments = field(default_factory=Instruments)
    tools: str | None = None  # one of `keys.TOOL_KITS`; None: all of them
    log: str = ""  # a log beside the job file, its path counted from there


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading: `key` is an identifier of `keys.READINGS`, `value` and `sd` are SI.

    `sd` is one standard deviation as stated by the technician, None where the
    instrument's own uncertainty applies. `entered` is the text as written.
    """

    key: str
    value: float
    sd: float | None
    entered: str
    note: str = ""
    gauge_assumed: bool = False  # a bare pressure, taken as gauge
    by_hand: bool = False  # a word for what was felt
    log: LoggedReading | None = None  # from a log: `sd` is its mean's, the bias comes on top

    def measured(self, instrument_sd: float) -> Measured:
        """Value with the stated uncertainty, or with the instrument's where none is stated.

        Parameters
        ----------
        instrument_sd : float
            Standard deviation of the instrument, same SI unit as the reading. [SI]
        """
        return Measured(self.value, instrument_sd if self.sd is None else self.sd)


@dataclass(frozen=True, slots=True)
class Sign:
    """Something looked for, listened for or felt; absent from the job = not checked."""

    key: str
    seen: bool
    place: str | None = None
    confirmed: bool | None = None  # the answer to the finding's question back


@dataclass(frozen=True, slots=True)
class Tried:
    """One step of a leak search so far."""

    place: str
    method: str
    minutes: float
    found: bool


@dataclass(frozen=True, slots=True)
class LeakSeen:
    """What is known for a leak search; None where it was not said."""

    mass_lost_kg: float | None = None
    volume_m3: float | None = None  # of the whole circuit
    plate_pressure_high_pa: float | None = None  # ratings on the plate, absolute
    plate_pressure_low_pa: float | None = None
    air_drawn_in: bool | None = None
    left_on_tap: bool | None = None  # a piercing valve from earlier work
    draught: str | None = None
    circuit_holds: str | None = None  # what is inside now
    evaporator_material: str | None = None
    frame_loop_material: str | None = None
    instruments: tuple[str, ...] | None = None  # methods at hand


@dataclass(frozen=True, slots=True)
class Job:
    """One appliance at one visit."""

    source: str  # path or name as given
    title: str
    plate: Plate
    circuit: CircuitSeen = field(default_factory=CircuitSeen)
    room: Room = field(default_factory=Room)
    history: History = field(default_factory=History)
    taken: Taken = field(default_factory=Taken)
    readings: tuple[Reading, ...] = ()
    signs: tuple[Sign, ...] = ()
    tried: tuple[Tried, ...] = ()
    leak: LeakSeen = field(default_factory=LeakSeen)
    mending: Mending = field(default_factory=Mending)
    outcome: Outcome | None = None  # what was found in the end
    course: Course | None = None  # of its log, where one was read

    def reading(self, key: str) -> Reading | None:
        """The reading of that name, None if it was not taken."""
        return next((r for r in self.readings if r.key == key), None)

    def sign(self, key: str) -> Sign | None:
        """The sign of that name, None if it was not checked."""
        return next((s for s in self.signs if s.key == key), None)


def tried_identities(steps: Sequence[Tried]) -> tuple[str, ...]:
    """A name for each step that means another step, or none, once one of its like is gone.

    Parameters
    ----------
    steps : sequence of Tried
        In the order of the file.

    Returns
    -------
    tuple of str
        What was done, and how many of the same there are.
    """
    told = [repr(step) for step in steps]
    return tuple(
        f"{hashlib.sha256(one.encode()).hexdigest()[:12]}-{told.count(one)}" for one in told
    )

"""From a job to what the ensemble needs: the appliance, its surroundings, what is known.

Nothing is inferred here that the job does not say; every assumption made for a
missing entry is put into `notes`, in words.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coldwright.catalogue.families import family_of, likely_refrigerants
from coldwright.catalogue.pairs import prior_with_pairs
from coldwright.catalogue.priors import Background
from coldwright.catalogue.sizing import Known
from coldwright.catalogue.unmeasured import UNMEASURED, Unmeasured, usual_frequency
from coldwright.circuit.layout import Layout
from coldwright.circuit.records import CondenserKind, EvaporatorKind, Position
from coldwright.errors import Refused
from coldwright.faults.record import Together
from coldwright.readings.job import Job
from coldwright.refrigerant.tables import FULL_REFRIGERANTS

NAN = float("nan")
WARM_MARGIN_K = 2.0  # above the setting the thermostat calls without pause, ours


@dataclass(frozen=True, slots=True)
class Subject:
    """One appliance at one visit, as the ensemble sees it."""

    known: Known
    refrigerants: tuple[tuple[str, float], ...]  # with shares
    room_k: float  # NaN where not measured
    fresh_food_k: float  # imposed; NaN where not measured or declared settled
    freezer_k: float
    settled: bool  # the thermostat is in charge; compartments float where capacity is short
    supply_v: float
    running_s: float  # since the start; infinite where steady is taken
    prior: tuple[tuple[Together, float], ...]  # hypothesis, probability
    notes: tuple[str, ...]
    standing_cold_k: float = NAN  # evaporator when the pressure at rest was read; NaN not measured
    unmeasured: Unmeasured = UNMEASURED  # what was taken of it where nobody measured


def subject_of(job: Job, unmeasured: Unmeasured = UNMEASURED) -> Subject:
    """Read a job.

    Parameters
    ----------
    job : Job
        As entered.
    unmeasured : Unmeasured
        What is taken where the job does not say.

    Returns
    -------
    Subject
        Appliance and visit, in SI; every assumption stands in its notes.

    Raises
    ------
    Refused
        Where the circuit is of a kind not modelled yet; names what can still be checked.
    """
    refuse_unmodelled(job)
    notes: list[str] = []
    plate, seen = job.plate, job.circuit
    year = float(plate.year or unmeasured.year)
    if not plate.year:
        notes.append(
            f"No year on the plate: a machine of about {unmeasured.year} is taken, which widens the"
            " odds."
        )
    if plate.kind == "unknown":
        notes.append(
            "Kind not told: a freezer on top is taken, the commonest; name the kind as soon as it"
            " is known."
        )
    if plate.refrigerant == "unknown":
        refrigerants = likely_refrigerants(plate.year)
        notes.append(
            "Refrigerant unknown: treated as flammable, and several are weighed against each other."
        )
    else:
        refrigerants = ((plate.refrigerant, 1.0),)
    charge = plate.charge_kg
    if charge is not None and plate.charge_applies is False:
        charge = None
        notes.append("The plate's charge does not apply to the circuit as it stands: not used.")
    voltage = _reading(job, "supply_voltage", plate.voltage_v or NAN)
    if voltage < 0.5 * (plate.voltage_v or 100.0):
        voltage = plate.voltage_v or NAN  # a dead socket is evidence, not what it ran on
    frequency = plate.frequency_hz or usual_frequency(voltage)
    power = plate.power_w
    if power is None and plate.current_a is not None and plate.voltage_v is not None:
        power = 0.9 * plate.current_a * plate.voltage_v  # power factor at full load, ours
    condenser = CondenserKind[seen.condenser.upper()] if seen.condenser else None
    evaporator = EvaporatorKind[seen.evaporator.upper()] if seen.evaporator else None
    layout = Layout(seen.layout) if seen.layout else None
    if layout is None:
        notes.append(
            "Layout of the high side not given: frame loops and oil coolers are weighed by what"
            " is usual for such a machine."
        )
    told = seen.frame_loop_position
    position = Position[told.upper()] if told not in (None, "unknown") else None
    geometry = dict(seen.geometry)
    known = Known(
        family=family_of(plate.kind),
        year=year,
        charge_kg=charge if charge is not None else NAN,
        fresh_food_m3=_positive(plate.volume_fresh_food_m3),
        freezer_m3=_positive(plate.volume_freezer_m3),
        displacement_m3=seen.displacement_m3 or geometry.get("compressor.displacement", NAN),
        plate_power_w=power if power is not None else NAN,
        frequency_hz=frequency,
        condenser=condenser,
        evaporator=evaporator,
        layout=layout,
        frame_position=position,
    )
    room = _reading(job, "ambient_temperature", job.room.temperature_k or NAN)
    if room != room:
        notes.append(
            f"Room temperature not given: {unmeasured.room_k - 273.15:.0f} °C, give or take"
            f" {unmeasured.room_sd_k:.0f} K, is taken."
        )
    fresh = _reading(job, "fresh_food_temperature", NAN)
    freezer = _reading(job, "freezer_temperature", NAN)
    measured = fresh == fresh or freezer == freezer
    settled = bool(job.taken.settled) or not measured
    if settled and measured:
        fresh = freezer = NAN  # evidence then, not a boundary
    minutes = job.taken.minutes_since_start
    if minutes is None:
        notes.append("Minutes since the start not given: steady readings are taken.")
    background = Background(
        age_s=job.history.age_s,
        months_since_ok=job.history.months_since_ok,
        earlier_repair=job.history.earlier_repair,
        charge_added_kg=job.history.charge_added_kg,
        condenser=seen.condenser,
        evaporator=seen.evaporator,
    )
    gas = None if plate.refrigerant == "unknown" else plate.refrigerant
    prior = prior_with_pairs(job.history.complaint, background, gas)
    return Subject(
        known=known,
        refrigerants=refrigerants,
        room_k=room,
        fresh_food_k=fresh,
        freezer_k=freezer,
        settled=settled,
        supply_v=voltage if voltage == voltage else (230.0 if frequency == 50.0 else 120.0),
        running_s=60.0 * minutes if minutes is not None else float("inf"),
        prior=tuple(prior.items()),
        notes=tuple(notes),
        standing_cold_k=job.taken.standing_evaporator_temperature_k or NAN,
        unmeasured=unmeasured,
    )


def refuse_unmodelled(
    job: Job, lacking: str = "no odds for the sealed circuit", instead: tuple[str, ...] = ()
) -> None:
    """Refuse circuits this release does not model, naming what can be checked.

    Parameters
    ----------
    job : Job
        What is known of the appliance.
    lacking : str
        What there cannot be, for the message.
    instead : tuple of str
        What else can still be asked of a variable-speed drive.

    Raises
    ------
    Refused
        For more than one evaporator, a variable-speed drive or a refrigerant without full
        properties.
    """
    still = (
        "fans, coils, door seal, defrost and thermostat",
        "windings, starting device, overload and supply",
        "temperatures of both compartments over a day",
    )
    seen = job.circuit
    if seen.evaporators not in (None, "one"):
        raise Refused(
            f"more than one evaporator ({seen.evaporators}) is not modelled yet: {lacking}",
            (*still, "the switching valve: listen and feel which evaporator it feeds"),
        )
    if seen.compressor_drive == "variable_speed":
        raise Refused(
            f"a variable-speed drive is not modelled yet: {lacking}",
            (*still, "the drive board's signals and supply", *instead),
        )
    refrigerant = job.plate.refrigerant
    if refrigerant != "unknown" and refrigerant not in FULL_REFRIGERANTS:
        raise Refused(
            f"{refrigerant} is not modelled in full yet: {lacking}",
            (*still, f"bubble and dew point of {refrigerant} beside the temperatures read"),
        )


def _reading(job: Job, key: str, otherwise: float) -> float:
    reading = job.reading(key)
    return reading.value if reading is not None else otherwise


def _positive(value: float | None) -> float:
    return value if value is not None and value > 0.0 else NAN


def imposed(subject: Subject, set_ff: np.ndarray, set_fz: np.ndarray, room: np.ndarray):  # type: ignore[no-untyped-def]
    """Compartment temperatures per member: measured, guessed from the other one, or the setting.

    Where only one compartment was measured the other is taken as far on its way from
    its setting to the room as the measured one (judgement of ours).

    Parameters
    ----------
    subject : Subject
        The appliance as the job describes it.
    set_ff : ndarray
        Setting of the fresh food, shape (n,). [K]
    set_fz : ndarray
        Setting of the freezer, shape (n,). [K]
    room : ndarray
        Room temperature, shape (n,). [K]

    Returns
    -------
    tuple of ndarray
        Fresh food and freezer, shape (n,) each. [K]
    """
    if subject.settled:
        return set_ff.copy(), set_fz.copy()
    ff = np.full_like(set_ff, subject.fresh_food_k)
    fz = np.full_like(set_fz, subject.freezer_k)
    if subject.known.family.one_compartment:
        fz = np.where(np.isnan(fz), ff, fz)
        return fz.copy(), fz
    with np.errstate(invalid="ignore"):
        gone = np.clip((ff - set_ff) / (room - set_ff), -0.2, 1.0)
        fz = np.where(np.isnan(fz), set_fz + gone * (room - set_fz), fz)
        gone = np.clip((fz - set_fz) / (room - set_fz), -0.2, 1.0)
        ff = np.where(np.isnan(ff), set_ff + gone * (room - set_ff), ff)
    return ff, fz

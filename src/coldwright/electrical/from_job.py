"""From a job's readings to what the meter showed and the evidence in it."""

from __future__ import annotations

import math
from collections.abc import Mapping

from coldwright.catalogue.motor import BETWEEN_CLASSES_V, LOCKED_FROM, OPEN_OHM, PTC_COOL_MIN
from coldwright.catalogue.restart import WAIT_MIN, too_soon, with_restart
from coldwright.catalogue.stopped import STOPPED, STOPPED_VARIABLE_SPEED, which_odds
from coldwright.catalogue.unmeasured import usual_frequency
from coldwright.electrical.copper import REFERENCE_K
from coldwright.electrical.evidence import READINGS_OF, ElectricalEvidence, gather
from coldwright.electrical.meters import Held, Meters
from coldwright.electrical.outcomes import add_up
from coldwright.readings.job import Job

_THREE = ("Common to run", "Common to start", "Run to start")
# A plate current may be the defrost heater's (glossary): it only bounds the compressor's.
_FROST_FREE_SHARE = 0.6
_FULL_LOAD_FACTOR = 0.9  # power factor at full load, ours


def meters_of(job: Job) -> Meters:
    """The electrical readings of a job.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    Meters
        None where not taken; resistances infinite where open. [SI]
    """

    def read(key: str) -> float | None:
        reading = job.reading(key)
        return None if reading is None else reading.value

    def ohms(key: str) -> float | None:
        value = read(key)
        return math.inf if value is not None and value >= OPEN_OHM else value

    return Meters(
        run_ohm=ohms("winding_resistance_run"),
        start_ohm=ohms("winding_resistance_start"),
        run_to_start_ohm=ohms("winding_resistance_run_to_start"),
        insulation_ohm=read("insulation_resistance"),
        start_device_ohm=ohms("start_device_resistance"),
        overload_ohm=ohms("overload_resistance"),
        capacitor_fraction=read("capacitor_share"),
        supply_v=read("supply_voltage"),
        starting_a=read("starting_current"),
        compressor_a=read("compressor_current"),
        appliance_a=read("appliance_current"),
        speed_per_s=read("compressor_speed"),
    )


def held_of(job: Job) -> Held:
    """The machine of a job, as far as its electrics need it.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    Held
        Plate, winding temperature and time since the stop; NaN where not known.
    """
    supply = job.reading("supply_voltage")
    nominal = job.plate.voltage_v
    if nominal is None:
        low = job.plate.frequency_hz is not None and job.plate.frequency_hz > 55.0
        if supply is not None and supply.value > 60.0:
            low = supply.value < BETWEEN_CLASSES_V
        nominal = 120.0 if low else 230.0
    rated = job.plate.current_a or math.nan
    if math.isnan(rated) and job.plate.power_w is not None:
        rated = job.plate.power_w / (_FULL_LOAD_FACTOR * nominal)
    if job.circuit.evaporator == "fan":
        rated *= _FROST_FREE_SHARE
    shell, room = job.reading("shell_temperature"), job.reading("ambient_temperature")
    winding = job.room.temperature_k or REFERENCE_K
    for reading in (room, shell):
        winding = winding if reading is None else reading.value
    stopped = job.taken.minutes_since_stop
    return Held(
        nominal_v=nominal,
        frequency_hz=job.plate.frequency_hz or usual_frequency(nominal),
        rated_a=rated,
        winding_k=winding,
        since_stop_min=math.nan if stopped is None else stopped,
        variable_speed=job.circuit.compressor_drive == "variable_speed",
    )


def taken_of(job: Job) -> dict[str, tuple[str, ...]]:
    """Part to the identifiers of its readings that were taken.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    dict of str to tuple of str
        Only parts that were read; of the currents the first that speaks.
    """
    have = {r.key for r in job.readings}
    found = {part: tuple(key for key in keys if key in have) for part, keys in READINGS_OF.items()}
    found["draw"] = found["draw"][:1]  # the one that speaks first; see `outcomes.draw`
    return {part: keys for part, keys in found.items() if keys}


def locked_keys(job: Job) -> frozenset[str]:
    """Currents too large for any running compressor: read while it could not start.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    frozenset of str
        Reading identifiers; empty where no current is that large.
    """
    full = held_of(job).full_load_a
    # the whole appliance may have its defrost heater on, which the plate covers
    limits = {"compressor_current": full, "appliance_current": job.plate.current_a or 2.0 * full}
    return frozenset(
        r.key for r in job.readings if r.key in limits and r.value > LOCKED_FROM * limits[r.key]
    )


def electrical_of(job: Job, *, heard: bool = True) -> ElectricalEvidence:
    """All electrical evidence of a job.

    Parameters
    ----------
    job : Job
        As entered.
    heard : bool
        Whether silence and humming move the kinds; false where they count as findings.

    A current that a running compressor may draw is weighed by the simulated
    appliances; here it then only tells the kinds apart.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    ElectricalEvidence
        Without an item where nothing electrical was read.
    """
    held = held_of(job)
    signs = {s.key: s.seen for s in job.signs}
    kinds = with_restart(STOPPED_VARIABLE_SPEED if held.variable_speed else STOPPED, signs)
    odds = which_odds(job.history.complaint, signs if heard else {}, kinds=kinds)
    taken = taken_of(job)
    drawn = taken.get("draw", ())
    outside = {"starting_current", *locked_keys(job)}
    shared = frozenset({"draw"}) if drawn and not set(drawn) & outside else frozenset()
    return gather(meters_of(job), held, odds, taken, shared=shared)


def notes_of(job: Job) -> tuple[str, ...]:
    """Why a reading of a job is no evidence, and what to do about it.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    tuple of str
        Sentences; empty where every reading can be used.
    """
    notes = notes_on(meters_of(job), held_of(job))
    if locked_keys(job):
        notes = (*notes, "A current this large is a locked rotor's: weighed as such.")
    return (*restart_notes({s.key: s.seen for s in job.signs}), *notes)


def restart_notes(signs: Mapping[str, bool]) -> tuple[str, ...]:
    """What comes first where it was restarted too soon; empty where it was not.

    Parameters
    ----------
    signs : Mapping
        Sign identifier to seen or not seen.

    Returns
    -------
    tuple of str
        One sentence, or none.

    Examples
    --------
    >>> restart_notes({"restarted_too_soon": False})
    ()
    """
    if not too_soon(signs):
        return ()
    return (
        "It hums and trips, but it was restarted too soon after a stop: a sound compressor does"
        f" that too, against pressures not yet level. Switch it off, wait {WAIT_MIN:.0f} min or"
        " more until the overload has closed and the flow sound has ended, and start it once"
        " before anything else.",
    )


def notes_on(meters: Meters, held: Held) -> tuple[str, ...]:
    """The same for readings alone.

    Parameters
    ----------
    meters : Meters
        Readings.
    held : Held
        The machine.

    Returns
    -------
    tuple of str
        Sentences; empty where every reading can be used.

    Examples
    --------
    >>> from coldwright.electrical.meters import Held, Meters
    >>> notes_on(Meters(run_ohm=10.0, start_ohm=20.0), Held())
    ('Run to start was not read: 30 ohm by the other two.',)
    """
    notes = []
    run, start, both = meters.ohms
    read = sum(r is not None for r in meters.ohms)
    if read and not held.variable_speed:
        filled = add_up(meters)
        if filled is None:
            notes.append("Winding resistances do not add up: not used until read again.")
        elif read == 2 and None not in filled:
            third, ohm = next(
                (name, value)
                for name, given, value in zip(_THREE, meters.ohms, filled, strict=True)
                if given is None
            )
            notes.append(f"{third} was not read: {ohm:.3g} ohm by the other two.")
        elif read == 3 and run is not None and start is not None and run > start:
            notes.append("Run reads more than start: the two are taken as swapped.")
    device = meters.start_device_ohm
    if device is not None and held.since_stop_min < PTC_COOL_MIN:
        notes.append("Start device read within 5 min of a stop: not used, let it cool first.")
    if run == math.inf and start == math.inf and both is not None and both < math.inf:
        notes.append(
            "Open from common while run to start reads is an open overload inside the shell: it"
            " may only be hot. Let the shell cool an hour or two and read again."
        )
    return tuple(notes)

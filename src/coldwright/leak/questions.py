"""What a job or a command line says about a leak, as the records that the leak room takes."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from coldwright.catalogue.unmeasured import UNMEASURED
from coldwright.errors import BadInput
from coldwright.leak import rates
from coldwright.leak.elsewhere import LeakQuestion
from coldwright.leak.gases import REFRIGERANT_GASES
from coldwright.leak.history import MONTH_S, Pace, pace_of_loss
from coldwright.leak.hold import USUAL_LIMIT_G_YR, HoldQuestion
from coldwright.leak.rates import LeakRate, rate_from_grams_per_year, rate_from_throughput
from coldwright.leak.sides import HIGH, HIGH_VOLUME_M3, LOW, TOTAL_VOLUME_M3, Setting, gas_of
from coldwright.readings.hold_log import HoldLog, load_hold_log
from coldwright.readings.job import Job
from coldwright.units import STANDARD_ATMOSPHERE_PA, Dimension, dimensions_of, parse
from coldwright.units.numbers import NotANumber, split_number
from coldwright.units.spellings import squeeze

_FILE = "command line"


@dataclass(frozen=True, slots=True)
class RateWords:
    """What was asked, numbers in SI, None where not said; a job fills the gaps."""

    job: Path | None
    refrigerant: str | None
    rate: str | None
    lost_kg: float | None
    over_s: float | None
    charge_kg: float | None
    left_kg: float | None
    side: str
    pressure_pa: float | None
    test_pa: float
    room_k: float | None
    basis_k: float


def room_of(job: Job) -> float:
    """Room temperature by the job, else the usual one [K].

    Parameters
    ----------
    job : Job
        The job, read and checked.

    Returns
    -------
    float
        Temperature. [K]
    """
    reading = job.reading("ambient_temperature")
    if reading is not None:
        return reading.value
    return job.room.temperature_k if job.room.temperature_k is not None else UNMEASURED.room_k


def lost_of(job: Job, charge_kg: float | None, left_kg: float | None) -> float | None:
    """Mass missing by the job: said, or charge less what was recovered.

    Parameters
    ----------
    job : Job
        The job.
    charge_kg : float or None
        What it held. [kg]
    left_kg : float or None
        What was left; where not given, what was recovered. [kg]

    Returns
    -------
    float or None
        In kg; None where not known.
    """
    if job.leak.mass_lost_kg is not None:
        return job.leak.mass_lost_kg
    recovered = job.reading("recovered_mass")
    if left_kg is None and recovered is not None:
        left_kg = recovered.value
    if charge_kg is None or left_kg is None:
        return None
    missing = charge_kg - left_kg
    return missing if missing > 0.0 else None


def rate_question(words: RateWords) -> LeakQuestion:
    """The question of `leak rate`.

    Parameters
    ----------
    words : RateWords
        Options or fields as the user wrote them, read.

    Returns
    -------
    LeakQuestion
        Rate, setting and side in SI.

    Raises
    ------
    BadInput
        Naming what is missing or cannot be.
    """
    from coldwright.readings.jobfile import load_job

    job = None if words.job is None else load_job(words.job)
    refrigerant = words.refrigerant or (job.plate.refrigerant if job else None)
    if refrigerant is None:
        accepted = "a job file or --refrigerant, one of " + ", ".join(REFRIGERANT_GASES)
        raise BadInput(_FILE, "--refrigerant", "nothing", accepted)
    gas = gas_of(_plain(refrigerant))
    room = words.room_k or (UNMEASURED.room_k if job is None else room_of(job))
    air = STANDARD_ATMOSPHERE_PA if job is None else job.room.air_pressure_pa
    if words.pressure_pa is not None and words.pressure_pa <= 1.001 * air:
        read = f"{words.pressure_pa / 1e5:.2f} bar absolute"
        accepted = "above the air pressure: a leak of refrigerant flows outwards"
        raise BadInput(_FILE, "--pressure", read, accepted)
    charge = words.charge_kg or (job.plate.charge_kg if job else None)
    pace: Pace | None = None
    if words.rate is not None:
        rate = written_rate(words.rate, Setting(gas, room), words.basis_k)
    else:
        pace = _pace(words, job, charge)
        rate = rate_from_grams_per_year(pace.median_g_yr, gas, words.basis_k)
    return LeakQuestion(
        rate=rate,
        setting=Setting(gas, room, air),
        side=words.side,
        pressure_pa=words.pressure_pa,
        test_gauge_pa=_test(words.test_pa),
        refrigerant=refrigerant,
        pace=pace,
    )


def written_rate(text: str, setting: Setting, basis_k: float) -> LeakRate:
    """A rate as written, by mass or by volume.

    Parameters
    ----------
    text : str
        Such as '5 g/yr' or '1e-4 mbar·l/s'.
    setting : Setting
        Whose refrigerant it is.
    basis_k : float
        Temperature a volume counts at; sccm count at 0 degC whatever it is. [K]

    Returns
    -------
    LeakRate
        Rate, its throughput at `basis_k`. [Pa m3/s]

    Raises
    ------
    BadInput
        If it is neither.
    """
    try:
        unit = squeeze(split_number(text)[1])
    except NotANumber:
        unit = ""
    if Dimension.MASS_FLOW in dimensions_of(unit):
        flow = parse(text, Dimension.MASS_FLOW, file=_FILE, key="--rate")
        rate = LeakRate(setting.gas, flow, basis_k)
    elif Dimension.THROUGHPUT in dimensions_of(unit):
        q = parse(text, Dimension.THROUGHPUT, file=_FILE, key="--rate")
        counted = rates.SCCM_BASIS_K if unit.lower() == "sccm" else basis_k
        rate = LeakRate(
            setting.gas, rate_from_throughput(q, setting.gas, counted).mass_flow_kg_s, basis_k
        )
    else:
        accepted = f"a rate such as '5 g/yr', {Dimension.THROUGHPUT.example}"
        raise BadInput(_FILE, "--rate", f"'{text}'", accepted)
    if not 1e-4 <= rate.g_yr <= 1e8:
        raise BadInput(_FILE, "--rate", f"'{text}'", "a leak from 1e-4 to 1e8 g/yr")
    return rate


@dataclass(frozen=True, slots=True)
class HoldWords:
    """What was asked about a hold, numbers in SI, None where not said."""

    log: Path | None
    points: HoldLog | None
    job: Path | None
    refrigerant: str | None
    part: str
    volume_m3: float | None
    limit_kg_s: float | None
    dial: bool


def hold_question(words: HoldWords) -> HoldQuestion:
    """The question of `leak hold`.

    Parameters
    ----------
    words : HoldWords
        Options or fields as the user wrote them, read.

    Returns
    -------
    HoldQuestion
        Log, setting, volume and limit in SI.

    Raises
    ------
    BadInput
        Naming what is missing or cannot be.
    """
    from coldwright.readings.jobfile import load_job

    job = None if words.job is None else load_job(words.job)
    refrigerant = words.refrigerant or (job.plate.refrigerant if job else "unknown")
    gas = gas_of(_plain(refrigerant))
    air = STANDARD_ATMOSPHERE_PA if job is None else job.room.air_pressure_pa
    log = words.points
    if log is None:
        log = load_hold_log(words.log or Path(), air)
    total = volume_of(job) if job else TOTAL_VOLUME_M3
    room = UNMEASURED.room_k if job is None else room_of(job)
    if log.temperatures_k:
        room = sum(log.temperatures_k) / len(log.temperatures_k)
    volume = words.volume_m3
    if volume is not None and not 1e-5 <= volume <= 0.05:
        raise BadInput(_FILE, "--volume", f"{volume * 1e3:g} l", "0.01 to 50 l")
    setting = Setting(gas, room, air, total, min(HIGH_VOLUME_M3, 0.5 * total))
    limit = USUAL_LIMIT_G_YR
    if words.limit_kg_s is not None:
        limit = words.limit_kg_s * 1000.0 * rates.SECONDS_PER_YEAR
        if not 0.01 <= limit <= 1e7:
            raise BadInput(_FILE, "--limit", f"{limit:g} g/yr", "0.01 to 1e7 g/yr")
    measured = volume is not None or (job is not None and job.leak.volume_m3 is not None)
    return HoldQuestion(
        log=log,
        setting=setting,
        volume_m3=volume or setting.volume_m3(words.part),
        volume_measured=measured,
        part=words.part,
        refrigerant=refrigerant,
        limit_g_yr=limit,
        dial=words.dial,
        plate_high_pa=rating_of(job, HIGH),
        plate_low_pa=rating_of(job, LOW),
    )


def volume_of(job: Job) -> float:
    """Inner volume of the whole circuit by the job: said, measured parts, else the usual [m3].

    Parameters
    ----------
    job : Job
        The job, read and checked.

    Returns
    -------
    float
        Volume. [m3]
    """
    if job.leak.volume_m3 is not None:
        return job.leak.volume_m3
    parts = [v for k, v in job.circuit.geometry if k.endswith((".volume", ".shell_volume"))]
    return sum(parts) if len(parts) >= 3 else TOTAL_VOLUME_M3


def rating_of(job: Job | None, side: str) -> float | None:
    """Rating of a side on the plate, gauge [Pa].

    Parameters
    ----------
    job : Job or None
        The job, read and checked.
    side : str
        Side of the circuit, low or high.

    Returns
    -------
    float or None
        Gauge pressure, None where the plate has none. [Pa]
    """
    if job is None:
        return None
    rated = job.leak.plate_pressure_high_pa if side == HIGH else job.leak.plate_pressure_low_pa
    return None if rated is None else rated - job.room.air_pressure_pa


def _pace(words: RateWords, job: Job | None, charge: float | None) -> Pace:
    lost = words.lost_kg
    if lost is None and words.left_kg is not None and charge is not None:
        lost = charge - words.left_kg
    if lost is None and job is not None:
        lost = lost_of(job, charge, words.left_kg)
    over = words.over_s
    if over is None and job is not None and job.history.months_since_ok:
        over = job.history.months_since_ok * MONTH_S
    if lost is None or over is None:
        missing = "--lost" if lost is None else "--over"
        accepted = (
            "--rate, or --lost with --over, or a job with charge, recovered mass "
            "and months_since_ok"
        )
        raise BadInput(_FILE, missing, "nothing", accepted)
    if charge is not None and not 0.0 < lost <= charge:
        accepted = f"more than nothing, up to the charge of {charge * 1000:g} g"
        raise BadInput(_FILE, "--lost", f"{lost * 1000:g} g", accepted)
    return pace_of_loss(lost, over, charge)


def _plain(name: str) -> str:
    """However it is spaced: r-134a, R 134a."""
    squeezed = name.casefold().replace("-", "").replace(" ", "")
    return next((r for r in REFRIGERANT_GASES if r.casefold() == squeezed), name)


def _test(test_pa: float) -> float:
    gauge = test_pa - STANDARD_ATMOSPHERE_PA
    if not 0.5e5 <= gauge <= 16.3e5:
        read = f"{gauge / 1e5:.2f} bar gauge"
        raise BadInput(_FILE, "--test-pressure", read, "0.5 to 16.3 bar gauge")
    return gauge

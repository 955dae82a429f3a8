"""A pressure or vacuum hold, read."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.catalogue.leak_cautions import leak_cautions, sentences
from coldwright.errors import BadInput
from coldwright.leak.hold_reach import HoldNoise
from coldwright.leak.limits import PressureLimit, field_limit, type_test_gauge_pa
from coldwright.leak.pressure_hold import PressureHold, Verdict, read_pressure_hold
from coldwright.leak.sides import HIGH, LOW, Setting, stands_for
from coldwright.leak.vacuum_hold import VacuumHold, read_vacuum_hold
from coldwright.readings.hold_log import HoldLog

VACUUM_BELOW_PA = 1e4  # a hold begun below it is one of vacuum
PRESSED_FROM_PA = 0.5e5  # above the air pressure, less says little
USUAL_LIMIT_G_YR = 40.0  # the leak of an appliance that fails within a few years; ours
VOLUME_TOLERANCE = 0.3  # of a volume not measured, ours
DIAL_SD_PA = 1e4  # one reading of a dial gauge against the next; ours


@dataclass(frozen=True, slots=True)
class HoldQuestion:
    """A log and what was held."""

    log: HoldLog
    setting: Setting
    volume_m3: float
    volume_measured: bool
    part: str
    refrigerant: str
    limit_g_yr: float = USUAL_LIMIT_G_YR
    dial: bool = False
    plate_high_pa: float | None = None  # ratings, gauge
    plate_low_pa: float | None = None


@dataclass(frozen=True, slots=True)
class HoldAnswer:
    """What `leak hold` says; one of the two readings is there."""

    question: HoldQuestion
    pressure: PressureHold | None
    vacuum: VacuumHold | None
    limit: PressureLimit
    type_test_pa: tuple[float, float]  # of high and low side in the factory, no field pressure
    notes: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def kind(self) -> str:
        """`pressure_hold` or `vacuum_hold`."""
        return "pressure_hold" if self.pressure is not None else "vacuum_hold"

    @property
    def verdict(self) -> str:
        """In one word."""
        if self.pressure is not None:
            return self.pressure.verdict.value
        return self.vacuum.verdict if self.vacuum is not None else "undecided"


def leak_hold(question: HoldQuestion) -> HoldAnswer:
    """Read the log.

    Parameters
    ----------
    question : HoldQuestion
        Log, setting, volume and limit.

    Returns
    -------
    HoldAnswer
        Verdict with what it rests on, notes and cautions.

    Raises
    ------
    BadInput
        If the pressures are those of no hold.
    """
    log, setting = question.log, question.setting
    start = log.pressures_pa[0]
    limit = field_limit(
        question.plate_high_pa if question.part != "low_side" else None,
        question.plate_low_pa,
        with_low_side=question.part != "high_side",
    )
    notes = [*stands_for(question.refrigerant), *_volume_note(question)]
    types = (type_test_gauge_pa(setting.gas, HIGH), type_test_gauge_pa(setting.gas, LOW))
    if start < VACUUM_BELOW_PA:
        if len(log.times_s) < 4:
            accepted = "at least four readings: two points have no shape"
            raise BadInput(log.source, "", f"{len(log.times_s)} readings of a vacuum", accepted)
        vacuum = read_vacuum_hold(log, setting, question.volume_m3)
        cautions = sentences(leak_cautions(question.refrigerant, opens=True))
        return HoldAnswer(question, None, vacuum, limit, types, (*notes, *vacuum.notes), cautions)
    if start - setting.air_pa < PRESSED_FROM_PA:
        accepted = "a hold from 0.5 bar gauge up, or one of vacuum from 0.1 bar absolute down"
        raise BadInput(log.source, "pressure", f"{start / 1e5:.2f} bar absolute", accepted)
    if start - setting.air_pa > 1.02 * limit.gauge_pa:
        notes.append(
            f"Pressed to {(start - setting.air_pa) / 1e5:.1f} bar gauge, above "
            f"{limit.gauge_pa / 1e5:.1f} bar gauge ({limit.because}): let it down now."
        )
    noise = HoldNoise(DIAL_SD_PA if question.dial else HoldNoise().pressure_sd_pa, gauge=log.gauge)
    pressure = read_pressure_hold(log, setting, question.volume_m3, question.limit_g_yr, noise)
    notes.append(
        "Read as nitrogen: with liquid refrigerant inside, the pressure follows the temperature "
        "and says nothing of a leak."
    )
    if pressure.verdict is Verdict.LEAK:
        notes.append("Soap the hoses, the valve and the gauge first: the hold tested them too.")
    cautions = sentences(leak_cautions(question.refrigerant, nitrogen=True))
    return HoldAnswer(question, pressure, None, limit, types, (*notes, *pressure.notes), cautions)


def _volume_note(question: HoldQuestion) -> list[str]:
    if question.volume_measured:
        return []
    return [
        f"Volume taken as {question.volume_m3 * 1e3:.2g} l, give or take "
        f"{100 * VOLUME_TOLERANCE:.0f} %: rates are as uncertain as that."
    ]

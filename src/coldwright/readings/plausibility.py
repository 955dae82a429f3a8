"""Readings that contradict each other whatever the fault: slips to mend before any odds.

No model is needed here, only that heat flows from warm to cold and that a part
is not larger than the whole. Margins are judgements of ours, wider than two
clamp thermometers differ.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from coldwright.readings.job import Job
from coldwright.readings.keys import READINGS, SIGNS
from coldwright.units import celsius_from_kelvin

_CLAMP_MARGIN_K = 3.0
_WIDE_MARGIN_K = 5.0  # where other air or a hot neighbour can reach one of the two places
_SHARE_MARGIN = 1.05  # a part may read so much more than the whole by meter error
_RUNNING_IN_MIN = 10.0  # before this the coils do not yet show the order of flow
_DEFROST_MIN = 60.0
_OPEN_OHM = 1e6


@dataclass(frozen=True, slots=True)
class Contradiction:
    """Entries that cannot all be right, and what to do about it in one plain sentence."""

    keys: tuple[str, ...]
    sentence: str


def contradictions(job: Job) -> tuple[Contradiction, ...]:
    r"""Every contradiction among the readings and signs of a job, none if all agree.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    tuple of Contradiction
        In the order of the rules.

    Examples
    --------
    >>> from coldwright.readings.jobfile import job_from_text
    >>> contradictions(job_from_text('[plate]\nkind = "compact"\n', "desk.toml"))
    ()
    """
    return tuple(found for rule in _RULES for found in rule(job))


# (warmer place, cooler place, margin) along the high side while the compressor runs
_FALLING = (
    ("discharge_line_temperature", "condenser_inlet_temperature", _CLAMP_MARGIN_K),
    ("discharge_line_temperature", "condenser_middle_temperature", _CLAMP_MARGIN_K),
    ("discharge_line_temperature", "condenser_outlet_temperature", _CLAMP_MARGIN_K),
    ("condenser_inlet_temperature", "condenser_middle_temperature", _CLAMP_MARGIN_K),
    ("condenser_inlet_temperature", "condenser_outlet_temperature", _CLAMP_MARGIN_K),
    ("condenser_middle_temperature", "condenser_outlet_temperature", _CLAMP_MARGIN_K),
    ("condenser_outlet_temperature", "drier_inlet_temperature", _WIDE_MARGIN_K),
    ("drier_inlet_temperature", "drier_outlet_temperature", _CLAMP_MARGIN_K),
    ("drier_outlet_temperature", "evaporator_inlet_temperature", _WIDE_MARGIN_K),
)
# (cooler place, warmer place, margin) along the low side while it runs
_RISING = (
    ("evaporator_inlet_temperature", "evaporator_outlet_temperature", _WIDE_MARGIN_K),
    ("evaporator_inlet_temperature", "suction_line_temperature", _WIDE_MARGIN_K),
    ("evaporator_outlet_temperature", "suction_line_temperature", _WIDE_MARGIN_K),
)


def _order_of_flow(job: Job) -> Iterator[Contradiction]:
    if not _running_in(job):
        return
    for warmer, cooler, margin in _FALLING:
        if _exceeds(job, cooler, warmer, margin):
            yield _pair(job, cooler, warmer, "hotter", "refrigerant only gets cooler on that way")
    if _just_defrosted(job):
        return
    for cooler, warmer, margin in _RISING:
        if _exceeds(job, cooler, warmer, margin):
            yield _pair(job, warmer, cooler, "colder", "refrigerant only gets warmer on that way")


def _against_the_room(job: Job) -> Iterator[Contradiction]:
    read = job.reading("ambient_temperature")
    room = job.room.temperature_k
    if read is not None and room is not None and abs(read.value - room) > _CLAMP_MARGIN_K:
        yield Contradiction(
            ("ambient_temperature", "room.temperature"),
            f"ambient temperature reads {read.entered} but the room is given as"
            f" {celsius_from_kelvin(room):.1f} °C: keep the one taken near the condenser.",
        )
    ambient = room if read is None else read.value
    outlet = job.reading("condenser_outlet_temperature")
    if ambient is None or outlet is None or not _running_in(job):
        return
    if outlet.value < ambient - _WIDE_MARGIN_K:
        yield Contradiction(
            ("condenser_outlet_temperature", "ambient_temperature"),
            f"condenser outlet reads {outlet.entered}, colder than the room"
            f" ({celsius_from_kelvin(ambient):.1f} °C): a condenser cannot cool below the air"
            " that cools it; check the clamp and the room temperature.",
        )


def _compartments(job: Job) -> Iterator[Contradiction]:
    fresh, freezer = job.reading("fresh_food_temperature"), job.reading("freezer_temperature")
    if fresh is not None and job.plate.kind in ("upright_freezer", "chest_freezer"):
        yield Contradiction(
            ("fresh_food_temperature", "plate.kind"),
            "a fresh-food temperature is given for an appliance that is a freezer only:"
            " check the kind on the plate.",
        )
    if _exceeds(job, "freezer_temperature", "fresh_food_temperature", _WIDE_MARGIN_K):
        yield _pair(
            job,
            "fresh_food_temperature",
            "freezer_temperature",
            "colder",
            "the freezer gets the coldest air",
        )
    inlet = job.reading("evaporator_inlet_temperature")
    if inlet is None or freezer is None or not _running_in(job) or _just_defrosted(job):
        return
    if inlet.value > freezer.value + _WIDE_MARGIN_K and not _seen(job, "defrost_heater_stuck_on"):
        yield _pair(
            job,
            "evaporator_inlet_temperature",
            "freezer_temperature",
            "hotter",
            "running, the evaporator is not warmer than the air it cools",
        )


def _pressures(job: Job) -> Iterator[Contradiction]:
    suction, discharge = job.reading("suction_pressure"), job.reading("discharge_pressure")
    if suction is None or discharge is None:
        return
    if suction.value > discharge.value * _SHARE_MARGIN:
        why = "a compressor does not pump downhill; check the hoses and the gauge zero"
        yield _pair(job, "suction_pressure", "discharge_pressure", "higher", why)


def _parts_and_wholes(job: Job) -> Iterator[Contradiction]:
    for part, whole in (
        ("compressor_power", "appliance_power"),
        ("compressor_current", "appliance_current"),
    ):
        of_part, of_whole = job.reading(part), job.reading(whole)
        if of_part and of_whole and of_part.value > of_whole.value * _SHARE_MARGIN:
            yield _pair(job, part, whole, "more", "a part does not draw more than the whole")
    voltage = job.reading("supply_voltage")
    volts = job.plate.voltage_v if voltage is None else voltage.value
    for power, current in (
        ("appliance_power", "appliance_current"),
        ("compressor_power", "compressor_current"),
    ):
        watts, amps = job.reading(power), job.reading(current)
        if watts is None or amps is None or volts is None:
            continue
        most = volts * amps.value
        if watts.value > most * 1.1:  # a plate voltage may be a tenth below the socket's
            yield Contradiction(
                (power, current),
                f"{_label(power)} reads {watts.entered}, but {amps.entered} at {volts:.0f} V"
                f" cannot be more than {most:.0f} W: check the meter's range and its clamp.",
            )


def _windings(job: Job) -> Iterator[Contradiction]:
    names = ("winding_resistance_run", "winding_resistance_start")
    both, total = [job.reading(n) for n in names], job.reading("winding_resistance_run_to_start")
    parts = [r.value for r in both if r is not None]
    if len(parts) < 2 or total is None or max(*parts, total.value) >= _OPEN_OHM:
        return
    # The two windings meet at the common pin, so the third pair is their sum (a series circuit).
    if abs(total.value - sum(parts)) > 1.0 + 0.15 * sum(parts):
        yield Contradiction(
            (*names, "winding_resistance_run_to_start"),
            f"run to start reads {total.entered}, but the two windings in series make"
            f" {sum(parts):.1f} ohm: unplug the relay, find the common pin again and repeat.",
        )


# (signs that exclude each other, why)
_EXCLUSIVE_SIGNS = (
    ("compressor_silent", "compressor_hums_and_trips", "a silent compressor does not hum"),
    ("flow_sound_steady", "no_flow_sound", "there is a flow sound or there is none"),
    ("flow_sound_weak", "no_flow_sound", "there is a flow sound or there is none"),
    ("flow_sound_steady", "flow_sound_weak", "the flow sound is steady or weak"),
    ("compressor_runs", "compressor_silent", "one that runs is not silent"),
    ("compressor_runs", "compressor_hums_and_trips", "one that trips does not run"),
    ("no_air_at_vents", "weak_air_at_vents", "no air or weak air"),
    ("evaporator_fan_stopped", "evaporator_fan_slow", "a slow fan does not stand still"),
    ("evaporator_fan_stopped", "evaporator_fan_noisy", "a fan that stands still makes no noise"),
    ("control_set_off", "control_set_warm", "the control stood at off or at its warmest"),
    ("no_mains", "compressor_runs", "nothing runs without mains"),
    ("no_mains", "compressor_hums_and_trips", "nothing hums without mains"),
)


def _signs_against_signs(job: Job) -> Iterator[Contradiction]:
    for one, other, why in _EXCLUSIVE_SIGNS:
        if _seen(job, one) and _seen(job, other):
            yield Contradiction(
                (one, other),
                f"both '{SIGNS[one].label}' and '{SIGNS[other].label}' are marked as seen:"
                f" {why}; keep one.",
            )


def _signs_against_readings(job: Job) -> Iterator[Contradiction]:
    for key, limit, why in (
        ("run_fraction", 0.05, "a compressor that runs is not silent"),
        ("compressor_power", 30.0, "a compressor that draws power hums or runs"),
    ):
        reading = job.reading(key)
        if _seen(job, "compressor_silent") and reading is not None and reading.value > limit:
            yield _sign_and_reading(job, "compressor_silent", key, why)
    for key, limit, why in (
        ("run_fraction", 0.02, "a compressor that runs has a share of the time"),
        ("compressor_power", 10.0, "a compressor that runs draws tens of watts"),
        ("appliance_power", 10.0, "a compressor that runs draws tens of watts"),
        ("compressor_current", 0.05, "a compressor that runs draws current"),
        ("appliance_current", 0.05, "a compressor that runs draws current"),
        ("supply_voltage", 20.0, "nothing runs without mains"),
    ):
        reading = job.reading(key)
        if _seen(job, "compressor_runs") and reading is not None and reading.value < limit:
            yield _sign_and_reading(job, "compressor_runs", key, why)
    volts = job.reading("supply_voltage")
    if _seen(job, "no_mains") and volts is not None and volts.value > 60.0:
        yield _sign_and_reading(job, "no_mains", "supply_voltage", "that is mains")
    device = job.reading("insulation_resistance")
    if _seen(job, "windings_judged_good") and device is not None and device.value < 1e4:
        why = "a winding on the shell is not good"
        yield _sign_and_reading(job, "windings_judged_good", "insulation_resistance", why)
    frosted = job.reading("frosted_fraction")
    if _seen(job, "frost_only_at_inlet") and frosted is not None and frosted.value > 0.6:
        why = "that is most of the coil, not only its inlet"
        yield _sign_and_reading(job, "frost_only_at_inlet", "frosted_fraction", why)
    suction = job.reading("suction_line_temperature")
    thawed = suction is not None and suction.value > 273.15 + _WIDE_MARGIN_K
    if _seen(job, "suction_line_frosted") and thawed:
        why = "frost does not stay on a tube above 0 °C"
        yield _sign_and_reading(job, "suction_line_frosted", "suction_line_temperature", why)


_OPEN_WINDINGS = ("winding_resistance_run", "winding_resistance_start")


def _findings_against_readings(job: Job) -> Iterator[Contradiction]:
    for key in _OPEN_WINDINGS:
        reading = job.reading(key)
        is_open = reading is not None and reading.value >= _OPEN_OHM
        if _seen(job, "windings_judged_good") and is_open:
            why = "an open winding is not good"
            yield _sign_and_reading(job, "windings_judged_good", key, why)
    room = job.room.temperature_k
    if _seen(job, "coil_iced_over"):
        for key in ("evaporator_inlet_temperature", "evaporator_outlet_temperature"):
            reading = job.reading(key)
            if reading is not None and reading.value > 273.15 + 2.0 * _WIDE_MARGIN_K:
                why = "ice does not stay on a coil that warm"
                yield _sign_and_reading(job, "coil_iced_over", key, why)
    shell = job.reading("shell_temperature")
    if shell is None or room is None or not _seen(job, "compressor_runs"):
        return
    if shell.value < room - _WIDE_MARGIN_K:
        why = "the shell of one that runs is warmer than the room"
        yield _sign_and_reading(job, "compressor_runs", "shell_temperature", why)


def _signs_against_the_build(job: Job) -> Iterator[Contradiction]:
    for sign, kind, part in (
        ("condenser_fan_stopped", job.circuit.condenser, "condenser"),
        ("evaporator_fan_stopped", job.circuit.evaporator, "evaporator"),
    ):
        if _seen(job, sign) and kind is not None and kind != "fan":
            yield Contradiction(
                (sign, f"circuit.{part}"),
                f"'{SIGNS[sign].label}' is marked, but the {part} is given as {kind},"
                " which has no fan: correct one of the two.",
            )


_RULES: tuple[Callable[[Job], Iterator[Contradiction]], ...] = (
    _order_of_flow,
    _against_the_room,
    _compartments,
    _pressures,
    _parts_and_wholes,
    _windings,
    _signs_against_signs,
    _signs_against_readings,
    _findings_against_readings,
    _signs_against_the_build,
)


def _seen(job: Job, key: str) -> bool:
    sign = job.sign(key)
    return sign is not None and sign.seen


def _running_in(job: Job) -> bool:
    """Running, and long enough for the coils to show the order of flow."""
    if _seen(job, "compressor_silent") or _seen(job, "compressor_hums_and_trips"):
        return False
    since = job.taken.minutes_since_start
    return since is None or since >= _RUNNING_IN_MIN


def _just_defrosted(job: Job) -> bool:
    since = job.taken.minutes_since_defrost
    return since is not None and since < _DEFROST_MIN


def _exceeds(job: Job, one: str, other: str, margin: float) -> bool:
    left, right = job.reading(one), job.reading(other)
    if left is None or right is None:
        return False
    felt = [r.sd or 0.0 for r in (left, right) if r.by_hand]
    return left.value > right.value + margin + 2.0 * sum(felt)


def _label(key: str) -> str:
    return READINGS[key].label


def _pair(job: Job, one: str, other: str, compared: str, why: str) -> Contradiction:
    left, right = job.reading(one), job.reading(other)
    read = "" if left is None else left.entered
    against = "" if right is None else right.entered
    return Contradiction(
        (one, other),
        f"{_label(one)} reads {read}, {compared} than {_label(other)} ({against}): {why};"
        " check both readings before trusting the odds.",
    )


def _sign_and_reading(job: Job, sign: str, key: str, why: str) -> Contradiction:
    reading = job.reading(key)
    entered = "" if reading is None else reading.entered
    return Contradiction(
        (sign, key),
        f"'{SIGNS[sign].label}' is marked, but {_label(key)} is {entered}: {why};"
        " correct one of the two.",
    )

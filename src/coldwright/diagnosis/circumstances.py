"""Use and place as evidence: what the room, the history and the visit say by themselves.

Climate classes: IEC 62552-1 (2015), table of ambient temperatures: SN 10 to 32, N 16 to 32,
ST 16 to 38, T 16 to 43 degC. The other limits are ours.
"""

from __future__ import annotations

import math

from coldwright.readings.job import Job

_CLASSES_C = {"SN": (10.0, 32.0), "N": (16.0, 32.0), "ST": (16.0, 38.0), "T": (16.0, 43.0)}
_UNTOLD_C = (13.0, 35.0)  # between the classes, where the plate tells none, ours
FAR_K = 8.0  # below its class a thermostat hardly calls, ours
DAY_H = 24.0
OPEN_H = 1.0  # hours with the door open that warm a cabinet, ours
ICES_UP_WEEKS = (0.3, 12.0)  # a coil that never defrosts takes that long, ours
MELTS_K = 275.15  # a coil whose heater works passes the melting point at the end of a defrost


def circumstances(job: Job, room_k: float) -> tuple[tuple[str, bool, str], ...]:
    """Findings that follow from other entries: key, whether it is there, in plain words.

    Parameters
    ----------
    job : Job
        As entered.
    room_k : float
        Room, NaN where it was not told. [K]

    Returns
    -------
    tuple of (str, bool, str)
        Finding, whether it holds, and how it was told.
    """
    found: list[tuple[str, bool, str]] = []
    low, high = _span(job.plate.climate_class)
    if math.isfinite(room_k):
        room = room_k - 273.15
        if room < low - FAR_K:
            found.append(("far_below_class", True, "room far colder than its climate class"))
        elif room < low:
            found.append(("cold_room_for_class", True, "room colder than its climate class"))
        if room > high:
            found.append(("hot_room_for_class", True, "room hotter than its climate class"))
    history, taken = job.history, job.taken
    if history.hours_since_first_start is not None and history.hours_since_first_start < DAY_H:
        found.append(("first_day", True, "first switched on less than a day ago"))
    if taken.hours_since_unplugged is not None and taken.hours_since_unplugged < DAY_H:
        found.append(("was_unplugged", True, "without mains in the last day"))
    if history.door_left_open_hours is not None and history.door_left_open_hours >= OPEN_H:
        hours = f"{history.door_left_open_hours:g} h"
        found.append(("door_left_open_hours", True, f"door stood open for {hours}"))
    weeks = history.good_after_thaw_weeks
    if weeks is not None:
        seen = ICES_UP_WEEKS[0] <= weeks <= ICES_UP_WEEKS[1]
        found.append(("good_for_weeks_after_thaw", seen, f"good for {weeks:g} weeks after a thaw"))
        if not seen and weeks > 0.0:
            found.append(("cools_again_after_warming", True, "cooled again after a thaw"))
    peak = taken.defrost_peak_temperature_k
    if peak is not None:
        cold = peak < MELTS_K
        told = "coil stays below melting" if cold else "coil passes melting"
        found.append(("defrost_gives_no_heat", cold, f"{told} at the end of a defrost"))
    return tuple(found)


def _span(climate_class: str | None) -> tuple[float, float]:
    if climate_class is None:
        return _UNTOLD_C
    spans = [_CLASSES_C[name] for name in climate_class.split("-")]
    return min(s[0] for s in spans), max(s[1] for s in spans)

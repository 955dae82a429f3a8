"""The door frame against the room's dew point: will it sweat, and what a heater costs.

Without a loop the frame's temperature lies between room and inside by a fixed share
(plain conduction). That share comes from a reading of the frame while the loop carries
nothing, or from the model where it has one; without either it is said to be missing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from coldwright.cycle.humid_air import dew_point, vapour_pressure
from coldwright.errors import require

LEAST_HUMIDITY = 0.01
LIMIT_SHARE = 1.0


@dataclass(frozen=True, slots=True)
class DewRow:
    """One month or one humidity."""

    label: str
    room_k: float
    humidity_fraction: float
    dew_point_k: float
    most_share_fraction: float  # of the way to the inside that the frame may be, dry
    frame_k: float | None  # None: not modelled yet and not measured
    frame_low_k: float | None  # coldest and warmest by the spread of the share
    frame_high_k: float | None
    sweats_from_fraction: float | None  # humidity of this room from which the frame is wet
    sweats: bool | None


@dataclass(frozen=True, slots=True)
class FrameDew:
    """The table, and the heater that would keep the frame dry."""

    rows: tuple[DewRow, ...]
    share_fraction: float | None  # of the way from room to inside
    known_from: str
    heater_w: float | None  # for the dampest row; 0 where it stays dry
    heater_kwh_year: float | None  # only where the rows are months


def humidity_at(dew: float, temperature: float) -> float:
    """Relative humidity of air of a temperature that has a dew point, one where it is above. [-]

    Parameters
    ----------
    dew : float
        Dew point, -40 to 60 °C. [K]
    temperature : float
        Of the air, -40 to 60 °C. [K]

    Returns
    -------
    float
        Relative humidity, 0 to 1. [-]

    Raises
    ------
    OutOfRange
        If the dew point or the air temperature is out of range.

    References
    ----------
    .. [1] Inverse of `dew_point`.

    Examples
    --------
    >>> humidity_at(293.15, 293.15)
    1.0
    """
    require("dew point", dew, "K", 233.15, 333.15)
    require("air temperature", temperature, "K", 233.15, 333.15)
    return min(vapour_pressure(dew) / vapour_pressure(temperature), 1.0)


def share_from_reading(frame: float, room: float, inside: float) -> float | None:
    """Share of the way from room to inside at which the frame stands, None where it says nothing.

    Parameters
    ----------
    frame : float
        Frame temperature, loop without flow. [K]
    room : float
        Room temperature. [K]
    inside : float
        Temperature behind the frame. [K]

    Returns
    -------
    float or None
        Share, 0 to `LIMIT_SHARE`, or None. [-]

    Examples
    --------
    >>> round(share_from_reading(291.15, 298.15, 278.15), 2)
    0.35
    """
    if room - inside < 5.0:
        return None
    share = (room - frame) / (room - inside)
    return share if 0.0 <= share <= LIMIT_SHARE else None


def frame_dew(
    rooms: Sequence[tuple[str, float, float]],
    inside: float,
    share: float | None,
    known_from: str,
    *,
    months: bool = False,
    spread: tuple[float, float] | None = None,
    heater_w_per_k: float = 1.2,
    inward: float = 0.5,
    cop: float = 1.3,
) -> FrameDew:
    """The table over months or humidities.

    Parameters
    ----------
    rooms : sequence of (str, float, float)
        Label, room temperature and relative humidity. [K, -]
    inside : float
        Temperature of the compartment behind the frame. [K]
    share : float or None
        See `share_from_reading`. [-]
    known_from : str
        Where the share comes from, or that it is not modelled yet.
    months : bool
        Whether the rows are the months of a year, so that a yearly energy means something.
    spread : tuple of float or None
        Least and largest share, where it has a spread. [-]
    heater_w_per_k : float
        Heater per kelvin that the frame must be lifted; judgement of ours. [W/K]
    inward : float
        Share of its heat that goes into the cabinet; judgement of ours. [-]
    cop : float
        Cooling over electrical work, to carry that heat out again; judgement of ours. [-]

    Returns
    -------
    FrameDew
        Rows with temperatures [K], heater power [W] and energy a year [kWh].
    """
    rows = []
    powers = []
    for label, room, humidity in rooms:
        dew = dew_point(room, max(humidity, LEAST_HUMIDITY))
        most = (room - dew) / (room - inside) if room > inside else 1.0
        frame = None if share is None else room - share * (room - inside)
        low, high = spread or (share, share)
        cold = None if high is None else room - high * (room - inside)
        warm = None if low is None else room - low * (room - inside)
        wet = None if frame is None else frame < dew
        start = None if frame is None else humidity_at(frame, room)
        rows.append(
            DewRow(label, room, humidity, dew, min(most, 1.0), frame, cold, warm, start, wet)
        )
        # A degree of margin, but only where it would sweat at all.
        powers.append(max(0.0, dew + 1.0 - frame) * heater_w_per_k if frame and wet else 0.0)
    if share is None:
        return FrameDew(tuple(rows), None, known_from, None, None)
    energy = None
    if months:
        energy = sum(powers) / len(powers) * (1.0 + inward / cop) * 8.766
    return FrameDew(tuple(rows), share, known_from, max(powers), energy)

"""The door frame against the room's dew point: does it sweat?"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, isnan, log, nan

from coldwright.circuit.records import Circuit
from coldwright.circuit.vector import pack_circuit
from coldwright.cycle.high_side.loops import bare_frame
from coldwright.cycle.state import RunningState
from coldwright.errors import require

# Alduchov & Eskridge (1996), J. Applied Meteorology 35, 601, eq. (21): 0.4 % in -40..50 degC.
_A, _B_K, _E0_PA, _ZERO = 17.625, 243.04, 610.94, 273.15


@dataclass(frozen=True, slots=True)
class DoorFrame:
    """The flange round the door, hottest to coldest in its cycle, and the room's dew point."""

    running_k: float  # coldest end while the compressor runs
    resting_k: float  # after a long stop, or where the loop is by-passed
    over_cycle_k: float  # mean of both by the share of the time it runs
    dew_point_k: float  # NaN where the humidity was not told
    margin_running_k: float
    margin_over_cycle_k: float  # below 0 it sweats
    sweats_from_humidity_fraction: float  # of the room, by the mean over the cycle


def vapour_pressure(t_k: float) -> float:
    """Saturation pressure of water over liquid.

    Parameters
    ----------
    t_k : float
        Temperature, 233 to 323. [K]

    Returns
    -------
    float
        Pressure. [Pa]

    References
    ----------
    .. [1] Alduchov & Eskridge (1996), J. Applied Meteorology 35, 601, eq. (21).
    """
    t = t_k - _ZERO
    return _E0_PA * exp(_A * t / (t + _B_K))


def dew_point(t_k: float, humidity: float) -> float:
    """Temperature at which air of that state begins to wet a surface.

    Parameters
    ----------
    t_k : float
        Air temperature, 233 to 323. [K]
    humidity : float
        Relative, above 0 and up to 1. [-]

    Returns
    -------
    float
        Dew point over liquid water, also below 0 degC. [K]

    Raises
    ------
    OutOfRange
        If a value lies outside.

    References
    ----------
    .. [1] Alduchov & Eskridge (1996), inverted.
    """
    require("air temperature", t_k, "K", 233.15, 323.15)
    require("relative humidity", humidity, "-", 1e-3, 1.0)
    y = log(humidity) + _A * (t_k - _ZERO) / (t_k - _ZERO + _B_K)
    return _ZERO + _B_K * y / (_A - y)


def door_frame(
    circuit: Circuit, state: RunningState, room_k: float, humidity: float | None
) -> DoorFrame | None:
    """The door frame of a running circuit; None where none is described.

    The flange follows its loop within minutes, the compressor's cycle takes tens: what wets
    it is judged by the mean over the cycle (ours).

    Parameters
    ----------
    circuit : Circuit
        The circuit.
    state : RunningState
        Its running state.
    room_k : float
        Room temperature, 233 to 323. [K]
    humidity : float or None
        Relative humidity of the room, above 0 and up to 1. [-]

    References
    ----------
    .. [1] Heat balance of the flange, `loops.bare_frame`; `dew_point`.
    """
    if isnan(state.door_frame_k):
        return None
    rest, _ = bare_frame(pack_circuit(circuit)[0], room_k, state.fresh_food_k, state.freezer_k)
    running = min(state.door_frame_k, state.door_frame_outlet_k)
    mean = rest + state.run_fraction * (running - rest)
    dew = nan if humidity is None else dew_point(room_k, humidity)
    return DoorFrame(
        running_k=running,
        resting_k=float(rest),
        over_cycle_k=float(mean),
        dew_point_k=dew,
        margin_running_k=running - dew,
        margin_over_cycle_k=float(mean) - dew,
        sweats_from_humidity_fraction=min(vapour_pressure(mean) / vapour_pressure(room_k), 1.0),
    )

"""Air that a low-side leak draws in while the low side runs below the air pressure."""

from __future__ import annotations

from coldwright.cycle.high_side.walk import GAS_CONSTANT
from coldwright.cycle.state import RunningState
from coldwright.errors import require

AIR_MOLAR_MASS = 0.0289644  # [kg/mol], ISO 2533 (1975)


def air_drawn_in(
    state: RunningState, leak: float, seconds: float, *, air_pressure: float, room_k: float
) -> float:
    """Mole of air drawn in through a leak of the low side.

    The compressor's running share of the time counts; while it rests the low side stands
    above the air's pressure and loses refrigerant instead.

    Parameters
    ----------
    state : RunningState
        Running state; its evaporating pressure and run fraction are used.
    leak : float
        Throughput of air from one standard atmosphere into vacuum through the same leak, at
        least 0. [Pa·m³/s]
    seconds : float
        Time on the wall, at least 0. [s]
    air_pressure : float
        Of the place, 5e4 to 1.1e5. [Pa]
    room_k : float
        Room temperature, 233 to 333. [K]

    Returns
    -------
    float
        Amount, 0 where the low side runs above the air pressure. [mol]

    Raises
    ------
    OutOfRange
        If a value lies outside.

    References
    ----------
    .. [1] Laminar viscous flow through a leak, throughput as p1² - p2² (EN 1779, from
       memory); ideal gas.
    """
    require("leak", leak, "Pa·m³/s", 0.0, 1e3)
    require("time", seconds, "s", 0.0, 1e10)
    require("air pressure", air_pressure, "Pa", 5e4, 1.1e5)
    require("room temperature", room_k, "K", 233.15, 333.15)
    drive = air_pressure**2 - state.evaporating_pressure_pa**2
    if drive <= 0.0:
        return 0.0
    throughput = leak * drive / 101325.0**2
    return throughput * seconds * state.run_fraction / (GAS_CONSTANT * room_k)

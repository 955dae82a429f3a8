"""What one opening of a door brings in: warm air and its moisture."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.cycle.humid_air import vapour_density

EXCHANGED = 0.8  # of the compartment's air at one opening; judgement of ours
AIR_DENSITY, AIR_HEAT = 1.2, 1005.0  # [kg/m3], [J/(kg K)]
FREEZES = 2.84e6  # condensing and freezing, at 0 degC: 2.50e6 + 0.334e6 [J/kg]
CONDENSES = 2.50e6
ICE = 334e3  # melting heat of ice [J/kg]


@dataclass(frozen=True, slots=True)
class Opening:
    """Heat and water of one opening."""

    heat_j: float
    water_kg: float


def opening(volume_m3: float, inside_k: float, room_k: float, humidity: float) -> Opening:
    """One opening of a compartment.

    Parameters
    ----------
    volume_m3 : float
        Of the compartment. [m3]
    inside_k : float
        Its air, taken as saturated. [K]
    room_k : float
        The room's. [K]
    humidity : float
        The room's relative humidity. [-]

    Returns
    -------
    Opening
        Heat and water of one opening. [SI]

    References
    ----------
    .. [1] Air exchanged as a share of the volume, judgement of ours.
    """
    air = EXCHANGED * volume_m3
    water = air * max(vapour_density(room_k, humidity) - vapour_density(inside_k, 1.0), 0.0)
    dry = air * AIR_DENSITY * AIR_HEAT * max(room_k - inside_k, 0.0)
    return Opening(dry + water * CONDENSES, water)

"""What one opening of a door brings in: warm air and its moisture."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp

EXCHANGED = 0.8  # of the compartment's air at one opening; judgement of ours
AIR_DENSITY, AIR_HEAT = 1.2, 1005.0  # [kg/m3], [J/(kg K)]
FREEZES = 2.84e6  # condensing and freezing, at 0 degC: 2.50e6 + 0.334e6 [J/kg]
CONDENSES = 2.50e6
ICE = 334e3  # melting heat of ice [J/kg]
GAS_CONSTANT_WATER = 461.5  # [J/(kg K)]
FREEZING = 273.15


@dataclass(frozen=True, slots=True)
class Opening:
    """Heat and water of one opening."""

    heat_j: float
    water_kg: float


def vapour_density(temperature_k: float, humidity: float) -> float:
    """Water in air. [kg/m3]

    Parameters
    ----------
    temperature_k : float
        Air temperature, 220 to 330. [K]
    humidity : float
        Relative humidity, over water above 0 degC and over ice below. [-]

    References
    ----------
    .. [1] Magnus form of Alduchov & Eskridge (1996), J. Appl. Meteorol. 35, 601, eqs. (21)
       and (23); their error is below 0.4 %.
    """
    t = temperature_k - FREEZING
    if t >= 0.0:
        p = 610.94 * exp(17.625 * t / (243.04 + t))
    else:
        p = 611.21 * exp(22.587 * t / (273.86 + t))
    return humidity * p / (GAS_CONSTANT_WATER * temperature_k)


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

    References
    ----------
    .. [1] Air exchanged as a share of the volume, judgement of ours.
    """
    air = EXCHANGED * volume_m3
    water = air * max(vapour_density(room_k, humidity) - vapour_density(inside_k, 1.0), 0.0)
    dry = air * AIR_DENSITY * AIR_HEAT * max(room_k - inside_k, 0.0)
    return Opening(dry + water * CONDENSES, water)

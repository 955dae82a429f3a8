"""Heat capacities of an appliance, from what its circuit record holds of sizes.

None of them stands on a plate; each is a judgement of ours from usual materials, and says so.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coldwright.circuit.records import Circuit, CondenserKind, EvaporatorKind
from coldwright.cycle.standstill.rest import SHELL_TIME

FOAM_DENSITY, FOAM_HEAT = 35.0, 1400.0  # [kg/m3], [J/(kg K)] (ours)
WALL = {"fresh_food": 0.05, "freezer": 0.065}  # usual thickness (ours) [m]
# Wall with gasket, per outside area, of a usual year (`catalogue.families`); a freezer's less
WALL_COEFFICIENT = {"fresh_food": 0.40, "freezer": 0.30}  # [W/(m2 K)] (ours)
OUTSIDE = 1.45  # outside over net volume, as `catalogue.sizing`
LINER = 8000.0  # plastic liner 2700, glass shelves and drawers the rest, per area [J/(m2 K)] (ours)
LINER_FILM = 6.0  # free convection and radiation, inside [W/(m2 K)] (ours)
AIR = 1.2 * 1005.0  # [J/(m3 K)]
# A household load where none is told (ours) [kg/m3]
USUAL_LOAD = {"fresh_food": 60.0, "freezer": 200.0}
BOX = 6.0  # area of a box over its volume to the power 2/3, as `catalogue.sizing`
# Walls per outside area: roll-bond aluminium 1.5 mm with frost, tube on liner with its foil,
# finned block; wires and tubes of steel, steel sheet with tube, finned block (all ours) [J/(m2 K)]
EVAPORATOR = {
    EvaporatorKind.PLATE: 3000.0,
    EvaporatorKind.COLD_WALL: 4000.0,
    EvaporatorKind.FAN: 900.0,
}
CONDENSER = {CondenserKind.STATIC: 1700.0, CondenserKind.SKIN: 2500.0, CondenserKind.FAN: 1000.0}


@dataclass(frozen=True, slots=True)
class Space:
    """One compartment; all zero where there is none."""

    conductance_w_k: float  # room to air, through wall and gasket
    share_fraction: float  # of the evaporator's air
    volume_m3: float
    air_j_k: float
    liner_j_k: float
    liner_w_k: float  # to the air
    wall_j_k: float


@dataclass(frozen=True, slots=True)
class Masses:
    """All heat capacities of one appliance."""

    fresh_food: Space
    freezer: Space
    evaporator_j_k: float
    condenser_j_k: float
    shell_j_k: float


def masses_of(
    circuit: Circuit, fresh_food_m3: float | None = None, freezer_m3: float | None = None
) -> Masses:
    """Heat capacities of an appliance.

    Parameters
    ----------
    circuit : Circuit
        Its circuit and cabinet.
    fresh_food_m3, freezer_m3 : float or None
        Net volumes where the plate gives them; else from the walls' conductance. [m3]

    References
    ----------
    .. [1] Judgements of ours; the shell keeps the time constant of the readings' rules.
    """
    k = circuit.cabinet
    evaporator, condenser = circuit.evaporator, circuit.condenser
    return Masses(
        _space(k.fresh_food_conductance_w_k, k.air_share_fraction, "fresh_food", fresh_food_m3),
        _space(k.freezer_conductance_w_k, 1.0 - k.air_share_fraction, "freezer", freezer_m3),
        EVAPORATOR[EvaporatorKind(int(evaporator.kind_code))] * evaporator.area_m2,
        CONDENSER[CondenserKind(int(condenser.kind_code))] * condenser.area_m2,
        SHELL_TIME * circuit.compressor.shell_conductance_w_k,
    )


def volume_behind(conductance_w_k: np.ndarray | float, name: str) -> np.ndarray | float:
    """Net volume of a compartment with walls of usual make. [m3]

    Parameters
    ----------
    conductance_w_k : ndarray or float
        Room to air. [W/K]
    name : str
        `fresh_food` or `freezer`.
    """
    return (conductance_w_k / WALL_COEFFICIENT[name] / BOX) ** 1.5 / OUTSIDE


def _space(conductance: float, share: float, name: str, volume: float | None) -> Space:
    if conductance <= 0.0:
        return Space(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    thick = WALL[name]
    if volume is None:
        volume = float(volume_behind(conductance, name))
    area = BOX * volume ** (2.0 / 3.0)
    return Space(
        conductance, share, volume, AIR * volume, LINER * area, LINER_FILM * area,
        FOAM_DENSITY * FOAM_HEAT * area * thick,
    )  # fmt: skip

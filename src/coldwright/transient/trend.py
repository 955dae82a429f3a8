"""How fast a cabinet on its way cools while the compressor runs: one heat balance.

What the evaporator takes beyond the load goes out of air, liner, the inner half of the foam
and part of the goods; all are taken to fall together. A member of an ensemble gets its rate
so without a march over hours. `coldwright pulldown` marches the same heat capacities node by
node; the two are held against each other in tests/physics/test_trend.py.
"""

from __future__ import annotations

import numpy as np

from coldwright.circuit.records import EvaporatorKind
from coldwright.transient.masses import (
    AIR,
    BOX,
    EVAPORATOR,
    FOAM_DENSITY,
    FOAM_HEAT,
    LINER,
    USUAL_LOAD,
    WALL,
    volume_behind,
)

INNER_FOAM = 0.5  # of the foam follows the liner, ours
# Heat of a household load between frozen and not, and how much of it follows within an hour:
# packages lag by two hours and more, so that little of them freezes meanwhile (both ours)
# [J/(kg K)], [-]
GOODS_HEAT = 2600.0
FOLLOWS = 0.4


def cooling_rate(circuits: np.ndarray, states: np.ndarray, room_k: np.ndarray) -> np.ndarray:
    """Fall of the compartments' temperature, negative where they warm up. [K/s]

    Parameters
    ----------
    circuits : ndarray
        Structured, dtype of `circuit.vector.CIRCUIT`, shape (n,).
    states : ndarray
        States at the compartment temperatures of the visit, shape (n,), running or at rest.
    room_k : ndarray
        Room, shape (n,). [K]

    Returns
    -------
    ndarray
        Shape (n,). [K/s]

    References
    ----------
    .. [1] Heat balance of the cabinet as one lump; heat capacities of `masses` (ours).
    """
    k = circuits["cabinet"]
    still = states["mass_flow_kg_s"] <= 0.0
    rest = (
        k["fresh_food_conductance_w_k"] * (room_k - states["fresh_food_k"])
        + k["freezer_conductance_w_k"] * (room_k - states["freezer_k"])
        + k["heater_power_w"] + k["opening_power_w"]
    )  # fmt: skip
    load = np.where(still, rest, states["load_w"])
    cooling = np.where(still, 0.0, states["cooling_w"])
    return np.asarray((cooling - load) / heat_capacity(circuits))


def heat_capacity(circuits: np.ndarray) -> np.ndarray:
    """What follows the air within an hour or so, shape (n,). [J/K]

    Parameters
    ----------
    circuits : ndarray
        As in `cooling_rate`.

    Returns
    -------
    ndarray
        Shape (n,). [J/K]

    References
    ----------
    .. [1] Capacities of `masses` (ours).
    """
    k, coil = circuits["cabinet"], circuits["evaporator"]
    per_area = np.array([EVAPORATOR[EvaporatorKind(i)] for i in range(len(EvaporatorKind))])
    total = per_area[coil["kind_code"].astype(int)] * coil["area_m2"]
    for name in ("fresh_food", "freezer"):
        conductance = k[f"{name}_conductance_w_k"]
        volume = volume_behind(conductance, name)
        area = BOX * volume ** (2.0 / 3.0)
        foam = INNER_FOAM * FOAM_DENSITY * FOAM_HEAT * WALL[name]
        goods = FOLLOWS * USUAL_LOAD[name] * GOODS_HEAT
        total = total + area * (LINER + foam) + volume * (AIR + goods)
    return np.asarray(total)

"""The cabinet as a network of heat capacities, stepped by the implicit Euler rule.

Each compartment is air, liner with shelves, and foam; goods hang on the air, the
evaporator's wall takes heat from it. What the implicit step moves is booked as moved, so the
balance of heat closes to rounding whatever the step.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coldwright.transient.goods import (
    CONDUCTANCE_W_K_KG,
    Curve,
    capacity,
    curve_of,
    enthalpy,
    temperature,
)
from coldwright.transient.masses import Masses, Space
from coldwright.transient.records import Compartment, Goods

AIR, LINER, FOAM = 0, 1, 2  # nodes of a compartment
FRESH_FOOD, FREEZER, EVAPORATOR, FIRST_LOT = 0, 3, 6, 7
START = {Compartment.FRESH_FOOD: FRESH_FOOD, Compartment.FREEZER: FREEZER}
NO_CAPACITY = 1.0  # of the nodes of a compartment that is not there [J/K]


@dataclass(frozen=True, slots=True)
class Lot:
    """Goods in the network."""

    goods: Goods
    curve: Curve
    air: int  # node of the air around it


@dataclass(frozen=True, slots=True)
class Push:
    """What acts on the network over one step; heats in watt."""

    fresh_food_w: float
    freezer_w: float
    evaporator_w: float  # into its wall, negative while the refrigerant cools it
    coil_w_k: float  # evaporator's wall to its air
    mixing_w_k: float  # air moved between the compartments by way of the evaporator
    room_k: float
    share_fraction: float  # of the coil's air from the fresh-food side, behind its damper


@dataclass(frozen=True, slots=True)
class Moved:
    """What one step moved. [J]"""

    walls_j: float
    stored_j: float
    coil_j: float  # from air to the evaporator's wall


class Network:
    """Temperatures of the cabinet, changed in place by `step`."""

    def __init__(self, masses: Masses) -> None:
        self.masses = masses
        self.spaces = (masses.fresh_food, masses.freezer)
        self.lots: list[Lot] = []
        self.enthalpies: list[float] = []  # of the lots [J]
        self.temperatures: np.ndarray = np.zeros(FIRST_LOT)

    def begin(
        self, fresh_food_k: float, freezer_k: float, evaporator_k: float, room_k: float
    ) -> None:
        """Set every node.

        Parameters
        ----------
        fresh_food_k, freezer_k : float
            Air, liner. [K]
        evaporator_k : float
            Wall of the evaporator. [K]
        room_k : float
            Room; the foam begins half way. [K]
        """
        t = self.temperatures
        for first, inside in ((FRESH_FOOD, fresh_food_k), (FREEZER, freezer_k)):
            t[first + AIR], t[first + LINER] = inside, inside
            t[first + FOAM] = 0.5 * (inside + room_k)
        t[EVAPORATOR] = evaporator_k

    def put_in(self, goods: Goods) -> float:
        """Add goods; the heat they bring counted from where goods end (enthalpy zero). [J]"""
        air = START[goods.compartment] + AIR
        t = goods.temperature_k
        if t != t:  # NaN: as the compartment stands
            t = float(self.temperatures[air])
        lot = Lot(goods, curve_of(goods), air)
        self.lots.append(lot)
        self.enthalpies.append(goods.mass_kg * enthalpy(lot.curve, t))
        self.temperatures = np.append(self.temperatures, t)
        return self.enthalpies[-1]

    def copy(self) -> Network:
        """The same network, to try a step on.

        Returns
        -------
        Network
            Independent of this one.
        """
        other = Network(self.masses)
        other.lots, other.enthalpies = list(self.lots), list(self.enthalpies)
        other.temperatures = self.temperatures.copy()
        return other

    def mixed_k(self, share: float) -> float:
        """Air that returns to the evaporator. [K]

        Parameters
        ----------
        share : float
            Of it from the fresh-food side. [-]
        """
        t = self.temperatures
        return float(share * t[FRESH_FOOD] + (1.0 - share) * t[FREEZER])

    def stored_j(self) -> float:
        """Heat content, counted from 0 K for walls and from enthalpy zero for goods. [J]"""
        return float(self._capacities() @ self.temperatures[:FIRST_LOT]) + sum(self.enthalpies)

    def step(self, push: Push, seconds: float) -> Moved:
        """One implicit step.

        Parameters
        ----------
        push : Push
            What acts.
        seconds : float
            Length. [s]

        Returns
        -------
        Moved
            Heats of the step. [J]

        References
        ----------
        .. [1] Implicit Euler rule, Hairer & Wanner (1996), Solving Ordinary Differential
           Equations II, ch. IV.3; A-stable, first order.
        """
        n = FIRST_LOT + len(self.lots)
        before = self.temperatures
        a, b = np.zeros((n, n)), np.zeros(n)
        heat = np.empty(n)
        heat[:FIRST_LOT] = self._capacities()
        for i, lot in enumerate(self.lots):
            heat[FIRST_LOT + i] = lot.goods.mass_kg * capacity(lot.curve, before[FIRST_LOT + i])
        diagonal = np.arange(n)
        a[diagonal, diagonal] = heat / seconds
        b[:] = heat / seconds * before
        b[FRESH_FOOD] += push.fresh_food_w
        b[FREEZER] += push.freezer_w
        b[EVAPORATOR] += push.evaporator_w
        for space, first in zip(self.spaces, (FRESH_FOOD, FREEZER), strict=True):
            _link(a, first + AIR, first + LINER, space.liner_w_k)
            _link(a, first + AIR, first + FOAM, 2.0 * space.conductance_w_k)
            a[first + FOAM, first + FOAM] += 2.0 * space.conductance_w_k
            b[first + FOAM] += 2.0 * space.conductance_w_k * push.room_k
        for i, lot in enumerate(self.lots):
            _link(a, lot.air, FIRST_LOT + i, _lot_conductance(lot))
        self._air(a, push)
        after = np.linalg.solve(a, b)
        walls = sum(
            2.0 * space.conductance_w_k * (push.room_k - after[first + FOAM])
            for space, first in zip(self.spaces, (FRESH_FOOD, FREEZER), strict=True)
        )
        stored = float(heat[:FIRST_LOT] @ (after[:FIRST_LOT] - before[:FIRST_LOT]))
        for i, lot in enumerate(self.lots):
            warmer = float(after[lot.air] - after[FIRST_LOT + i])
            gained = _lot_conductance(lot) * warmer * seconds
            self.enthalpies[i] += gained
            stored += gained
            after[FIRST_LOT + i] = temperature(lot.curve, self.enthalpies[i] / lot.goods.mass_kg)
        self.temperatures = after
        coil = push.coil_w_k * (self.mixed_k(push.share_fraction) - after[EVAPORATOR])
        return Moved(float(walls) * seconds, float(stored), float(coil) * seconds)

    def _capacities(self) -> np.ndarray:
        heat = np.full(FIRST_LOT, NO_CAPACITY)
        for space, first in zip(self.spaces, (FRESH_FOOD, FREEZER), strict=True):
            if space.volume_m3 > 0.0:
                heat[first : first + 3] = space.air_j_k, space.liner_j_k, space.wall_j_k
        heat[EVAPORATOR] = self.masses.evaporator_j_k
        return heat

    def _air(self, a: np.ndarray, push: Push) -> None:
        """Air of both compartments over the coil: s_i (K (T_i - T_mix) + G (T_mix - T_w))."""
        shares = (push.share_fraction, 1.0 - push.share_fraction)
        nodes = (FRESH_FOOD, FREEZER)
        mixing, coil = push.mixing_w_k, push.coil_w_k
        for s_i, i in zip(shares, nodes, strict=True):
            a[i, i] += s_i * mixing
            for s_j, j in zip(shares, nodes, strict=True):
                a[i, j] += s_i * s_j * (coil - mixing)
            a[i, EVAPORATOR] -= s_i * coil
            a[EVAPORATOR, i] -= s_i * coil
        a[EVAPORATOR, EVAPORATOR] += coil


def _link(a: np.ndarray, i: int, j: int, conductance: float) -> None:
    a[i, i] += conductance
    a[j, j] += conductance
    a[i, j] -= conductance
    a[j, i] -= conductance


def _lot_conductance(lot: Lot) -> float:
    return CONDUCTANCE_W_K_KG * lot.goods.mass_kg


def split(masses: Masses, heat: float) -> tuple[float, float]:
    """Heat inside the cabinet shared by the walls' conductance, as the steady balance does.

    Parameters
    ----------
    masses : Masses
        Of the appliance.
    heat : float
        Heat. [W]

    Returns
    -------
    tuple of float
        Fresh-food and freezer side. [W]
    """
    a, b = masses.fresh_food.conductance_w_k, masses.freezer.conductance_w_k
    return heat * a / (a + b), heat * b / (a + b)


def spaces_of(masses: Masses) -> tuple[tuple[Compartment, Space], ...]:
    """The compartments that are there.

    Parameters
    ----------
    masses : Masses
        Of the cabinet.

    Returns
    -------
    tuple
        Name and space of those with a volume.
    """
    both = (
        (Compartment.FRESH_FOOD, masses.fresh_food), (Compartment.FREEZER, masses.freezer),
    )  # fmt: skip
    return tuple((name, space) for name, space in both if space.volume_m3 > 0.0)

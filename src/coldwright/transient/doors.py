"""Doors opened one by one, evenly through the hours; else the circuit's averaged opening power."""

from __future__ import annotations

from coldwright.circuit.records import Cabinet
from coldwright.transient.masses import Masses
from coldwright.transient.moist import FREEZES, opening
from coldwright.transient.network import FREEZER, FRESH_FOOD, Network
from coldwright.transient.records import Doors

FREEZER_DOOR = 5  # of so many openings one is the freezer's, where there are two doors (ours)
MOISTURE_SHARE = 0.2  # of the averaged opening power, freezes on the evaporator (ours)


class Openings:
    """Counts openings; says what each brings."""

    def __init__(
        self, doors: Doors | None, masses: Masses, cabinet: Cabinet, room_k: float
    ) -> None:
        self._doors, self._masses, self._cabinet, self._room = doors, masses, cabinet, room_k
        self._due, self._opened = 0.0, 0

    def heat(self, network: Network, seconds: float) -> tuple[float, float]:
        """Into fresh-food and freezer air during the next step. [W]

        Parameters
        ----------
        network : Network
            The cabinet now.
        seconds : float
            Length of the step. [s]
        """
        doors = self._doors
        if doors is None:
            return 0.0, 0.0
        ff = fz = 0.0
        for i in range(int(self._due + doors.per_hour * seconds / 3600.0)):
            node, volume = self._door(self._opened + i)
            inside = float(network.temperatures[node])
            heat = opening(volume, inside, self._room, doors.humidity_fraction).heat_j / seconds
            ff, fz = (ff + heat, fz) if node == FRESH_FOOD else (ff, fz + heat)
        return ff, fz

    def done(self, network: Network, seconds: float) -> float:
        """Count the step's openings; the water they brought. [kg]

        Parameters
        ----------
        network : Network
            The cabinet before the step.
        seconds : float
            Length of the step. [s]
        """
        doors = self._doors
        if doors is None:
            return MOISTURE_SHARE * self._cabinet.opening_power_w / FREEZES * seconds
        self._due += doors.per_hour * seconds / 3600.0
        count = int(self._due)
        self._due -= count
        water = 0.0
        for _ in range(count):
            node, volume = self._door(self._opened)
            inside = float(network.temperatures[node])
            water += opening(volume, inside, self._room, doors.humidity_fraction).water_kg
            self._opened += 1
        return water

    def _door(self, number: int) -> tuple[int, float]:
        both = self._masses.fresh_food.volume_m3 > 0.0
        if both and (number + 1) % FREEZER_DOOR:
            return FRESH_FOOD, self._masses.fresh_food.volume_m3
        return FREEZER, self._masses.freezer.volume_m3

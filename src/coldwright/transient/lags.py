"""What follows slowly: shell, condenser, damper; exponentials toward where they would end."""

from __future__ import annotations

from math import exp

from coldwright.circuit.records import Circuit
from coldwright.transient.masses import Masses
from coldwright.transient.pump import Pumped

DAMPER_BAND, DAMPER_LEAK = 2.0, 0.1  # [K] from shut to open, share that passes when shut (ours)
DAMPER_LAG = 300.0  # of its bellows or motor [s] (ours)


def toward(now: float, end: float, tau: float, seconds: float) -> float:
    """A first-order lag, exact where its end stands still.

    Parameters
    ----------
    now, end : float
        Value and where it goes. [K]
    tau : float
        Time constant. [s]
    seconds : float
        Time. [s]

    Returns
    -------
    float
        Value after the time. [as value]
    """
    return end + (now - end) * exp(-seconds / tau)


class Metal:
    """Shell and condenser with their heat capacities."""

    def __init__(self, circuit: Circuit, masses: Masses, room_k: float) -> None:
        self._masses, self._room = masses, room_k
        self._shell_ua = circuit.compressor.shell_conductance_w_k
        self._inward = circuit.condenser.inward_conductance_w_k
        self.shell = self.condenser = room_k

    def step(self, pumped: Pumped | None, room_w_k: float, inside_k: float, seconds: float) -> None:
        """Move on.

        Parameters
        ----------
        pumped : Pumped or None
            What heats them; None at rest.
        room_w_k : float
            Condenser to room. [W/K]
        inside_k : float
            Compartment behind a skin condenser. [K]
        seconds : float
            Length. [s]
        """
        heat = 0.0 if pumped is None else pumped.shell_w
        tau = self._masses.shell_j_k / self._shell_ua
        self.shell = toward(self.shell, self._room + heat / self._shell_ua, tau, seconds)
        both = room_w_k + self._inward
        heat = 0.0 if pumped is None else pumped.condenser_w
        end = (room_w_k * self._room + self._inward * inside_k + heat) / both
        tau = self._masses.condenser_j_k / both
        self.condenser = toward(self.condenser, end, tau, seconds)


class Damper:
    """Holds back the fresh-food side's air where that side is cold enough."""

    def __init__(self, set_k: float) -> None:
        self._set = set_k
        self.open = 1.0

    def step(self, fresh_food_k: float, seconds: float) -> None:
        """Move on.

        Parameters
        ----------
        fresh_food_k : float
            Air of that side. [K]
        seconds : float
            Length. [s]
        """
        wanted = 1.0 + (fresh_food_k - self._set) / DAMPER_BAND
        self.open = toward(self.open, min(max(wanted, DAMPER_LEAK), 1.0), DAMPER_LAG, seconds)

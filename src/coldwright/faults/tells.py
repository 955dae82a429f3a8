"""How probable it is that a fault's sign is there, member by member.

A sign that follows from the running state alone needs nothing here; these laws are for signs
whose cause lies outside the circuit (dust, fans, seals). Every number is a judgement of ours.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from coldwright.cycle.state import PUMPED_DOWN, UNSOLVED
from coldwright.errors import OutOfRange


@dataclass(frozen=True, slots=True)
class Members:
    """Members of one fault: severity (n,) and running state (n,), field by field."""

    severity: np.ndarray
    state: np.ndarray
    kinds: tuple[str, ...] = ()  # of the fault's ways, in their order
    way: np.ndarray | None = None  # index into them
    room_k: np.ndarray | None = None
    dry: bool = False  # the fault lets nothing flow

    @property
    def no_flow(self) -> np.ndarray:
        """Whether nothing flows."""
        return np.asarray((self.state["status_code"] == PUMPED_DOWN) | self.dry)

    def at(self, name: str, without_flow: float) -> np.ndarray:
        """A field of the state, with the value it takes where nothing flows.

        Parameters
        ----------
        name : str
            Field of `cycle.state.RunningState`.
        without_flow : float
            What stands in where nothing flows. [as the field]
        """
        values = np.where(self.no_flow, without_flow, self.state[name])
        lost = ~np.isfinite(values) & (self.state["status_code"] != UNSOLVED)
        if lost.any():
            raise OutOfRange(f"state {name}", float("nan"), -np.inf, np.inf, "SI")
        return values


Present = Callable[[Members], np.ndarray | float]
Tell = Callable[[Members, Present], np.ndarray | float]  # with what is usual under any fault


def step(x: np.ndarray, middle: float, width: float) -> np.ndarray:
    """Logistic step: 0 far below `middle`, 1 far above; falls where `width` is negative.

    Parameters
    ----------
    x : ndarray
        Driver. [any]
    middle : float
        Where it is one half. [as x]
    width : float
        From one half to 0.73. [as x]

    Returns
    -------
    ndarray
        From 0 to 1, as x's shape. [-]

    References
    ----------
    .. [1] Logistic function; its use is ours.

    Examples
    --------
    >>> step(np.array([0.0, 5.0, 10.0]), 5.0, 0.5).round(3).tolist()
    [0.0, 0.5, 1.0]
    """
    return np.asarray(0.5 * (1.0 + np.tanh(0.5 * (x - middle) / width)))


@dataclass(frozen=True, slots=True)
class Always:
    """The same probability for every member."""

    probability: float

    def __call__(self, m: Members, usual: Present) -> float:
        """The probability."""
        return self.probability


@dataclass(frozen=True, slots=True)
class AlongSeverity:
    """From one probability to another along the fault's severity."""

    low: float
    high: float
    middle: float  # severity half way between
    width: float

    def __call__(self, m: Members, usual: Present) -> np.ndarray:
        """By each member's severity."""
        along = step(m.severity, self.middle, self.width)
        return np.asarray(self.low + (self.high - self.low) * along)


@dataclass(frozen=True, slots=True)
class Between:
    """There between two severities, hardly ever beside them."""

    base: float
    more: float
    rises: tuple[float, float]  # middle and width
    falls: tuple[float, float]

    def __call__(self, m: Members, usual: Present) -> np.ndarray:
        """By each member's severity."""
        up, down = step(m.severity, *self.rises), step(m.severity, self.falls[0], -self.falls[1])
        return np.asarray(self.base + self.more * up * down)


@dataclass(frozen=True, slots=True)
class AtLeast:
    """As usual, but never less probable than this."""

    probability: float

    def __call__(self, m: Members, usual: Present) -> np.ndarray:
        """The larger of the two."""
        return np.maximum(usual(m), self.probability)

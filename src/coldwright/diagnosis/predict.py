"""What each member's instruments would read: true values by the model, and the air around."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np

from coldwright.catalogue.readings import READINGS
from coldwright.catalogue.signs import sign_probability
from coldwright.cycle.medium import Medium
from coldwright.cycle.standstill.equalising import equalising_times
from coldwright.cycle.standstill.standing import standing_pressures
from coldwright.diagnosis.population import Population
from coldwright.transient.trend import cooling_rate

Column = Callable[[Population, Medium, float], np.ndarray]


def _state(name: str) -> Column:
    return lambda p, med, volts: p.states[name]


def _current(name: str) -> Column:
    def column(p: Population, med: Medium, volts: float) -> np.ndarray:
        factor = p.circuits["compressor"]["power_factor_fraction"]
        return np.asarray(p.states[name] / (volts * factor))

    return column


def _by_medium(
    p: Population, med: Medium, of: Callable[[Medium, np.ndarray], np.ndarray]
) -> np.ndarray:
    """Values of all members, those filled with another refrigerant by its properties."""
    out = np.full(p.states.shape[0], np.nan)
    wrong = np.zeros(out.shape, bool) if p.alien is None else p.alien
    for inside, here in ((med, ~wrong), (p.mistaken, wrong)):
        if inside is not None and here.any():
            out[here] = of(inside, here)
    return out


def _standing(p: Population, med: Medium, volts: float) -> np.ndarray:
    # Not measured, the evaporator of an appliance just stopped is near its air's temperature.
    def of(inside: Medium, here: np.ndarray) -> np.ndarray:
        cold = p.states["freezer_k"][here]
        if p.standing_cold_k == p.standing_cold_k:
            cold = np.full(cold.shape, p.standing_cold_k)
        return np.asarray(
            standing_pressures(
                inside, p.circuits[here], cold, p.room_k[here], states=p.states[here]
            )
        )

    return _by_medium(p, med, of)


def _equalising(p: Population, med: Medium, volts: float) -> np.ndarray:
    running = p.states["mass_flow_kg_s"] > 0.0

    def of(inside: Medium, here: np.ndarray) -> np.ndarray:
        return np.asarray(
            equalising_times(inside, p.circuits[here], p.states[here], p.room_k[here]), float
        )

    times = _by_medium(p, med, of)
    # Blocked for good: longer than anybody waits.
    return np.where(running & np.isfinite(times), times, NEVER_S)


def _door_frame(p: Population, med: Medium, volts: float) -> np.ndarray:
    # A frame without a loop is not described: it hangs between the room and what lies behind.
    cold = 0.5 * (p.states["fresh_food_k"] + p.states["freezer_k"])
    bare = p.room_k + BARE_FRAME * (cold - p.room_k)
    return np.where(np.isfinite(p.states["door_frame_k"]), p.states["door_frame_k"], bare)


NEVER_S = 3600.0
BARE_FRAME = 0.14  # of the way from room to cabinet, as the flanges of `catalogue.loops`

_OWN: Mapping[str, Column] = {
    "appliance_current": _current("appliance_power_w"),
    "compressor_current": _current("compressor_power_w"),
    "door_frame_temperature": _door_frame,
    "freezer_cooling_rate": lambda p, med, volts: cooling_rate(p.circuits, p.states, p.room_k),
    "equalising_time": _equalising,
    "standing_pressure": _standing,
    "recovered_mass": lambda p, med, volts: p.circuits["charge_kg"],
}
# Every reading the model predicts: a field of the running state, or a column of its own.
COLUMNS: Mapping[str, Column] = {
    name: _state(reading.state) if reading.state else _OWN[name]
    for name, reading in READINGS.items()
    if reading.state or name in _OWN
}

COMPARTMENTS = frozenset({"fresh_food_temperature", "freezer_temperature"})
_ON_ITS_WAY = frozenset({"freezer_cooling_rate"})


def says_nothing(settled: bool) -> frozenset[str]:
    """Readings that are no evidence at this visit.

    A cabinet on its way has compartments as its conditions; in a settled one the
    freezer falls and rises with every cycle.

    Parameters
    ----------
    settled : bool
        Whether the thermostat is in charge.

    Returns
    -------
    frozenset of str
        Keys of those readings.
    """
    return _ON_ITS_WAY if settled else COMPARTMENTS


# Where a reading starts from before the machine has run in.
STARTS_AT_ROOM = frozenset(name for name, r in READINGS.items() if r.air == "room")
STARTS_AT_FREEZER = frozenset(name for name, r in READINGS.items() if r.air == "freezer")


def sign_chance(sign: str, p: Population) -> np.ndarray:
    """Probability that each member's sign is reported as seen. [-]

    Parameters
    ----------
    sign : str
        A key of `signs.SIGN_MODELS`.
    p : Population
        Members of one fault or pair.

    Returns
    -------
    ndarray
        Shape (n,). [-]
    """
    return sign_probability(
        sign, p.faults, p.severity, p.states, second=p.second, way=p.way, room_k=p.room_k
    )

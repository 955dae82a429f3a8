"""How probable it is that a technician reports a sign, member by member.

P(reported) = false rate + (hit rate - false rate) * P(the sign is there). What
follows from the running state (frost, sounds, a frosted suction line) is a
smooth step in that state; what has its cause outside the circuit (dust, fans,
seals) follows from the fault's record and its severity. Every number is a judgement of
ours; directions are those of makers' fault charts and trade texts.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from coldwright.catalogue.tools import pick
from coldwright.cycle.state import UNSOLVED
from coldwright.errors import require
from coldwright.faults.record import Fault, Together
from coldwright.faults.registry import FAULTS
from coldwright.faults.tells import Members, Present, step

UNINFORMED = 0.5  # for members without a solution; the caller gives them no weight
FREEZING_K = 273.15


@dataclass(frozen=True, slots=True)
class SignModel:
    """One sign: P(it is there) by member, P(reported | there), P(reported | not there)."""

    identifier: str
    present: Present  # under any fault whose record says nothing else
    hit: float
    false: float
    why: str

    def __post_init__(self) -> None:
        require(f"{self.identifier}: false rate", self.false, "-", 0.0, 1.0)
        require(f"{self.identifier}: hit rate", self.hit, "-", self.false, 1.0)


# Flow is judged by the cooling it does, which differs less between refrigerants than kg/s.
def _hissing(m: Members) -> np.ndarray:
    """Enough flow to be heard at the capillary's outlet."""
    return step(np.log(np.maximum(m.at("cooling_w", 0.01), 0.01)), np.log(12.0), 0.4)


def _full(m: Members) -> np.ndarray:
    """Full flow, and liquid reaching the capillary."""
    amount = step(np.log(np.maximum(m.at("cooling_w", 0.01), 0.01)), np.log(45.0), 0.35)
    return np.asarray(
        amount * (1.0 - 0.7 * step(m.at("condenser_outlet_quality", 0.0), 0.03, 0.02))
    )


def _weak(m: Members) -> np.ndarray:
    return np.asarray(_hissing(m) * (1.0 - _full(m)))


def _inlet_only(m: Members) -> np.ndarray:
    some = step(m.at("frosted_fraction", 0.0), 0.03, 0.01)
    return np.asarray(some * step(m.at("evaporator_wetted_fraction", 0.0), 0.45, -0.08))


def _frame_cold(m: Members) -> np.ndarray:
    cold = 0.05 + 0.3 * step(m.at("condenser_heat_w", 0.0), 50.0, -12.0)
    if m.room_k is not None:
        # room air of 55 to 60 % humidity sweats some 8 K below its temperature
        frame = m.state["door_frame_k"]
        loop = 0.03 + 0.6 * step(np.nan_to_num(frame) - m.room_k, -8.0, -1.2)
        cold = np.where(np.isfinite(frame), loop, cold)
    return np.asarray(cold)


def _usually(probability: float) -> Present:
    """The same whatever the state."""
    return lambda _: probability


_MODELS = (
    SignModel("oil_trace", _usually(0.03), 0.8, 0.03,
              "oil leaves with the gas; many leaks are buried or weep too little"),
    SignModel("rust", _usually(0.2), 0.9, 0.02, "steel tubes rust through"),
    SignModel("dent", _usually(0.05), 0.85, 0.02, "a kink restricts or cracks"),
    SignModel("flow_sound_steady", _full, 0.75, 0.06, "liquid flashing at the outlet hisses"),
    SignModel("flow_sound_weak", _weak, 0.7, 0.08, "little flow, or vapour in the capillary"),
    SignModel("no_flow_sound", lambda m: 1.0 - _hissing(m), 0.85, 0.08, "kitchens are noisy"),
    SignModel("condenser_dusty", _usually(0.2), 0.9, 0.05,
              "dust is everywhere; much of it matters"),
    SignModel("door_seal_gap", _usually(0.1), 0.8, 0.05, "many old seals gape a little"),
    SignModel("warm_food_loaded", _usually(0.08), 0.9, 0.03, "owners tell when asked"),
    SignModel("frost_only_at_inlet", _inlet_only, 0.85, 0.05, "a starved coil is wet at one end"),
    SignModel("suction_line_frosted",
              lambda m: step(m.at("suction_line_k", 293.0), FREEZING_K, -1.5),
              0.85, 0.03, "below 0 degC room air frosts on it"),
    SignModel("door_frame_cold_or_sweating", _frame_cold, 0.85, 0.04,
              "a frame loop without warm gas falls below the dew point"),
    SignModel("restarted_too_soon", _usually(0.05), 0.9, 0.02,
              "sounds like a dead compressor, is none"),
)  # fmt: skip
SIGN_MODELS: Mapping[str, SignModel] = MappingProxyType({s.identifier: s for s in _MODELS})


def sign_probability(
    sign: str,
    faults: Together,
    severity: np.ndarray,
    state: np.ndarray,
    *,
    second: np.ndarray | None = None,
    way: np.ndarray | None = None,
    room_k: np.ndarray | None = None,
) -> np.ndarray:
    """Probability that a technician who checked reports the sign as seen.

    Where two faults act at once the sign is there if either brings it: the larger
    of the two probabilities, since what follows from the running state is the same.

    Parameters
    ----------
    sign : str
        A key of `SIGN_MODELS`.
    faults : tuple of str
        One fault, or two at once.
    severity : ndarray
        Severity of each member, shape (n,), NaN for a fault without one. [-] or [W] or [mol]
    state : ndarray
        Running state of each member, shape (n,), dtype `cycle.state.STATE`.
    second : ndarray or None
        Severity of the second fault of a pair, shape (n,). [-] or [W] or [mol]
    way : ndarray or None
        Index into the fault's ways, shape (n,). [-]
    room_k : ndarray or None
        Room temperature, shape (n,). [K]

    Returns
    -------
    ndarray
        Shape (n,); `UNINFORMED` where the state is not solved. [-]

    Raises
    ------
    BadInput
        If the sign or the fault is not known.
    OutOfRange
        If a solved state holds no number where the sign needs one.
    """
    model = pick("sign", sign, SIGN_MODELS)
    own = np.asarray(severity, dtype=float)
    there = np.zeros(state.shape)
    for name, how_far in zip(faults, (own, second), strict=False):
        fault = pick("fault", name, FAULTS)
        at = own if how_far is None else how_far
        kinds = tuple(w.which for w in fault.ways)
        members = Members(at, state, kinds, way if len(faults) == 1 else None, room_k, fault.dry)
        there = np.maximum(there, np.asarray(_present(model, fault, members)))
    reported = model.false + (model.hit - model.false) * there
    solved = state["status_code"] != UNSOLVED
    return np.where(solved, np.broadcast_to(reported, state.shape), UNINFORMED)


def _present(model: SignModel, fault: Fault, members: Members) -> np.ndarray | float:
    """P(it is there): by the fault's record where it says so, else as under any fault."""
    tell = fault.signs.get(model.identifier)
    return model.present(members) if tell is None else tell(members, model.present)

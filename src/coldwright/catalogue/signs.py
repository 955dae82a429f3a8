"""How probable it is that a technician reports a sign, member by member.

P(reported) = false rate + (hit rate - false rate) * P(the sign is there). What
follows from the running state (frost, sounds, a frosted suction line) is a
smooth step in that state; what has its cause outside the circuit (dust, fans,
seals) follows from the fault and its severity. Every number is a judgement of
ours; directions are those of makers' fault charts and trade texts.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from coldwright.catalogue.priors import FAULTS
from coldwright.catalogue.tools import pick
from coldwright.catalogue.ways import WAYS
from coldwright.cycle.state import PUMPED_DOWN, UNSOLVED
from coldwright.errors import OutOfRange, require

UNINFORMED = 0.5  # for members without a solution; the caller gives them no weight
FREEZING_K = 273.15
_NO_FLOW = frozenset({"capillary_blocked", "compressor_not_running"})
_RESTRICTED = frozenset({"capillary_restricted", "capillary_blocked", "drier_restricted"})


@dataclass(frozen=True, slots=True)
class Members:
    """Members of one fault: severity (n,) and running state (n,), field by field."""

    fault: str
    severity: np.ndarray
    state: np.ndarray
    way: np.ndarray | None = None  # index into the fault's ways, where it has several
    room_k: np.ndarray | None = None

    @property
    def still(self) -> np.ndarray:
        """Whether the compressor stands still."""
        return np.asarray(self.state["compressor_power_w"] <= 0.0)

    def takes(self, which: str) -> np.ndarray:
        """Whether the fault comes about in this way.

        Parameters
        ----------
        which : str
            Kind of `ways.WAYS`.
        """
        ways = WAYS.get(self.fault, ())
        if self.way is None or not ways:
            return np.zeros(self.state.shape, bool)
        return np.asarray(np.array([w.which == which for w in ways])[self.way])

    @property
    def no_flow(self) -> np.ndarray:
        """Whether nothing flows."""
        pumped_down = self.state["status_code"] == PUMPED_DOWN
        return np.asarray(pumped_down | (self.fault in _NO_FLOW))

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


@dataclass(frozen=True, slots=True)
class SignModel:
    """One sign: P(it is there) by member, P(reported | there), P(reported | not there)."""

    identifier: str
    present: Present
    hit: float
    false: float
    why: str

    def __post_init__(self) -> None:
        require(f"{self.identifier}: false rate", self.false, "-", 0.0, 1.0)
        require(f"{self.identifier}: hit rate", self.hit, "-", self.false, 1.0)


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
    """
    return np.asarray(0.5 * (1.0 + np.tanh(0.5 * (x - middle) / width)))


def _shares(other: float, **by_fault: float) -> Present:
    """The same probability for every member of a fault."""
    return lambda m: by_fault.get(m.fault, other)


def _by_severity(
    fault: str, ends: tuple[float, float], middle: float, width: float, rest: Present
) -> Present:
    """Between `ends` along a fault's severity; other faults as `rest` says."""

    def present(m: Members) -> np.ndarray | float:
        if m.fault != fault:
            return rest(m)
        return ends[0] + (ends[1] - ends[0]) * step(m.severity, middle, width)

    return present


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
    return np.asarray(np.maximum(cold, 0.15) if m.fault == "heat_load" else cold)


def _seal_gap(m: Members) -> np.ndarray | float:
    if m.fault != "heat_load":
        return 0.2 if m.fault == "evaporator_air" else 0.1
    # a gap lets in tens of watts; above about 80 W a heater explains more
    return np.asarray(0.1 + 0.5 * step(m.severity, 9.0, 3.0) * step(m.severity, 90.0, -20.0))


_MODELS = (
    SignModel("oil_trace", _shares(0.03, undercharge=0.4), 0.8, 0.03,
              "oil leaves with the gas; many leaks are buried or weep too little"),
    SignModel("rust", _shares(0.2, undercharge=0.35), 0.9, 0.02, "steel tubes rust through"),
    SignModel("dent", _shares(0.05, undercharge=0.08, capillary_restricted=0.15,
                              capillary_blocked=0.15), 0.85, 0.02, "a kink restricts or cracks"),
    SignModel("flow_sound_steady", _full, 0.75, 0.06, "liquid flashing at the outlet hisses"),
    SignModel("flow_sound_weak", _weak, 0.7, 0.08, "little flow, or vapour in the capillary"),
    SignModel("no_flow_sound", lambda m: 1.0 - _hissing(m), 0.85, 0.08, "kitchens are noisy"),
    SignModel("condenser_dusty",
              _by_severity("condenser_air", (0.85, 0.25), 0.75, 0.1, _shares(0.2)),
              0.9, 0.05, "dust is everywhere; much of it matters"),
    SignModel("door_seal_gap", _seal_gap, 0.8, 0.05, "many old seals gape a little"),
    SignModel("warm_food_loaded",
              _by_severity("heat_load", (0.1, 0.45), 25.0, 10.0, _shares(0.08, nothing_wrong=0.2)),
              0.9, 0.03, "owners tell when asked"),
    SignModel("frost_only_at_inlet", _inlet_only, 0.85, 0.05, "a starved coil is wet at one end"),
    SignModel("suction_line_frosted",
              lambda m: step(m.at("suction_line_k", 293.0), FREEZING_K, -1.5),
              0.85, 0.03, "below 0 degC room air frosts on it"),
    SignModel("door_frame_cold_or_sweating", _frame_cold, 0.85, 0.04,
              "a frame loop without warm gas falls below the dew point"),
    SignModel("restarted_too_soon",
              lambda m: 0.12 if m.fault == "nothing_wrong" else 0.08 if m.fault in _RESTRICTED
              else 0.05, 0.9, 0.02, "sounds like a dead compressor, is none"),
)  # fmt: skip
SIGN_MODELS: Mapping[str, SignModel] = MappingProxyType({s.identifier: s for s in _MODELS})


def sign_probability(
    sign: str,
    fault: str,
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
    fault : str
        A key of `priors.FAULTS`, or two of them joined by '+'.
    severity : ndarray
        Severity of each member, shape (n,), NaN for a fault without one. [-] or [W] or [mol]
    state : ndarray
        Running state of each member, shape (n,), dtype `cycle.state.STATE`.
    second : ndarray or None
        Severity of the second fault of a pair, shape (n,). [-] or [W] or [mol]
    way : ndarray or None
        Index into `ways.WAYS` of the fault, shape (n,). [-]
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
    for part, how_far in zip(fault.split("+"), (own, second), strict=False):
        pick("fault", part, FAULTS)
        at = own if how_far is None else how_far
        members = Members(part, at, state, way if part == fault else None, room_k)
        there = np.maximum(there, np.asarray(model.present(members)))
    reported = model.false + (model.hit - model.false) * there
    solved = state["status_code"] != UNSOLVED
    return np.where(solved, np.broadcast_to(reported, state.shape), UNINFORMED)

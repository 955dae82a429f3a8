"""Changed circuits asked of the simulator: mass, run fraction, energy, pressures, temperatures.

Every answer is a spread over members of the appliance's family that fit the readings.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coldwright.catalogue.sizing import DESIGN_ROOM_K, Members
from coldwright.circuit.vector import SURROUNDINGS
from coldwright.cycle.medium import Medium
from coldwright.cycle.solver.members import solve_members
from coldwright.cycle.state import STATE, UNSOLVED
from coldwright.errors import NotSolved
from coldwright.faults.effects import Effect
from coldwright.repair.changes import Change

MILD_ROOM_K, HOT_ROOM_K = 298.15, 316.15  # 25 and 43 °C: rating room, tropical class limit
HOURS_PER_YEAR = 8766.0
CHARGE_BRACKET = (0.35, 1.25)  # of the plate's mass, in which the new mass is sought
CHARGE_STEPS = 14  # halvings: 0.006 % of the bracket
LEAST_SOLVED = 8  # members below which no spread is stated


@dataclass(frozen=True, slots=True)
class Band:
    """10, 50 and 90 % points over the members."""

    low: float
    median: float
    high: float

    @classmethod
    def of(cls, values: np.ndarray) -> Band:
        """Of an array, members that are not finite left out."""
        low, mid, high = np.quantile(values[np.isfinite(values)], (0.1, 0.5, 0.9))
        return cls(float(low), float(mid), float(high))


@dataclass(frozen=True, slots=True)
class AtRoom:
    """One circuit, settled, in one room."""

    room_k: float
    run_fraction: Band
    power_w: Band  # mean over the year round
    condensing_pressure_pa: Band
    discharge_k: Band
    holds_fraction: float  # of the members, that keep their settings


@dataclass(frozen=True, slots=True)
class Frame:
    """The door frame as the model has it, middle of the members."""

    share_fraction: float  # of the way from room to fresh-food air at which it stands
    share_low: float  # 10 and 90 % points over the members
    share_high: float
    heater_w_per_k: float  # to lift it by one kelvin


@dataclass(frozen=True, slots=True)
class Simulated:
    """What the simulator says of one alternative's circuit."""

    label: str
    charge_kg: Band
    moves_charge: bool
    mild: AtRoom
    hot: AtRoom
    energy_kwh_year: np.ndarray  # per member, at the owner's mean room
    members: int
    unsolved: int
    frame: Frame | None  # None where the circuit describes no door frame


@dataclass(frozen=True, slots=True)
class Herd:
    """Healthy members that fit the readings, and what is asked of each."""

    med: Medium
    members: Members
    supply_v: float


def run(
    herd: Herd, circuits: np.ndarray, room: float, heat_load: np.ndarray | float = 0.0
) -> np.ndarray:
    """Settled running states of altered circuits, dtype STATE.

    Parameters
    ----------
    herd : Herd
        The healthy members, whose design point the solver starts from.
    circuits : ndarray
        Altered circuits, same length.
    room : float
        Room temperature. [K]
    heat_load : ndarray or float
        Added inside the cabinet. [W]

    Returns
    -------
    ndarray
        Shape (n,), a member without a state holds NaN.
    """
    m = herd.members
    n = circuits.shape[0]
    c0 = m.circuits.copy()
    c0["charge_kg"] = m.design_charge_kg
    s0 = np.zeros(n, SURROUNDINGS)
    s0["room_k"], s0["supply_v"] = DESIGN_ROOM_K, herd.supply_v
    s0["fresh_food_k"], s0["freezer_k"] = m.set_fresh_food_k, m.set_freezer_k
    c1, s1 = circuits.copy(), s0.copy()
    s1["room_k"], s1["heat_load_w"] = room, heat_load
    out = solve_members(herd.med, (c0, s0), (c1, s1), m.unknowns, settled=True)
    bad = (out["status_code"] == UNSOLVED) | ~np.isfinite(out["shell_k"])
    for name in STATE.names or ():
        out[name][bad] = np.nan
    return out


def mean_power(circuits: np.ndarray, states: np.ndarray) -> np.ndarray:
    """Electrical power averaged over cycles, heaters included. [W]

    Parameters
    ----------
    circuits : ndarray
        Circuits, dtype CIRCUIT.
    states : ndarray
        Their settled states, dtype STATE.

    Returns
    -------
    ndarray
        Shape (n,). [W]
    """
    cab = circuits["cabinet"]
    on = states["appliance_power_w"] - cab["controls_power_w"]
    return np.asarray(states["run_fraction"] * on + cab["controls_power_w"] + cab["heater_power_w"])


def matching_charge(herd: Herd, circuits: np.ndarray) -> np.ndarray:
    """Mass that fills the evaporator of altered circuits as the plate's mass filled it. [kg]

    Found where the state at the evaporator's outlet, at 25 °C, is that of the circuit as
    built with the plate's mass (quality, above one when superheated): by halving, since
    more mass makes it wetter.

    Parameters
    ----------
    herd : Herd
        Healthy members.
    circuits : ndarray
        Altered circuits, their charge as on the plate.

    Returns
    -------
    ndarray
        Shape (n,), NaN where no mass does it. [kg]

    Raises
    ------
    NotSolved
        If fewer than `LEAST_SOLVED` members have an answer inside the bracket.
    """
    plate = herd.members.circuits["charge_kg"].copy()
    wanted = run(herd, herd.members.circuits, MILD_ROOM_K)["evaporator_outlet_quality"]
    low, high = (np.full_like(plate, f) * plate for f in CHARGE_BRACKET)
    trial = circuits.copy()
    for _ in range(CHARGE_STEPS):
        trial["charge_kg"] = 0.5 * (low + high)
        found = run(herd, trial, MILD_ROOM_K)["evaporator_outlet_quality"]
        starved = found > wanted  # drier than it should be: more mass
        low = np.where(starved, trial["charge_kg"], low)
        high = np.where(starved, high, trial["charge_kg"])
    mass = 0.5 * (low + high)
    inside = np.isfinite(wanted) & (mass > 1.01 * CHARGE_BRACKET[0] * plate)
    inside &= mass < 0.99 * CHARGE_BRACKET[1] * plate
    if int(np.sum(inside)) < LEAST_SOLVED:
        raise NotSolved("charge of the changed circuit", tuple(mass[:3]), float(np.sum(inside)))
    return np.asarray(np.where(inside, mass, np.nan))


def simulate_change(herd: Herd, change: Change, mean_room: float) -> Simulated:
    """One alternative's circuit at 25 and 43 °C and over the year.

    Parameters
    ----------
    herd : Herd
        Healthy members that fit the readings.
    change : Change
        What is altered.
    mean_room : float
        Mean temperature where it stands. [K]

    Returns
    -------
    Simulated
        Bands of charge [kg], states, and energy a year [kWh].

    Raises
    ------
    NotSolved
        If too few members have an answer.
    """
    circuits = herd.members.circuits.copy()
    change.apply(circuits)
    if change.moves_charge:
        mass = matching_charge(herd, circuits)
        circuits["charge_kg"] = np.where(np.isfinite(mass), mass, circuits["charge_kg"])
        keep = np.isfinite(mass)
    else:
        keep = np.ones(circuits.shape[0], bool)
    rooms = {t: run(herd, circuits, t) for t in {MILD_ROOM_K, HOT_ROOM_K, mean_room}}
    keep = keep & np.isfinite(rooms[mean_room]["run_fraction"])
    if int(keep.sum()) < LEAST_SOLVED:
        raise NotSolved(change.label, (), float(keep.sum()))
    energy = mean_power(circuits, rooms[mean_room]) * HOURS_PER_YEAR / 1000.0
    return Simulated(
        label=change.label,
        charge_kg=Band.of(circuits["charge_kg"][keep]),
        moves_charge=change.moves_charge,
        mild=_at_room(circuits, rooms[MILD_ROOM_K], MILD_ROOM_K, keep),
        hot=_at_room(circuits, rooms[HOT_ROOM_K], HOT_ROOM_K, keep),
        energy_kwh_year=energy[keep],
        members=int(keep.sum()),
        unsolved=int((~keep).sum()),
        frame=frame_of(circuits[keep], rooms[MILD_ROOM_K][keep]),
    )


def frame_of(circuits: np.ndarray, states: np.ndarray) -> Frame | None:
    """The door frame, where circuit and state describe one.

    Parameters
    ----------
    circuits : ndarray
        Circuits; a record `frame_loop` is read if there is one.
    states : ndarray
        Their states; `door_frame_k` is read if it is there.

    Returns
    -------
    Frame or None
        Temperatures [K] and heat of the frame [W], or None.
    """
    names = (circuits.dtype.names or (), states.dtype.names or ())
    if "frame_loop" not in names[0] or "door_frame_k" not in names[1]:
        return None
    loop, frame = circuits["frame_loop"], states["door_frame_k"]
    lost = loop["room_conductance_w_k"] + loop["cabinet_conductance_w_k"]
    share = (MILD_ROOM_K - frame) / (MILD_ROOM_K - states["fresh_food_k"])
    good = np.isfinite(share) & (lost > 0.0)
    if not good.any():
        return None
    low, mid, high = (float(v) for v in np.quantile(share[good], (0.1, 0.5, 0.9)))
    return Frame(mid, low, high, float(np.median(lost[good])))


def faulty_energy(
    herd: Herd, fault: Effect, severity: np.ndarray, mean_room: float
) -> np.ndarray | None:
    """Energy a year of the members left with their fault, None where it does not pump. [kWh]

    Parameters
    ----------
    herd : Herd
        Healthy members.
    fault : Effect
        What is wrong.
    severity : ndarray
        One per member.
    mean_room : float
        Mean temperature where it stands. [K]

    Returns
    -------
    ndarray or None
        Shape (k,), members that have a state; None where too few have. [kWh]
    """
    if not fault.runs or fault.blocks:
        return None
    circuits = herd.members.circuits.copy()
    around = np.zeros(circuits.shape[0], SURROUNDINGS)
    fault.apply(herd.med, circuits, around, severity)
    states = run(herd, circuits, mean_room, around["heat_load_w"])
    energy = mean_power(circuits, states) * HOURS_PER_YEAR / 1000.0
    energy = energy[np.isfinite(energy)]
    return energy if energy.size >= LEAST_SOLVED else None


def _at_room(circuits: np.ndarray, states: np.ndarray, room: float, keep: np.ndarray) -> AtRoom:
    s = states[keep & np.isfinite(states["run_fraction"])]
    c = circuits[keep & np.isfinite(states["run_fraction"])]
    holds = s["run_fraction"] < 0.999
    return AtRoom(
        room,
        Band.of(s["run_fraction"]),
        Band.of(mean_power(c, s)),
        Band.of(s["condensing_pressure_pa"]),
        Band.of(s["discharge_line_k"]),
        float(np.mean(holds)) if holds.size else float("nan"),
    )


def taken(members: Members, index: np.ndarray) -> Members:
    """Some of the members, repeats allowed.

    Parameters
    ----------
    members : Members
        Sized appliances.
    index : ndarray
        Which. [-]

    Returns
    -------
    Members
        The members at `index`.
    """
    return Members(
        *(np.ascontiguousarray(getattr(members, name)[index]) for name in Members.__slots__)
    )

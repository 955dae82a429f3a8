"""What is wrong, as the repair needs it: the diagnosis' odds, a leak split by its place.

No study of where household circuits leak gives numeric shares; the shares of places
are a judgement of ours, and one place found by search or stated settles the matter.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from coldwright.catalogue.restart import NOT_LEVEL
from coldwright.diagnosis.fault_words import TOGETHER, fault_words
from coldwright.diagnosis.result import Diagnosis, FaultOdds
from coldwright.errors import BadInput, nearest
from coldwright.faults.record import Joined, Together
from coldwright.faults.registry import FAULTS
from coldwright.readings.job import Job
from coldwright.repair.situation import Situation

LEAKS = ("leak_reachable", "leak_evaporator", "leak_frame_loop", "leak_buried")
UNNAMED = "unnamed"  # something nobody has named: nothing here mends it
LABELS = {
    UNNAMED: "something else, not named",
    "leak_reachable": "leak at a joint or tube that can be reached",
    "leak_evaporator": "leak in the evaporator",
    "leak_frame_loop": "leak in the door-frame loop",
    "leak_buried": "leak buried in foam",
    "starting": "compressor does not start: starting device, supply or overload",
    "motor": "compressor dead: winding or seized",
}
_FOUND = 0.97  # of a leak found by search: it is the leak, and the only one; judgement of ours
_LEAKY = frozenset({"undercharge", "non_condensables"})  # split by where it leaks
_BY_PART = "compressor_not_running"  # split by which part stops it
MOTOR = ("winding", "seized")
DEAD = 0.35  # winding or seized, of compressors that do not run; judgement of ours
SOUND = "nothing_wrong"


@dataclass(frozen=True, slots=True)
class Cause:
    """One thing that may be wrong; all causes together have probability one."""

    JOINED: ClassVar[Joined] = {"names": "identifier", "faults": "fault"}

    names: Together  # one cause, or two at once
    probability: float
    faults: Together  # of the diagnosis, whose severities and circuits belong to it


def place_shares(situation: Situation) -> dict[str, float]:
    """Shares of leak places in this circuit; they sum to one. [-]

    Parameters
    ----------
    situation : Situation
        Layout and kinds of coil.

    Returns
    -------
    dict
        Share by place. [-]
    """
    evaporator = {"plate": 0.35, "fan": 0.15, "cold_wall": 0.0}.get(
        situation.evaporator or "", 0.25
    )
    buried = 0.04  # stretch of suction line or joint in the foam
    buried += 0.20 if situation.buried("evaporator") else 0.0
    buried += 0.12 if situation.buried("condenser") else 0.0
    weights = {
        "leak_reachable": 0.50,
        "leak_evaporator": evaporator,
        "leak_frame_loop": 0.10 if situation.frame_loop else 0.0,
        "leak_buried": buried,
    }
    whole = sum(weights.values())
    return {name: w / whole for name, w in weights.items() if w > 0.0}


def leak_at(situation: Situation, place: str) -> str:
    """Which kind of leak a place is.

    Parameters
    ----------
    situation : Situation
        What is buried.
    place : str
        A place of the glossary.

    Returns
    -------
    str
        Identifier of the cause.
    """
    segment = place.removesuffix("_joint")
    if place == "frame_loop":
        return "leak_frame_loop"
    if place == "frame_loop_joint":  # its ends come out in the machine compartment
        return "leak_reachable"
    if situation.buried(segment):
        return "leak_buried"
    inside = segment in ("evaporator", "accumulator") and not place.endswith("_joint")
    return "leak_evaporator" if inside else "leak_reachable"


def causes_of(job: Job, situation: Situation, diagnosis: Diagnosis) -> tuple[Cause, ...]:
    """Causes with their probabilities, most probable first.

    Parameters
    ----------
    job : Job
        For what was found or settled.
    situation : Situation
        For the shares of places.
    diagnosis : Diagnosis
        Odds; without any, what was found or settled must say.

    Returns
    -------
    tuple of Cause
        Probabilities sum to one [-]; empty where the diagnosis leaves none.

    Raises
    ------
    BadInput
        If the stated cause is none of those known.
    """
    weights: dict[tuple[Together, Together], float] = {}
    for odds in diagnosis.faults:
        for pair, p in _split(odds, situation).items():
            weights[pair] = weights.get(pair, 0.0) + p
    settled = settled_cause(job, situation)
    if settled is not None:
        rest = sum(p for (names, _), p in weights.items() if names != (settled,))
        scale = (1.0 - _FOUND) / rest if rest > 0.0 else 0.0
        weights = {key: scale * p for key, p in weights.items() if key[0] != (settled,)}
        if rest <= 0.0:
            weights[(UNNAMED,), (SOUND,)] = 1.0 - _FOUND
        weights[(settled,), (_fault_of(settled),)] = 1.0 - sum(weights.values())
    whole = sum(weights.values())
    if whole <= 0.0:
        return ()
    causes = (Cause(n, p / whole, f) for (n, f), p in weights.items() if p > 0.0)
    return tuple(sorted(causes, key=lambda c: -c.probability))


def settled_cause(job: Job, situation: Situation) -> str | None:
    """What search or technician has settled, None where nothing has.

    Parameters
    ----------
    job : Job
        The job, read and checked.
    situation : Situation
        The situation the job describes.

    Returns
    -------
    str or None
        Identifier of the cause, or None.

    Raises
    ------
    BadInput
        If the stated cause is none that is known.
    """
    stated = job.mending.cause
    if stated is not None:
        split = ("undercharge", _BY_PART)  # their own causes are told instead
        accepted = [*LEAKS, "starting", "motor", *(f for f in FAULTS if f not in split)]
        if stated not in accepted:
            raise BadInput(
                job.source, "repair.cause", f"'{stated}'",
                f"one of {', '.join(accepted)}; left out, the odds of the diagnosis are used",
                nearest(stated, accepted),
            )  # fmt: skip
        return stated
    found = [t.place for t in job.tried if t.found]
    return leak_at(situation, found[-1]) if found else None


def label_of(causes: Together) -> str:
    """One cause in words, or two at once; a fault's own words where it is one.

    Parameters
    ----------
    causes : Together
        One cause or two at once.

    Returns
    -------
    str
        Words of one line.
    """
    return TOGETHER.join(LABELS.get(one) or fault_words(one) for one in causes)


def _fault_of(cause: str) -> str:
    if cause in LEAKS:
        return "undercharge"
    return _BY_PART if cause in ("starting", "motor") else cause


def _split(odds: FaultOdds, situation: Situation) -> dict[tuple[Together, Together], float]:
    dead = sum(k.probability for k in odds.which if k.which in MOTOR) if odds.which else DEAD
    level = sum(k.probability for k in odds.which if k.which == NOT_LEVEL.which)
    return {
        (names, names if names == (SOUND,) else odds.faults): odds.probability * share
        for names, share in shares_of(odds.faults, situation, dead, level).items()
    }


def shares_of(
    faults: Together, situation: Situation, dead: float = DEAD, level: float = 0.0
) -> dict[Together, float]:
    """What a hypothesis of the diagnosis may be, with the share of each; they sum to one. [-]

    Parameters
    ----------
    faults : tuple of str
        One fault, or two at once.
    situation : Situation
        For the places a leak may be at.
    dead : float
        Share of winding and seized within a compressor that does not run. [-]
    level : float
        Share of those that were only restarted too soon. [-]

    Returns
    -------
    dict
        One cause, or two at once, to its share. [-]
    """
    # Air inside a leaking circuit came in by the leak: one cause, not two.
    parts = faults[:1] if set(faults) <= _LEAKY else faults
    shares: dict[Together, float] = {(): 1.0}
    for part in parts:
        own = _shares(part, situation, dead, level)
        shares = {(*before, name): p * q for before, p in shares.items() for name, q in own.items()}
    return {names: share for names, share in shares.items() if share > 0.0}


def _shares(part: str, situation: Situation, dead: float, level: float) -> dict[str, float]:
    """What one fault may be, with the share of each; they sum to one."""
    if part in _LEAKY:
        return place_shares(situation)
    if part == _BY_PART:
        # Restarted against pressures not yet level it is sound, and no part is at fault.
        return {"motor": dead, "starting": max(1.0 - dead - level, 0.0), SOUND: level}
    return {part: 1.0}

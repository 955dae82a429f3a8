"""What is wrong with which part when a compressor does not run, and what its parts then read.

A state is one way in which one kind of `stopped.STOPPED` comes about. For every
part it gives the probability of each outcome of a reading there. No published
shares are known to us: every number is a judgement of ours. What is not written
at a state is as at a sound machine.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from coldwright.catalogue.stopped import STOPPED
from coldwright.catalogue.tools import pick
from coldwright.faults.compressor import COMPRESSOR_NOT_RUNNING
from coldwright.faults.record import Together

Outcomes = Mapping[str, float]

# A sound machine that runs; the small numbers are slips of meter, hand and pin.
SOUND: Mapping[str, Outcomes] = MappingProxyType(
    {
        "windings": {"sound": 0.982, "shorted": 0.004, "run_open": 0.002, "start_open": 0.002,
                     "all_open": 0.004, "common_open": 0.006},
        "insulation": {"good": 0.985, "low": 0.015},
        "start_device": {"good": 0.97, "open": 0.02, "short": 0.01},
        "overload": {"closed": 0.98, "open": 0.02},
        "capacitor": {"good": 0.97, "weak": 0.03},
        "supply": {"normal": 0.96, "low": 0.03, "high": 0.009, "absent": 0.001},
        "draw": {"none": 0.12, "running": 0.872, "one_winding": 0.004, "locked": 0.003,
                 "over": 0.001},
        "speed": {"turning": 0.97, "still": 0.03},
    }
)  # fmt: skip
_STILL = {"turning": 0.005, "still": 0.995}
_NO_DRAW = {"none": 0.97, "running": 0.01, "one_winding": 0.01, "locked": 0.008, "over": 0.002}
# It hums until the overload opens; who comes late reads nothing.
_HUMS = {"none": 0.40, "running": 0.03, "one_winding": 0.05, "locked": 0.50, "over": 0.02}
# After humming, an overload inside the shell may still be open; one outside cools in minutes.
_WINDINGS_HOT = {"sound": 0.90, "shorted": 0.004, "run_open": 0.002, "start_open": 0.002,
                 "all_open": 0.004, "common_open": 0.088}  # fmt: skip
_OVERLOAD_HOT = {"closed": 0.88, "open": 0.12}


def _windings(**outcomes: float) -> Outcomes:
    rest = (1.0 - sum(outcomes.values())) / (len(SOUND["windings"]) - len(outcomes))
    return {name: outcomes.get(name, rest) for name in SOUND["windings"]}


@dataclass(frozen=True, slots=True)
class PartState:
    """One way in which a kind comes about; `share` is within its kind."""

    identifier: str
    kind: str
    share: float
    differs: Mapping[str, Outcomes]
    why: str

    def probability(self, part: str, outcome: str) -> float:
        """Of one outcome of a reading at a part. [-]

        Parameters
        ----------
        part : str
            A key of `SOUND`.
        outcome : str
            One of its outcomes.

        Raises
        ------
        BadInput
            If the part or the outcome is not known.
        """
        of_part = self.differs.get(part, pick("part", part, SOUND))
        return pick("outcome", outcome, of_part)


def _hums(identifier: str, kind: str, share: float, why: str, **differs: Outcomes) -> PartState:
    usual = {"windings": _WINDINGS_HOT, "overload": _OVERLOAD_HOT, "draw": _HUMS, "speed": _STILL}
    return PartState(identifier, kind, share, MappingProxyType(usual | differs), why)


def _quiet(identifier: str, kind: str, share: float, why: str, **differs: Outcomes) -> PartState:
    usual = {"draw": _NO_DRAW, "speed": _STILL}
    return PartState(identifier, kind, share, MappingProxyType(usual | differs), why)


_ONE_WINDING = {"none": 0.45, "running": 0.10, "one_winding": 0.38, "locked": 0.06, "over": 0.01}
_STATES = (
    _hums("start_device_open", "relay", 0.50, "a disc cracks, a contact burns away",
          start_device={"good": 0.07, "open": 0.91, "short": 0.02}),
    _hums("start_device_short", "relay", 0.15, "a contact welds, a disc breaks down",
          start_device={"good": 0.10, "open": 0.02, "short": 0.88},
          draw={"none": 0.45, "running": 0.03, "one_winding": 0.02, "locked": 0.35, "over": 0.15}),
    _hums("capacitor_weak", "relay", 0.12, "only where there is one",
          capacitor={"good": 0.05, "weak": 0.95}),
    _hums("start_device_worn", "relay", 0.23, "reads well cold, fails under current"),
    _quiet("overload_outside", "overload", 0.60, "a bimetal that stays open, a burnt heater",
           overload={"closed": 0.03, "open": 0.97}),
    _quiet("overload_inside", "overload", 0.40, "behind the common pin, inside the shell",
           windings=_windings(common_open=0.96, sound=0.02)),
    _quiet("supply_absent", "supply", 0.35, "fuse, socket, plug, cord",
           supply={"normal": 0.02, "low": 0.02, "high": 0.005, "absent": 0.955}),
    _hums("supply_low", "supply", 0.20, "long extension cord, loose neutral, weak inverter",
          supply={"normal": 0.05, "low": 0.94, "high": 0.002, "absent": 0.008}),
    _quiet("supply_beyond", "supply", 0.45, "a wire or terminal on the way"),
    _hums("rotor_locked", "seized", 1.0, "bearing or piston stuck"),
    _quiet("run_open", "winding", 0.20, "burnt run winding",
           windings=_windings(run_open=0.97), draw=_ONE_WINDING),
    _quiet("start_open", "winding", 0.22, "burnt start winding: hums, trips",
           windings=_windings(start_open=0.97), draw=_HUMS),
    _quiet("all_open", "winding", 0.10, "pin burnt off inside, both windings burnt",
           windings=_windings(all_open=0.80, common_open=0.17)),
    _hums("shorted", "winding", 0.22, "turn to turn",
          windings=_windings(shorted=0.80, sound=0.17),
          insulation={"good": 0.80, "low": 0.20},
          draw={"none": 0.40, "running": 0.02, "one_winding": 0.03, "locked": 0.25, "over": 0.30}),
    _quiet("grounded", "winding", 0.26, "a winding that touches the shell",
           insulation={"good": 0.03, "low": 0.97},
           draw={"none": 0.55, "running": 0.05, "one_winding": 0.05, "locked": 0.15, "over": 0.20}),
    _hums("pressures_not_level", "pressures_not_level", 1.0,
          "nothing is wrong: started again before the pressures were level"),
    _quiet("board_dead", "board", 1.0, "the drive gives no output"),
)  # fmt: skip
STATES: Mapping[str, PartState] = MappingProxyType({s.identifier: s for s in _STATES})


def unpowered_share(faults: Together) -> float:
    """Of the members of a hypothesis, those that the mains do not reach: no fan, no watt. [-]

    Parameters
    ----------
    faults : tuple of str
        One fault, or two at once.
    """
    if COMPRESSOR_NOT_RUNNING.identifier not in faults:
        return 0.0
    return STOPPED["supply"].share * STATES["supply_absent"].share


# What each outcome means in plain words.
SAID: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        "windings": {
            "sound": "windings read as sound ones do",
            "shorted": "windings read too low: shorted turns",
            "run_open": "the run winding is open",
            "start_open": "the start winding is open",
            "all_open": "all pairs open: a burnt pin or both windings",
            "common_open": "open from common, run to start reads: the overload inside the shell",
        },
        "insulation": {"good": "insulation good", "low": "a winding leaks to the shell"},
        "start_device": {
            "good": "start device reads as a sound one",
            "open": "start device open",
            "short": "start device shorted or stuck",
        },
        "overload": {"closed": "overload closed", "open": "overload open"},
        "capacitor": {"good": "capacitor near its printed value", "weak": "capacitor weak"},
        "supply": {
            "normal": "supply as it should be",
            "low": "supply too low",
            "high": "supply too high",
            "absent": "no supply",
        },
        "draw": {
            "none": "draws no current",
            "running": "draws the current of a running compressor",
            "one_winding": "draws current through one winding only",
            "locked": "draws the current of a locked rotor",
            "over": "draws more than a locked rotor",
        },
        "speed": {"turning": "turns at its speed", "still": "does not turn"},
    }
)

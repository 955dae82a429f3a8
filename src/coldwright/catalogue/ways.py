"""The ways in which a fault with kinds comes about: shares, and how far each goes.

A fault with kinds is simulated way by way, each member in one of them. Shares
and ranges are judgements of ours; no published ones are known to us.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from coldwright.faults import kinds
from coldwright.faults.kinds import Fault


@dataclass(frozen=True, slots=True)
class Way:
    """One way a fault comes about."""

    which: str  # the kind it counts under; empty where the fault has none to tell
    share: float
    fault: Fault
    low: float  # of the way's own severity, flat between the two
    high: float
    why: str
    fan_only: bool = False  # only where a fan blows through the evaporator
    two_compartments: bool = False
    settled_only: bool = False  # nothing to see in a cabinet on its way

    def severity(self, u: np.ndarray) -> np.ndarray:
        """Severity from uniform numbers, shape kept.

        Parameters
        ----------
        u : ndarray
            In 0..1. [-]
        """
        return np.asarray(self.low + (self.high - self.low) * u)


_NAN = float("nan")
_OPEN = kinds.fault_named("nothing_wrong")
_PLUGGED = kinds.fault_named("capillary_blocked")
_NARROWED = kinds.fault_named("capillary_restricted")
WAYS: Mapping[str, tuple[Way, ...]] = MappingProxyType(
    {
        "moisture": (
            Way("", 0.45, _PLUGGED, _NAN, _NAN, "the plug is there when the technician comes"),
            Way("", 0.35, _NARROWED, 0.05, 0.8, "it grows, or is half melted"),
            Way("", 0.20, _OPEN, _NAN, _NAN, "it has just melted: all looks well"),
        ),
        "control": (
            Way("thermostat", 0.30, kinds.NOT_CALLING, _NAN, _NAN,
                "contacts, bulb or board do not call: nothing runs"),
            Way("thermostat", 0.10, kinds.ALWAYS_CALLING, 15.0, 40.0,
                "it never stops: both too cold", settled_only=True),
            Way("thermostat", 0.15, kinds.DRIFTED_WARM, 2.0, 9.0,
                "a drifted or ill-placed bulb holds both too warm", settled_only=True),
            Way("air_damper", 0.22, kinds.DAMPER_SHUT, 3.0, 12.0,
                "fresh food starves of cold air", two_compartments=True, settled_only=True),
            Way("air_damper", 0.08, kinds.DAMPER_OPEN, 2.0, 6.0,
                "fresh food freezes", two_compartments=True, settled_only=True),
            Way("defrost_control", 0.15, kinds.DEFROSTING, 120.0, 420.0,
                "it stays in defrost: heater on, nothing runs", fan_only=True),
        ),
        "wrong_fill": (
            Way("wrong_refrigerant", 0.25, _OPEN, 0.5, 1.4,
                "what the van held; filled by feel"),
            Way("wrong_capillary", 0.45, kinds.WRONG_CAPILLARY, 0.75, 1.3,
                "the nearest bore on the shelf"),
            Way("oil_logged", 0.30, kinds.OIL_LOGGED, 3.0, 12.0,
                "oil added with the charge lies in the evaporator"),
        ),
    }
)  # fmt: skip
# What a careless repair puts in instead; taken by oil and pressures, judgement of ours.
MISTAKEN: Mapping[str, str] = MappingProxyType(
    {"R12": "R134a", "R134a": "R600a", "R600a": "R134a", "R290": "R600a", "R22": "R290"}
)


def kinds_of(fault: str) -> tuple[str, ...]:
    """Kinds a fault can tell apart, in the order of the catalogue; none for most.

    Parameters
    ----------
    fault : str
        A fault's identifier.
    """
    return tuple(dict.fromkeys(w.which for w in WAYS.get(fault, ()) if w.which))


def chosen(
    ways: tuple[Way, ...], u: np.ndarray, fan: np.ndarray, one_compartment: bool
) -> np.ndarray:
    """Which way each member takes: by share among those its build allows.

    Parameters
    ----------
    ways : tuple of Way
        Of one fault.
    u : ndarray
        Uniform numbers, shape (n,). [-]
    fan : ndarray
        Whether a fan blows through the evaporator, shape (n,).
    one_compartment : bool
        Chest or upright freezer.

    Returns
    -------
    ndarray
        Index into `ways`, shape (n,).
    """
    share = np.empty((u.shape[0], len(ways)))
    for k, way in enumerate(ways):
        # In a drifting cabinet a shifted setting shows nothing, yet may be the fault.
        allowed = np.full(u.shape, not (way.two_compartments and one_compartment))
        share[:, k] = way.share * (allowed & (fan | (not way.fan_only)))
    edges = np.cumsum(share, axis=1)
    return np.asarray((u[:, None] * edges[:, -1:] >= edges).sum(axis=1).clip(0, len(ways) - 1))

"""Which way of a fault each simulated appliance takes, and what a wrong fill is filled with.

A fault with ways is simulated way by way, each member in one of them; the ways with their
shares stand in the fault's record.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from coldwright.faults.record import Way
from coldwright.faults.registry import FAULTS

WAYS: Mapping[str, tuple[Way, ...]] = MappingProxyType(
    {name: fault.ways for name, fault in FAULTS.items() if fault.ways}
)
# What a careless repair puts in instead; taken by oil and pressures, judgement of ours.
MISTAKEN: Mapping[str, str] = MappingProxyType(
    {"R12": "R134a", "R134a": "R600a", "R600a": "R134a", "R290": "R600a", "R22": "R290"}
)


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

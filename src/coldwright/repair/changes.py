"""What an alternative does to the circuit, as objects that alter arrays of circuits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from coldwright.catalogue.families import indicated_efficiency, motor_efficiency


class Change(Protocol):
    """What every change offers."""

    @property
    def label(self) -> str:
        """In words."""
        ...

    @property
    def moves_charge(self) -> bool:
        """Whether the plate's mass no longer holds."""
        ...

    def apply(self, circuits: np.ndarray) -> None:
        """Alter healthy circuits in place, dtype CIRCUIT."""
        ...


@dataclass(frozen=True, slots=True)
class AsBuilt:
    """The circuit as the maker built it, mended."""

    label: str = "as built, plate's mass"
    moves_charge: bool = False

    def apply(self, circuits: np.ndarray) -> None:
        """Leave all as it is."""


@dataclass(frozen=True, slots=True)
class WithoutFrameLoop:
    """The door-frame loop left out.

    Where the circuit describes the loop its tube goes, and the frame's metal stays. Where it
    does not, the loop is counted as part of the condenser: that loses `share` of its tube.
    """

    share: float
    label: str = "door-frame loop by-passed"
    moves_charge: bool = True

    def apply(self, circuits: np.ndarray) -> None:
        """Take the loop off, or its share of length, volume and surface."""
        described = "frame_loop" in (circuits.dtype.names or ())
        if described and np.any(circuits["frame_loop"]["tube_length_m"] > 0.0):
            circuits["frame_loop"]["tube_length_m"] = 0.0
            return
        condenser = circuits["condenser"]
        for name in ("tube_length_m", "volume_m3", "area_m2"):
            condenser[name] *= 1.0 - self.share


@dataclass(frozen=True, slots=True)
class NewCompressor:
    """Same displacement, efficiencies of a machine made in `year`."""

    year: float
    label: str = "new compressor of the same displacement"
    moves_charge: bool = False

    def apply(self, circuits: np.ndarray) -> None:
        """Lift both efficiencies to the year's, never below the old ones."""
        k = circuits["compressor"]
        for name, curve in (
            ("indicated_efficiency_fraction", indicated_efficiency),
            ("motor_efficiency_fraction", motor_efficiency),
        ):
            k[name] = np.maximum(k[name], curve(self.year))


LOOP_LENGTH_M = 5.0  # round a door opening; judgement of ours
LOOP_SHARE = (0.10, 0.45)  # of all high-side tube that a loop can be; judgement of ours


def loop_share(length: float | None, condenser_tube: float) -> float:
    """Share of the high side's tube that the door-frame loop is. [-]

    Parameters
    ----------
    length : float or None
        Of the loop, where it was measured. [m]
    condenser_tube : float
        All of the high side's tube, loop included. [m]

    Returns
    -------
    float
        Share, within `LOOP_SHARE`. [-]
    """
    share = (LOOP_LENGTH_M if length is None else length) / max(condenser_tube, 1.0)
    return min(max(share, LOOP_SHARE[0]), LOOP_SHARE[1])

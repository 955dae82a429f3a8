"""What a fault, or one way of it, alters in circuits and surroundings.

An effect is named as its fault, or ``fault:way`` where the fault comes about in several.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from coldwright.cycle.batches import in_batches
from coldwright.cycle.capillary.restriction import restrict_range
from coldwright.cycle.medium import Medium

NO_NUMBER = float("nan")


class Effect(Protocol):
    """What every effect offers."""

    @property
    def identifier(self) -> str:
        """Name of its fault, or ``fault:way``."""
        ...

    @property
    def low(self) -> float:
        """Least severity accepted; NaN where it has none."""
        ...

    @property
    def high(self) -> float:
        """Greatest severity accepted; NaN where it has none."""
        ...

    @property
    def unit(self) -> str | None:
        """'fraction', 'W', 'mol', 'K' or None."""
        ...

    @property
    def sealed(self) -> bool:
        """Whether mending it opens the sealed circuit."""
        ...

    @property
    def runs(self) -> bool:
        """Whether the compressor pumps."""
        ...

    @property
    def blocks(self) -> bool:
        """Whether no refrigerant flows."""
        ...

    @property
    def comes_and_goes(self) -> bool:
        """Whether it lasts only while the capillary's outlet is below 0 degC."""
        ...

    @property
    def called(self) -> bool:
        """Whether the control asks for cold: then the fans turn, even if nothing pumps."""
        ...

    @property
    def heats_coil(self) -> bool:
        """Whether the defrost heater is on while nothing runs; severity is its power."""
        ...

    def apply(
        self, med: Medium, circuits: np.ndarray, surroundings: np.ndarray, severity: np.ndarray
    ) -> None:
        """Alter the arrays in place; severity has one value per member."""
        ...


@dataclass(frozen=True, slots=True)
class _Base:
    identifier: str
    low: float
    high: float
    unit: str | None
    sealed: bool
    runs: bool = True
    blocks: bool = False
    comes_and_goes: bool = False
    heats_coil: bool = False
    called: bool = True


def unaltered(
    identifier: str, sealed: bool, *, runs: bool = True, blocks: bool = False,
    comes_and_goes: bool = False,
) -> Unaltered:  # fmt: skip
    """An effect without a severity."""
    return Unaltered(
        identifier, NO_NUMBER, NO_NUMBER, None, sealed, runs, blocks, comes_and_goes
    )  # fmt: skip


class Unaltered(_Base):
    """Nothing in the circuit changes (also where only the compressor stands still)."""

    def apply(
        self, med: Medium, circuits: np.ndarray, surroundings: np.ndarray, severity: np.ndarray
    ) -> None:
        """Leave all as it is."""


class ChargeFraction(_Base):
    """Charge times severity."""

    def apply(
        self, med: Medium, circuits: np.ndarray, surroundings: np.ndarray, severity: np.ndarray
    ) -> None:
        """Scale the charge."""
        circuits["charge_kg"] *= severity


@dataclass(frozen=True, slots=True)
class Restriction(_Base):
    """Flow at equal conditions falls to severity."""

    in_drier: bool = False

    def apply(
        self, med: Medium, circuits: np.ndarray, surroundings: np.ndarray, severity: np.ndarray
    ) -> None:
        """Add the resistance that leaves that flow."""
        share = np.ascontiguousarray(severity, dtype=np.float64)

        def loop(first: int, last: int) -> None:
            restrict_range(first, last, med.tables, circuits, share, self.in_drier)

        in_batches(loop, circuits.shape[0])


@dataclass(frozen=True, slots=True)
class Factor(_Base):
    """One factor of one component times severity."""

    part: str = ""
    field: str = ""

    def apply(
        self, med: Medium, circuits: np.ndarray, surroundings: np.ndarray, severity: np.ndarray
    ) -> None:
        """Scale the factor."""
        circuits[self.part][self.field] *= severity


class AddedLoad(_Base):
    """Severity in watt added inside the cabinet."""

    def apply(
        self, med: Medium, circuits: np.ndarray, surroundings: np.ndarray, severity: np.ndarray
    ) -> None:
        """Add the load."""
        surroundings["heat_load_w"] += severity


class AddedGas(_Base):
    """Severity in mole of air or nitrogen inside the circuit."""

    def apply(
        self, med: Medium, circuits: np.ndarray, surroundings: np.ndarray, severity: np.ndarray
    ) -> None:
        """Add the gas."""
        circuits["air_mol"] += severity


@dataclass(frozen=True, slots=True)
class HeldElsewhere(_Base):
    """Compartments held at another temperature than set: severity in kelvin."""

    fresh_food: float = 0.0  # kelvin per kelvin of severity
    freezer: float = 0.0

    def apply(
        self, med: Medium, circuits: np.ndarray, surroundings: np.ndarray, severity: np.ndarray
    ) -> None:
        """Shift what the thermostat or the air flap holds; measured temperatures stay."""
        for name, share in (("fresh_food", self.fresh_food), ("freezer", self.freezer)):
            setting = circuits["cabinet"][f"{name}_set_k"]
            at_setting = surroundings[f"{name}_k"] == setting
            surroundings[f"{name}_k"] += np.where(at_setting, share * severity, 0.0)
            circuits["cabinet"][f"{name}_set_k"] = setting + share * severity


class OtherBore(_Base):
    """Capillary of another bore: severity is bore over the right one."""

    def apply(
        self, med: Medium, circuits: np.ndarray, surroundings: np.ndarray, severity: np.ndarray
    ) -> None:
        """Scale the bore, that of a restricted stretch too."""
        circuits["capillary"]["bore_m"] *= severity
        circuits["capillary"]["stretch_bore_m"] *= severity

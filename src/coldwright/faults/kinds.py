"""The faults of this release. Severity means what the glossary says of each.

A fault that comes about in several ways (a control, a wrong fill) is altered
way by way; each way is named ``fault:way`` and can be simulated by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from coldwright.cycle.batches import in_batches
from coldwright.cycle.capillary.restriction import restrict_range
from coldwright.cycle.medium import Medium
from coldwright.errors import BadInput, OutOfRange


class Fault(Protocol):
    """What every fault offers."""

    @property
    def identifier(self) -> str:
        """Name in the glossary."""
        ...

    @property
    def low(self) -> float:
        """Least severity accepted; NaN where the fault has none."""
        ...

    @property
    def high(self) -> float:
        """Greatest severity accepted; NaN where the fault has none."""
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


_NAN = float("nan")
FAULTS: tuple[Fault, ...] = (
    Unaltered("nothing_wrong", _NAN, _NAN, None, False),
    ChargeFraction("undercharge", 0.10, 1.0, "fraction", True),
    ChargeFraction("overcharge", 1.0, 1.8, "fraction", True),
    Restriction("capillary_restricted", 0.03, 0.99, "fraction", True),
    Unaltered("capillary_blocked", _NAN, _NAN, None, True, blocks=True),
    Restriction("drier_restricted", 0.03, 0.99, "fraction", True, in_drier=True),
    Factor(
        "weak_compressor", 0.05, 1.0, "fraction", True,
        part="compressor", field="flow_factor_fraction",
    ),
    Factor(
        "condenser_air", 0.05, 1.0, "fraction", False,
        part="condenser", field="air_factor_fraction",
    ),
    Factor(
        "evaporator_air", 0.03, 1.0, "fraction", False,
        part="evaporator", field="air_factor_fraction",
    ),
    AddedLoad("heat_load", 0.0, 400.0, "W", False),
    Unaltered("compressor_not_running", _NAN, _NAN, None, False, runs=False),
)  # fmt: skip
NON_CONDENSABLES = AddedGas("non_condensables", 0.0, 0.15, "mol", True)
MOISTURE = Unaltered("moisture", _NAN, _NAN, None, True, blocks=True, comes_and_goes=True)
# Ways of `control`: the thermostat, the air flap between the compartments, the defrost's
NOT_CALLING = Unaltered(
    "control:not_calling", _NAN, _NAN, None, False, runs=False, called=False
)  # fmt: skip
ALWAYS_CALLING = HeldElsewhere(
    "control:always_calling", 5.0, 60.0, "K", False, fresh_food=-1.0, freezer=-1.0
)
DRIFTED_WARM = HeldElsewhere(
    "control:drifted_warm", 0.0, 12.0, "K", False, fresh_food=1.0, freezer=1.0
)
DAMPER_SHUT = HeldElsewhere("control:damper_shut", 0.0, 20.0, "K", False, fresh_food=1.0)
DAMPER_OPEN = HeldElsewhere("control:damper_open", 0.0, 10.0, "K", False, fresh_food=-1.0)
DEFROSTING = Unaltered(
    "control:defrosting", 50.0, 600.0, "W", False, runs=False, heats_coil=True, called=False
)  # fmt: skip
# Ways of `wrong_fill`, after an earlier repair
WRONG_CAPILLARY = OtherBore("wrong_fill:capillary", 0.6, 1.6, "fraction", True)
OIL_LOGGED = Factor(
    "wrong_fill:oil_logged", 1.0, 20.0, "fraction", True,
    part="evaporator", field="frost_resistance_k_w",
)  # fmt: skip
BESIDE: tuple[Fault, ...] = (
    NON_CONDENSABLES, MOISTURE, NOT_CALLING, ALWAYS_CALLING, DRIFTED_WARM, DAMPER_SHUT,
    DAMPER_OPEN, DEFROSTING, WRONG_CAPILLARY, OIL_LOGGED,
)  # fmt: skip
RESTRICTIONS = ("capillary_restricted", "drier_restricted")


def fault_named(identifier: str) -> Fault:
    """The fault of that name.

    Raises
    ------
    BadInput
        If there is none.
    """
    known = FAULTS + BESIDE
    for fault in known:
        if fault.identifier == identifier:
            return fault
    raise BadInput("input", "fault", identifier, ", ".join(f.identifier for f in known))


def check_severity(fault: Fault, severity: float) -> float:
    """The severity if the fault takes it.

    Raises
    ------
    OutOfRange
        If it lies outside the fault's limits.
    """
    if fault.unit is not None and not fault.low <= severity <= fault.high:
        raise OutOfRange(
            f"severity of {fault.identifier}", severity, fault.low, fault.high, fault.unit
        )
    return severity

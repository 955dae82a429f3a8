"""What presses on a leak: the pressures of each side while running, idle, warm, or under test gas.

Where nothing was measured the temperatures are those of a healthy household
appliance (common practice, no published source) and the shares of time are ours.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from coldwright.errors import BadInput, nearest
from coldwright.leak.flow import Across, FlowLaw
from coldwright.leak.gases import GAS_CONSTANT, GASES, REFRIGERANT_GASES, Gas
from coldwright.units import STANDARD_ATMOSPHERE_PA

HIGH, LOW = "high_side", "low_side"
SIDES = (HIGH, LOW)
CONDENSING_ABOVE_ROOM_K = 15.0  # healthy range 8 to 20 K, common practice
EVAPORATING_K = 247.15  # -26 degC, healthy range -22 to -30 degC, common practice
IDLE_K = 258.15  # evaporator between runs, ours: it sets the pressure everywhere
RUN_FRACTION = 0.5  # healthy range 0.3 to 0.7, common practice; a leak lengthens it
WARM_SHARE = 0.03  # of the time: defrost, unplugged, moved; ours
# Gas volumes of household circuits: shell 1.7 l and the rest by the catalogue's families; ours.
TOTAL_VOLUME_M3, HIGH_VOLUME_M3 = 2.2e-3, 0.2e-3
IN_OIL_KG = 0.003  # refrigerant that stays dissolved and does not press, ours
UNKNOWN_STANDS_FOR = "R134a"  # the commonest in the stock (catalogue.families); ours


@dataclass(frozen=True, slots=True)
class Phase:
    """A share of the time and the absolute pressure in it."""

    name: str
    share: float
    pressure_pa: float
    temperature_k: float


@dataclass(frozen=True, slots=True)
class Setting:
    """The appliance as a vessel: gas, room, volumes, and how much is left in it."""

    gas: Gas
    room_k: float
    air_pa: float = STANDARD_ATMOSPHERE_PA
    total_m3: float = TOTAL_VOLUME_M3
    high_m3: float = HIGH_VOLUME_M3
    charge_left_kg: float | None = None  # None: enough to keep liquid standing
    run_fraction: float = RUN_FRACTION

    def standing_pa(self) -> float:
        """Pressure everywhere, stopped and at room temperature [Pa]: saturation while liquid
        is left, the gas law below that."""
        saturated = saturation_pressure(self.gas, self.room_k)
        if self.charge_left_kg is None:
            return saturated
        free = max(self.charge_left_kg - IN_OIL_KG, 0.0)
        moles = free / self.gas.molar_mass_kg_mol
        return min(saturated, moles * GAS_CONSTANT * self.room_k / self.total_m3)

    def duty(self, side: str) -> tuple[Phase, ...]:
        """Running, idle and warm phases of a side in ordinary use, with its charge complete."""
        idle = saturation_pressure(self.gas, IDLE_K)
        condensing = self.room_k + CONDENSING_ABOVE_ROOM_K
        running_k = condensing if side == HIGH else EVAPORATING_K
        run = self.run_fraction
        return (
            Phase("running", run, saturation_pressure(self.gas, running_k), running_k),
            Phase("idle", 1.0 - run - WARM_SHARE, idle, IDLE_K),
            Phase("warm", WARM_SHARE, saturation_pressure(self.gas, self.room_k), self.room_k),
        )

    def volume_m3(self, side: str) -> float:
        """Gas volume of a side [m3]; both together by any other name."""
        return {HIGH: self.high_m3, LOW: self.total_m3 - self.high_m3}.get(side, self.total_m3)


def gas_of(refrigerant: str, *, file: str = "leak model", key: str = "refrigerant") -> Gas:
    """The gas that stands for a plate's refrigerant; `unknown` by the commonest one.

    Parameters
    ----------
    refrigerant : str
        Name as on the plate.
    file : str
        Named in an error.
    key : str
        Named in an error.

    Returns
    -------
    Gas
        Its constants.

    Raises
    ------
    BadInput
        If nothing is held of it.
    """
    if refrigerant == "unknown":
        return GASES[UNKNOWN_STANDS_FOR]
    if refrigerant not in REFRIGERANT_GASES:
        accepted = "one of " + ", ".join((*REFRIGERANT_GASES, "unknown"))
        near = nearest(refrigerant, REFRIGERANT_GASES)
        raise BadInput(file, key, f"'{refrigerant}'", accepted, near)
    return GASES[refrigerant]


def stands_for(refrigerant: str) -> tuple[str, ...]:
    """What to say where the refrigerant is not known: one note, else none.

    Parameters
    ----------
    refrigerant : str
        Name as on the plate.

    Returns
    -------
    tuple of str
        One note or none.
    """
    if refrigerant != "unknown":
        return ()
    return (f"Refrigerant not known: numbers are those of {UNKNOWN_STANDS_FOR}.",)


def saturation_pressure(gas: Gas, temperature_k: float) -> float:
    """Saturation pressure of a refrigerant [Pa], from CoolProp by way of the property tables.

    Parameters
    ----------
    gas : Gas
        A refrigerant.
    temperature_k : float
        Temperature. [K]

    Returns
    -------
    float
        Absolute pressure. [Pa]
    """
    from coldwright.refrigerant import saturation
    from coldwright.refrigerant.tables import FULL_REFRIGERANTS, load_tables

    if gas.identifier in FULL_REFRIGERANTS:
        tables = load_tables(gas.identifier)
        return float(saturation.saturation_pressure(tables, temperature_k))
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI("P", "T", temperature_k, "Q", 1, gas.identifier))


def mean_drive(law: FlowLaw, setting: Setting, side: str) -> tuple[float, float]:
    """Time-averaged drive outwards of the refrigerant and inwards of room air, both >= 0.

    Divided by the gas temperature, so that ratios are ratios of moles.

    Parameters
    ----------
    law : FlowLaw
        How the flow depends on the pressures.
    setting : Setting
        Room, air and gas.
    side : str
        Side of the circuit, low or high.

    Returns
    -------
    tuple
        Outwards and inwards, in the law's own unit over kelvin.
    """
    out = inward = 0.0
    air = GASES["air"]
    for phase in setting.duty(side):
        gas = setting.gas if phase.pressure_pa >= setting.air_pa else air
        t = phase.temperature_k if gas is setting.gas else setting.room_k
        drive = law.drive(Across(gas, phase.pressure_pa, setting.air_pa, t)) / t
        if drive >= 0.0:
            out += phase.share * drive
        else:
            inward -= phase.share * drive
    return out, inward


def below_atmosphere(setting: Setting, side: str) -> float:
    """Share of the time that a side is below the air pressure [-].

    Parameters
    ----------
    setting : Setting
        Room, air and gas.
    side : str
        Side of the circuit, low or high.

    Returns
    -------
    float
        Share, 0 to 1. [-]
    """
    return math.fsum(p.share for p in setting.duty(side) if p.pressure_pa < setting.air_pa)

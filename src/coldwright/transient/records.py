"""What a run over time is asked, and what comes of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum
from math import nan

from coldwright.cycle.state import RunningState


class Compartment(Enum):
    """One of the two insulated spaces."""

    FRESH_FOOD = "fresh_food"
    FREEZER = "freezer"


class Phase(Enum):
    """What the appliance does at a moment."""

    RUNNING = "running"
    OFF = "off"
    DEFROST = "defrost"
    DRIP = "drip"  # after a defrost, water runs off
    TRIPPED = "tripped"  # the overload has opened


@dataclass(frozen=True, slots=True)
class Goods:
    """Something to eat or drink in a compartment."""

    compartment: Compartment
    mass_kg: float
    water_fraction: float = 0.75  # meat, about; ours
    at_s: float = 0.0  # put in so long after the begin
    temperature_k: float = nan  # when put in; NaN = as the compartment's air then


@dataclass(frozen=True, slots=True)
class Thermostat:
    """Starts above the cut-in, stops below the cut-out; its sensor lags behind the air."""

    compartment: Compartment
    cut_in_k: float
    cut_out_k: float
    lag_s: float


@dataclass(frozen=True, slots=True)
class Defrost:
    """An electric heater at the evaporator."""

    interval_s: float  # of the compressor's run time
    heater_w: float
    end_k: float  # evaporator temperature that ends it
    longest_s: float
    drip_s: float  # then the compressor still waits


@dataclass(frozen=True, slots=True)
class Doors:
    """Openings one by one, instead of the circuit's averaged opening power."""

    per_hour: float
    humidity_fraction: float  # of the room's air


@dataclass(frozen=True, slots=True)
class Plan:
    """How long, from where, with what."""

    hours: float
    thermostat: Thermostat
    warm_start: bool  # all at the room's temperature; else compartments at their settings
    goods: tuple[Goods, ...] = ()
    defrost: Defrost | None = None
    doors: Doors | None = None
    runs: bool = True  # False: the compressor does not start
    blocked: bool = False  # no flow through the capillary
    damper: bool = False  # holds back the fresh-food side's air where that side is cold enough
    longest_step_s: float = 30.0


@dataclass(frozen=True, slots=True)
class Sample:
    """One moment."""

    time_s: float
    phase: Phase
    fresh_food_k: float
    freezer_k: float
    goods_k: float  # mean of the warmest lot; NaN without goods
    evaporator_k: float  # wall, mean over the coil
    shell_k: float
    condenser_k: float  # wall, mean
    evaporating_k: float
    condensing_k: float
    suction_pressure_pa: float
    discharge_pressure_pa: float
    mass_flow_kg_s: float
    cooling_w: float
    power_w: float  # of the whole appliance
    displaced_kg: float  # still missing from the high side


@dataclass(frozen=True, slots=True)
class Cycle:
    """From one start to the next."""

    start_s: float
    run_s: float
    off_s: float
    energy_j: float
    cooling_j: float
    compressor_j: float
    migration_heat_j: float  # brought into the evaporator after the stop
    displaced_kg: float  # missing from the high side at the start
    equalised_fraction: float  # of the pressure difference gone at the start
    defrosted: bool


@dataclass(frozen=True, slots=True)
class Balance:
    """Heat of the cabinet over the whole run."""

    walls_j: float  # in from the room
    inside_j: float  # heaters, doors, fan, added load, defrost heater, inward from a skin condenser
    migration_j: float
    goods_in_j: float  # brought by goods put in later, counted from where they end
    cooling_j: float  # out with the refrigerant
    melted_j: float  # out with melted frost
    stored_j: float  # gained by air, walls, goods, evaporator
    relative_error: float  # of all that moved


@dataclass(frozen=True, slots=True)
class Daily:
    """Mean of whole cycles after the pull-down."""

    cycles: int
    run_fraction: float
    cycles_per_hour: float
    energy_j_day: float
    fresh_food_k: float
    freezer_k: float


@dataclass(frozen=True, slots=True)
class Losses:
    """Cycling against the quasi-steady machine in the same air."""

    capacity_loss_fraction: float
    power_rise_fraction: float
    efficiency_loss_fraction: float
    migration_load_fraction: float  # heat brought by migration over the cabinet's load
    displaced_charge_fraction: float  # high side's shortage at the start over the charge


@dataclass(frozen=True, slots=True)
class DefrostReport:
    """Defrosts of a run."""

    count: int
    energy_j: float
    mean_s: float
    melted_kg: float


@dataclass(frozen=True, slots=True)
class PullDown:
    """A run over time with its evidence."""

    samples: tuple[Sample, ...]
    cycles: tuple[Cycle, ...]
    pull_down_s: float  # until the thermostat first stops the compressor; NaN = not reached
    fresh_food_reached_s: float  # its setting, within half of the thermostat's span
    freezer_reached_s: float
    energy_j: float  # of the whole run
    run_s: float
    daily: Daily | None  # None where no whole cycles followed
    steady: RunningState | None  # thermostat in charge, all settled; None where it does not run
    steady_energy_j_day: float
    losses: Losses | None
    defrosts: DefrostReport
    balance: Balance
    trips: int
    early_restarts: int  # before the pressures were level
    unsolved_s: float  # time bridged with the state before, where none was found
    solves: int
    fallbacks: int  # of them, found by following the curve instead of directly
    notes: tuple[str, ...] = field(default=())

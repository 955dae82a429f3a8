"""The sealed circuit and its cabinet as data.

Every field is one SI number; its last word(s) name the unit. The field name
without the unit is the key in a circuit file (``[circuit.capillary] bore``)
and in ``--vary capillary.bore=...``. `vector.py` packs a circuit into the flat
array the compiled kernels read, in the order the fields stand here.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from enum import IntEnum
from math import isnan

from coldwright.errors import require
from coldwright.refrigerant.full import refrigerant_code

MOST_CHARGE_KG = 5.0  # ten times the largest household charge; a slip of the pen, ours
ROOM_RANGE_K = (220.0, 340.0)
COMPARTMENT_RANGE_K = (203.15, 343.15)
MOST_LOAD_W = 1e4
MOST_GAS_MOL = 100.0


class CondenserKind(IntEnum):
    """How the condenser gives its heat to the room."""

    STATIC = 0
    SKIN = 1
    FAN = 2


class EvaporatorKind(IntEnum):
    """How the evaporator takes heat from the air."""

    PLATE = 0
    COLD_WALL = 1
    FAN = 2


class Position(IntEnum):
    """Where a loop lies in the order of flow; the oil cooler always ends the first section."""

    BEFORE_CONDENSER = 0
    BETWEEN_SECTIONS = 1
    AFTER_CONDENSER = 2


class CompressorKind(IntEnum):
    """What gives the compressor's flow and power."""

    PHYSICAL = 0
    POLYNOMIAL = 1


class CapillaryKind(IntEnum):
    """What gives the capillary's flow."""

    MARCH = 0
    GENERALISED = 1


class FlashKind(IntEnum):
    """Where liquid in the capillary begins to boil."""

    EQUILIBRIUM = 0
    DELAYED = 1


class VoidKind(IntEnum):
    """Void fraction model; the order is that of `cycle.void.VOID_MODELS`."""

    PREMOLI = 0
    ROUHANI = 1
    ZIVI = 2
    HOMOGENEOUS = 3
    BAROCZY = 4


@dataclass(frozen=True, slots=True)
class Compressor:
    """Hermetic reciprocating compressor in a low-pressure shell."""

    displacement_m3: float  # swept volume per revolution
    speed_1_s: float  # shaft speed
    clearance_fraction: float  # dead volume over swept volume
    reexpansion_exponent: float  # polytropic exponent of the dead gas
    flow_factor_fraction: float  # valve and ring tightness, 1 = as built
    leak_work_share_fraction: float  # part of the work that stays when flow is lost
    indicated_efficiency_fraction: float  # isentropic over indicated work
    motor_efficiency_fraction: float  # indicated over electrical work, above idle
    idle_power_w: float  # friction and motor loss at no compression
    suction_conductance_w_k: float  # shell to suction gas
    discharge_conductance_w_k: float  # discharge muffler and tube to shell
    shell_conductance_w_k: float  # shell to room
    shell_volume_m3: float  # gas space
    oil_mass_kg: float
    power_factor_fraction: float


@dataclass(frozen=True, slots=True)
class CompressorPolynomial:
    """Ten coefficients each for flow and power (EN 12900, AHRI 540), read in °C.

    y = c1 + c2 te + c3 tc + c4 te^2 + c5 te tc + c6 tc^2 + c7 te^3 + c8 tc te^2 + c9 te tc^2
    + c10 tc^3 with te evaporating (saturation at the shell) and tc condensing.
    """

    least_evaporating_k: float = 0.0  # of the range the coefficients are stated for
    most_evaporating_k: float = 0.0
    least_condensing_k: float = 0.0
    most_condensing_k: float = 0.0
    return_gas_k: float = 0.0  # suction gas at the shell when they were made
    flow_unit_number: float = 0.0  # kg/s one unit of its flow stands for; 1/3600 for kg/h
    flow_c1_number: float = 0.0  # kg/s over flow_unit, temperatures in °C
    flow_c2_number: float = 0.0
    flow_c3_number: float = 0.0
    flow_c4_number: float = 0.0
    flow_c5_number: float = 0.0
    flow_c6_number: float = 0.0
    flow_c7_number: float = 0.0
    flow_c8_number: float = 0.0
    flow_c9_number: float = 0.0
    flow_c10_number: float = 0.0
    power_c1_number: float = 0.0  # W, temperatures in °C
    power_c2_number: float = 0.0
    power_c3_number: float = 0.0
    power_c4_number: float = 0.0
    power_c5_number: float = 0.0
    power_c6_number: float = 0.0
    power_c7_number: float = 0.0
    power_c8_number: float = 0.0
    power_c9_number: float = 0.0
    power_c10_number: float = 0.0


@dataclass(frozen=True, slots=True)
class Models:
    """Which of the alternative objects stand in the circuit."""

    compressor_code: float = 0.0  # CompressorKind
    capillary_code: float = 0.0  # CapillaryKind
    flashing_code: float = 0.0  # FlashKind
    void_fraction_code: float = 0.0  # VoidKind

    def __post_init__(self) -> None:
        for field, kind in zip(
            fields(self), (CompressorKind, CapillaryKind, FlashKind, VoidKind), strict=True
        ):
            name = field.name.removesuffix("_code").replace("_", " ")
            require(f"model of the {name}", getattr(self, field.name), "-", 0.0, float(max(kind)))


@dataclass(frozen=True, slots=True)
class DischargeLine:
    """From the shell to the condenser."""

    conductance_w_k: float  # to the room
    volume_m3: float


@dataclass(frozen=True, slots=True)
class Condenser:
    """One continuous tube; outside surface by kind."""

    kind_code: float  # CondenserKind
    tube_length_m: float
    tube_bore_m: float
    volume_m3: float  # inner; may differ from bore and length where headers exist
    area_m2: float  # outside surface (static: tubes and wires; skin: panel; fan: fins)
    height_m: float
    tube_diameter_m: float
    wire_diameter_m: float
    tube_pitch_m: float
    wire_pitch_m: float
    emissivity_fraction: float
    surface_efficiency_fraction: float
    fan_coefficient_w_m2_k: float  # air side, fan kind only
    air_capacity_w_k: float  # mass flow times cp of the air, fan kind only
    inward_conductance_w_k: float  # to the compartment, skin kind only
    air_factor_fraction: float  # dust, stopped fan, no clearance; 1 = as built
    first_section_fraction: float = 0.0  # of the tube, before what lies between; 0 = undivided


@dataclass(frozen=True, slots=True)
class OilCooler:
    """Dead-ended tube through the shell's oil, after the condenser's first section."""

    conductance_w_k: float = 0.0  # oil to refrigerant; 0 = none
    tube_length_m: float = 0.0
    tube_bore_m: float = 0.0


@dataclass(frozen=True, slots=True)
class FrameLoop:
    """Tube behind the flange round the door; the flange stays where the tube is by-passed."""

    position_code: float = 0.0  # Position
    tube_length_m: float = 0.0  # 0 = none, or by-passed
    tube_bore_m: float = 0.0
    bond_conductance_w_m_k: float = 0.0  # tube to flange, per length
    room_conductance_w_k: float = 0.0  # flange to room
    cabinet_conductance_w_k: float = 0.0  # flange to cabinet air, past seal and foam
    fresh_food_share_fraction: float = 0.0  # of that, the part behind the fresh-food door


@dataclass(frozen=True, slots=True)
class DrainPanLoop:
    """Stretch that warms the drain pan; water and air there count as the room."""

    position_code: float = 0.0  # Position
    tube_length_m: float = 0.0  # 0 = none
    tube_bore_m: float = 0.0
    room_conductance_w_k: float = 0.0
    cabinet_conductance_w_k: float = 0.0  # into the cabinet, at the freezer's air


@dataclass(frozen=True, slots=True)
class Drier:
    """Filter drier with the liquid line."""

    volume_m3: float
    loss_coefficient_1_m4: float  # pressure loss = coefficient * flow^2 * specific volume


@dataclass(frozen=True, slots=True)
class Capillary:
    """Capillary tube; a middle stretch is bonded to the suction line."""

    bore_m: float
    length_m: float
    roughness_m: float
    entrance_loss_fraction: float  # velocity heads lost at the inlet
    inlet_length_m: float  # before the bond
    bonded_length_m: float
    bond_conductance_w_m_k: float  # capillary to suction gas, per length
    stretch_bore_m: float  # bore of the restricted stretch at the inlet
    stretch_length_m: float  # 0 = none


@dataclass(frozen=True, slots=True)
class Evaporator:
    """One continuous tube; outside surface by kind."""

    kind_code: float  # EvaporatorKind
    tube_length_m: float
    tube_bore_m: float
    volume_m3: float
    area_m2: float
    height_m: float
    emissivity_fraction: float
    surface_efficiency_fraction: float
    fan_coefficient_w_m2_k: float
    frost_resistance_k_w: float  # whole-coil resistance of ordinary frost
    air_factor_fraction: float  # stopped fan, iced coil; 1 = as built


@dataclass(frozen=True, slots=True)
class Accumulator:
    """Low-side liquid trap at the evaporator outlet; volume 0 = none."""

    volume_m3: float
    half_full_wetness_fraction: float  # outlet wetness at which it is half full


@dataclass(frozen=True, slots=True)
class SuctionLine:
    """Evaporator to shell; the bonded stretch is the capillary's."""

    bore_m: float
    length_m: float
    room_conductance_w_k: float  # of the stretch outside the cabinet, after the bond


@dataclass(frozen=True, slots=True)
class Cabinet:
    """Insulated box with up to two compartments served by one evaporator.

    With one compartment only (chest or upright freezer) the fresh-food
    conductance is 0 and the air share is 0.
    """

    fresh_food_conductance_w_k: float
    freezer_conductance_w_k: float
    fresh_food_set_k: float
    freezer_set_k: float
    air_share_fraction: float  # of the evaporator's air that returns from the fresh-food side
    air_capacity_w_k: float  # heat capacity rate of all air over the evaporator
    heater_power_w: float  # averaged heaters that warm the inside
    opening_power_w: float  # averaged doors, moisture and goods
    evaporator_fan_power_w: float
    condenser_fan_power_w: float
    controls_power_w: float  # electronics, outside the cold space


@dataclass(frozen=True, slots=True, kw_only=True)
class Circuit:
    """A fully specified appliance: what `simulate` needs.

    The refrigerant and the models belong to it: whoever solves it takes the medium from here
    (`cycle.medium.medium_of`).

    Raises
    ------
    Refused
        If the refrigerant has no full properties.
    OutOfRange
        If charge or gas cannot be.
    """

    refrigerant: str  # one of `refrigerant.full.FULL_REFRIGERANTS`
    models: Models = Models()
    compressor: Compressor
    compressor_polynomial: CompressorPolynomial = CompressorPolynomial()
    discharge_line: DischargeLine
    condenser: Condenser
    oil_cooler: OilCooler = OilCooler()
    frame_loop: FrameLoop = FrameLoop()
    drain_pan_loop: DrainPanLoop = DrainPanLoop()
    drier: Drier
    capillary: Capillary
    evaporator: Evaporator
    accumulator: Accumulator
    suction_line: SuctionLine
    cabinet: Cabinet
    charge_kg: float
    air_mol: float = 0.0  # air or nitrogen inside

    def __post_init__(self) -> None:
        refrigerant_code(self.refrigerant)
        require("charge", self.charge_kg, "kg", 0.0, MOST_CHARGE_KG)
        require("gas inside", self.air_mol, "mol", 0.0, MOST_GAS_MOL)


@dataclass(frozen=True, slots=True)
class Surroundings:
    """Where the circuit stands and what is imposed on it."""

    room_k: float
    supply_v: float
    fresh_food_k: float  # imposed compartment temperature, NaN = solve the cabinet's balance
    freezer_k: float
    heat_load_w: float  # added by a fault, 0 = none

    def __post_init__(self) -> None:
        require("room temperature", self.room_k, "K", *ROOM_RANGE_K)
        for name, value in (("fresh food", self.fresh_food_k), ("freezer", self.freezer_k)):
            if not isnan(value):
                require(name, value, "K", *COMPARTMENT_RANGE_K)
        require("added heat", self.heat_load_w, "W", 0.0, MOST_LOAD_W)

"""What a job file says of the mending: state of the circuit, metals, joints, prices of this job.

Everything optional. Prices are numbers in the shop's own currency; none is converted.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class JointSeen:
    """A joint as measured; None where it was not."""

    place: str
    metals: tuple[str, str] | None = None
    outside_m: tuple[float, float] | None = None
    wall_m: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Prices:
    """Prices and rates; None where not given. `EFFECTS` says what is then missing."""

    labour_per_hour: float | None = None
    call_out: float | None = None
    electricity_per_kwh: float | None = None
    discount_rate_fraction: float | None = None
    new_appliance: float | None = None
    new_energy_kwh_year: float | None = None
    disposal: float | None = None
    refrigerant_per_100g: float | None = None
    drier: float | None = None
    joint_material: float | None = None
    capillary: float | None = None
    compressor: float | None = None
    evaporator: float | None = None
    start_device: float | None = None
    fan: float | None = None
    seal: float | None = None
    control: float | None = None
    frame_heater: float | None = None
    nitrogen: float | None = None
    opening_risk: float | None = None
    grid_kg_co2e_per_kwh: float | None = None
    embodied_kg_co2e: float | None = None

    def over(self, other: Prices) -> Prices:
        """These prices, and the other's where these say nothing."""
        mine = {f.name: getattr(self, f.name) for f in fields(self)}
        return Prices(**{k: getattr(other, k) if v is None else v for k, v in mine.items()})


# What happens when a price is left out; shown beside it wherever it is missing or wrong.
EFFECTS: Mapping[str, str] = MappingProxyType(
    {
        "labour_per_hour": "no money can be put on any repair; hours are shown instead",
        "call_out": "the way to the customer costs nothing",
        "electricity_per_kwh": "running costs no money: an old appliance looks too good",
        "discount_rate_fraction": "later costs count in full, as at a rate of 0 %",
        "new_appliance": "no money can be put on replacing, so nothing is compared in money",
        "new_energy_kwh_year": "a new one's energy comes from the model, else from the newest rule",
        "disposal": "taking the old one away costs nothing",
        "refrigerant_per_100g": "refrigerant costs nothing",
        "drier": "a drier costs nothing",
        "joint_material": "filler, flux and rings cost nothing",
        "capillary": "a capillary costs nothing",
        "compressor": "a compressor costs nothing: that repair looks too good",
        "evaporator": "an evaporator costs nothing: that repair looks too good",
        "start_device": "a starting device costs nothing",
        "fan": "a fan costs nothing",
        "seal": "a seal or heater costs nothing",
        "control": "a thermostat, sensor or board costs nothing",
        "frame_heater": "a frame heater costs nothing to buy",
        "nitrogen": "nitrogen costs nothing",
        "opening_risk": "opening a sound circuit is taken to cost an hour's work in later trouble "
        "(judgement of ours)",
        "grid_kg_co2e_per_kwh": "electricity has no climate cost; only refrigerant and making do",
        "embodied_kg_co2e": "making a new one is taken at 300 kg CO2e (judgement of ours)",
    }
)
# In plain words, for the owner.
LABELS: Mapping[str, str] = MappingProxyType(
    {
        "labour_per_hour": "hourly rate",
        "call_out": "call-out",
        "electricity_per_kwh": "price of electricity",
        "discount_rate_fraction": "discount rate",
        "new_appliance": "price of a new appliance",
        "new_energy_kwh_year": "energy of a new appliance",
        "disposal": "price of taking the old one away",
        "refrigerant_per_100g": "price of refrigerant",
        "drier": "price of a drier",
        "joint_material": "price of filler, flux and rings",
        "capillary": "price of a capillary",
        "compressor": "price of a compressor",
        "evaporator": "price of an evaporator",
        "start_device": "price of a starting device",
        "fan": "price of a fan",
        "seal": "price of a seal or heater",
        "control": "price of a thermostat, sensor or board",
        "frame_heater": "price of a frame heater",
        "nitrogen": "price of nitrogen",
        "opening_risk": "risk price of opening a sound circuit",
        "grid_kg_co2e_per_kwh": "climate cost of electricity",
        "embodied_kg_co2e": "climate cost of making a new one",
    }
)
# As written in a file: the rate without its `_fraction`.
WRITTEN: Mapping[str, str] = MappingProxyType(
    {name.removesuffix("_fraction"): name for name in EFFECTS}
)


@dataclass(frozen=True, slots=True)
class Mending:
    """Table [repair] of a job file."""

    state: str | None = None  # a `CircuitState`
    alternative: str | None = None  # the one whose sheet is wanted
    cause: str | None = None  # what was found, where the technician has settled it
    metals: tuple[tuple[str, str], ...] = ()  # segment, metal
    joints: tuple[JointSeen, ...] = ()
    frame_loop_length_m: float | None = None
    prices: Prices = field(default_factory=Prices)

"""What the repair starts from: the appliance as far as known, in one frozen record."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from coldwright.errors import BadInput
from coldwright.readings.job import Job
from coldwright.refrigerant.facts import UNKNOWN, Refrigerant, refrigerant_facts
from coldwright.repair.joint_records import CircuitState, Surrounding


@dataclass(frozen=True, slots=True)
class UsualTube:
    """Metal and outside diameter usual for a segment: common practice, no published source."""

    metal: str
    outside_m: float


# Evaporators are aluminium in most appliances since about 1985, copper or steel before.
USUAL: Mapping[str, UsualTube] = MappingProxyType(
    {
        "compressor": UsualTube("steel", 6.4e-3),  # stubs, copper-plated
        "discharge_line": UsualTube("steel", 5.0e-3),
        "oil_cooler": UsualTube("steel", 5.0e-3),
        "drain_pan_loop": UsualTube("steel", 4.8e-3),
        "condenser": UsualTube("steel", 4.8e-3),
        "frame_loop": UsualTube("steel", 4.8e-3),
        "drier": UsualTube("copper", 6.0e-3),
        "capillary": UsualTube("copper", 2.0e-3),
        "suction_exchanger": UsualTube("copper", 8.0e-3),
        "evaporator": UsualTube("aluminium", 8.0e-3),
        "accumulator": UsualTube("aluminium", 8.0e-3),
        "suction_line": UsualTube("copper", 8.0e-3),
        "process_tube": UsualTube("copper", 6.0e-3),
    }
)
COPPER_EVAPORATOR_BEFORE = 1985  # judgement of ours
# Neither fluorine nor chlorine: no poison from a flame


@dataclass(frozen=True, slots=True)
class Situation:
    """One appliance before its repair."""

    kind: str
    year: int | None
    age_years: float | None
    refrigerant: Refrigerant
    charge_kg: float | None
    layout: str
    condenser: str | None
    evaporator: str | None
    state: CircuitState
    metals: Mapping[str, str]  # seen
    voltage_v: float | None
    frequency_hz: float | None
    displacement_m3: float | None
    frame_loop_length_m: float | None

    @property
    def flammable(self) -> bool:
        """Handled as flammable: true also where the refrigerant is not known."""
        return self.refrigerant.flammable

    @property
    def surrounding(self) -> Surrounding:
        """For the plan of a joint."""
        return Surrounding(self.flammable, self.state, not self.refrigerant.hydrocarbon)

    @property
    def frame_loop(self) -> bool:
        """Whether a door-frame loop is known to be there."""
        return "frame_loop" in self.layout

    def metal_of(self, segment: str) -> tuple[str, bool]:
        """Metal of a segment, and whether it is only the usual one."""
        if segment in self.metals:
            return self.metals[segment], False
        if segment == "evaporator" and (self.year or 2008) < COPPER_EVAPORATOR_BEFORE:
            return "copper", True
        return USUAL[segment].metal, True

    def buried(self, segment: str) -> bool:
        """Whether a segment lies in foam or behind the liner."""
        if segment == "condenser":
            return self.condenser == "skin"
        if segment in ("evaporator", "accumulator"):
            return self.evaporator == "cold_wall"
        return segment in ("frame_loop", "suction_exchanger")


def situation_of(job: Job, this_year: int) -> Situation:
    """The situation a job describes.

    Parameters
    ----------
    job : Job
        Plate, circuit, history, table [repair].
    this_year : int
        For an age where only the year of manufacture is known. [a]

    Returns
    -------
    Situation
        Plate, age [a], layout, metals and refrigerant.
    """
    plate, seen, mending = job.plate, job.circuit, job.mending
    try:
        facts = refrigerant_facts(plate.refrigerant)
    except BadInput:
        facts = UNKNOWN
    age = None if job.history.age_s is None else job.history.age_s / 31_557_600.0
    if age is None and plate.year is not None:
        age = max(0.0, float(this_year - plate.year))
    state = CircuitState(mending.state) if mending.state else CircuitState.CHARGED
    if mending.state is None and job.reading("recovered_mass") is not None:
        state = CircuitState.RECOVERED
    return Situation(
        kind=plate.built_as,
        year=plate.year,
        age_years=age,
        refrigerant=facts,
        charge_kg=plate.charge_kg,
        layout=seen.layout or "plain",
        condenser=seen.condenser,
        evaporator=seen.evaporator,
        state=state,
        metals=MappingProxyType(dict(mending.metals)),
        voltage_v=plate.voltage_v,
        frequency_hz=plate.frequency_hz,
        displacement_m3=seen.displacement_m3,
        frame_loop_length_m=mending.frame_loop_length_m,
    )

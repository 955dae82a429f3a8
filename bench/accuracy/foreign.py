"""Appliances that are not our model's: other closures, sized by their own physics.

A maker tunes an appliance on a bench, not by our equations. A foreign appliance is
therefore sized to the same kind of intentions with its own closures, and differs
from ours in how it behaves away from the design point:

- void fraction by another correlation (Rouhani, Zivi, homogeneous or Baroczy);
- heat transfer inside the tubes off by tens of percent (through the bore, at the
  same inner volume), outside with other shares of radiation and other fan laws;
- roughness, entrance loss and bond of the capillary from wider ranges, and its flow
  away from design by the generalised correlation of ASHRAE RP-762 instead of the march;
- a compressor whose indicated and volumetric efficiency bend with the pressure ratio,
  where ours keeps the first and lets clearance alone set the second;
- an oil that dissolves more or less.

How far each goes is a judgement of ours, inside the scatter that the correlations'
authors state (tens of percent in the tubes, 10 % of capillary and compressor flow).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from coldwright.catalogue.sizing import Known, Members, size_members
from coldwright.cycle.capillary.generalised import InletProperties, subcooled_flow
from coldwright.cycle.medium import Medium, medium
from coldwright.cycle.state import SOLVED
from coldwright.cycle.void import BAROCZY, HOMOGENEOUS, ROUHANI, ZIVI
from coldwright.diagnosis.hypotheses import Hypothesis
from coldwright.diagnosis.population import Population, simulate
from coldwright.diagnosis.subject import Subject
from coldwright.refrigerant.saturation import saturation_all, saturation_pressure

VOIDS = (ROUHANI, ZIVI, HOMOGENEOUS, BAROCZY)
ROUNDS = 3  # of solving and bending the laws again; the ratio settles within a percent
FLOW_BAND = (0.75, 1.35)  # capillary flow against the march's, beyond it neither is believed
FLOW_POWER = 2.6  # of the bore in the flow, ASHRAE RP-762


@dataclass(frozen=True, slots=True)
class Closures:
    """How a batch of foreign appliances differs; arrays of one value per member."""

    void: int
    oil_shift: float  # of the interaction parameter [-]
    condenser_bore: np.ndarray  # factors
    evaporator_bore: np.ndarray
    radiation: np.ndarray
    fan_law: np.ndarray
    roughness: np.ndarray
    bond: np.ndarray
    exponent: np.ndarray  # of re-expansion, added
    work_bend: np.ndarray  # of indicated efficiency with ln of the pressure ratio, squared
    flow_slope: np.ndarray  # of flow with ln of the pressure ratio
    by_correlation: np.ndarray  # bool: capillary by the generalised correlation


def draw(rng: np.random.Generator, count: int) -> Closures:
    """Closures of a batch.

    Parameters
    ----------
    rng : Generator
        Source of randomness.
    count : int
        Members. [-]
    """

    def about(log_sd: float) -> np.ndarray:
        return np.exp(log_sd * np.clip(rng.standard_normal(count), -2.0, 2.0))

    return Closures(
        void=int(rng.choice(VOIDS)),
        oil_shift=float(rng.normal(0.0, 0.15)),
        condenser_bore=about(0.12),
        evaporator_bore=about(0.12),
        radiation=about(0.25),
        fan_law=about(0.25),
        roughness=about(0.7),
        bond=about(0.4),
        exponent=rng.uniform(-0.03, 0.12, count),
        work_bend=rng.uniform(0.0, 0.5, count),
        flow_slope=rng.uniform(-0.10, 0.04, count),
        by_correlation=rng.random(count) < 0.5,
    )


def foreign_medium(refrigerant: str, closures: Closures) -> Medium:
    """The refrigerant with another void fraction and another oil."""
    own = medium(refrigerant)
    return own._replace(void_code=closures.void, chi0=own.chi0 + closures.oil_shift)


def sized(med: Medium, known: Known, z: np.ndarray, closures: Closures) -> Members:
    """Healthy foreign appliances, sized with their own closures."""

    def alter(c: np.ndarray) -> None:
        c["condenser"]["tube_bore_m"] *= closures.condenser_bore
        c["evaporator"]["tube_bore_m"] *= closures.evaporator_bore
        for part in ("condenser", "evaporator"):
            emissivity = c[part]["emissivity_fraction"]
            c[part]["emissivity_fraction"] = np.minimum(emissivity * closures.radiation, 0.98)
            c[part]["fan_coefficient_w_m2_k"] *= closures.fan_law
        c["capillary"]["roughness_m"] *= closures.roughness
        c["capillary"]["bond_conductance_w_m_k"] *= closures.bond
        c["compressor"]["reexpansion_exponent"] += closures.exponent

    return size_members(med, known, z, alter)


def truth(
    med: Medium,
    subject: Subject,
    fault: Hypothesis,
    z: np.ndarray,
    members: Members,
    closures: Closures,
    refrigerant: str,
) -> Population:
    """Faulty foreign appliances at the visit, their laws bent to where they run.

    Parameters
    ----------
    med : Medium
        From `foreign_medium`.
    subject : Subject
        Appliance and visit.
    fault : Hypothesis
        What ails them.
    z : ndarray
        Scores, shape (n, DIMENSIONS). [-]
    members : Members
        From `sized`.
    closures : Closures
        The batch's.
    refrigerant : str
        Name of what `med` is.
    """
    at_design = members.design_states
    found = simulate(med, subject, fault, z, members, refrigerant=refrigerant)
    bent = members.circuits.copy()
    for _ in range(ROUNDS):
        pumps = found.solved & (found.states["mass_flow_kg_s"] > 0.0)
        pumps &= found.states["status_code"] == SOLVED
        if found.alien is not None:
            pumps &= ~found.alien
        ratio = np.log(_ratio(found.states) / _ratio(at_design))
        ratio = np.where(pumps & np.isfinite(ratio), ratio, 0.0)
        k, own = bent["compressor"], members.circuits["compressor"]
        eta = own["indicated_efficiency_fraction"] * (1.0 - closures.work_bend * ratio**2)
        k["indicated_efficiency_fraction"] = np.clip(eta, 0.3, 0.95)
        flow = np.exp(np.clip(closures.flow_slope * ratio, -0.25, 0.25))
        k["flow_factor_fraction"] = own["flow_factor_fraction"] * flow
        for i in np.flatnonzero(pumps & closures.by_correlation):
            factor = _correlation_over_march(med, refrigerant, found, at_design, i)
            bore = members.circuits["capillary"]["bore_m"][i]
            bent["capillary"]["bore_m"][i] = bore * factor ** (1.0 / FLOW_POWER)
        bent["capillary"]["stretch_bore_m"] = bent["capillary"]["bore_m"]
        altered = replace(members, circuits=bent.copy())
        found = simulate(med, subject, fault, z, altered, refrigerant=refrigerant)
    return found


def _ratio(states: np.ndarray) -> np.ndarray:
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(states["condensing_pressure_pa"] / states["suction_pressure_pa"])


def _correlation_over_march(
    med: Medium, refrigerant: str, found: Population, design: np.ndarray, i: int
) -> float:
    """How much more the correlation lets through here than the march, both against design."""
    now, then = found.states[i], design[i]
    flows = []
    for state in (now, then):
        flow = _by_correlation(med, refrigerant, found.circuits[i], state)
        if flow is None:
            return 1.0
        flows.append(flow / float(state["mass_flow_kg_s"]))
    # The restricted tube's own loss is not in the correlation: only sound tubes are bent.
    circuit = found.circuits[i]
    if circuit["capillary"]["stretch_length_m"] > 0.0:
        return 1.0
    return float(np.clip(flows[0] / flows[1], *FLOW_BAND))


def _by_correlation(
    med: Medium, refrigerant: str, circuit: np.void, state: np.void
) -> float | None:
    """Flow by the correlation; None for a two-phase inlet, whose branch does not join."""
    subcooling = float(state["subcooling_k"])
    if not subcooling > 0.5 or float(state["condenser_outlet_quality"]) > 0.0:
        return None
    tube, tables = circuit["capillary"], med.tables
    inlet_k = float(state["condensing_k"]) - subcooling
    s = saturation_all(tables, saturation_pressure(tables, inlet_k))
    found = subcooled_flow(
        bore=float(tube["bore_m"]),
        length=float(tube["length_m"]),
        pressure=float(state["condensing_pressure_pa"]),
        subcooling=subcooling,
        inlet=InletProperties(s[3], s[4], s[5], s[6], s[2] - s[1], s[9]),
        refrigerant=refrigerant,
    )
    return found.mass_flow_kg_s

"""What the leading fault does inside: its best-fitting simulated appliance beside itself sound."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from coldwright.case.background import SEED, THIS_YEAR
from coldwright.case.case import SOUND, Case
from coldwright.circuit.records import Circuit
from coldwright.circuit.vector import unpack_circuit
from coldwright.cycle.medium import Medium
from coldwright.cycle.solver.running import state_of
from coldwright.cycle.state import RunningState
from coldwright.diagnosis.ensemble import MEMBERS
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.population import members_for, simulate
from coldwright.errors import NotSolved
from coldwright.faults.record import Together
from coldwright.figures.circuit import Beside, along_circuit_svg, pressure_enthalpy_svg
from coldwright.figures.diagrams import along_circuit, pressure_enthalpy
from coldwright.learning.experience import background_of
from coldwright.learning.proven import Proven
from coldwright.readings.job import Job
from coldwright.readings.shop import NO_SHOP, Shop


@dataclass(frozen=True, slots=True)
class Inside:
    """One member of the ensemble with the leading fault, and the same appliance without it."""

    faults: Together
    probability: float
    severity: float  # as the glossary has it, NaN where the fault has none
    unit: str | None  # of it: 'fraction', 'W', 'mol'; of two faults together the first one's
    sound_leads: bool  # nothing wrong is likelier than this fault
    refrigerant: str
    circuit: Circuit
    room_k: float
    state: RunningState
    sound: RunningState
    medium: Medium

    @property
    def flows(self) -> bool:
        """Whether there is a flow to draw."""
        return self.state.mass_flow_kg_s > 0.0 and self.sound.mass_flow_kg_s > 0.0


def inside(
    job: Job,
    *,
    seed: int = SEED,
    members: int = MEMBERS,
    refine: bool = True,
    shop: Shop = NO_SHOP,
    this_year: int = THIS_YEAR,
    proven: Proven | None = None,
    progress: Callable[[str], None] | None = None,
) -> Inside:
    """The leading fault's best-fitting member beside the same appliance sound.

    Costs what a diagnosis costs; the ensemble of one worked out before is used again.

    Parameters
    ----------
    job : Job
        Plate, readings, signs and how they were taken.
    seed : int
        As in `diagnose`; the same seed has the same fault lead. [-]
    members : int
        Simulated appliances. [-]
    refine : bool
        As in `diagnose`.
    shop : Shop
        As in `diagnose`: the same odds are drawn that it tells.
    this_year : int
        As in `diagnose`. [a]
    proven : Proven, optional
        As in `diagnose`.
    progress : callable, optional
        Told a line when something takes more than a second.

    Raises
    ------
    Refused
        If the appliance is of a kind that is not modelled.
    NotSolved
        If no member of the leading fault, or not the sound one, has a state.

    Returns
    -------
    Inside
        The two appliances, their states and what they are filled with.
    """
    background = background_of(
        seed=seed, members=members, refine=refine, shop=shop, this_year=this_year, proven=proven
    )
    return inside_of(Case(job, background, progress))


def inside_of(case: Case) -> Inside:
    """The leading fault's best-fitting member beside the same appliance sound.

    Parameters
    ----------
    case : Case
        Job and background; odds told of it and this drawing speak of one posterior.

    Returns
    -------
    Inside
        The two appliances, their states and what they are filled with.

    Raises
    ------
    Refused
        If the appliance is not modelled, or its odds rest on too little.
    NotSolved
        If no member of the leading fault, or not the sound one, has a state.
    """
    subject, odds, fault = case.subject, case.odds, case.leading
    group, i = case.best(fault)
    population, med = group.population, group.block.med
    z = population.scores[i : i + 1]
    sound = simulate(med, subject, hypothesis_named(*SOUND), z, members_for(med, subject, z))
    if population.alien is not None and population.mistaken is not None and population.alien[i]:
        med = population.mistaken  # filled with the wrong refrigerant: drawn by its own properties
    if not sound.solved[0]:
        raise NotSolved("the same appliance without its fault", (), float("nan"))
    return Inside(
        faults=fault,
        probability=odds[fault],
        severity=float(population.severity[i]),
        unit=hypothesis_named(*fault).unit,
        sound_leads=odds.get(SOUND, 0.0) > odds[fault],
        refrigerant=group.block.refrigerant,
        circuit=unpack_circuit(population.circuits[i]),
        room_k=float(population.room_k[i]),
        state=state_of(population.states[i]),
        sound=state_of(sound.states[0]),
        medium=med,
    )


def figures_inside(found: Inside, title: str, words: str) -> dict[str, str]:
    """File name to SVG; empty where nothing flows.

    Parameters
    ----------
    found : Inside
        What to draw.
    title : str
        Of the job.
    words : str
        The fault's name, as the client says it.

    Returns
    -------
    dict
        SVG by file name.
    """
    if not found.flows:
        return {}
    named = f"{title}: {words}, beside the same appliance sound"
    tables = found.medium.tables
    with_, without = (
        pressure_enthalpy(state, tables, named) for state in (found.state, found.sound)
    )
    along, along_sound = (
        along_circuit(state, found.circuit, found.room_k, named)
        for state in (found.state, found.sound)
    )
    return {
        "pressure-enthalpy.svg": pressure_enthalpy_svg(with_, Beside(without, words, "sound")),
        "along-the-circuit.svg": along_circuit_svg(along, Beside(along_sound, words, "sound")),
    }

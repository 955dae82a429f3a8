"""One capillary tube: what it passes, or how long it must be, with the correlation beside it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from coldwright.cycle.capillary.flow import (
    capillary_flow,
    capillary_length,
    subcooled_inlet,
    two_phase_inlet,
)
from coldwright.cycle.capillary.generalised import (
    GeneralisedFlow,
    InletProperties,
    subcooled_flow,
    two_phase_flow,
)
from coldwright.cycle.capillary.records import CapillaryFlow, CapillaryInlet, CapillaryTube
from coldwright.errors import BadInput
from coldwright.refrigerant.saturation import (
    saturation_all,
    saturation_pressure,
    saturation_temperature,
)
from coldwright.refrigerant.tables import Tables, load_tables

Progress = Callable[[str], None]

NOTES = (
    "Roughness, where none is given, is 0.5 µm, a judgement of ours for drawn tube; "
    "from 0.2 to 1 µm the flow falls by 3 to 5 %.",
    "Adiabatic: no suction-line exchanger. Bonded to a cold suction line the tube passes more.",
)
AT_ONCE = (
    "The march takes liquid and vapour as one mixture and lets the liquid flash without delay; "
    "where it flashes late, the tube passes more."
)
LATE = (
    "Delayed flashing: metastable liquid by Chen et al. (1990, made with R12, from memory), then "
    "one mixture at once. At an inlet without subcooling there is none."
)


@dataclass(frozen=True, slots=True)
class CapillaryQuestion:
    """A tube and its two ends; exactly one of `length_m` and `mass_flow_kg_s` is given.

    `refrigerant` is one of `tables.FULL_REFRIGERANTS`; there are no tables for others.
    """

    refrigerant: str
    tube: CapillaryTube
    inlet_pressure_pa: float
    subcooling_k: float  # 0 where the inlet is saturated or two-phase
    quality_fraction: float  # 0 where it is subcooled
    evaporating_k: float
    length_m: float | None = None
    mass_flow_kg_s: float | None = None


@dataclass(frozen=True, slots=True)
class CapillaryAnswer:
    """The march's result; `correlation` is None at saturation, where it has no value."""

    refrigerant: str
    inlet: CapillaryInlet
    tube: CapillaryTube
    flow: CapillaryFlow
    exit_saturation_k: float
    correlation: GeneralisedFlow | None
    notes: tuple[str, ...]


def capillary(question: CapillaryQuestion, progress: Progress | None = None) -> CapillaryAnswer:
    """Flow for a length, or length for a flow.

    Parameters
    ----------
    question : CapillaryQuestion
        The tube and its two ends.
    progress : callable, optional
        Told one line before a step of some seconds.

    Returns
    -------
    CapillaryAnswer
        Flow [kg/s], length [m] and the state at the end.

    Raises
    ------
    BadInput
        If not exactly one of length and flow is given.
    Refused
        If the refrigerant has no property tables.
    OutOfRange
        If a number lies outside what is allowed.
    NotSolved
        If the march could not be made to meet the length.
    """
    tables = load_tables(question.refrigerant, progress)
    if question.quality_fraction > 0.0:
        inlet = two_phase_inlet(tables, question.inlet_pressure_pa, question.quality_fraction)
    else:
        inlet = subcooled_inlet(tables, question.inlet_pressure_pa, question.subcooling_k)
    flow = _solve(question, tables, inlet)
    beside = correlation(tables, inlet, question.tube.bore_m, flow.length_m, question.refrigerant)
    return CapillaryAnswer(
        refrigerant=question.refrigerant,
        inlet=inlet,
        tube=question.tube,
        flow=flow,
        exit_saturation_k=float(saturation_temperature(tables, flow.exit_pressure_pa)),
        correlation=beside,
        notes=(
            _beside(beside, flow.mass_flow_kg_s),
            LATE if question.tube.flash_delay_fraction > 0.0 else AT_ONCE,
            *NOTES,
        ),
    )


def correlation(
    tables: Tables, inlet: CapillaryInlet, bore: float, length: float, refrigerant: str
) -> GeneralisedFlow | None:
    """The generalised correlation at the same tube and inlet; None at saturation.

    Parameters
    ----------
    tables : Tables
        Property tables of the refrigerant.
    inlet : CapillaryInlet
        State before the mouth.
    bore : float
        Inside diameter. [m]
    length : float
        Length. [m]
    refrigerant : str
        Name, for the range flags.

    Returns
    -------
    GeneralisedFlow or None
        Flow with its range, or None.
    """
    s = saturation_all(tables, saturation_pressure(tables, inlet.temperature_k))
    properties = InletProperties(
        volume_liquid_m3_kg=s.v_l,
        volume_vapour_m3_kg=s.v_v,
        viscosity_liquid_pa_s=s.mu_l,
        viscosity_vapour_pa_s=s.mu_v,
        heat_of_vaporisation_j_kg=s.h_v - s.h_l,
        specific_heat_liquid_j_kg_k=s.cp_l,
    )
    if inlet.subcooling_k > 0.0:
        return subcooled_flow(
            bore=bore,
            length=length,
            pressure=inlet.pressure_pa,
            subcooling=inlet.subcooling_k,
            inlet=properties,
            refrigerant=refrigerant,
        )
    if inlet.quality_fraction > 0.0:
        return two_phase_flow(
            bore=bore,
            length=length,
            pressure=inlet.pressure_pa,
            quality=inlet.quality_fraction,
            inlet=properties,
            refrigerant=refrigerant,
        )
    return None


def _solve(question: CapillaryQuestion, tables: Tables, inlet: CapillaryInlet) -> CapillaryFlow:
    if question.length_m is not None and question.mass_flow_kg_s is None:
        return capillary_flow(
            tables,
            inlet,
            tube=question.tube,
            length=question.length_m,
            evaporating=question.evaporating_k,
        )
    if question.mass_flow_kg_s is not None and question.length_m is None:
        return capillary_length(
            tables,
            inlet,
            tube=question.tube,
            mass_flow=question.mass_flow_kg_s,
            evaporating=question.evaporating_k,
        )
    read = "neither" if question.length_m is None else "both"
    raise BadInput("capillary", "length and flow", read, "exactly one of the two")


def _beside(beside: GeneralisedFlow | None, mass_flow: float) -> str:
    name = "Generalised correlation (ASHRAE RP-762, 1995)"
    if beside is None:
        return f"{name}: no value at saturation, where its two branches do not join."
    kg_h, more = beside.mass_flow_kg_s * 3600.0, beside.mass_flow_kg_s / mass_flow - 1.0
    text = f"{name}, {beside.branch} branch: {kg_h:.3g} kg/h, {100 * more:+.0f} % against the march"
    if beside.outside_range:
        return f"{text}; outside its range: {'; '.join(beside.outside_range)}."
    return f"{text}; within the range read for it."

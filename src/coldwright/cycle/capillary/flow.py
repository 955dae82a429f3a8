"""Flow an adiabatic capillary passes, or the length a flow needs, from the march.

The suction-line exchanger is left out here: bonded to a cold suction line the
same tube passes more.
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, log, pi, sqrt

from coldwright.cycle.capillary.flashing import NO_ENTRANCE, metastable_inlet
from coldwright.cycle.capillary.march import march
from coldwright.cycle.capillary.records import (
    FLOW_RANGE_KG_S,
    LENGTH_RANGE_M,
    MOST_VAPOUR,
    CapillaryFlow,
    CapillaryInlet,
    CapillaryTube,
)
from coldwright.errors import NotSolved, OutOfRange, require
from coldwright.refrigerant.kernels import liquid
from coldwright.refrigerant.saturation import (
    saturation_march,
    saturation_pressure,
    saturation_temperature,
)
from coldwright.refrigerant.tables import T_COLDEST, Tables

STEPS = 200  # two-phase steps: a single solve can afford many times the cycle's own
BOND_STEPS = 1  # there is no bond here
TOLERANCE = 1e-7  # of the length; the march itself is good to 1e-9
MOST_ITERATIONS = 100
_WIDENING = 1.6
_LINEAR_BELOW = 0.1  # share of the length under which its logarithm is carried on linearly


def subcooled_inlet(tables: Tables, pressure: float, subcooling: float) -> CapillaryInlet:
    """Liquid before the mouth.

    Parameters
    ----------
    tables : Tables
        Property tables of the refrigerant.
    pressure : float
        Pressure before the mouth, inside the tables. [Pa]
    subcooling : float
        Saturation temperature there less liquid temperature, 0 or more. [K]

    Raises
    ------
    OutOfRange
        If the state lies outside the tables.
    """
    _require_inside(tables, "inlet pressure", pressure)
    saturated = saturation_temperature(tables, pressure)
    require("subcooling", subcooling, "K", 0.0, saturated - T_COLDEST)
    if subcooling == 0.0:
        return two_phase_inlet(tables, pressure, 0.0)
    temperature = saturated - subcooling
    enthalpy = liquid(tables, pressure, temperature)[0]
    return CapillaryInlet(pressure, temperature, enthalpy, subcooling, 0.0)


def two_phase_inlet(tables: Tables, pressure: float, quality: float) -> CapillaryInlet:
    """Liquid and vapour before the mouth, or saturated liquid at a quality of 0.

    Parameters
    ----------
    tables : Tables
        Property tables of the refrigerant.
    pressure : float
        Pressure before the mouth, inside the tables. [Pa]
    quality : float
        Vapour by mass, 0 to 0.9. [-]

    Raises
    ------
    OutOfRange
        If the state lies outside the tables.
    """
    _require_inside(tables, "inlet pressure", pressure)
    require("inlet quality", quality, "-", 0.0, MOST_VAPOUR)
    t, hl, hv, *_ = saturation_march(tables, pressure)
    return CapillaryInlet(pressure, t, hl + quality * (hv - hl), 0.0, quality)


def capillary_flow(
    tables: Tables,
    inlet: CapillaryInlet,
    *,
    tube: CapillaryTube,
    length: float,
    evaporating: float,
) -> CapillaryFlow:
    """Mass flow through a tube of known length.

    Parameters
    ----------
    tables : Tables
        Property tables of the refrigerant.
    inlet : CapillaryInlet
        State before the mouth.
    tube : CapillaryTube
        Bore, roughness and entrance.
    length : float
        Length, 0.05 to 50 m. [m]
    evaporating : float
        Saturation temperature behind the tube, below that of the inlet pressure. [K]

    Returns
    -------
    CapillaryFlow
        The flow, the state at its end, and how well the length was met.

    Raises
    ------
    OutOfRange
        If the length or the evaporating temperature is outside what is allowed.
    NotSolved
        If no flow meets the length to 1e-7 of it.

    References
    ----------
    .. [1] `march.march`; root by false position in ln(flow) and ln(length).
    """
    p_end = _end_pressure(tables, inlet, evaporating)
    require("length", length, "m", *LENGTH_RANGE_M)

    def excess(ln_flow: float) -> float:
        needed = _march(tables, inlet, tube, exp(ln_flow), p_end)[0] / length
        if needed > _LINEAR_BELOW:
            return log(needed)
        return log(_LINEAR_BELOW) + (needed - _LINEAR_BELOW) / _LINEAR_BELOW

    start = log(_first_guess(tables, inlet, tube, length, p_end))
    ln_flow, iterations = _falling_root(excess, start)
    solved = _solved(tables, inlet, tube, exp(ln_flow), p_end)
    residual = abs(solved.length_m / length - 1.0)
    if not residual <= TOLERANCE:
        raise NotSolved("capillary flow", (solved.mass_flow_kg_s,), residual)
    return CapillaryFlow(
        mass_flow_kg_s=solved.mass_flow_kg_s,
        length_m=length,
        length_liquid_m=solved.length_liquid_m,
        length_two_phase_m=length - solved.length_liquid_m,
        choked=solved.choked,
        exit_pressure_pa=solved.exit_pressure_pa,
        exit_quality_fraction=solved.exit_quality_fraction,
        residual_fraction=residual,
        iterations=iterations,
    )


def capillary_length(
    tables: Tables,
    inlet: CapillaryInlet,
    *,
    tube: CapillaryTube,
    mass_flow: float,
    evaporating: float,
) -> CapillaryFlow:
    """Length that passes a known flow; no iteration, the march answers it directly.

    Parameters
    ----------
    tables : Tables
        Property tables of the refrigerant.
    inlet : CapillaryInlet
        State before the mouth.
    tube : CapillaryTube
        Bore, roughness and entrance.
    mass_flow : float
        Flow wanted, 1e-7 to 0.1 kg/s. [kg/s]
    evaporating : float
        Saturation temperature behind the tube, below that of the inlet pressure. [K]

    Returns
    -------
    CapillaryFlow
        As of `capillary_flow`, the residual 0.

    Raises
    ------
    OutOfRange
        If the flow or the evaporating temperature is outside what is allowed; also where this
        bore passes no such flow at any length, `high` then being about the most it passes.
    """
    p_end = _end_pressure(tables, inlet, evaporating)
    require("flow", mass_flow, "kg/s", *FLOW_RANGE_KG_S)
    solved = _solved(tables, inlet, tube, mass_flow, p_end)
    if not solved.length_m >= LENGTH_RANGE_M[0]:
        shortest = capillary_flow(
            tables,
            inlet,
            tube=tube,
            length=LENGTH_RANGE_M[0],
            evaporating=evaporating,
        )
        raise OutOfRange("flow", mass_flow, FLOW_RANGE_KG_S[0], shortest.mass_flow_kg_s, "kg/s")
    return solved


def _require_inside(tables: Tables, what: str, pressure: float) -> None:
    low = exp(tables.ln_p_first)
    high = low * exp(tables.ln_p_step * tables.saturation.shape[0])
    require(what, pressure, "Pa", low, high)


def _end_pressure(tables: Tables, inlet: CapillaryInlet, evaporating: float) -> float:
    saturated = float(saturation_temperature(tables, inlet.pressure_pa))
    require("evaporating", evaporating, "K", T_COLDEST, saturated - 0.1)
    return float(saturation_pressure(tables, evaporating))


def _march(
    tables: Tables, inlet: CapillaryInlet, tube: CapillaryTube, mass_flow: float, p_end: float
) -> tuple[float, ...]:
    heat = inlet_length = bonded = skew = 0.0  # adiabatic
    p_start, entrance, late = inlet.pressure_pa, tube.entrance_loss_fraction, 0.0
    if tube.flash_delay_fraction > 0.0:
        p_start, late, there = metastable_inlet(
            tables, inlet.pressure_pa, inlet.enthalpy_j_kg, p_end, mass_flow, tube.bore_m,
            tube.roughness_m, entrance, LENGTH_RANGE_M[1], tube.flash_delay_fraction,
        )  # fmt: skip
        entrance = NO_ENTRANCE if there else entrance
    answer: tuple[float, ...] = march(
        tables, p_start, inlet.enthalpy_j_kg, p_end, heat, mass_flow, tube.bore_m,
        tube.roughness_m, entrance, inlet_length, bonded, skew, BOND_STEPS, STEPS,
    )  # fmt: skip
    return (answer[0] + late, answer[1] + late, *answer[2:])


def _solved(
    tables: Tables, inlet: CapillaryInlet, tube: CapillaryTube, mass_flow: float, p_end: float
) -> CapillaryFlow:
    length, wet, p_exit, _, quality, _, choked = _march(tables, inlet, tube, mass_flow, p_end)
    # The mouth alone may reach flashing; the march counts that as a negative liquid length.
    wet = min(max(wet, 0.0), length)
    if p_exit * (1.0 - 1e-9) > _flash_pressure(tables, inlet):
        quality = 0.0
    return CapillaryFlow(
        mass_flow_kg_s=mass_flow,
        length_m=length,
        length_liquid_m=wet,
        length_two_phase_m=length - wet,
        choked=choked > 0.0,
        exit_pressure_pa=p_exit,
        exit_quality_fraction=quality,
        residual_fraction=0.0,
        iterations=1,
    )


def _flash_pressure(tables: Tables, inlet: CapillaryInlet) -> float:
    if inlet.subcooling_k <= 0.0:
        return inlet.pressure_pa
    return float(saturation_pressure(tables, inlet.temperature_k))


def _first_guess(
    tables: Tables, inlet: CapillaryInlet, tube: CapillaryTube, length: float, p_end: float
) -> float:
    """Liquid all along at a friction factor of 0.03; only the bracket starts from it."""
    volume = saturation_march(tables, inlet.pressure_pa)[3]
    heads = 0.03 * length / tube.bore_m + 1.0 + tube.entrance_loss_fraction
    area = 0.25 * pi * tube.bore_m**2
    return area * sqrt(2.0 * (inlet.pressure_pa - p_end) / (volume * heads))


def _falling_root(function: Callable[[float], float], start: float) -> tuple[float, int]:
    """Root of a falling function: widen from `start`, then false position with halving.

    Returns the last point tried and the number of calls; the caller judges it.
    """
    calls = 1
    low = high = start
    f_low = f_high = function(start)
    step = log(_WIDENING)
    while f_low < 0.0 and calls < MOST_ITERATIONS:
        high, f_high = low, f_low
        low -= step
        f_low = function(low)
        calls += 1
    while f_high > 0.0 and calls < MOST_ITERATIONS:
        low, f_low = high, f_high
        high += step
        f_high = function(high)
        calls += 1
    best = low if abs(f_low) < abs(f_high) else high
    kept = 0  # side kept by the last step: its value is halved when kept twice (Illinois)
    while f_low > 0.0 > f_high and calls < MOST_ITERATIONS:
        x = high - f_high * (high - low) / (f_high - f_low)
        if not low < x < high:
            break
        fx = function(x)
        calls += 1
        best = x
        if abs(fx) < 0.01 * TOLERANCE:
            break
        if fx > 0.0:
            low, f_low = x, fx
            f_high *= 0.5 if kept > 0 else 1.0
            kept = 1
        else:
            high, f_high = x, fx
            f_low *= 0.5 if kept < 0 else 1.0
            kept = -1
    return best, calls

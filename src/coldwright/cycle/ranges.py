"""Where a running state lies outside what a correlation was made from, by name.

Only what a source states is checked; a correlation whose range was not read says nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import exp, pi

from coldwright.circuit.records import CapillaryKind, Circuit, CompressorKind, FlashKind, VoidKind
from coldwright.cycle.capillary import flashing
from coldwright.cycle.capillary.generalised import (
    FITTED_REFRIGERANTS,
    QUALITY_RANGE,
    SUBCOOLING_RANGE_K,
)
from coldwright.cycle.medium import Medium, medium_of
from coldwright.cycle.state import RunningState
from coldwright.refrigerant.oils import usual_oil
from coldwright.refrigerant.saturation import saturation_all, saturation_pressure

# Shah (1979) and Gungor & Winterton (1987), as their kernels' docstrings have them
SHAH_BORE_M, SHAH_FLUX, SHAH_REDUCED = (7e-3, 40e-3), (11.0, 211.0), (0.002, 0.44)
BOILING_BORE_M, BOILING_FLUX = (2.95e-3, 32e-3), (12.0, 60e3)
SLIP_FLUX = (50.0, 1e4)  # Premoli, Rouhani: measured from about 50, see `void`
CHEN_REFRIGERANT = "R12"
SHAH, BOILING = "condensing inside, Shah (1979)", "boiling inside, Gungor & Winterton (1987)"
POLYNOMIAL = "compressor, ten coefficients"
CORRELATION = "capillary, generalised correlation (1995)"
LATE = "delay of flashing, Chen et al. (1990)"


@dataclass(frozen=True, slots=True)
class Outside:
    """One quantity outside the range of one correlation; SI."""

    model: str
    quantity: str
    value: float  # NaN where it is no number
    low: float
    high: float
    unit: str  # SI unit; "" where it is no number


def outside_ranges(circuit: Circuit, state: RunningState) -> tuple[Outside, ...]:
    """What a running state asks of correlations beyond their stated range.

    Parameters
    ----------
    circuit : Circuit
        The circuit with its refrigerant and models.
    state : RunningState
        Its running state; one without flow asks nothing.

    Returns
    -------
    tuple of Outside
        Empty where everything lies inside.

    References
    ----------
    .. [1] The ranges are those of each kernel's docstring, with its source.
    """
    if not state.mass_flow_kg_s > 0.0:
        return ()
    med = medium_of(circuit)
    found = (
        *_tables(state, med), *_compressor(circuit, state), *_inside(circuit, state, med),
        *_capillary(circuit, state, med), *_oil(state, circuit.refrigerant),
    )  # fmt: skip
    return tuple(one for one in found if not one.low <= one.value <= one.high)


def _tables(state: RunningState, med: Medium) -> Iterator[Outside]:
    tab = med.tables
    low = exp(tab.ln_p_first + 0.02)
    high = exp(tab.ln_p_first + tab.ln_p_step * tab.saturation.shape[0] - 0.02)
    for quantity, value in (
        ("suction pressure", state.suction_pressure_pa),
        ("discharge pressure", state.condensing_pressure_pa),
    ):
        yield Outside("property tables", quantity, value, low, high, "Pa")
    yield Outside(
        "property tables", "discharge gas", state.discharge_line_k, 0.0, tab.t_hottest, "K"
    )


def _compressor(circuit: Circuit, state: RunningState) -> Iterator[Outside]:
    if circuit.models.compressor_code != CompressorKind.POLYNOMIAL:
        return
    p = circuit.compressor_polynomial
    yield Outside(
        POLYNOMIAL, "evaporating temperature", state.evaporating_k, p.least_evaporating_k,
        p.most_evaporating_k, "K",
    )  # fmt: skip
    yield Outside(
        POLYNOMIAL, "condensing temperature", state.condensing_k, p.least_condensing_k,
        p.most_condensing_k, "K",
    )  # fmt: skip


def _inside(circuit: Circuit, state: RunningState, med: Medium) -> Iterator[Outside]:
    m, condenser, evaporator = state.mass_flow_kg_s, circuit.condenser, circuit.evaporator
    hot, cold = (m / (0.25 * pi * coil.tube_bore_m**2) for coil in (condenser, evaporator))
    own = (state.condensing_pressure_pa - state.gas_pressure_pa) / med.tables.p_critical
    yield Outside(SHAH, "bore of the condenser", condenser.tube_bore_m, *SHAH_BORE_M, "m")
    yield Outside(SHAH, "mass flux", hot, *SHAH_FLUX, "kg/m2/s")
    yield Outside(SHAH, "reduced pressure", own, *SHAH_REDUCED, "-")
    yield Outside(BOILING, "bore of the evaporator", evaporator.tube_bore_m, *BOILING_BORE_M, "m")
    yield Outside(BOILING, "mass flux", cold, *BOILING_FLUX, "kg/m2/s")
    kind = VoidKind(int(circuit.models.void_fraction_code))
    if kind in (VoidKind.PREMOLI, VoidKind.ROUHANI):
        model = f"void fraction, {kind.name.capitalize()}"
        yield Outside(model, "mass flux in the condenser", hot, *SLIP_FLUX, "kg/m2/s")
        yield Outside(model, "mass flux in the evaporator", cold, *SLIP_FLUX, "kg/m2/s")


def _capillary(circuit: Circuit, state: RunningState, med: Medium) -> Iterator[Outside]:
    quality, subcooling = state.condenser_outlet_quality, state.subcooling_k
    if circuit.models.capillary_code == CapillaryKind.GENERALISED:
        if quality > 0.0:
            yield Outside(CORRELATION, "quality before it", quality, *QUALITY_RANGE, "-")
        else:
            yield Outside(CORRELATION, "subcooling before it", subcooling, *SUBCOOLING_RANGE_K, "K")
        if circuit.refrigerant not in FITTED_REFRIGERANTS:
            yield _never(CORRELATION, f"{circuit.refrigerant}, not among those it was made for")
    elif circuit.models.flashing_code == FlashKind.DELAYED and quality < 0.0:
        bore = circuit.capillary.bore_m
        mu = saturation_all(
            med.tables, saturation_pressure(med.tables, state.drier_outlet_k)
        )[5]  # fmt: skip
        reynolds = state.mass_flow_kg_s / (0.25 * pi * bore) / mu
        yield Outside(LATE, "bore", bore, *flashing.BORE_RANGE_M, "m")
        yield Outside(LATE, "Reynolds number", reynolds, *flashing.REYNOLDS_RANGE, "-")
        yield Outside(
            LATE, "subcooling before it", subcooling, flashing.LEAST_SUBCOOLING,
            flashing.SUBCOOLING_RANGE_K[1], "K",
        )  # fmt: skip
        if circuit.refrigerant != CHEN_REFRIGERANT:
            yield _never(LATE, f"{circuit.refrigerant}; it was made with {CHEN_REFRIGERANT}")


def _oil(state: RunningState, refrigerant: str) -> Iterator[Outside]:
    oil = usual_oil(refrigerant)
    if oil.fitted_t_low_k < oil.fitted_t_high_k:
        yield Outside(
            f"oil, {oil.name}", "oil's temperature", state.shell_k, oil.fitted_t_low_k,
            oil.fitted_t_high_k, "K",
        )  # fmt: skip
    else:
        yield _never(f"oil, {oil.name}", "an approximation without data")


def _never(model: str, quantity: str) -> Outside:
    """A flag that no number goes with."""
    return Outside(model, quantity, float("nan"), 0.0, 0.0, "")

"""Ten coefficients fitted to the physical compressor over a grid of rating points."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from coldwright.circuit.records import Circuit, CompressorKind, CompressorPolynomial
from coldwright.circuit.vector import pack_circuit
from coldwright.cycle.compressor.physical import compress
from coldwright.cycle.medium import medium_of
from coldwright.errors import require
from coldwright.refrigerant.kernels import vapour
from coldwright.refrigerant.saturation import saturation_pressure

KELVIN = 273.15
KG_PER_HOUR = 1.0 / 3600.0
# The household field: low back pressure (ours), gas and room at the return gas of the usual
# rating point (ASHRAE low back pressure, from memory).
EVAPORATING_K = (238.15, 263.15)
CONDENSING_K = (303.15, 333.15)
RETURN_GAS_K = 305.35
STEPS = 7  # points along each side of the grid; ten coefficients need four


@dataclass(frozen=True, slots=True)
class PolynomialFit:
    """Coefficients with the largest relative deviation over their grid."""

    polynomial: CompressorPolynomial
    worst_flow_fraction: float
    worst_power_fraction: float


def terms(evaporating: np.ndarray, condensing: np.ndarray) -> np.ndarray:
    """The ten terms at each point, shape (n, 10).

    Parameters
    ----------
    evaporating, condensing : ndarray
        Shape (n,). [°C]

    References
    ----------
    .. [1] EN 12900; AHRI 540 (form read in two secondary sources).
    """
    e, c = evaporating, condensing
    return np.stack(
        [e**0, e, c, e**2, e * c, c**2, e**3, c * e**2, e * c**2, c**3], axis=1
    )  # fmt: skip


def fit_polynomial(
    circuit: Circuit,
    *,
    evaporating: tuple[float, float] = EVAPORATING_K,
    condensing: tuple[float, float] = CONDENSING_K,
    return_gas: float = RETURN_GAS_K,
) -> PolynomialFit:
    """Ten coefficients of flow and of power of a circuit's physical compressor.

    Parameters
    ----------
    circuit : Circuit
        Its compressor is fitted as it stands; the room is as warm as the return gas.
    evaporating, condensing : tuple of float
        Ends of the field, lower first, 200 to 350 K. [K]
    return_gas : float
        Suction gas at the shell, 260 to 340 K. [K]

    Returns
    -------
    PolynomialFit
        Flow in kg/h, power in W, and how well they fit.

    Raises
    ------
    OutOfRange
        If an end of the field or the gas lies outside.
    """
    for name, ends in (("evaporating", evaporating), ("condensing", condensing)):
        require(f"least {name}", ends[0], "K", 200.0, ends[1] - 1.0)
        require(f"most {name}", ends[1], "K", ends[0] + 1.0, 350.0)
    require("return gas", return_gas, "K", 260.0, 340.0)
    med, row = medium_of(circuit), pack_circuit(circuit)[0]
    te, tc = (
        grid.ravel()
        for grid in np.meshgrid(np.linspace(*evaporating, STEPS), np.linspace(*condensing, STEPS))
    )
    field = np.empty((te.size, 2))
    for i, (e, c) in enumerate(zip(te, tc, strict=True)):
        low, high = saturation_pressure(med.tables, e), saturation_pressure(med.tables, c)
        # The stub of the suction line is the circuit's, not the compressor's: the gas enters
        # it as warm as the room, so that it changes nothing.
        h_in = vapour(med.tables, low, return_gas)[0]
        field[i] = compress(med, row, low, high, h_in, return_gas, 0.0, 0.0)[:2]
    field[:, 0] /= KG_PER_HOUR
    matrix = terms(te - KELVIN, tc - KELVIN)
    coefficients = np.linalg.lstsq(matrix, field, rcond=None)[0]
    worst = np.max(np.abs(matrix @ coefficients / field - 1.0), axis=0)
    named = {
        f"{name}_c{i}_number": float(coefficients[i - 1, column])
        for column, name in enumerate(("flow", "power"))
        for i in range(1, 11)
    }
    polynomial = CompressorPolynomial(
        *evaporating, *condensing, return_gas, KG_PER_HOUR, **named
    )  # fmt: skip
    return PolynomialFit(polynomial, float(worst[0]), float(worst[1]))


def with_polynomial(circuit: Circuit, polynomial: CompressorPolynomial) -> Circuit:
    """The circuit with these coefficients in the place of its physical compressor."""
    models = replace(circuit.models, compressor_code=float(CompressorKind.POLYNOMIAL))
    return replace(circuit, compressor_polynomial=polynomial, models=models)

"""Which of the alternative objects stand in a simulated circuit, and their names in its result."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass

from coldwright.circuit.limits import check_circuit
from coldwright.circuit.records import (
    CapillaryKind,
    Circuit,
    CompressorKind,
    FlashKind,
    VoidKind,
)
from coldwright.cycle.compressor.fit import PolynomialFit, fit_polynomial, with_polynomial


@dataclass(frozen=True, slots=True)
class ModelChoice:
    """Objects chosen beside the file's own; None leaves each to the file.

    `fitted` puts ten coefficients, fitted to the circuit's physical compressor, in its place;
    it goes before `compressor`.
    """

    compressor: CompressorKind | None = None
    fitted: bool = False
    capillary: CapillaryKind | None = None
    flashing: FlashKind | None = None
    void_fraction: VoidKind | None = None


AS_FILED = ModelChoice()


def with_models(
    circuit: Circuit, choice: ModelChoice, file: str
) -> tuple[Circuit, PolynomialFit | None]:
    """The circuit with the chosen objects in it, and the fit where one was made.

    Parameters
    ----------
    circuit : Circuit
        As the file has it.
    choice : ModelChoice
        What to take instead.
    file : str
        Where the circuit was read, for the message.

    Raises
    ------
    BadInput
        If ten coefficients are chosen and the file gives none.
    """
    codes = {
        "compressor_code": None if choice.fitted else choice.compressor,
        "capillary_code": choice.capillary,
        "flashing_code": choice.flashing,
        "void_fraction_code": choice.void_fraction,
    }
    given = {name: float(kind) for name, kind in codes.items() if kind is not None}
    made = dataclasses.replace(circuit, models=dataclasses.replace(circuit.models, **given))
    fit = None
    if choice.fitted:
        fit = fit_polynomial(made)
        made = with_polynomial(made, fit.polynomial)
    check_circuit(made, file)
    return made, fit


def compressor_model(circuit: Circuit) -> str:
    """The compressor's object in words."""
    if circuit.models.compressor_code == CompressorKind.PHYSICAL:
        return "compressor: clearance, two efficiencies above an idle power, shell balance"
    p = circuit.compressor_polynomial
    ends = (
        p.least_evaporating_k, p.most_evaporating_k, p.least_condensing_k, p.most_condensing_k
    )  # fmt: skip
    e0, e1, c0, c1 = (f"{t - 273.15:.0f}" for t in ends)
    return (
        f"compressor: ten coefficients each for flow and power (form of EN 12900, AHRI 540), "
        f"{e0} to {e1} °C over {c0} to {c1} °C, suction gas by Dabiri & Rice (1981), shell balance"
    )


def capillary_models(circuit: Circuit) -> tuple[str, ...]:
    """The capillary's objects in words."""
    if circuit.models.capillary_code == CapillaryKind.GENERALISED:
        return (
            "capillary: generalised correlation of Wolf, Bittle & Pate (1995, ASHRAE RP-762), "
            "adiabatic, its two branches joined by us",
        )
    march = (
        "capillary: homogeneous march, friction of Churchill (1977) at the two-phase "
        "viscosity of McAdams (1942)"
    )
    if circuit.models.flashing_code == FlashKind.DELAYED:
        return (march, "flashing: metastable liquid before the bond, Chen et al. (1990)")
    return (march, "flashing: at saturation")

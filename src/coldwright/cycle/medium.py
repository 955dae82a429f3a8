"""What flows: property tables, the oil's parameters and the void model, as kernels read them."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from coldwright.circuit.records import Circuit
from coldwright.cycle.void import DEFAULT, VOID_MODELS, VoidModel
from coldwright.refrigerant.oils import Oil, usual_oil
from coldwright.refrigerant.tables import Tables, load_tables


class Medium(NamedTuple):
    """Refrigerant, oil and closure of one circuit."""

    tables: Tables
    size_ratio: float
    chi0: float
    chi1: float
    oil_molar_mass: float  # [kg/mol]
    void_code: int


def medium(
    refrigerant: str,
    oil: Oil | None = None,
    void: VoidModel = DEFAULT,
    progress: Callable[[str], None] | None = None,
) -> Medium:
    """Medium of a refrigerant with its usual oil and the default void model.

    Raises
    ------
    Refused
        If the refrigerant has no full tables.
    """
    tables = load_tables(refrigerant, progress)
    chosen = usual_oil(refrigerant) if oil is None else oil
    return Medium(
        tables,
        chosen.size_ratio,
        chosen.chi0,
        chosen.chi1,
        chosen.molar_mass_kg_mol,
        int(void.code),
    )


def medium_of(
    circuit: Circuit, refrigerant: str, progress: Callable[[str], None] | None = None
) -> Medium:
    """Medium of a circuit: the void model that it names, the refrigerant's usual oil.

    Parameters
    ----------
    circuit : Circuit
        The circuit.
    refrigerant : str
        Its refrigerant.
    progress : callable, optional
        Told one line before a build of some seconds starts.

    Raises
    ------
    Refused
        If the refrigerant has no full tables.
    """
    return medium(refrigerant, void=void_of(circuit), progress=progress)


def void_of(circuit: Circuit) -> VoidModel:
    """The void fraction model that a circuit names."""
    return VOID_MODELS[int(circuit.models.void_fraction_code)]

"""What flows: property tables, the oil's parameters and the void model, as kernels read them."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from coldwright.circuit.records import Circuit
from coldwright.cycle.void import DEFAULT, VOID_MODELS, VoidModel
from coldwright.errors import Refused
from coldwright.refrigerant.full import FULL_REFRIGERANTS, refrigerant_code
from coldwright.refrigerant.oils import Oil, usual_oil
from coldwright.refrigerant.tables import Tables, load_tables


class Medium(NamedTuple):
    """Refrigerant, oil and closure of one circuit, or of a block of them."""

    tables: Tables
    size_ratio: float
    chi0: float
    chi1: float
    oil_molar_mass: float  # [kg/mol]
    void_code: int
    refrigerant_code: int  # of `refrigerant.full`


def medium(
    refrigerant: str,
    oil: Oil | None = None,
    void: VoidModel = DEFAULT,
    progress: Callable[[str], None] | None = None,
) -> Medium:
    """Medium of a refrigerant with its usual oil and the default void model.

    Parameters
    ----------
    refrigerant : str
        One of `refrigerant.full.FULL_REFRIGERANTS`.
    oil : Oil or None
        Instead of the refrigerant's usual one.
    void : VoidModel
        Void fraction model.
    progress : callable, optional
        Told one line before a build of some seconds starts.

    Returns
    -------
    Medium
        Its tables are shared: read, never written.

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
        refrigerant_code(refrigerant),
    )


def medium_of(circuit: Circuit, progress: Callable[[str], None] | None = None) -> Medium:
    """Medium of a circuit: its refrigerant with the usual oil, the void model that it names.

    Parameters
    ----------
    circuit : Circuit
        The circuit.
    progress : callable, optional
        Told one line before a build of some seconds starts.

    Returns
    -------
    Medium
        Its tables are shared: read, never written.
    """
    return medium(circuit.refrigerant, void=void_of(circuit), progress=progress)


def void_of(circuit: Circuit) -> VoidModel:
    """The void fraction model that a circuit names.

    Parameters
    ----------
    circuit : Circuit
        The circuit.

    Returns
    -------
    VoidModel
        One of `void.VOID_MODELS`.
    """
    return VOID_MODELS[int(circuit.models.void_fraction_code)]


def fill_with(circuits: np.ndarray, med: Medium) -> None:
    """Write into circuits what they are filled with, in place.

    Parameters
    ----------
    circuits : ndarray
        Dtype CIRCUIT, shape (n,).
    med : Medium
        Whose refrigerant and void model they get.
    """
    circuits["refrigerant_code"] = med.refrigerant_code
    circuits["models"]["void_fraction_code"] = med.void_code


def require_medium(med: Medium, *blocks: np.ndarray) -> None:
    """Refuse circuits that are not filled with this medium.

    Parameters
    ----------
    med : Medium
        What they are to be solved with.
    blocks : ndarray
        Dtype CIRCUIT, shape (n,).

    Raises
    ------
    Refused
        If one of them holds another refrigerant or names another void model.
    """
    for circuits in blocks:
        codes = circuits["refrigerant_code"]
        wrong = codes != med.refrigerant_code
        if wrong.any():
            code = int(codes[wrong][0])
            holds = FULL_REFRIGERANTS[code - 1] if code > 0 else "nothing"
            raise Refused(
                f"a circuit that holds {holds} cannot be solved with the properties of "
                f"{FULL_REFRIGERANTS[med.refrigerant_code - 1]}",
                ("the circuit with its own medium",),
            )
        void = circuits["models"]["void_fraction_code"]
        if (void != med.void_code).any():
            raise Refused(
                f"a circuit that names void fraction model {int(void[void != med.void_code][0])} "
                f"cannot be solved with model {med.void_code}",
                ("the circuit with its own medium",),
            )

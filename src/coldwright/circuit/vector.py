"""Circuits as structured arrays: the shape compiled kernels and ensembles read.

The dtypes follow the frozen records field for field, so a kernel writes
``c.capillary.bore_m`` just as Python does, and a new field needs no second list. The
refrigerant's name is a number there, ``refrigerant_code``; 0 is a row nobody filled.
"""

from __future__ import annotations

import dataclasses
import typing

import numpy as np

from coldwright.circuit import records
from coldwright.circuit.records import Circuit, Surroundings
from coldwright.refrigerant.full import refrigerant_code, refrigerant_of


def dtype_of(record: typing.Any) -> np.dtype:
    """The numpy dtype of a record of floats, nested records nested.

    Parameters
    ----------
    record : type
        A dataclass of floats and of such dataclasses; a text is a refrigerant's name.

    Returns
    -------
    dtype
        Fields in the record's order, "f8" each.
    """
    hints = typing.get_type_hints(record)
    fields: list[tuple[str, typing.Any]] = []
    for field in dataclasses.fields(record):
        kind = hints[field.name]
        if kind is str:
            fields.append((f"{field.name}_code", "f8"))
        else:
            fields.append((field.name, dtype_of(kind) if dataclasses.is_dataclass(kind) else "f8"))
    return np.dtype(fields)


CIRCUIT = dtype_of(records.Circuit)
SURROUNDINGS = dtype_of(records.Surroundings)


def _values(record: object) -> tuple[typing.Any, ...]:
    out: list[typing.Any] = []
    for field in dataclasses.fields(record):  # type: ignore[arg-type]
        value = getattr(record, field.name)
        if isinstance(value, str):
            out.append(float(refrigerant_code(value)))
        else:
            out.append(_values(value) if dataclasses.is_dataclass(value) else float(value))
    return tuple(out)


def pack_circuit(circuit: Circuit) -> np.ndarray:
    """One circuit as an array.

    Parameters
    ----------
    circuit : Circuit
        The circuit, refrigerant and models included.

    Returns
    -------
    ndarray
        Shape (1,), dtype CIRCUIT. [SI]
    """
    return np.array([_values(circuit)], dtype=CIRCUIT)


def pack_surroundings(surroundings: Surroundings) -> np.ndarray:
    """One set of surroundings as an array.

    Parameters
    ----------
    surroundings : Surroundings
        Room, compartments, added heat.

    Returns
    -------
    ndarray
        Shape (1,), dtype SURROUNDINGS. [SI]
    """
    return np.array([_values(surroundings)], dtype=SURROUNDINGS)


def unpack_circuit(row: np.ndarray | np.void) -> Circuit:
    """The frozen record of one array element.

    Parameters
    ----------
    row : record
        Dtype CIRCUIT. [SI]

    Returns
    -------
    Circuit
        With the refrigerant and the models the row names.

    Raises
    ------
    Refused
        If no refrigerant was filled into the row.
    """
    parts: dict[str, typing.Any] = {}
    hints = typing.get_type_hints(Circuit)
    for field in dataclasses.fields(Circuit):
        kind = hints[field.name]
        if dataclasses.is_dataclass(kind):
            sub = {f.name: float(row[field.name][f.name]) for f in dataclasses.fields(kind)}
            parts[field.name] = kind(**sub)  # type: ignore[operator]
        elif kind is str:
            parts[field.name] = refrigerant_of(float(row[f"{field.name}_code"]))
        else:
            parts[field.name] = float(row[field.name])
    return Circuit(**parts)

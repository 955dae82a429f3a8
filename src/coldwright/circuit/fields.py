"""The keys of a fully specified circuit, derived from the records' field names."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from enum import IntEnum
from functools import cache
from types import MappingProxyType
from typing import Any, get_type_hints

from coldwright.circuit import records
from coldwright.units import Dimension as D

# Longest first, so that conductance_w_m_k is not taken for a temperature in kelvin.
_SUFFIXES = (
    ("_w_m2_k", D.HEAT_TRANSFER_COEFFICIENT),
    ("_w_m_k", D.CONDUCTANCE_PER_LENGTH),
    ("_fraction", D.FRACTION),
    ("_exponent", D.NUMBER),
    ("_number", D.NUMBER),
    ("_code", D.KIND),
    ("_1_m4", D.LOSS_COEFFICIENT),
    ("_1_s", D.ROTATIONAL_SPEED),
    ("_w_k", D.CONDUCTANCE),
    ("_k_w", D.THERMAL_RESISTANCE),
    ("_m2", D.AREA),
    ("_m3", D.VOLUME),
    ("_kg", D.MASS),
    ("_m", D.LENGTH),
    ("_k", D.TEMPERATURE),
    ("_w", D.POWER),
)
_KINDS: Mapping[str, type[IntEnum]] = MappingProxyType(
    {
        "condenser.kind": records.CondenserKind,
        "frame_loop.position": records.Position,
        "drain_pan_loop.position": records.Position,
        "evaporator.kind": records.EvaporatorKind,
        "models.compressor": records.CompressorKind,
        "models.capillary": records.CapillaryKind,
        "models.flashing": records.FlashKind,
        "models.void_fraction": records.VoidKind,
    }
)


# Tables any key of which may be left out alone
EACH_OPTIONAL = frozenset({"models"})


@dataclasses.dataclass(frozen=True, slots=True)
class Field:
    """One value of a circuit: where it stands and how it is called outside."""

    segment: str
    name: str  # with its unit, as in the record
    key: str  # dotted, without the unit
    dimension: D
    default: float | None = None  # taken where the key is missing


@cache
def optional_segments() -> frozenset[str]:
    """Tables a circuit may lack: every field of their records has a default.

    Returns
    -------
    frozenset of str
        Names of tables.
    """
    return frozenset(
        name
        for name, kind in segments().items()
        if all(f.default is not dataclasses.MISSING for f in dataclasses.fields(kind))
    )


@cache
def segments() -> Mapping[str, type[Any]]:
    """The circuit's tables in the order of flow: name -> record class.

    Returns
    -------
    mapping
        Name to record class, in the order of flow.
    """
    hints: dict[str, type[Any]] = get_type_hints(records.Circuit)
    return MappingProxyType({n: k for n, k in hints.items() if dataclasses.is_dataclass(k)})


@cache
def fields() -> Mapping[str, Field]:
    """Every value of a circuit by its dotted key, in the records' order.

    Returns
    -------
    mapping
        Dotted key to its field, in the records' order.
    """
    found: dict[str, Field] = {}
    for segment, record in segments().items():
        for field in dataclasses.fields(record):
            stem, dimension = _without_unit(field.name)
            key = f"{segment}.{stem}"
            whole = segment in optional_segments() - EACH_OPTIONAL
            has = field.default is not dataclasses.MISSING and not whole
            default = float(field.default) if has else None  # type: ignore[arg-type]
            found[key] = Field(segment, field.name, key, dimension, default)
    return MappingProxyType(found)


def _without_unit(name: str) -> tuple[str, D]:
    for suffix, dimension in _SUFFIXES:
        if name.endswith(suffix):
            return name.removesuffix(suffix), dimension
    raise TypeError(f"field {name} of the circuit's records names no known unit")


@cache
def geometry_keys() -> Mapping[str, D]:
    """Every dotted key of a fully specified circuit with its dimension (`KIND` for a name).

    Returns
    -------
    mapping
        Dotted key to dimension.
    """
    return MappingProxyType({key: field.dimension for key, field in fields().items()})


def geometry_kinds() -> Mapping[str, type[IntEnum]]:
    """The keys whose value is a name, with the names' enumeration.

    Returns
    -------
    mapping
        Dotted key to the enumeration of its names.
    """
    return _KINDS


def of_segment(segment: str) -> tuple[Field, ...]:
    """The values of one segment, in the record's order.

    Parameters
    ----------
    segment : str
        A table's name, such as "capillary".

    Returns
    -------
    tuple of Field
        In the record's order.

    Examples
    --------
    >>> [field.key for field in of_segment("drier")]
    ['drier.volume', 'drier.loss_coefficient']
    """
    return tuple(field for field in fields().values() if field.segment == segment)


def kind_names(key: str) -> str:
    """The names a kind's key accepts, as a phrase; empty for a quantity's key.

    Parameters
    ----------
    key : str
        Dotted key, such as "condenser.kind".

    Returns
    -------
    str
        "one of ...", or empty.

    Examples
    --------
    >>> kind_names("condenser.kind")
    'one of static, skin, fan'
    """
    kinds = _KINDS.get(key)
    return "" if kinds is None else "one of " + ", ".join(member.name.lower() for member in kinds)

"""A fully specified circuit as TOML tables, and back.

The tables are the segments of `records.Circuit`, the keys its field names
without the unit (``[circuit.capillary] bore = "0.66 mm"``); a kind is a name
(``[circuit.condenser] kind = "static"``).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import IntEnum
from types import MappingProxyType

from coldwright.circuit import records
from coldwright.circuit.fields import (
    Field,
    fields,
    geometry_keys,
    geometry_kinds,
    kind_names,
    of_segment,
    optional_segments,
    segments,
)
from coldwright.circuit.limits import check_charge, check_circuit, check_value
from coldwright.errors import BadInput, nearest, one_line
from coldwright.units import Dimension as D
from coldwright.units import parse

POLYNOMIAL = "compressor_polynomial"

__all__ = [
    "circuit_from_geometry",
    "circuit_to_toml",
    "circuit_with",
    "geometry_keys",
    "geometry_kinds",
    "geometry_of",
    "is_complete",
    "parse_geometry",
    "parse_geometry_value",
]

_WRITTEN_AS: Mapping[D, tuple[tuple[str, float], ...]] = MappingProxyType(
    {
        D.LENGTH: (("mm", 0.1), ("m", 0.0)),  # mm below 0.1 m
        D.VOLUME: (("cm3", 1e-3), ("l", 0.0)),
        D.MASS: (("g", 1.0), ("kg", 0.0)),
        D.AREA: (("m2", 0.0),),
        D.TEMPERATURE: (("°C", 0.0),),
        D.ROTATIONAL_SPEED: (("1/s", 0.0),),
        D.POWER: (("W", 0.0),),
        D.CONDUCTANCE: (("W/K", 0.0),),
        D.CONDUCTANCE_PER_LENGTH: (("W/(m K)", 0.0),),
        D.HEAT_TRANSFER_COEFFICIENT: (("W/(m2 K)", 0.0),),
        D.THERMAL_RESISTANCE: (("K/W", 0.0),),
        D.LOSS_COEFFICIENT: (("1/m4", 0.0),),
    }
)


def parse_geometry_value(key: str, raw: object, *, file: str = "input") -> float:
    """SI value of one geometry key.

    Parameters
    ----------
    key : str
        Dotted, such as ``'capillary.bore'``.
    raw : object
        Text with a unit, a number where the key has no unit, or a kind's name.
    file : str
        Where it was read, for the message.

    Raises
    ------
    BadInput
        If the key is unknown, or the value is of the wrong dimension or cannot be.
    """
    field = fields().get(key)
    if field is None:
        raise BadInput(
            file,
            f"circuit.{key}",
            "an unknown key",
            f"keys of a circuit such as {', '.join(list(geometry_keys())[:3])}",
            nearest(key, geometry_keys()),
        )
    path = f"circuit.{key}"
    if field.dimension is D.KIND:
        return float(_kind_code(key, raw, file))
    unitless = field.dimension in (D.FRACTION, D.NUMBER)
    number = isinstance(raw, int | float) and not isinstance(raw, bool)
    if not isinstance(raw, str) and not (number and unitless):
        accepted = f"{field.dimension.words} such as {field.dimension.example}"
        raise BadInput(file, path, repr(raw), accepted)
    value = parse(str(raw), field.dimension, file=file, key=path)
    check_value(key, field.dimension, value, file, str(raw))
    return value


def parse_geometry(
    tables: Mapping[str, Mapping[str, object]], *, file: str = "input"
) -> tuple[tuple[str, float], ...]:
    """(dotted key, SI value) pairs of the tables under [circuit], in the records' order.

    Raises
    ------
    BadInput
        If a table or key is unknown, or a value cannot be used.
    """
    found: dict[str, float] = {}
    for segment, table in tables.items():
        if segment not in segments():
            raise BadInput(
                file,
                f"circuit.{segment}",
                "an unknown table",
                "one of " + ", ".join(segments()),
                nearest(segment, segments()),
            )
        allowed = [field.key.partition(".")[2] for field in of_segment(segment)]
        for name, raw in table.items():
            if name not in allowed:
                raise BadInput(
                    file,
                    f"circuit.{segment}.{name}",
                    "an unknown key",
                    "one of " + ", ".join(allowed),
                    nearest(name, allowed),
                )
            key = f"{segment}.{name}"
            found[key] = parse_geometry_value(key, raw, file=file)
    return tuple((key, found[key]) for key in geometry_keys() if key in found)


def circuit_from_geometry(
    geometry: Iterable[tuple[str, float]],
    charge_kg: float,
    refrigerant: str,
    *,
    file: str = "circuit",
) -> records.Circuit:
    """A circuit from every one of its keys.

    Parameters
    ----------
    geometry : iterable of (str, float)
        Dotted key and SI value; all of `geometry_keys` but those of loops the circuit has
        not. [SI]
    charge_kg : float
        Refrigerant mass. [kg]
    refrigerant : str
        What the plate names.
    file : str
        Where it was read, for the message.

    Returns
    -------
    Circuit
        Checked, its models those the keys name.

    Raises
    ------
    BadInput
        If a key is missing or unknown, a value cannot be, or two contradict each other.
    Refused
        If the refrigerant has no full properties.
    """
    values = dict(geometry)
    unknown = [key for key in values if key not in fields()]
    if unknown:
        key = unknown[0]
        suggestion = nearest(key, geometry_keys())
        raise BadInput(file, f"circuit.{key}", "an unknown key", "keys of a circuit", suggestion)
    values = _defaults(values) | values
    missing = [f"circuit.{key}" for key in geometry_keys() if key not in values]
    if missing:
        more = f" (and {len(missing) - 1} more)" if len(missing) > 1 else ""
        dimension = geometry_keys()[missing[0].removeprefix("circuit.")]
        example = kind_names(missing[0].removeprefix("circuit.")) or dimension.example
        raise BadInput(
            file, missing[0], f"nothing{more}", f"every key of the circuit; here {example}"
        )
    for key, value in values.items():
        check_value(key, geometry_keys()[key], value, file)
    parts = {
        segment: record(**{f.name: float(values[f.key]) for f in of_segment(segment)})
        for segment, record in segments().items()
    }
    check_charge(float(charge_kg), file)
    circuit = records.Circuit(**parts, charge_kg=float(charge_kg), refrigerant=refrigerant)
    check_circuit(circuit, file)
    return circuit


def _defaults(given: Mapping[str, float]) -> dict[str, float]:
    """Values of the keys that need not be given: of loops without a table, and a few others."""
    told = {key.partition(".")[0] for key in given}
    found = {f.key: f.default for f in fields().values() if f.default is not None}
    for segment in optional_segments() - told:
        record = segments()[segment]()
        found |= {f.key: float(getattr(record, f.name)) for f in of_segment(segment)}
    if POLYNOMIAL in told:
        # Who gives the coefficients means them to be used
        found["models.compressor"] = float(records.CompressorKind.POLYNOMIAL)
    return found


def is_complete(given: Iterable[str]) -> bool:
    """Whether these keys make a circuit: all but those of loops it has not and of models.

    Parameters
    ----------
    given : iterable of str
        Dotted keys.
    """
    keys = set(given)
    have = keys | _defaults(dict.fromkeys(keys, 0.0)).keys()
    return bool(keys) and all(key in have for key in geometry_keys())


def geometry_of(circuit: records.Circuit) -> tuple[tuple[str, float], ...]:
    """Every (dotted key, SI value) pair of a circuit; the inverse of `circuit_from_geometry`."""
    return tuple(
        (field.key, float(getattr(getattr(circuit, field.segment), field.name)))
        for field in fields().values()
    )


def circuit_with(
    circuit: records.Circuit, key: str, value: float, *, file: str = "input"
) -> records.Circuit:
    """The circuit with one value changed (checked like any other).

    Parameters
    ----------
    circuit : Circuit
        The circuit to start from.
    key : str
        Dotted, such as ``'capillary.bore'``.
    value : float
        The new value. [SI]
    file : str
        Where it was read, for the message.
    """
    geometry = dict(geometry_of(circuit)) | {key: value}
    return circuit_from_geometry(
        geometry.items(), circuit.charge_kg, circuit.refrigerant, file=file
    )


def circuit_to_toml(circuit: records.Circuit) -> str:
    """The tables under [circuit]; parsed back they give the same floats. The charge is the plate's.

    Parameters
    ----------
    circuit : Circuit
        The circuit to write.
    """
    lines: list[str] = []
    # Coefficients that are given and not used: the choice has to be written
    unused = circuit.compressor_polynomial != records.CompressorPolynomial() and (
        circuit.models.compressor_code == records.CompressorKind.PHYSICAL
    )
    for segment, record in segments().items():
        spoken = segment == "models" and unused
        bare = segment in optional_segments() and getattr(circuit, segment) == record()
        if bare and not spoken:
            continue
        lines.append(f"[circuit.{segment}]")
        for field in of_segment(segment):
            value = float(getattr(getattr(circuit, segment), field.name))
            if value == field.default and not (spoken and field.key == "models.compressor"):
                continue
            lines.append(f"{field.key.partition('.')[2]} = {_written(field, value)}")
        lines.append("")
    return "\n".join(lines)


def _kind_code(key: str, raw: object, file: str) -> IntEnum:
    names = {member.name.lower(): member for member in geometry_kinds()[key]}
    if isinstance(raw, str) and raw in names:
        return names[raw]
    read = f"'{one_line(raw)}'" if isinstance(raw, str) else repr(raw)
    suggestion = nearest(raw, names) if isinstance(raw, str) else None
    raise BadInput(file, f"circuit.{key}", read, kind_names(key), suggestion)


def _written(field: Field, value: float) -> str:
    if field.dimension is D.KIND:
        return f'"{geometry_kinds()[field.key](int(value)).name.lower()}"'
    if field.dimension in (D.FRACTION, D.NUMBER):
        return repr(value)
    units = _WRITTEN_AS[field.dimension]
    unit = next(unit for unit, below in units if value < below or below == 0.0)
    return f'"{_shortest(value, unit, field.dimension)}"'


def _shortest(value: float, unit: str, dimension: D) -> str:
    """The shortest text in that unit that parses back to the same float, else in SI."""
    zero, one = parse(f"0 {unit}", dimension), parse(f"1 {unit}", dimension)
    for digits in range(1, 18):
        rounded = float(f"{(value - zero) / (one - zero):.{digits}g}")
        number = f"{rounded:g}" if float(f"{rounded:g}") == rounded else repr(rounded)
        text = f"{number} {unit}"
        if parse(text, dimension) == value:
            return text
    return f"{value!r} {dimension.si_unit}"

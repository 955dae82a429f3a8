"""What a circuit's values can be at all, each alone and beside the others.

The bounds catch a slip of the pen in a circuit file (judgement of ours); they
are no statement of what is usual.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from types import MappingProxyType

from coldwright.circuit.layout import Layout, divided, layout_of
from coldwright.circuit.records import (
    MOST_CHARGE_KG,
    CapillaryKind,
    Circuit,
    CompressorKind,
    CompressorPolynomial,
    CondenserKind,
    EvaporatorKind,
    FlashKind,
    Position,
    VoidKind,
)
from coldwright.errors import BadInput
from coldwright.units import Dimension as D
from coldwright.units import show

_BY_DIMENSION: Mapping[D, tuple[float, float]] = MappingProxyType(
    {
        D.LENGTH: (0.0, 200.0),
        D.AREA: (0.0, 50.0),
        D.VOLUME: (0.0, 0.05),
        D.MASS: (0.0, 5.0),
        D.TEMPERATURE: (193.15, 343.15),
        D.POWER: (0.0, 5000.0),
        D.FRACTION: (0.0, 1.0),
        D.NUMBER: (0.0, 10.0),
        D.ROTATIONAL_SPEED: (0.0, 200.0),
        D.CONDUCTANCE: (0.0, 1000.0),
        D.CONDUCTANCE_PER_LENGTH: (0.0, 1e5),
        D.HEAT_TRANSFER_COEFFICIENT: (0.0, 1e4),
        D.THERMAL_RESISTANCE: (0.0, 1e3),
        D.LOSS_COEFFICIENT: (0.0, 1e20),
    }
)
_BY_KEY: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "compressor.reexpansion": (1.0, 2.0),
        "compressor.clearance": (0.0, 0.5),
        "capillary.entrance_loss": (0.0, 10.0),  # velocity heads, may exceed one
        "condenser.kind": (0.0, float(max(CondenserKind))),
        "evaporator.kind": (0.0, float(max(EvaporatorKind))),
        "frame_loop.position": (0.0, float(max(Position))),
        "drain_pan_loop.position": (0.0, float(max(Position))),
        "models.compressor": (0.0, float(max(CompressorKind))),
        "models.capillary": (0.0, float(max(CapillaryKind))),
        "models.flashing": (0.0, float(max(FlashKind))),
        "models.void_fraction": (0.0, float(max(VoidKind))),
        "compressor_polynomial.flow_unit": (0.0, 1.0),
    }
)
# Zero where a circuit has no coefficients; looked at where they are used
_POLYNOMIAL_ENDS = re.compile(r"compressor_polynomial\.((least|most)_\w+|return_gas)")
_POLYNOMIAL_K = (193.15, 373.15)
_COEFFICIENT = re.compile(r"compressor_polynomial\.(flow|power)_c\d+")
_COEFFICIENTS = (-1e6, 1e6)
_ABOVE_ZERO = frozenset(
    {
        "compressor.displacement",
        "compressor.speed",
        "compressor.indicated_efficiency",
        "compressor.motor_efficiency",
        "compressor.power_factor",
        "compressor.shell_volume",
        "condenser.tube_length",
        "condenser.tube_bore",
        "condenser.volume",
        "condenser.area",
        "drier.volume",
        "capillary.bore",
        "capillary.length",
        "evaporator.tube_length",
        "evaporator.tube_bore",
        "evaporator.volume",
        "evaporator.area",
        "suction_line.bore",
        "suction_line.length",
    }
)


def check_value(key: str, dimension: D, value: float, file: str, read: str | None = None) -> None:
    """Refuse a value that cannot be.

    Parameters
    ----------
    key : str
        Dotted key of the circuit.
    dimension : Dimension
        Its dimension.
    value : float
        The value. [SI]
    file : str
        Where it was read, for the message.
    read : str or None
        The text as read, if there is one.

    Raises
    ------
    BadInput
        If the value lies outside its bounds, or is no number.
    """
    low, high = _BY_KEY.get(key) or _BY_DIMENSION[dimension]
    if _COEFFICIENT.fullmatch(key):
        low, high = _COEFFICIENTS
    if _POLYNOMIAL_ENDS.fullmatch(key) and value == 0.0:
        return
    too_low = value <= 0.0 if key in _ABOVE_ZERO else value < low
    if not math.isfinite(value) or too_low or value > high:
        words = "above 0" if key in _ABOVE_ZERO else _shown(low, dimension)
        accepted = f"{words} up to {_shown(high, dimension)}"
        quoted = f"'{read}'" if read is not None else _shown(value, dimension)
        raise BadInput(file, f"circuit.{key}", quoted, accepted)


def check_charge(charge_kg: float, file: str) -> None:
    """Refuse a charge that cannot be.

    Parameters
    ----------
    charge_kg : float
        Mass, 0 to 5 kg. [kg]
    file : str
        Where it was read, for the message.

    Raises
    ------
    BadInput
        If it lies outside, or is no number.
    """
    if not (math.isfinite(charge_kg) and 0.0 <= charge_kg <= MOST_CHARGE_KG):
        accepted = f"0 kg up to {MOST_CHARGE_KG:g} kg"
        raise BadInput(file, "plate.charge", f"{charge_kg:g} kg", accepted)


def check_circuit(circuit: Circuit, file: str) -> None:
    """Refuse a circuit whose values contradict each other.

    Raises
    ------
    BadInput
        Naming the field at fault and the one it contradicts.
    """
    capillary, condenser, evaporator = circuit.capillary, circuit.condenser, circuit.evaporator
    for name, bore in (
        ("condenser.tube_bore", condenser.tube_bore_m),
        ("evaporator.tube_bore", evaporator.tube_bore_m),
        ("suction_line.bore", circuit.suction_line.bore_m),
    ):
        _below(file, "capillary.bore", capillary.bore_m, name, bore)
    _below(file, "capillary.roughness", capillary.roughness_m, "capillary.bore", capillary.bore_m)
    _at_most(
        file,
        "capillary.bonded_length",
        capillary.bonded_length_m,
        "capillary.length less capillary.inlet_length",
        capillary.length_m - capillary.inlet_length_m,
    )
    if capillary.stretch_length_m > 0.0:
        _at_most(
            file,
            "capillary.stretch_length",
            capillary.stretch_length_m,
            "capillary.length",
            capillary.length_m,
        )
        _at_most(
            file,
            "capillary.stretch_bore",
            capillary.stretch_bore_m,
            "capillary.bore",
            capillary.bore_m,
        )
    _check_loops(circuit, file)
    _check_polynomial(circuit, file)
    if condenser.kind_code == CondenserKind.SKIN and not condenser.inward_conductance_w_k > 0.0:
        raise BadInput(
            file, "circuit.condenser.inward_conductance",
            _shown(condenser.inward_conductance_w_k, D.CONDUCTANCE),
            "above 0 where the condenser lies in the cabinet's wall (kind skin)",
        )  # fmt: skip
    if condenser.kind_code == CondenserKind.STATIC:
        _below(
            file,
            "condenser.tube_bore",
            condenser.tube_bore_m,
            "condenser.tube_diameter",
            condenser.tube_diameter_m,
        )


def _check_polynomial(circuit: Circuit, file: str) -> None:
    """Refuse a polynomial that is chosen and has no coefficients, or a range upside down."""
    if circuit.models.compressor_code != CompressorKind.POLYNOMIAL:
        return
    p = circuit.compressor_polynomial
    if not p.flow_unit_number > 0.0:
        raise BadInput(
            file, "circuit.models.compressor", "'polynomial' without its coefficients",
            "the table [circuit.compressor_polynomial] with flow_unit above 0, or physical",
        )  # fmt: skip
    for name, low, high in (
        ("evaporating", p.least_evaporating_k, p.most_evaporating_k),
        ("condensing", p.least_condensing_k, p.most_condensing_k),
    ):
        if not low < high:
            key = f"circuit.compressor_polynomial.least_{name}"
            raise BadInput(
                file, key, _shown(low, D.TEMPERATURE),
                f"below most_{name}, {_shown(high, D.TEMPERATURE)}",
            )  # fmt: skip
    for name in ("least_evaporating", "most_condensing", "return_gas"):
        value = getattr(p, f"{name}_k")
        if not _POLYNOMIAL_K[0] <= value <= _POLYNOMIAL_K[1]:
            ends = " up to ".join(_shown(end, D.TEMPERATURE) for end in _POLYNOMIAL_K)
            key = f"circuit.compressor_polynomial.{name}"
            raise BadInput(file, key, _shown(value, D.TEMPERATURE), ends)
    for name, value in (("flow", at_middle(p)[0]), ("power", at_middle(p)[1])):
        if not value > 0.0:
            raise BadInput(
                file, f"circuit.compressor_polynomial.{name}_c1", f"a {name} of {value:.3g} in "
                "the middle of the range", "coefficients that give a value above 0 there",
            )  # fmt: skip


def at_middle(p: CompressorPolynomial) -> tuple[float, float]:
    """Flow [kg/s] and power [W] of a polynomial in the middle of its range."""
    e = 0.5 * (p.least_evaporating_k + p.most_evaporating_k) - 273.15
    c = 0.5 * (p.least_condensing_k + p.most_condensing_k) - 273.15
    terms = (1.0, e, c, e * e, e * c, c * c, e**3, c * e * e, e * c * c, c**3)
    flow, power = (
        sum(getattr(p, f"{name}_c{i}_number") * term for i, term in enumerate(terms, start=1))
        for name in ("flow", "power")
    )
    return flow * p.flow_unit_number, power


def _check_loops(circuit: Circuit, file: str) -> None:
    """Refuse loops that cannot be: no bore, no wall, nothing to lie between."""
    cooler, frame, pan = circuit.oil_cooler, circuit.frame_loop, circuit.drain_pan_loop
    layout = layout_of(circuit)
    for there, name, loop in (
        (cooler.conductance_w_k > 0.0, "oil_cooler", cooler),
        (frame.tube_length_m > 0.0, "frame_loop", frame),
        (pan.tube_length_m > 0.0, "drain_pan_loop", pan),
    ):
        if there:
            _below(
                file, "capillary.bore", circuit.capillary.bore_m,
                f"{name}.tube_bore", loop.tube_bore_m,
            )  # fmt: skip
    for there, key, value in (
        (layout in (Layout.OIL_COOLER, Layout.BOTH), "oil_cooler.tube_length",
         cooler.tube_length_m),
        (frame.tube_length_m > 0.0, "frame_loop.bond_conductance", frame.bond_conductance_w_m_k),
        (frame.tube_length_m > 0.0 or frame.cabinet_conductance_w_k > 0.0,
         "frame_loop.room_conductance", frame.room_conductance_w_k),
        (pan.tube_length_m > 0.0, "drain_pan_loop.room_conductance", pan.room_conductance_w_k),
    ):  # fmt: skip
        if there and not value > 0.0:
            raise BadInput(file, f"circuit.{key}", "0", "above 0 where the loop is there")
    first = circuit.condenser.first_section_fraction
    if divided(circuit) and not 0.0 < first < 1.0:
        raise BadInput(
            file,
            "circuit.condenser.first_section",
            f"{first:g}",
            "above 0 and below 1 where an oil cooler or a loop lies between the sections",
        )


def _below(file: str, key: str, value: float, other: str, bound: float) -> None:
    if not value < bound:
        _contradiction(file, key, value, f"below {other}", bound)


def _at_most(file: str, key: str, value: float, other: str, bound: float) -> None:
    # Lengths that add up exactly on paper may miss by rounding.
    if not value <= bound * (1.0 + 1e-9) + 1e-12:
        _contradiction(file, key, value, f"at most {other}", bound)


def _contradiction(file: str, key: str, value: float, words: str, bound: float) -> None:
    accepted = f"a length {words}, {_shown(bound, D.LENGTH)}"
    raise BadInput(file, f"circuit.{key}", _shown(value, D.LENGTH), accepted)


def _shown(value: float, dimension: D) -> str:
    if dimension is D.KIND:
        return f"{value:g}"
    return show(value, dimension) if math.isfinite(value) else str(value)

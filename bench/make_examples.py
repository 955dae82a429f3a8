"""Write the example circuit files: each pair of condenser and evaporator, each layout.

Each is the middle member of its family (all scores zero), sized to its design
point, every value rounded to four digits and the charge to a gram. Run again
after a change of the families: ``python -m bench.make_examples``.
"""

from __future__ import annotations

from dataclasses import astuple, dataclass
from pathlib import Path

import numpy as np

import coldwright
from coldwright.catalogue.families import family_of
from coldwright.catalogue.sizing import DIMENSIONS, Known, size_members
from coldwright.circuit.files import circuit_from_geometry, circuit_to_toml, geometry_of
from coldwright.circuit.layout import Layout, layout_of
from coldwright.circuit.records import (
    CompressorPolynomial,
    CondenserKind,
    EvaporatorKind,
    Position,
)
from coldwright.circuit.vector import unpack_circuit
from coldwright.cycle.compressor.fit import fit_polynomial, with_polynomial
from coldwright.cycle.medium import medium

FOLDER = Path(coldwright.__file__).parent / "examples"
DIGITS = 4
_NAN = float("nan")
_C, _E, _P = CondenserKind, EvaporatorKind, Position


@dataclass(frozen=True, slots=True)
class Example:
    """What the plate of one example says."""

    title: str
    kind: str
    year: int
    refrigerant: str
    condenser: CondenserKind
    evaporator: EvaporatorKind
    volts: int
    hertz: int
    layout: Layout = Layout.PLAIN
    position: Position | None = None
    called: str = ""  # the layout's own name where empty
    polynomial: bool = False  # ten coefficients, fitted to its own compressor, in its place

    @property
    def name(self) -> str:
        """File name."""
        if self.called or self.layout is not Layout.PLAIN:
            return f"{self.called or self.layout.value}.toml"
        return f"plain_{self.condenser.name}_{self.evaporator.name}.toml".lower()


EXAMPLES = (
    Example("Pantry refrigerator", "single_door", 2012, "R600a", _C.STATIC, _E.PLATE, 230, 50),
    Example("Cellar chest", "chest_freezer", 1988, "R12", _C.STATIC, _E.COLD_WALL, 230, 50),
    Example("Hall refrigerator", "top_mount", 2004, "R134a", _C.STATIC, _E.FAN, 120, 60),
    Example("Office refrigerator", "compact", 2000, "R134a", _C.SKIN, _E.PLATE, 120, 60),
    Example("Garage chest", "chest_freezer", 2015, "R600a", _C.SKIN, _E.COLD_WALL, 230, 50),
    Example("Kitchen refrigerator", "bottom_mount", 2016, "R600a", _C.SKIN, _E.FAN, 230, 50),
    Example("Scullery freezer", "upright_freezer", 2018, "R290", _C.FAN, _E.PLATE, 230, 50),
    Example("Family refrigerator", "side_by_side", 2005, "R134a", _C.FAN, _E.FAN, 120, 60),
    Example("Landing refrigerator", "top_mount", 2006, "R134a", _C.STATIC, _E.FAN, 120, 60,
            Layout.FRAME_LOOP, _P.AFTER_CONDENSER),
    Example("Attic refrigerator", "bottom_mount", 2014, "R600a", _C.SKIN, _E.FAN, 230, 50,
            Layout.FRAME_LOOP, _P.BEFORE_CONDENSER, "frame_loop_first"),
    Example("Barn freezer", "chest_freezer", 1989, "R12", _C.STATIC, _E.COLD_WALL, 230, 50,
            Layout.OIL_COOLER),
    Example("Porch refrigerator", "side_by_side", 1993, "R12", _C.FAN, _E.FAN, 120, 60,
            Layout.BOTH, _P.BETWEEN_SECTIONS),
    Example("Stair refrigerator", "top_mount", 2004, "R134a", _C.STATIC, _E.FAN, 120, 60,
            called="ten_coefficients", polynomial=True),
)  # fmt: skip


def text_of(example: Example) -> str:
    """The whole file of one example."""
    known = Known(
        family_of(example.kind), example.year, _NAN, _NAN, _NAN, _NAN, _NAN, example.hertz,
        example.condenser, example.evaporator, example.layout, example.position,
    )  # fmt: skip
    med = medium(example.refrigerant)
    members = size_members(med, known, np.zeros((1, DIMENSIONS)))
    if not members.good[0]:
        raise RuntimeError(f"{example.name}: the middle member was not sized")
    sized = unpack_circuit(members.circuits[0])
    grams = round(1e3 * float(members.design_charge_kg[0]))
    rounded = [(key, float(f"{value:.{DIGITS}g}")) for key, value in geometry_of(sized)]
    circuit = circuit_from_geometry(rounded, 1e-3 * grams, example.refrigerant, file=example.name)
    if example.polynomial:
        circuit = with_polynomial(circuit, _rounded(fit_polynomial(circuit).polynomial))
    return "\n".join(
        (
            "# An invented appliance: the middle member of its family, sized by",
            "# bench/make_examples.py. Nothing in it comes from a maker's sheet.",
            f'title = "{example.title} (invented)"',
            "",
            "[plate]",
            f'kind = "{example.kind}"',
            f"year = {example.year}",
            f'refrigerant = "{example.refrigerant}"',
            f'charge = "{grams} g"',
            f'voltage = "{example.volts} V"',
            f'frequency = "{example.hertz} Hz"',
            "",
            "[room]",
            'temperature = "25 °C"',
            *(() if example.layout is Layout.PLAIN else ('humidity = "60 %"',)),
            "",
            "[circuit]",
            f'layout = "{layout_of(circuit).value}"',
            "",
            circuit_to_toml(circuit),
        )
    )


def _rounded(polynomial: CompressorPolynomial) -> CompressorPolynomial:
    """Coefficients to six digits, as a table would print them; the terms cancel in part."""
    return CompressorPolynomial(*(float(f"{v:.6g}") for v in astuple(polynomial)))


def main() -> None:
    """Write all of them."""
    FOLDER.mkdir(exist_ok=True)
    for example in EXAMPLES:
        (FOLDER / example.name).write_text(text_of(example), encoding="utf-8")
        print(f"wrote {example.name}")


if __name__ == "__main__":
    main()

"""Write docs/checks.md: ``python -m bench.checks``."""

from __future__ import annotations

from collections import Counter

from bench.checks.appliances import ROOM_K, settled, shipped
from bench.checks.page import ALONG, DIAGRAM, PAGE, all_parts, all_rows, page
from coldwright.figures.circuit import along_circuit_svg, pressure_enthalpy_svg
from coldwright.figures.diagrams import along_circuit, pressure_enthalpy


def figures() -> None:
    """Draw the R134a top mount of the examples in health."""
    a = shipped("plain_static_fan")
    state = settled(a)
    title = "Hall refrigerator (invented), R134a, room 25 °C, in health"
    diagram = pressure_enthalpy(state, a.med.tables, title)
    along = along_circuit(state, a.circuit, ROOM_K, title)
    for name, drawn in (
        (DIAGRAM, pressure_enthalpy_svg(diagram)),
        (ALONG, along_circuit_svg(along)),
    ):
        place = PAGE.parent / name
        place.parent.mkdir(exist_ok=True)
        place.write_text(drawn, encoding="utf-8")


def main() -> None:
    """Compute every row, write the page and its figures, print the count of verdicts."""
    PAGE.write_text(page(all_parts()), encoding="utf-8")
    figures()
    count = Counter(row.verdict.value for row in all_rows())
    print(f"{PAGE.name}: " + ", ".join(f"{n} {verdict}" for verdict, n in sorted(count.items())))


if __name__ == "__main__":
    main()

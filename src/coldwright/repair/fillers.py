"""Filler metals by class, with how each figure is known.

Classes: AWS A5.8 and ISO 17672; the pairing of the two codes is from memory. Solidus
and liquidus are information values: alloy limits allow a spread (ISO 17672 says so).
"""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.refrigerant.facts import Known

ZERO_C = 273.15
_HANDBOOK = "Machinery's Handbook, table of AWS data"
_MEMORY = "AWS A5.8, from memory"


@dataclass(frozen=True, slots=True)
class Filler:
    """One class of filler metal."""

    aws: str  # class of AWS A5.8; empty where the alloy is no brazing filler there
    iso: str  # ISO 17672 code, from memory; empty where there is none
    silver_fraction: float
    phosphorus: bool
    cadmium: bool
    solidus_k: float
    liquidus_k: float
    density_kg_m3: float
    source: str
    known: Known

    @property
    def name(self) -> str:
        """Both codes."""
        return f"{self.aws} (ISO 17672 {self.iso})" if self.iso else self.aws


def _f(
    aws: str, iso: str, silver: float, solidus: float, liquidus: float, density: float,
    source: str, known: Known, phosphorus: bool = False, cadmium: bool = False,
) -> Filler:  # fmt: skip
    return Filler(
        aws, iso, silver, phosphorus, cadmium, solidus + ZERO_C, liquidus + ZERO_C, density,
        source, known,
    )  # fmt: skip


# Densities: handbook values for the alloy families, from memory, 3 %.
SILVER = (
    _f("BAg-7", "Ag 156", 0.56, 618.0, 652.0, 9500.0, _HANDBOOK, Known.READ),
    _f("BAg-36", "Ag 145", 0.45, 646.0, 677.0, 9200.0, _MEMORY, Known.MEMORY),
    _f("BAg-34", "Ag 138", 0.38, 649.0, 721.0, 9100.0, _MEMORY, Known.MEMORY),
    _f("BAg-5", "Ag 245", 0.45, 677.0, 743.0, 9100.0, _HANDBOOK, Known.READ),
    _f("BAg-20", "Ag 230", 0.30, 677.0, 766.0, 8900.0, _HANDBOOK, Known.READ),
    _f("BAg-24", "Ag 450", 0.50, 660.0, 707.0, 9200.0, _HANDBOOK, Known.READ),
)
PHOSPHORUS = (
    _f("BCuP-2", "CuP 181", 0.00, 710.0, 793.0, 8000.0, _MEMORY, Known.MEMORY, True),
    _f("BCuP-3", "CuP 281", 0.05, 643.0, 813.0, 8200.0, _MEMORY, Known.MEMORY, True),
    _f("BCuP-4", "CuP 283", 0.06, 643.0, 718.0, 8200.0, _MEMORY, Known.MEMORY, True),
    _f("BCuP-5", "CuP 284", 0.15, 643.0, 802.0, 8400.0, _MEMORY, Known.MEMORY, True),
    _f("BCuP-6", "CuP 279", 0.02, 643.0, 788.0, 8100.0, _MEMORY, Known.MEMORY, True),
)
BRASS_ROD = (_f("RBCuZn-A", "Cu 470", 0.0, 888.0, 899.0, 8400.0, _MEMORY, Known.MEMORY),)
ALUMINIUM_SILICON = (_f("BAlSi-4", "Al 112", 0.0, 577.0, 582.0, 2650.0, _MEMORY, Known.MEMORY),)
ZINC_ALUMINIUM = (_f("ZnAl 98/2", "", 0.0, 377.0, 385.0, 7100.0, _MEMORY, Known.MEMORY),)
CADMIUM = (_f("BAg-1", "Ag 345", 0.45, 607.0, 618.0, 9400.0, _MEMORY, Known.MEMORY, False, True),)
ALL = (*SILVER, *PHOSPHORUS, *BRASS_ROD, *ALUMINIUM_SILICON, *ZINC_ALUMINIUM, *CADMIUM)

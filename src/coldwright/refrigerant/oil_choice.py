"""Which oil goes with which refrigerant, and what chemistry says to the sayings of the trade.

The plate or the maker's statement governs: what mixes is not therefore what the
compressor was built for.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from coldwright.refrigerant.fact_records import Known


class Miscibility(Enum):
    """Of liquid refrigerant with the oil, at household temperatures."""

    FULL = "mixes fully"
    PARTIAL = "mixes in part"
    POOR = "hardly mixes"


@dataclass(frozen=True, slots=True)
class OilKind:
    """A kind of oil and the water it holds when saturated."""

    name: str
    water_ppm_low: float  # by mass
    water_ppm_high: float
    water_known: Known


@dataclass(frozen=True, slots=True)
class Pairing:
    """One oil with one refrigerant."""

    refrigerant: str
    oil: str
    miscibility: Miscibility
    remark: str
    known: Known


@dataclass(frozen=True, slots=True)
class Saying:
    """What is said in the trade, and what is known."""

    saying: str
    chemistry: str
    refrigerants: tuple[str, ...]  # whom it concerns
    known: Known


OIL_KINDS = (
    OilKind("mineral", 30.0, 50.0, Known.MEMORY),
    OilKind("alkylbenzene", 50.0, 100.0, Known.MEMORY),
    OilKind("polyol ester", 1500.0, 2500.0, Known.SECONDARY),
)

_FULL, _PART, _POOR = Miscibility.FULL, Miscibility.PARTIAL, Miscibility.POOR
_READ, _MEMORY = Known.READ, Known.MEMORY
_M, _A, _E = "mineral", "alkylbenzene", "polyol ester"
_THIN = "dissolves so well that it thins the oil"
PAIRINGS = (
    Pairing("R134a", _E, _FULL, "low viscosity; an ISO 68 ester mixes in part only", _READ),
    Pairing("R134a", _M, _POOR, "", _READ),
    Pairing("R134a", _A, _POOR, "small hermetic circuits have run with it", _MEMORY),
    Pairing("R600a", _M, _FULL, _THIN, _READ),
    Pairing("R600a", _A, _FULL, _THIN, _READ),
    Pairing("R600a", _E, _FULL, "", _READ),
    Pairing("R12", _M, _FULL, "", _READ),
    Pairing("R12", _E, _FULL, "chemically accepted too", _READ),
    Pairing("R290", _M, _FULL, _THIN, _READ),
    Pairing("R290", _A, _FULL, _THIN, _MEMORY),
    Pairing("R290", _E, _FULL, "", _MEMORY),
    Pairing("R22", _M, _PART, "two liquids in the cold", _READ),
    Pairing("R22", _A, _FULL, "better oil return than with mineral oil", _MEMORY),
    Pairing("R152a", _E, _FULL, "", _MEMORY),
    Pairing("R152a", _A, _PART, "", _MEMORY),
    Pairing("R1234yf", _E, _FULL, "", _MEMORY),
    Pairing("R401A", _A, _FULL, "the usual advice at service", _MEMORY),
    Pairing("R401A", _M, _PART, "its R152a and R124 return oil less well than R12", _MEMORY),
    Pairing("R409A", _A, _FULL, "the usual advice at service", _MEMORY),
    Pairing("R409A", _M, _PART, "", _MEMORY),
    Pairing("R413A", _E, _FULL, "", _MEMORY),
    Pairing("R413A", _M, _POOR, "its isobutane is there to carry mineral oil back", _MEMORY),
    Pairing("R413A", _A, _PART, "", _MEMORY),
    Pairing("R436A", _M, _FULL, _THIN, _MEMORY),
    Pairing("R436A", _A, _FULL, _THIN, _MEMORY),
    Pairing("R436A", _E, _FULL, "", _MEMORY),
    Pairing("R436B", _M, _FULL, _THIN, _MEMORY),
    Pairing("R436B", _A, _FULL, _THIN, _MEMORY),
    Pairing("R436B", _E, _FULL, "", _MEMORY),
    Pairing("R404A", _E, _FULL, "", _MEMORY),
    Pairing("R500", _M, _FULL, "", _MEMORY),
    Pairing("R500", _A, _FULL, "", _MEMORY),
    Pairing("R502", _M, _PART, "two liquids in the cold, more so than R22", _MEMORY),
    Pairing("R502", _A, _FULL, "", _MEMORY),
)

SAYINGS = (
    Saying(
        "R134a works only with polyol ester.",
        "Not mixing is not the same as not working: small hermetic circuits were tested, and "
        "some sold, with mineral oil or alkylbenzene and enough oil came back.",
        ("R134a",),
        Known.MEMORY,
    ),
    Saying(
        "Polyol ester kills an R12 circuit.",
        "The ester mixes with CFC and HCFC and is chemically accepted; the danger is the other "
        "way round: chlorine residue and mineral oil in an R134a circuit.",
        ("R12", "R22", "R500", "R502", "R401A", "R409A"),
        Known.READ,
    ),
    Saying(
        "R600a needs a special oil.",
        "It gets on with all of them; what matters is how much of it dissolves and thins the oil.",
        ("R600a", "R290", "R436A", "R436B"),
        Known.MEMORY,
    ),
    Saying(
        "A deep vacuum dries polyol ester.",
        "The ester holds its water by chemistry: heat and a drier take it out, vacuum alone "
        "does not. Keep a compressor with ester open for 10 minutes at most.",
        ("R134a", "R404A", "R152a", "R1234yf", "R413A"),
        Known.READ,
    ),
)


def pairings_of(refrigerant: str) -> tuple[Pairing, ...]:
    """Oils of one refrigerant, the usual one first; empty where nothing is held."""
    return tuple(pairing for pairing in PAIRINGS if pairing.refrigerant == refrigerant)


def sayings_about(refrigerant: str) -> tuple[Saying, ...]:
    """Sayings that concern one refrigerant."""
    return tuple(saying for saying in SAYINGS if refrigerant in saying.refrigerants)

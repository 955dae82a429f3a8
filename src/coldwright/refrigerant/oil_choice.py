"""Which oil goes with which refrigerant, and what chemistry says to the sayings of the trade.

The plate or the maker's statement governs: what mixes is not therefore what the
compressor was built for.
"""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.refrigerant.fact_records import Known, Pairing
from coldwright.refrigerant.facts import REFRIGERANTS


@dataclass(frozen=True, slots=True)
class OilKind:
    """A kind of oil and the water it holds when saturated."""

    name: str
    water_ppm_low: float  # by mass
    water_ppm_high: float
    water_known: Known


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
    """Oils of one refrigerant, the usual one first; empty where nothing is held.

    Parameters
    ----------
    refrigerant : str
        Its name in the glossary.

    Returns
    -------
    tuple of Pairing
        The usual one first; empty where nothing is held.

    Examples
    --------
    >>> pairings_of("R134a")[0].oil
    'polyol ester'
    """
    return next((r.oils for r in REFRIGERANTS if r.name == refrigerant), ())


def sayings_about(refrigerant: str) -> tuple[Saying, ...]:
    """Sayings that concern one refrigerant.

    Parameters
    ----------
    refrigerant : str
        Its name in the glossary.

    Returns
    -------
    tuple of Saying
        Those that concern it; empty where none does.

    Examples
    --------
    >>> [s.saying for s in sayings_about("R600a")]
    ['R600a needs a special oil.']
    """
    return tuple(saying for saying in SAYINGS if refrigerant in saying.refrigerants)

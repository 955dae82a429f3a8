"""What each refrigerant is: safety, climate and ozone figures, oils, years of use.

Every figure says how it is known. A refrigerant that is not known counts as
flammable until the plate says otherwise.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from enum import Enum

from coldwright.errors import BadInput


class Known(Enum):
    """How a figure is known."""

    READ = "read in full text"
    SECONDARY = "read in a secondary source"
    MEMORY = "from memory"
    COMPUTED = "computed"
    PRACTICE = "common practice, no published source"
    OURS = "judgement of ours"


@dataclass(frozen=True, slots=True)
class Figure:
    """One number with its provenance; the unit is in the name of the field that holds it."""

    value: float
    source: str
    known: Known


@dataclass(frozen=True, slots=True)
class Gwp:
    """Global warming potential over 100 years, worth nothing without its set."""

    set_name: str  # "AR4", "AR5", "AR6"
    value: float  # kg CO2 per kg
    source: str
    known: Known


@dataclass(frozen=True, slots=True)
class Refrigerant:
    """Facts of one refrigerant; None and empty where nothing is known."""

    name: str
    coolprop_name: str | None
    molar_mass_kg_mol: Figure | None
    safety_class: str | None  # ASHRAE 34
    safety_class_known: Known
    flammable: bool  # as it must be handled: true also when unknown
    lfl_kg_m3: tuple[Figure, ...]  # lower flammability limits; families of standards differ
    gwp100: tuple[Gwp, ...]
    odp: Figure | None
    usual_oils: tuple[str, ...]
    usual_oils_known: Known

    def gwp(self, set_name: str) -> Gwp:
        """GWP of one set; raises `BadInput` when that set is not held for it."""
        for gwp in self.gwp100:
            if gwp.set_name == set_name:
                return gwp
        held = ", ".join(g.set_name for g in self.gwp100) or "none"
        raise BadInput(self.name, "GWP set", set_name, held)

    @property
    def lowest_lfl_kg_m3(self) -> Figure | None:
        """The most cautious flammability limit held, None where there is none."""
        return min(self.lfl_kg_m3, key=lambda figure: figure.value, default=None)


_COOLPROP = "CoolProp 8.0.0 (Bell et al. 2014)"
_IPCC = "IPCC, by way of an open data file (globalwarmingpotentials 0.13.2)"
_AR6 = "IPCC AR6, table 7.SM.7"
_EU = "Regulation (EU) 517/2014, annex II or IV: the value in law, AR4 era"
_MONTREAL = "Montreal Protocol, annexes A and C"
_EN = "EN 378-1 annex E, ISO 817"
_ASHRAE = "ASHRAE 34, {} ppm at 25 degC and 101325 Pa"


def _ipcc(ar4: float, ar5: float, ar6: float) -> tuple[Gwp, ...]:
    pairs = (("AR4", ar4), ("AR5", ar5), ("AR6", ar6))
    return tuple(Gwp(name, value, _IPCC, Known.READ) for name, value in pairs)


def _molar_mass(kg_mol: float) -> Figure:
    return Figure(kg_mol, _COOLPROP, Known.COMPUTED)


R134A = Refrigerant(
    name="R134a",
    coolprop_name="R134a",
    molar_mass_kg_mol=_molar_mass(0.102032),
    safety_class="A1",
    safety_class_known=Known.MEMORY,
    flammable=False,
    lfl_kg_m3=(),
    gwp100=_ipcc(1430.0, 1300.0, 1530.0),
    odp=Figure(0.0, _MONTREAL, Known.MEMORY),
    usual_oils=("polyol ester",),
    usual_oils_known=Known.READ,
)
R600A = Refrigerant(
    name="R600a",
    coolprop_name="IsoButane",
    molar_mass_kg_mol=_molar_mass(0.0581222),
    safety_class="A3",
    safety_class_known=Known.MEMORY,
    flammable=True,
    lfl_kg_m3=(
        Figure(0.043, _EN, Known.MEMORY),
        Figure(0.038, _ASHRAE.format(16000), Known.MEMORY),
    ),
    # AR6 lists n-butane (0.006), not isobutane, so no AR6 value is held.
    gwp100=(Gwp("AR4", 3.0, _EU, Known.MEMORY),),
    odp=Figure(0.0, _MONTREAL, Known.MEMORY),
    usual_oils=("mineral", "alkylbenzene", "polyol ester"),
    usual_oils_known=Known.READ,
)
R12 = Refrigerant(
    name="R12",
    coolprop_name="R12",
    molar_mass_kg_mol=_molar_mass(0.120913),
    safety_class="A1",
    safety_class_known=Known.MEMORY,
    flammable=False,
    lfl_kg_m3=(),
    gwp100=_ipcc(10900.0, 10200.0, 12500.0),
    odp=Figure(1.0, _MONTREAL, Known.MEMORY),
    usual_oils=("mineral",),
    usual_oils_known=Known.READ,
)
R290 = Refrigerant(
    name="R290",
    coolprop_name="n-Propane",
    molar_mass_kg_mol=_molar_mass(0.04409562),
    safety_class="A3",
    safety_class_known=Known.MEMORY,
    flammable=True,
    lfl_kg_m3=(
        Figure(0.038, _EN, Known.MEMORY),
        Figure(0.0379, _ASHRAE.format(21000), Known.COMPUTED),
    ),
    gwp100=(Gwp("AR4", 3.0, _EU, Known.MEMORY), Gwp("AR6", 0.02, _AR6, Known.READ)),
    odp=Figure(0.0, _MONTREAL, Known.MEMORY),
    usual_oils=("mineral", "alkylbenzene", "polyol ester"),
    usual_oils_known=Known.SECONDARY,
)
R22 = Refrigerant(
    name="R22",
    coolprop_name="R22",
    molar_mass_kg_mol=_molar_mass(0.086468),
    safety_class="A1",
    safety_class_known=Known.MEMORY,
    flammable=False,
    lfl_kg_m3=(),
    gwp100=_ipcc(1810.0, 1760.0, 1960.0),
    odp=Figure(0.055, _MONTREAL, Known.MEMORY),
    usual_oils=("mineral", "alkylbenzene"),
    usual_oils_known=Known.READ,
)
UNKNOWN = Refrigerant(
    name="unknown",
    coolprop_name=None,
    molar_mass_kg_mol=None,
    safety_class=None,
    safety_class_known=Known.OURS,
    flammable=True,
    lfl_kg_m3=R600A.lfl_kg_m3 + R290.lfl_kg_m3,
    gwp100=(),
    odp=None,
    usual_oils=(),
    usual_oils_known=Known.OURS,
)

REFRIGERANTS: tuple[Refrigerant, ...] = (R134A, R600A, R12, R290, R22)


def refrigerant_facts(name: str) -> Refrigerant:
    """Facts by name as in the glossary, "unknown" included.

    Parameters
    ----------
    name : str
        Such as "R134a"; case and a space or hyphen after the R do not matter.

    Returns
    -------
    Refrigerant
        Its facts.

    Raises
    ------
    BadInput
        If no facts are held under that name; it must then be treated as "unknown".
    """
    plain = name.strip().casefold().replace("-", "").replace(" ", "")
    by_name = {r.name.casefold(): r for r in (*REFRIGERANTS, UNKNOWN)}
    if plain in by_name:
        return by_name[plain]
    near = difflib.get_close_matches(plain, list(by_name), n=1)
    accepted = ", ".join(r.name for r in by_name.values())
    suggestion = by_name[near[0]].name if near else None
    raise BadInput("refrigerant", "name", name, accepted, suggestion)


@dataclass(frozen=True, slots=True)
class Era:
    """Years in which new household appliances were commonly filled with a refrigerant."""

    refrigerant: str
    region: str
    first_year: int
    last_year: int | None  # None while it goes on
    source: str
    known: Known


_EU_BAN = "Regulation (EU) 517/2014, annex III: HFC of GWP 150 and above ended 1 Jan 2015"
_SNAP = "US EPA, 76 FR 78832, listed with effect of 21 Feb 2012"
ERAS: tuple[Era, ...] = (
    Era("R600a", "world", 1920, 1949, "a trade guideline of 2000: to the 40s; relics", Known.READ),
    Era("R12", "world", 1930, 1995, "the same: almost all units to the early 1990s", Known.READ),
    Era("R12", "article 5 countries", 1996, 2009, _MONTREAL, Known.MEMORY),
    Era("R22", "world", 1950, 2010, "some freezers and ice makers", Known.MEMORY),
    Era("R134a", "Europe", 1993, 2014, _EU_BAN, Known.MEMORY),
    Era("R134a", "North America", 1993, 2021, "trade practice", Known.MEMORY),
    Era("R134a", "elsewhere", 1994, None, "trade practice", Known.MEMORY),
    Era("R600a", "Europe", 1993, None, "developed 1992, Germany first; IIR news 2004", Known.READ),
    Era("R600a", "Asia", 2000, None, "trade practice", Known.MEMORY),
    Era("R600a", "North America", 2012, None, _SNAP, Known.READ),
    Era("R290", "world", 1995, None, "few household units; check the plate", Known.MEMORY),
)  # fmt: skip


def eras_of(year: int, region: str | None = None) -> tuple[Era, ...]:
    """Eras that cover a year of manufacture; a hint for priors, never a reading of the plate.

    Parameters
    ----------
    year : int
        Year of manufacture. [a]
    region : str, optional
        Keep only this region and "world".

    Returns
    -------
    tuple of Era
        In the order of `ERAS`.
    """
    return tuple(
        era
        for era in ERAS
        if era.first_year <= year
        and (era.last_year is None or year <= era.last_year)
        and (region is None or era.region in (region, "world"))
    )

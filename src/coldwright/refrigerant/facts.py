"""What each refrigerant is: safety, climate and ozone figures, oils, years of use.

Every figure says how it is known. A refrigerant that is not known counts as
flammable until the plate says otherwise.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from enum import Enum

from coldwright.errors import BadInput
from coldwright.refrigerant.blend_facts import BLENDS
from coldwright.refrigerant.fact_records import (
    AR6,
    ASHRAE_LFL,
    EN_378,
    EU,
    MONTREAL,
    Component,
    Figure,
    Gwp,
    Known,
    Refrigerant,
    ipcc,
    molar_mass,
)

__all__ = [
    "ERAS",
    "PURE",
    "REFRIGERANTS",
    "UNKNOWN",
    "Component",
    "Era",
    "Figure",
    "Gwp",
    "Known",
    "Refrigerant",
    "Role",
    "eras_of",
    "refrigerant_facts",
    "uses_of",
]

R134A = Refrigerant(
    name="R134a",
    coolprop_name="R134a",
    molar_mass_kg_mol=molar_mass(0.102032),
    safety_class="A1",
    safety_class_known=Known.SECONDARY,
    flammable=False,
    lfl_kg_m3=(),
    gwp100=ipcc(1430.0, 1300.0, 1530.0),
    odp=Figure(0.0, MONTREAL, Known.MEMORY),
    usual_oils=("polyol ester",),
    usual_oils_known=Known.READ,
)
R600A = Refrigerant(
    name="R600a",
    coolprop_name="IsoButane",
    molar_mass_kg_mol=molar_mass(0.0581222),
    safety_class="A3",
    safety_class_known=Known.SECONDARY,
    flammable=True,
    lfl_kg_m3=(
        Figure(0.043, EN_378, Known.MEMORY),
        Figure(0.038, ASHRAE_LFL.format(16000), Known.MEMORY),
    ),
    # AR6 lists n-butane (0.006), not isobutane, so no AR6 value is held.
    gwp100=(Gwp("AR4", 3.0, EU, Known.MEMORY),),
    odp=Figure(0.0, MONTREAL, Known.MEMORY),
    usual_oils=("mineral", "alkylbenzene", "polyol ester"),
    usual_oils_known=Known.READ,
)
R12 = Refrigerant(
    name="R12",
    coolprop_name="R12",
    molar_mass_kg_mol=molar_mass(0.120913),
    safety_class="A1",
    safety_class_known=Known.SECONDARY,
    flammable=False,
    lfl_kg_m3=(),
    gwp100=ipcc(10900.0, 10200.0, 12500.0),
    odp=Figure(1.0, MONTREAL, Known.MEMORY),
    usual_oils=("mineral",),
    usual_oils_known=Known.READ,
)
R290 = Refrigerant(
    name="R290",
    coolprop_name="n-Propane",
    molar_mass_kg_mol=molar_mass(0.04409562),
    safety_class="A3",
    safety_class_known=Known.SECONDARY,
    flammable=True,
    lfl_kg_m3=(
        Figure(0.038, EN_378, Known.MEMORY),
        Figure(0.0379, ASHRAE_LFL.format(21000), Known.COMPUTED),
    ),
    gwp100=(Gwp("AR4", 3.0, EU, Known.MEMORY), Gwp("AR6", 0.02, AR6, Known.READ)),
    odp=Figure(0.0, MONTREAL, Known.MEMORY),
    usual_oils=("mineral", "alkylbenzene", "polyol ester"),
    usual_oils_known=Known.SECONDARY,
)
R22 = Refrigerant(
    name="R22",
    coolprop_name="R22",
    molar_mass_kg_mol=molar_mass(0.086468),
    safety_class="A1",
    safety_class_known=Known.SECONDARY,
    flammable=False,
    lfl_kg_m3=(),
    gwp100=ipcc(1810.0, 1760.0, 1960.0),
    odp=Figure(0.055, MONTREAL, Known.MEMORY),
    usual_oils=("mineral", "alkylbenzene"),
    usual_oils_known=Known.READ,
)
R152A = Refrigerant(
    name="R152a",
    coolprop_name="R152A",
    molar_mass_kg_mol=molar_mass(0.066051),
    safety_class="A2",
    safety_class_known=Known.SECONDARY,
    flammable=True,
    lfl_kg_m3=(
        Figure(0.130, EN_378, Known.MEMORY),
        Figure(0.1296, ASHRAE_LFL.format(48000), Known.COMPUTED),
    ),
    gwp100=ipcc(124.0, 138.0, 164.0),
    odp=Figure(0.0, MONTREAL, Known.MEMORY),
    usual_oils=("polyol ester", "alkylbenzene"),
    usual_oils_known=Known.MEMORY,
)
R1234YF = Refrigerant(
    name="R1234yf",
    coolprop_name="R1234yf",
    molar_mass_kg_mol=molar_mass(0.1140415928),
    safety_class="A2L",
    safety_class_known=Known.SECONDARY,
    flammable=True,
    lfl_kg_m3=(
        Figure(0.289, EN_378, Known.MEMORY),
        Figure(0.289, ASHRAE_LFL.format(62000), Known.COMPUTED),
    ),
    gwp100=(Gwp("AR4", 4.0, EU, Known.MEMORY), Gwp("AR6", 0.501, AR6, Known.READ)),
    odp=Figure(0.0, MONTREAL, Known.MEMORY),
    usual_oils=("polyol ester",),
    usual_oils_known=Known.MEMORY,
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

PURE = (R134A, R600A, R12, R290, R22, R152A, R1234YF)
REFRIGERANTS: tuple[Refrigerant, ...] = (*PURE, *BLENDS)


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


class Role(Enum):
    """In what a refrigerant is met."""

    NEW = "common in new household appliances"
    SERVICE = "put in at service, in place of the plate's"
    RARE = "minor or regional: only the plate tells"


@dataclass(frozen=True, slots=True)
class Era:
    """Years in which household appliances were filled with a refrigerant."""

    refrigerant: str
    region: str
    first_year: int
    last_year: int | None  # None while it goes on
    source: str
    known: Known
    role: Role = Role.NEW


_EU_BAN = "Regulation (EU) 517/2014, annex III: HFC of GWP 150 and above ended 1 Jan 2015"
_SNAP = "US EPA, 76 FR 78832, listed with effect of 21 Feb 2012"
ERAS: tuple[Era, ...] = (
    Era("R600a", "world", 1920, 1949, "a trade guideline of 2000: to the 40s; relics", Known.READ),
    Era("R12", "world", 1930, 1995, "the same: almost all units to the early 1990s", Known.READ),
    Era("R12", "article 5 countries", 1996, 2009, MONTREAL, Known.MEMORY),
    Era("R22", "world", 1950, 2010, "some freezers and ice makers", Known.MEMORY),
    Era("R134a", "Europe", 1993, 2014, _EU_BAN, Known.MEMORY),
    Era("R134a", "North America", 1993, 2021, "trade practice", Known.MEMORY),
    Era("R134a", "elsewhere", 1994, None, "trade practice", Known.MEMORY),
    Era("R600a", "Europe", 1993, None, "developed 1992, Germany first; IIR news 2004", Known.READ),
    Era("R600a", "Asia", 2000, None, "trade practice", Known.MEMORY),
    Era("R600a", "North America", 2012, None, _SNAP, Known.READ),
    Era("R290", "world", 1995, None, "few household units; check the plate", Known.MEMORY),
    Era("R500", "world", 1950, 1995, "some freezers and ice makers", Known.MEMORY, Role.RARE),
    Era("R502", "world", 1961, 1995, "some freezers and ice makers", Known.MEMORY, Role.RARE),
    Era("R404A", "world", 1994, None, "ice makers, deep freezers", Known.MEMORY, Role.RARE),
    Era("R152a", "world", 1990, None, "minor, regional", Known.MEMORY, Role.RARE),
    Era("R1234yf", "world", 2012, None, "trials and few units", Known.MEMORY, Role.RARE),
    Era("R436A", "Asia", 2000, None, "minor, regional", Known.MEMORY, Role.RARE),
    Era("R436B", "Asia", 2000, None, "minor, regional", Known.MEMORY, Role.RARE),
    Era("R401A", "world", 1993, 2015, "in place of R12; follows the HCFC dates", Known.MEMORY,
        Role.SERVICE),
    Era("R409A", "world", 1994, 2015, "in place of R12; follows the HCFC dates", Known.MEMORY,
        Role.SERVICE),
    Era("R413A", "world", 1996, None, "in place of R12", Known.MEMORY, Role.SERVICE),
)  # fmt: skip


def uses_of(refrigerant: str) -> tuple[Era, ...]:
    """Every era of one refrigerant, in the order of `ERAS`."""
    return tuple(era for era in ERAS if era.refrigerant == refrigerant)


def eras_of(year: int, region: str | None = None) -> tuple[Era, ...]:
    """Eras of what was common when new; a hint for priors, never a reading of the plate.

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
        if era.role is Role.NEW
        and era.first_year <= year
        and (era.last_year is None or year <= era.last_year)
        and (region is None or era.region in (region, "world"))
    )

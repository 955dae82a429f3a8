"""What each refrigerant is: safety, climate and ozone figures, oils, years of use.

Every figure says how it is known. A refrigerant that is not known counts as
flammable until the plate says otherwise.
"""

from __future__ import annotations

import difflib

from coldwright.errors import BadInput
from coldwright.refrigerant.blend_facts import BLENDS
from coldwright.refrigerant.fact_records import (
    ALKYLBENZENE,
    AR6,
    ASHRAE_LFL,
    EN_378,
    EQUATION,
    ESTER,
    EU,
    EU_BAN,
    MINERAL,
    MONTREAL,
    SNAP,
    THIN,
    Component,
    Era,
    Figure,
    Gwp,
    Known,
    Miscibility,
    Pairing,
    Refrigerant,
    Role,
    Trust,
    ipcc,
    molar_mass,
)

__all__ = [
    "ERAS",
    "FULL_REFRIGERANTS",
    "NAMES",
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
    lfl_kg_m3=(),
    gwp100=ipcc(1430.0, 1300.0, 1530.0),
    odp=Figure(0.0, MONTREAL, Known.MEMORY),
    usual_oils=("polyol ester",),
    usual_oils_known=Known.READ,
    trust=Trust(0.001, 0.05, 0.001, EQUATION),
    oils=(
        Pairing(
            "R134a",
            ESTER,
            Miscibility.FULL,
            "low viscosity; an ISO 68 ester mixes in part only",
            Known.READ,
        ),
        Pairing("R134a", MINERAL, Miscibility.POOR, "", Known.READ),
        Pairing(
            "R134a",
            ALKYLBENZENE,
            Miscibility.POOR,
            "small hermetic circuits have run with it",
            Known.MEMORY,
        ),
    ),
    uses=(
        Era("R134a", "Europe", 1993, 2014, EU_BAN, Known.MEMORY),
        Era("R134a", "North America", 1993, 2021, "trade practice", Known.MEMORY),
        Era("R134a", "elsewhere", 1994, None, "trade practice", Known.MEMORY),
    ),
    full_model=True,
    mistaken_for="R600a",
    air_drawn_in=0.08,
    sieve_angstrom=3,
)
R600A = Refrigerant(
    name="R600a",
    coolprop_name="IsoButane",
    molar_mass_kg_mol=molar_mass(0.0581222),
    safety_class="A3",
    safety_class_known=Known.SECONDARY,
    lfl_kg_m3=(
        Figure(0.043, EN_378, Known.MEMORY),
        Figure(0.038, ASHRAE_LFL.format(16000), Known.MEMORY),
    ),
    # AR6 lists n-butane (0.006), not isobutane, so no AR6 value is held.
    gwp100=(Gwp("AR4", 3.0, EU, Known.MEMORY),),
    odp=Figure(0.0, MONTREAL, Known.MEMORY),
    usual_oils=("mineral", "alkylbenzene", "polyol ester"),
    usual_oils_known=Known.READ,
    trust=Trust(0.002, 0.05, 0.001, EQUATION),
    oils=(
        Pairing("R600a", MINERAL, Miscibility.FULL, THIN, Known.READ),
        Pairing("R600a", ALKYLBENZENE, Miscibility.FULL, THIN, Known.READ),
        Pairing("R600a", ESTER, Miscibility.FULL, "", Known.READ),
    ),
    uses=(
        Era(
            "R600a",
            "world",
            1920,
            1949,
            "a trade guideline of 2000: to the 40s; relics",
            Known.READ,
        ),
        Era(
            "R600a",
            "Europe",
            1993,
            None,
            "developed 1992, Germany first; IIR news 2004",
            Known.READ,
        ),
        Era("R600a", "Asia", 2000, None, "trade practice", Known.MEMORY),
        Era("R600a", "North America", 2012, None, SNAP, Known.READ),
    ),
    full_model=True,
    mistaken_for="R134a",
    air_drawn_in=0.25,
    sieve_angstrom=3,
    charge_tolerance_g=1.0,
)
R12 = Refrigerant(
    name="R12",
    coolprop_name="R12",
    molar_mass_kg_mol=molar_mass(0.120913),
    safety_class="A1",
    safety_class_known=Known.SECONDARY,
    lfl_kg_m3=(),
    gwp100=ipcc(10900.0, 10200.0, 12500.0),
    odp=Figure(1.0, MONTREAL, Known.MEMORY),
    usual_oils=("mineral",),
    usual_oils_known=Known.READ,
    trust=Trust(0.003, 0.1, 0.002, EQUATION),
    oils=(
        Pairing("R12", MINERAL, Miscibility.FULL, "", Known.READ),
        Pairing("R12", ESTER, Miscibility.FULL, "chemically accepted too", Known.READ),
    ),
    uses=(
        Era(
            "R12", "world", 1930, 1995, "the same: almost all units to the early 1990s", Known.READ
        ),
        Era("R12", "article 5 countries", 1996, 2009, MONTREAL, Known.MEMORY),
    ),
    full_model=True,
    mistaken_for="R134a",
    air_drawn_in=0.04,
    sieve_angstrom=4,
)
R290 = Refrigerant(
    name="R290",
    coolprop_name="n-Propane",
    molar_mass_kg_mol=molar_mass(0.04409562),
    safety_class="A3",
    safety_class_known=Known.SECONDARY,
    lfl_kg_m3=(
        Figure(0.038, EN_378, Known.MEMORY),
        Figure(0.0379, ASHRAE_LFL.format(21000), Known.COMPUTED),
    ),
    gwp100=(Gwp("AR4", 3.0, EU, Known.MEMORY), Gwp("AR6", 0.02, AR6, Known.READ)),
    odp=Figure(0.0, MONTREAL, Known.MEMORY),
    usual_oils=("mineral", "alkylbenzene", "polyol ester"),
    usual_oils_known=Known.SECONDARY,
    trust=Trust(0.001, 0.05, 0.001, EQUATION),
    oils=(
        Pairing("R290", MINERAL, Miscibility.FULL, THIN, Known.READ),
        Pairing("R290", ALKYLBENZENE, Miscibility.FULL, THIN, Known.MEMORY),
        Pairing("R290", ESTER, Miscibility.FULL, "", Known.MEMORY),
    ),
    uses=(Era("R290", "world", 1995, None, "few household units; check the plate", Known.MEMORY),),
    full_model=True,
    mistaken_for="R600a",
    air_drawn_in=0.01,
    sieve_angstrom=3,
    charge_tolerance_g=1.0,
)
R22 = Refrigerant(
    name="R22",
    coolprop_name="R22",
    molar_mass_kg_mol=molar_mass(0.086468),
    safety_class="A1",
    safety_class_known=Known.SECONDARY,
    lfl_kg_m3=(),
    gwp100=ipcc(1810.0, 1760.0, 1960.0),
    odp=Figure(0.055, MONTREAL, Known.MEMORY),
    usual_oils=("mineral", "alkylbenzene"),
    usual_oils_known=Known.READ,
    trust=Trust(0.002, 0.05, 0.001, EQUATION),
    oils=(
        Pairing("R22", MINERAL, Miscibility.PARTIAL, "two liquids in the cold", Known.READ),
        Pairing(
            "R22",
            ALKYLBENZENE,
            Miscibility.FULL,
            "better oil return than with mineral oil",
            Known.MEMORY,
        ),
    ),
    uses=(Era("R22", "world", 1950, 2010, "some freezers and ice makers", Known.MEMORY),),
    full_model=True,
    mistaken_for="R290",
    air_drawn_in=0.02,
    sieve_angstrom=4,
)
R152A = Refrigerant(
    name="R152a",
    coolprop_name="R152A",
    molar_mass_kg_mol=molar_mass(0.066051),
    safety_class="A2",
    safety_class_known=Known.SECONDARY,
    lfl_kg_m3=(
        Figure(0.130, EN_378, Known.MEMORY),
        Figure(0.1296, ASHRAE_LFL.format(48000), Known.COMPUTED),
    ),
    gwp100=ipcc(124.0, 138.0, 164.0),
    odp=Figure(0.0, MONTREAL, Known.MEMORY),
    usual_oils=("polyol ester", "alkylbenzene"),
    usual_oils_known=Known.MEMORY,
    trust=Trust(0.002, 0.1, 0.001, EQUATION),
    oils=(
        Pairing("R152a", ESTER, Miscibility.FULL, "", Known.MEMORY),
        Pairing("R152a", ALKYLBENZENE, Miscibility.PARTIAL, "", Known.MEMORY),
    ),
    uses=(Era("R152a", "world", 1990, None, "minor, regional", Known.MEMORY, Role.RARE),),
    sieve_angstrom=3,
)
R1234YF = Refrigerant(
    name="R1234yf",
    coolprop_name="R1234yf",
    molar_mass_kg_mol=molar_mass(0.1140415928),
    safety_class="A2L",
    safety_class_known=Known.SECONDARY,
    lfl_kg_m3=(
        Figure(0.289, EN_378, Known.MEMORY),
        Figure(0.289, ASHRAE_LFL.format(62000), Known.COMPUTED),
    ),
    gwp100=(Gwp("AR4", 4.0, EU, Known.MEMORY), Gwp("AR6", 0.501, AR6, Known.READ)),
    odp=Figure(0.0, MONTREAL, Known.MEMORY),
    usual_oils=("polyol ester",),
    usual_oils_known=Known.MEMORY,
    trust=Trust(0.002, 0.1, 0.002, EQUATION),
    oils=(Pairing("R1234yf", ESTER, Miscibility.FULL, "", Known.MEMORY),),
    uses=(Era("R1234yf", "world", 2012, None, "trials and few units", Known.MEMORY, Role.RARE),),
    sieve_angstrom=3,
)
UNKNOWN = Refrigerant(
    name="unknown",
    coolprop_name=None,
    molar_mass_kg_mol=None,
    safety_class=None,
    safety_class_known=Known.OURS,
    lfl_kg_m3=R600A.lfl_kg_m3 + R290.lfl_kg_m3,
    gwp100=(),
    odp=None,
    usual_oils=(),
    usual_oils_known=Known.OURS,
)

PURE = (R134A, R600A, R12, R290, R22, R152A, R1234YF)
REFRIGERANTS: tuple[Refrigerant, ...] = (*PURE, *BLENDS)
NAMES = tuple(r.name for r in REFRIGERANTS)
FULL_REFRIGERANTS = tuple(r.name for r in REFRIGERANTS if r.full_model)


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


ERAS: tuple[Era, ...] = tuple(era for r in REFRIGERANTS for era in r.uses)


def uses_of(refrigerant: str) -> tuple[Era, ...]:
    """Every era of one refrigerant; empty where none is held.

    Parameters
    ----------
    refrigerant : str
        Its name in the glossary.

    Returns
    -------
    tuple of Era
        Years of use by region; empty where none is held.

    Examples
    --------
    >>> uses_of("R12")[0].region
    'world'
    """
    return next((r.uses for r in REFRIGERANTS if r.name == refrigerant), ())


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

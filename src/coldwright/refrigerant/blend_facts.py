"""Blends: composition, class, climate figures by mass from their parts.

Compositions, tolerances and safety groups: ASHRAE 34, as reprinted in ASHRAE
Handbook, Fundamentals (2017), chapter 29, table 2. GWP and ODP of a blend are
mass-weighted from those of its parts, as the standard and the law do it.
"""

from __future__ import annotations

from dataclasses import replace

from coldwright.refrigerant.fact_records import (
    ALKYLBENZENE,
    AR6,
    ASHRAE_34,
    COOLPROP,
    EN_378,
    ESTER,
    EU,
    FITTED,
    IPCC,
    MINERAL,
    MONTREAL,
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
)

# Parts: GWP in AR4, AR5, AR6 (IPCC, same open data file as the pure refrigerants), ODP (Montreal
# Protocol reporting values), molar mass [kg/mol] (CoolProp 8.0.0).
_PARTS: dict[str, tuple[str, tuple[float, float, float], float, float]] = {
    "R12": ("R12", (10900.0, 10200.0, 12500.0), 1.0, 0.120913),
    "R22": ("R22", (1810.0, 1760.0, 1960.0), 0.055, 0.086468),
    "R115": ("R115", (7370.0, 7670.0, 9600.0), 0.6, 0.154466416),
    "R124": ("R124", (609.0, 527.0, 597.0), 0.022, 0.1364762),
    "R125": ("R125", (3500.0, 3170.0, 3740.0), 0.0, 0.1200214),
    "R134a": ("R134a", (1430.0, 1300.0, 1530.0), 0.0, 0.102032),
    "R142b": ("R142b", (2310.0, 1980.0, 2300.0), 0.065, 0.10049503),
    "R143a": ("R143a", (4470.0, 4800.0, 5810.0), 0.0, 0.084041),
    "R152a": ("R152A", (124.0, 138.0, 164.0), 0.0, 0.066051),
    "R218": ("R218", (8830.0, 8900.0, 9290.0), 0.0, 0.18801933),
    # Hydrocarbons: 3 is the value in law (AR4 era); AR5 and AR6 hold none for isobutane, and 3 per
    # cent of it in a blend moves nothing at 3, so 3 stands there too.
    "R290": ("n-Propane", (3.0, 3.0, 3.0), 0.0, 0.04409562),
    "R600a": ("IsoButane", (3.0, 3.0, 3.0), 0.0, 0.0581222),
}
_HYDROCARBON_PPM = {"R290": 21_000, "R600a": 16_000}  # ASHRAE 34, from memory


def _components(text: str) -> tuple[Component, ...]:
    """Parts written as "R22 53 ±2, R152a 13 +0.5 -1.5"."""
    found = []
    for part in text.split(","):
        name, percent, tolerance = part.strip().split(" ", 2)
        coolprop_name = _PARTS[name][0]
        found.append(Component(name, coolprop_name, float(percent) / 100.0, tolerance))
    return tuple(found)


def _blend(
    name: str,
    composition: str,
    safety_class: str,
    oils: tuple[str, ...],
    lfl: tuple[Figure, ...] = (),
    gwp100: tuple[Gwp, ...] = (),
) -> Refrigerant:
    parts = _components(composition)
    mass = 1.0 / sum(part.mass_fraction / _PARTS[part.name][3] for part in parts)
    sets = tuple(
        Gwp(
            set_name,
            sum(part.mass_fraction * _PARTS[part.name][1][i] for part in parts),
            f"mass-weighted from its parts: {IPCC}",
            Known.COMPUTED,
        )
        for i, set_name in enumerate(("AR4", "AR5", "AR6"))
    )
    odp = sum(part.mass_fraction * _PARTS[part.name][2] for part in parts)
    return Refrigerant(
        name=name,
        coolprop_name=None,
        molar_mass_kg_mol=Figure(mass, f"from its parts: {COOLPROP}", Known.COMPUTED),
        safety_class=safety_class,
        safety_class_known=Known.SECONDARY,
        lfl_kg_m3=lfl,
        gwp100=gwp100 or sets,
        odp=Figure(odp, f"mass-weighted from its parts: {MONTREAL}", Known.COMPUTED),
        usual_oils=oils,
        usual_oils_known=Known.MEMORY,
        components=parts,
        components_source=ASHRAE_34,
    )


def _hydrocarbon_lfl(composition: str) -> tuple[Figure, ...]:
    """Le Chatelier (1891): the limit of a mixture from those of its parts, by volume."""
    parts = _components(composition)
    moles = {part.name: part.mass_fraction / _PARTS[part.name][3] for part in parts}
    ppm = sum(moles.values()) / sum(n / _HYDROCARBON_PPM[name] for name, n in moles.items())
    mass = 1.0 / sum(moles.values())
    kg_m3 = ppm * 1e-6 * 101_325.0 * mass / (8.314462618 * 298.15)
    return (Figure(kg_m3, "Le Chatelier's rule on ASHRAE 34 limits of its parts", Known.COMPUTED),)


_HYDROCARBON_GWP = (
    Gwp("AR4", 3.0, f"taken as its parts': {EU}", Known.MEMORY),
    Gwp("AR6", 0.02, f"at most that of its propane: {AR6}", Known.COMPUTED),
)
_HYDROCARBON_OILS = ("mineral", "alkylbenzene", "polyol ester")
_HYDROCARBON_PAIR = "a blend of two hydrocarbons whose pair is published"
_436A, _436B = "R290 56 ±1, R600a 44 ±1", "R290 52 ±1, R600a 48 ±1"

BLENDS: tuple[Refrigerant, ...] = (
    replace(
        _blend(
            "R401A", "R22 53 ±2, R152a 13 +0.5 -1.5, R124 34 ±1", "A1", ("alkylbenzene", "mineral")
        ),
        trust=Trust(0.02, 0.6, 0.02, FITTED),
        oils=(
            Pairing(
                "R401A", ALKYLBENZENE, Miscibility.FULL, "the usual advice at service", Known.MEMORY
            ),
            Pairing(
                "R401A",
                MINERAL,
                Miscibility.PARTIAL,
                "its R152a and R124 return oil less well than R12",
                Known.MEMORY,
            ),
        ),
        uses=(
            Era(
                "R401A",
                "world",
                1993,
                2015,
                "in place of R12; follows the HCFC dates",
                Known.MEMORY,
                Role.SERVICE,
            ),
        ),
        sieve_angstrom=4,
    ),
    replace(
        _blend("R409A", "R22 60 ±2, R124 25 ±2, R142b 15 ±1", "A1", ("alkylbenzene", "mineral")),
        trust=Trust(0.02, 0.6, 0.02, FITTED),
        oils=(
            Pairing(
                "R409A", ALKYLBENZENE, Miscibility.FULL, "the usual advice at service", Known.MEMORY
            ),
            Pairing("R409A", MINERAL, Miscibility.PARTIAL, "", Known.MEMORY),
        ),
        uses=(
            Era(
                "R409A",
                "world",
                1994,
                2015,
                "in place of R12; follows the HCFC dates",
                Known.MEMORY,
                Role.SERVICE,
            ),
        ),
        sieve_angstrom=4,
    ),
    replace(
        _blend(
            "R413A",
            "R218 9 ±1, R134a 88 ±2, R600a 3 +0 -1",
            "A2",
            ("polyol ester", "mineral", "alkylbenzene"),
            (Figure(0.375, f"{EN_378}; a weak memory", Known.MEMORY),),
        ),
        trust=Trust(
            0.12,
            3.0,
            0.02,
            "sources disagree: its published boiling points (ASHRAE 34) have the bubble "
            "point 3 K higher than the measured pair of its parts (Bell & Lemmon 2016) that "
            "is used here",
        ),
        oils=(
            Pairing("R413A", ESTER, Miscibility.FULL, "", Known.MEMORY),
            Pairing(
                "R413A",
                MINERAL,
                Miscibility.POOR,
                "its isobutane is there to carry mineral oil back",
                Known.MEMORY,
            ),
            Pairing("R413A", ALKYLBENZENE, Miscibility.PARTIAL, "", Known.MEMORY),
        ),
        uses=(Era("R413A", "world", 1996, None, "in place of R12", Known.MEMORY, Role.SERVICE),),
        sieve_angstrom=4,
    ),
    replace(
        _blend("R436A", _436A, "A3", _HYDROCARBON_OILS, _hydrocarbon_lfl(_436A), _HYDROCARBON_GWP),
        trust=Trust(0.01, 0.3, 0.005, _HYDROCARBON_PAIR),
        oils=(
            Pairing("R436A", MINERAL, Miscibility.FULL, THIN, Known.MEMORY),
            Pairing("R436A", ALKYLBENZENE, Miscibility.FULL, THIN, Known.MEMORY),
            Pairing("R436A", ESTER, Miscibility.FULL, "", Known.MEMORY),
        ),
        uses=(Era("R436A", "Asia", 2000, None, "minor, regional", Known.MEMORY, Role.RARE),),
        sieve_angstrom=3,
    ),
    replace(
        _blend("R436B", _436B, "A3", _HYDROCARBON_OILS, _hydrocarbon_lfl(_436B), _HYDROCARBON_GWP),
        trust=Trust(0.01, 0.3, 0.005, _HYDROCARBON_PAIR),
        oils=(
            Pairing("R436B", MINERAL, Miscibility.FULL, THIN, Known.MEMORY),
            Pairing("R436B", ALKYLBENZENE, Miscibility.FULL, THIN, Known.MEMORY),
            Pairing("R436B", ESTER, Miscibility.FULL, "", Known.MEMORY),
        ),
        uses=(Era("R436B", "Asia", 2000, None, "minor, regional", Known.MEMORY, Role.RARE),),
        sieve_angstrom=3,
    ),
    replace(
        _blend("R404A", "R125 44 ±2, R143a 52 ±1, R134a 4 ±2", "A1", ("polyol ester",)),
        trust=Trust(
            0.01,
            0.4,
            0.005,
            "a blend that CoolProp holds as one fluid (Lemmon 2003); one handbook prints its "
            "boiling point as -46.6 and as -46.2 °C",
        ),
        oils=(Pairing("R404A", ESTER, Miscibility.FULL, "", Known.MEMORY),),
        uses=(
            Era("R404A", "world", 1994, None, "ice makers, deep freezers", Known.MEMORY, Role.RARE),
        ),
    ),
    replace(
        _blend(
            "R500", "R12 73.8 azeotrope, R152a 26.2 azeotrope", "A1", ("mineral", "alkylbenzene")
        ),
        trust=Trust(0.01, 0.4, 0.02, FITTED),
        oils=(
            Pairing("R500", MINERAL, Miscibility.FULL, "", Known.MEMORY),
            Pairing("R500", ALKYLBENZENE, Miscibility.FULL, "", Known.MEMORY),
        ),
        uses=(
            Era(
                "R500", "world", 1950, 1995, "some freezers and ice makers", Known.MEMORY, Role.RARE
            ),
        ),
        sieve_angstrom=4,
    ),
    replace(
        _blend(
            "R502", "R22 48.8 azeotrope, R115 51.2 azeotrope", "A1", ("mineral", "alkylbenzene")
        ),
        trust=Trust(0.01, 0.4, 0.02, FITTED),
        oils=(
            Pairing(
                "R502",
                MINERAL,
                Miscibility.PARTIAL,
                "two liquids in the cold, more so than R22",
                Known.MEMORY,
            ),
            Pairing("R502", ALKYLBENZENE, Miscibility.FULL, "", Known.MEMORY),
        ),
        uses=(
            Era(
                "R502", "world", 1961, 1995, "some freezers and ice makers", Known.MEMORY, Role.RARE
            ),
        ),
        sieve_angstrom=4,
    ),
)

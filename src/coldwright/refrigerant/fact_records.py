"""What is recorded of a refrigerant, each figure with how it is known."""

from __future__ import annotations

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
class Component:
    """One part of a blend as formulated."""

    name: str
    coolprop_name: str
    mass_fraction: float  # nominal
    tolerance: str  # of the composition as made, in per cent of the whole


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
    components: tuple[Component, ...] = ()  # of a blend, by ASHRAE 34; empty where it is pure
    components_source: str = ""

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


COOLPROP = "CoolProp 8.0.0 (Bell et al. 2014)"
IPCC = "IPCC, by way of an open data file (globalwarmingpotentials 0.13.2)"
AR6 = "IPCC AR6, table 7.SM.7"
EU = "Regulation (EU) 517/2014, annex II or IV: the value in law, AR4 era"
MONTREAL = "Montreal Protocol, annexes A and C"
EN_378 = "EN 378-1 annex E, ISO 817"
ASHRAE_LFL = "ASHRAE 34, {} ppm at 25 degC and 101325 Pa"
ASHRAE_34 = (
    "ASHRAE 34, as reprinted in ASHRAE Handbook, Fundamentals (2017), ch. 29, tables 1 and 2"
)


def ipcc(ar4: float, ar5: float, ar6: float) -> tuple[Gwp, ...]:
    """Three sets of one source.

    Parameters
    ----------
    ar4 : float
        Fourth assessment report, 2007. [kg CO2/kg]
    ar5 : float
        Fifth, 2013. [kg CO2/kg]
    ar6 : float
        Sixth, 2021. [kg CO2/kg]
    """
    pairs = (("AR4", ar4), ("AR5", ar5), ("AR6", ar6))
    return tuple(Gwp(name, value, IPCC, Known.READ) for name, value in pairs)


def molar_mass(kg_mol: float) -> Figure:
    """Molar mass as CoolProp holds it.

    Parameters
    ----------
    kg_mol : float
        Molar mass. [kg/mol]
    """
    return Figure(kg_mol, COOLPROP, Known.COMPUTED)

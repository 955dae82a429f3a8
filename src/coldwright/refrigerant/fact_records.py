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
class Trust:
    """How far a line may be believed, one standard deviation unless said, and why."""

    pressure_relative: float
    temperature_k: float
    density_relative: float
    why: str


class Miscibility(Enum):
    """Of liquid refrigerant with the oil, at household temperatures."""

    FULL = "mixes fully"
    PARTIAL = "mixes in part"
    POOR = "hardly mixes"


@dataclass(frozen=True, slots=True)
class Pairing:
    """One oil with one refrigerant."""

    refrigerant: str
    oil: str
    miscibility: Miscibility
    remark: str
    known: Known


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


@dataclass(frozen=True, slots=True)
class Refrigerant:
    """Facts of one refrigerant; None and empty where nothing is known."""

    name: str
    coolprop_name: str | None
    molar_mass_kg_mol: Figure | None
    safety_class: str | None  # ASHRAE 34
    safety_class_known: Known
    lfl_kg_m3: tuple[Figure, ...]  # lower flammability limits; families of standards differ
    gwp100: tuple[Gwp, ...]
    odp: Figure | None
    usual_oils: tuple[str, ...]
    usual_oils_known: Known
    components: tuple[Component, ...] = ()  # of a blend, by ASHRAE 34; empty where it is pure
    components_source: str = ""
    trust: Trust | None = None  # of its bubble and dew line; None where none ships
    oils: tuple[Pairing, ...] = ()  # the usual one first
    uses: tuple[Era, ...] = ()
    full_model: bool = False  # property tables for the model of the circuit are made of it
    mistaken_for: str = ""  # what a careless repair puts in instead, by oil and pressures; ours
    air_drawn_in: float | None = None  # share of lost charges with which air got in; ours
    sieve_angstrom: int = 0  # pores of its drier, 0 where nothing is known; from memory
    charge_tolerance_g: float = 3.0  # R134a 2 to 3 g, from memory

    def __post_init__(self) -> None:
        named = {oil.refrigerant for oil in self.oils} | {era.refrigerant for era in self.uses}
        if named - {self.name}:
            raise BadInput(self.name, "oils and uses", ", ".join(sorted(named)), self.name)

    @property
    def flammable(self) -> bool:
        """As it must be handled: also where its class is not known."""
        return self.safety_class is None or not self.safety_class.endswith("1")

    @property
    def hydrocarbon(self) -> bool:
        """Whether it holds no halogen: all of the highest class of flammability do not."""
        return self.safety_class == "A3"

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


MINERAL, ALKYLBENZENE, ESTER = "mineral", "alkylbenzene", "polyol ester"
THIN = "dissolves so well that it thins the oil"
EQUATION = "one fluid with its own reference equation in CoolProp"
FITTED = "a blend whose parts meet through one number fitted to its published boiling points"
EU_BAN = "Regulation (EU) 517/2014, annex III: HFC of GWP 150 and above ended 1 Jan 2015"
SNAP = "US EPA, 76 FR 78832, listed with effect of 21 Feb 2012"
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

    Returns
    -------
    tuple of Gwp
        One for each report, over 100 years. [kg CO2/kg]
    """
    pairs = (("AR4", ar4), ("AR5", ar5), ("AR6", ar6))
    return tuple(Gwp(name, value, IPCC, Known.READ) for name, value in pairs)


def molar_mass(kg_mol: float) -> Figure:
    """Molar mass as CoolProp holds it.

    Parameters
    ----------
    kg_mol : float
        Molar mass. [kg/mol]

    Returns
    -------
    Figure
        The value with its source. [kg/mol]
    """
    return Figure(kg_mol, COOLPROP, Known.COMPUTED)

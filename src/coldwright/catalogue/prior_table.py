"""What no plate tells, as a table: one record per quantity an appliance is drawn from.

`sizing` reads the table and holds no number of its own. Families (what a kind of appliance
means) stand in `families`, loops in `loops`; the three together are the prior of the inference,
shown in docs/prior.md.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import Enum

import numpy as np

from coldwright.errors import BadInput

INF = float("inf")
Years = tuple[tuple[float, float], ...]  # (year, value), straight between, level outside


class Law(Enum):
    """How a quantity is spread about its median."""

    FIXED = "one value"
    LOGNORMAL = "lognormal"
    NORMAL = "normal, held"


@dataclass(frozen=True, slots=True)
class Drawn:
    """One quantity of the prior.

    Parameters
    ----------
    name : str
        What `sizing` asks for it by; after a stroke the kind of coil it holds for.
    unit : str
        SI; '-' for factors and shares.
    median : float or pairs of year and value
        Typical value.
    reason : str
        Why this value and this spread.
    law : Law
        How it is spread.
    spread : float
        Standard deviation: of the logarithm (lognormal) or in the unit itself (normal).
    score : str
        Standard normal score it is drawn with; quantities of one score go together.
    beside : str
        What else it goes together with.
    low, high : float
        Limits it is held inside.
    reach : float
        Scores beyond count as this. [-]
    source : str
        Author and year, or 'ours'.
    doubt : float
        What the median may be off by: share of it where it has no spread. [-]
    """

    name: str
    unit: str
    median: float | Years
    reason: str
    law: Law = Law.FIXED
    spread: float = 0.0
    score: str = ""
    beside: str = ""
    low: float = -INF
    high: float = INF
    reach: float = INF
    source: str = "ours"
    doubt: float = 0.2

    def typical(self, year: float) -> float:
        """Median in a year of manufacture.

        Parameters
        ----------
        year : float
            Of manufacture. [-]
        """
        if isinstance(self.median, tuple):
            years, values = zip(*self.median, strict=True)
            return float(np.interp(year, years, values))
        return self.median

    def at(self, z: np.ndarray, year: float = 2000.0) -> np.ndarray:
        """Value at standard normal scores, shape kept.

        Parameters
        ----------
        z : ndarray
            Scores. [-]
        year : float
            Of manufacture. [-]
        """
        z = np.clip(z, -self.reach, self.reach)
        middle = self.typical(year)
        if self.law is Law.LOGNORMAL:
            value = middle * np.exp(self.spread * z)
        elif self.law is Law.NORMAL:
            value = middle + self.spread * z
        else:
            value = np.full(z.shape, middle)
        return np.asarray(np.clip(value, self.low, self.high))

    def moved(self, doubts: float) -> Drawn:
        """With the median off by so many of its doubts.

        Parameters
        ----------
        doubts : float
            How many. [-]
        """
        factor = 1.0 + doubts * self.doubt
        if isinstance(self.median, tuple):
            return replace(self, median=tuple((y, v * factor) for y, v in self.median))
        return replace(self, median=self.median * factor)


@dataclass(frozen=True, slots=True)
class PriorTable(Mapping[str, Drawn]):
    """All of them by name."""

    rows: tuple[Drawn, ...]

    def __getitem__(self, name: str) -> Drawn:
        for row in self.rows:
            if row.name == name:
                return row
        raise BadInput("prior", "quantity", name, ", ".join(self))

    def __iter__(self) -> Iterator[str]:
        return (row.name for row in self.rows)

    def __len__(self) -> int:
        return len(self.rows)

    def value(self, name: str) -> float:
        """Typical value of one without years.

        Parameters
        ----------
        name : str
            Of the quantity.
        """
        return self[name].typical(2000.0)

    def with_row(self, row: Drawn) -> PriorTable:
        """The table with one row in place of the one of that name.

        Parameters
        ----------
        row : Drawn
            The new one.
        """
        return PriorTable(tuple(row if r.name == row.name else r for r in self.rows))


def _about(name, unit, median, spread, score, reason, **more):  # type: ignore[no-untyped-def]
    return Drawn(name, unit, median, reason, Law.LOGNORMAL, spread, score, **more)


def _level(name, unit, median, spread, low, high, score, reason, **more):  # type: ignore[no-untyped-def]
    return Drawn(
        name, unit, median, reason, Law.NORMAL, spread, score, low=low, high=high, **more
    )  # fmt: skip


_CABINET = (
    _about("volume_stretch", "-", 1.0, 0.15, "volume", "both volumes, where no plate tells",
           reach=3.0),
    Drawn("box_over_net", "-", 1.45, "outside volume over net, walls in"),
    _about("wall", "-", 1.0, 0.13, "wall", "heat transmission against the era's usual wall"),
    Drawn("freezer_side", "-", 0.75, "freezer's share of the shell by area, doors and floor out"),
    _about("split", "-", 1.0, 0.08, "split", "share of the walls round the freezer"),
    Drawn("panel_share", "-", 0.15, "of the cabinet's transmission under a skin condenser"),
    Drawn("panel_warmth", "-", 0.7, "mean rise of that panel over the condensing rise"),
    _about("fan_power", "W", ((1975.0, 12.0), (2000.0, 8.0), (2015.0, 4.0)), 0.25, "fans",
           "shaded-pole to electronic motors", reach=3.0),
    _about("controls_power", "W", ((1985.0, 0.0), (2000.0, 1.0), (2015.0, 2.5)), 0.25, "fans",
           "thermostat to board", reach=3.0),
    _about("heater_power/fan", "W", 6.0, 0.4, "heater", "defrost, mean over the day", reach=3.0),
    _about("heater_power", "W", 0.5, 0.4, "heater", "drain and frame heaters", reach=3.0),
    _about("opening_power", "W", 6.0, 0.5, "opening", "doors and goods, of 350 l", reach=3.0),
)  # fmt: skip
_INTENTIONS = (
    _level("rise/fan", "K", 11.0, 1.8, 8.2, 17.0, "rise",
           "condensing above the room at the design point; common practice 8 to 20 K"),
    _level("rise", "K", 13.5, 2.2, 8.5, 19.5, "rise", "the same, static and skin"),
    _level("subcooling", "K", 3.8, 1.1, 1.5, 8.0, "subcooling", "a full liquid seal, no more"),
    Drawn("subcooling_share", "-", 0.6, "most of the rise that subcooling takes"),
    _level("superheat", "K", 2.6, 1.0, 0.8, 6.0, "superheat", "a coil frosted to its end"),
    _level("exchange", "-", 0.80, 0.06, 0.60, 0.93, "exchange", "capillary to suction line"),
    _about("air_leaves/fan", "-", 0.56, 0.10, "air", "how near the air comes to the coil"),
    _about("air_leaves", "-", 0.72, 0.10, "air", "the same without a fan"),
)  # fmt: skip
_COMPRESSOR = (
    Drawn("slip_speed", "-", 0.962, "two-pole motor at 3.8 % slip", doubt=0.01),
    _about("clearance", "-", 0.028, 0.18, "clearance", "hermetic reciprocating", reach=3.0),
    Drawn("reexpansion", "-", 1.05, "exponent, near isothermal in a hot cylinder", doubt=0.03),
    _level("leak_work", "-", 0.5, 0.15, 0.1, 0.9, "leak_work", "work that leaking gas still costs"),
    _about("indicated", "-", 1.0, 0.035, "indicated", "isentropic over indicated, of the era's"),
    _about("motor", "-", 1.0, 0.035, "motor", "work above idle, of the era's"),
    _about("idle", "-", ((1985.0, 0.1625), (2015.0, 0.0975)), 0.22, "idle",
           "idle power over cooling capacity", reach=3.0),
    Drawn("shell_growth", "-", 0.85, "power of the input that a shell's conductances grow with"),
    _about("suction_gas", "W/K", 0.38, 0.25, "suction", "shell to suction gas at 110 W capacity",
           reach=3.0),
    _about("discharge_tube", "W/K", 0.65, 0.25, "discharge", "discharge tube to shell at 110 W",
           reach=3.0),
    _about("shell/fan", "W/K", 3.0, 0.14, "shell", "shell to room in the fan's air, at 110 W",
           reach=3.0),
    _about("shell", "W/K", 2.3, 0.14, "shell", "shell to room in still air, at 110 W", reach=3.0),
    _about("shell_volume", "m3", 1.7e-3, 0.15, "shell_volume", "at 110 W", reach=3.0),
    _about("oil", "kg", 0.22, 0.2, "oil", "at 110 W", reach=3.0),
    Drawn("size_growth", "-", 0.4, "power of the capacity that a shell's volume grows with"),
    _level("power_factor", "-", ((1980.0, 0.72), (2015.0, 0.88)), 0.05, 0.5, 0.99, "power_factor",
           "split-phase to run-capacitor motors"),
    Drawn("discharge_line_loss", "W/K", 0.25, "discharge line to room at 110 W"),
    Drawn("discharge_line_volume", "m3", 8e-6, "2 m of 2.3 mm bore"),
)  # fmt: skip
_EXCHANGERS = (
    _about("holdup", "-", 1.0, 0.18, "holdup", "volume of both exchangers, no plate charge told"),
    _about("holdup_split", "-", 1.0, 0.15, "holdup_split", "condenser against evaporator"),
    Drawn("tube_growth", "-", 1.5, "power of the size that a coil's tube grows with"),
    Drawn("condenser_bore", "m", 3.4e-3, "4.76 mm steel tube"),
    Drawn("condenser_tube/skin", "m", 13.0, "tube at 110 W"),
    Drawn("condenser_tube/fan", "m", 9.0, "tube at 110 W"),
    Drawn("condenser_tube", "m", 10.0, "tube at 110 W"),
    Drawn("condenser_height/skin", "m", 0.9, "a side of the cabinet"),
    Drawn("condenser_height", "m", 0.8, "back of the cabinet"),
    Drawn("tube_outside", "m", 4.76e-3, "usual steel tube"),
    Drawn("wire", "m", 1.5e-3, "wire-and-tube condenser"),
    Drawn("tube_pitch", "m", 50e-3, "wire-and-tube condenser"),
    Drawn("wire_pitch", "m", 6e-3, "wire-and-tube condenser"),
    Drawn("emissivity", "-", 0.85, "painted steel; frosted aluminium"),
    Drawn("condenser_surface/skin", "-", 0.75, "sheet between the tubes"),
    Drawn("condenser_surface", "-", 0.95, "wires"),
    Drawn("condenser_fan_law", "W/(m2 K)", 25.0, "forced air over wires"),
    Drawn("condenser_air_rise", "-", 0.5, "of the condensing rise, taken by the fan's air"),
    Drawn("rejected", "-", 1.35, "heat rejected over cooling"),
    Drawn("evaporator_bore/fan", "m", 7.0e-3, "8 mm aluminium tube"),
    Drawn("evaporator_bore/cold", "m", 6.5e-3, "tube on the liner"),
    Drawn("evaporator_bore", "m", 6.0e-3, "rolled channel, by area"),
    Drawn("evaporator_tube/fan", "m", 9.5, "tube at 110 W"),
    Drawn("evaporator_tube/cold", "m", 14.0, "tube at 110 W"),
    Drawn("evaporator_tube", "m", 10.5, "channel at 110 W"),
    Drawn("evaporator_height/fan", "m", 0.2, "finned block"),
    Drawn("evaporator_height/cold", "m", 0.7, "wall of a chest"),
    Drawn("evaporator_height", "m", 0.3, "box or shelf"),
    Drawn("evaporator_surface/cold", "-", 0.75, "liner between the tubes"),
    Drawn("evaporator_surface", "-", 0.88, "fins, rolled plate"),
    Drawn("evaporator_fan_law", "W/(m2 K)", 18.0, "forced air through fins"),
    Drawn("frost_resistance", "K/W", 0.008, "of a usual frost at 110 W", doubt=0.5),
)  # fmt: skip
_REST = (
    Drawn("drier_volume", "m3", 10e-6, "usual drier"),
    Drawn("drier_loss", "1/m4", 4e11, "screen and desiccant, clean", doubt=0.5),
    _about("roughness", "m", 0.6e-6, 0.4, "roughness", "drawn copper", reach=2.5),
    Drawn("entrance_loss", "-", 0.5, "sharp edge", source="Idelchik 1986"),
    Drawn("capillary_before", "m", 0.4, "before the bond"),
    Drawn("capillary_bonded", "m", 1.5, "along the suction line"),
    Drawn("accumulator_half_full", "-", 0.10, "wetness at the outlet of a half-full one"),
    Drawn("suction_bore", "m", 6.0e-3, "8 mm or 5/16 in tube"),
    Drawn("suction_length", "m", 2.5, "evaporator to compressor"),
    Drawn("suction_loss", "W/K", 0.12, "bare end of the suction line to room"),
    _about("fill", "-", 1.0, 0.03, "fill", "factory charge over the plate's",
           source="service text of the R12 era: 7 g in 200"),
    Drawn("plate_misfit", "-", 0.06, "log sd where volumes cannot follow the plate's charge"),
    Drawn("plate_power", "-", 0.65, "running power over the plate's"),
    Drawn("plate_power_spread", "-", 0.28, "its log sd"),
    Drawn("plate_power_over", "-", 0.05, "of running over plate power, where doubt begins"),
)  # fmt: skip
PRIOR = PriorTable((*_CABINET, *_INTENTIONS, *_COMPRESSOR, *_EXCHANGERS, *_REST))


@dataclass(frozen=True, slots=True)
class Drawing:
    """Members' values of the table's quantities, by name.

    Parameters
    ----------
    table : PriorTable
        What is drawn from.
    scores : mapping
        Standard normal scores by name, each of shape (n,). [-]
    year : float
        Of manufacture. [-]
    """

    table: PriorTable
    scores: Mapping[str, np.ndarray]
    year: float
    count: int

    def __getitem__(self, name: str) -> np.ndarray:
        row = self.table[name]
        z = self.scores[row.score] if row.score else np.zeros(self.count)
        return row.at(z, self.year)

    def pick(self, name: str, **where: np.ndarray) -> np.ndarray:
        """The value of `name/kind` where that kind's flag is set, else of `name`."""
        value = self[name]
        for kind, here in where.items():
            value = np.where(here, self[f"{name}/{kind}"], value)
        return value

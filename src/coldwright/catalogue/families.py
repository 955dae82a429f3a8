"""Appliance families: what a kind and a year say before anything is measured.

Every number below is a judgement of ours unless a source stands beside it; the
reasons are in docs/catalogue-families.md. Nothing comes from a maker's sheet.
The families are checked as a whole: healthy members must land in the healthy
household range and near the public maximum-energy rules of their year.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coldwright.circuit.records import CondenserKind, EvaporatorKind
from coldwright.errors import BadInput

PARAMETER_SET = "families-2026a"


@dataclass(frozen=True, slots=True)
class Spread:
    """A positive quantity with a lognormal spread: median and log standard deviation."""

    median: float
    log_sd: float

    def at(self, z: np.ndarray) -> np.ndarray:
        """Value at standard normal scores, shape kept."""
        return np.asarray(self.median * np.exp(self.log_sd * np.clip(z, -3.0, 3.0)))


@dataclass(frozen=True, slots=True)
class Level:
    """A quantity with a normal spread, held inside its limits."""

    mean: float
    sd: float
    low: float
    high: float

    def at(self, z: np.ndarray) -> np.ndarray:
        """Value at standard normal scores, shape kept."""
        return np.clip(self.mean + self.sd * z, self.low, self.high)


@dataclass(frozen=True, slots=True)
class Family:
    """One kind of appliance."""

    kind: str
    fresh_food_m3: Spread
    freezer_m3: Spread  # median 0 where there is no freezer compartment
    fresh_food_set_k: Level
    freezer_set_k: Level
    evaporating_k: Level  # at the design point, room 25 degC
    condensers: tuple[tuple[CondenserKind, float], ...]  # shares for the later era
    condensers_before_1995: tuple[tuple[CondenserKind, float], ...]
    evaporators: tuple[tuple[EvaporatorKind, float], ...]
    evaporators_before_1990: tuple[tuple[EvaporatorKind, float], ...]
    accumulator_m3: Spread
    one_compartment: bool
    wall_factor: float = 1.0  # heat transmission against the era's usual wall
    run_fraction: Level = Level(0.47, 0.075, 0.31, 0.69)  # at the design point


def _c(celsius: float) -> float:
    return celsius + 273.15


_NONE = Spread(0.0, 0.0)
_FF = Level(_c(4.0), 1.0, _c(1.0), _c(8.0))
_FZ = Level(_c(-18.0), 1.5, _c(-22.0), _c(-14.0))
_S, _K, _F = CondenserKind.STATIC, CondenserKind.SKIN, CondenserKind.FAN
_P, _W, _N = EvaporatorKind.PLATE, EvaporatorKind.COLD_WALL, EvaporatorKind.FAN

FAMILIES: tuple[Family, ...] = (
    Family("single_door", Spread(0.200, 0.30), Spread(0.018, 0.30), _FF,
           Level(_c(-12.0), 3.0, _c(-18.0), _c(-5.0)), Level(_c(-24.9), 1.3, _c(-29.0), _c(-22.5)),
           ((_S, 0.7), (_K, 0.3)), ((_S, 0.95), (_K, 0.05)),
           ((_P, 0.8), (_W, 0.2)), ((_P, 1.0),), Spread(36e-6, 0.3), False, 1.15),
    Family("top_mount", Spread(0.260, 0.25), Spread(0.090, 0.25), _FF, _FZ,
           Level(_c(-26.0), 1.4, _c(-30.0), _c(-22.5)),
           ((_S, 0.45), (_K, 0.35), (_F, 0.20)), ((_S, 0.8), (_F, 0.2)),
           ((_N, 0.85), (_P, 0.15)), ((_N, 0.6), (_P, 0.4)), Spread(45e-6, 0.3), False),
    Family("bottom_mount", Spread(0.230, 0.25), Spread(0.095, 0.25), _FF, _FZ,
           Level(_c(-26.0), 1.4, _c(-30.0), _c(-22.5)),
           ((_S, 0.45), (_K, 0.35), (_F, 0.20)), ((_S, 0.8), (_F, 0.2)),
           ((_N, 0.75), (_P, 0.25)), ((_P, 0.8), (_N, 0.2)), Spread(45e-6, 0.3), False),
    Family("side_by_side", Spread(0.370, 0.18), Spread(0.190, 0.18), _FF, _FZ,
           Level(_c(-26.5), 1.4, _c(-30.0), _c(-23.0)),
           ((_F, 0.9), (_K, 0.1)), ((_F, 0.9), (_S, 0.1)),
           ((_N, 1.0),), ((_N, 1.0),), Spread(60e-6, 0.3), False),
    Family("upright_freezer", _NONE, Spread(0.220, 0.30), _FF, _FZ,
           Level(_c(-27.0), 1.3, _c(-30.0), _c(-24.0)),
           ((_S, 0.45), (_K, 0.45), (_F, 0.10)), ((_S, 0.75), (_K, 0.2), (_F, 0.05)),
           ((_P, 0.5), (_N, 0.5)), ((_P, 0.9), (_N, 0.1)), Spread(40e-6, 0.3), True, 0.82),
    Family("chest_freezer", _NONE, Spread(0.250, 0.30), _FF, _FZ,
           Level(_c(-27.0), 1.3, _c(-30.0), _c(-24.0)),
           ((_K, 0.9), (_S, 0.1)), ((_K, 0.75), (_S, 0.25)),
           ((_W, 1.0),), ((_W, 1.0),), Spread(30e-6, 0.3), True, 0.72),
    Family("compact", Spread(0.090, 0.25), Spread(0.010, 0.30), _FF,
           Level(_c(-7.0), 3.0, _c(-14.0), _c(-2.0)), Level(_c(-24.6), 1.2, _c(-28.0), _c(-22.6)),
           ((_S, 0.5), (_K, 0.5)), ((_S, 0.9), (_K, 0.1)),
           ((_P, 1.0),), ((_P, 1.0),), Spread(36e-6, 0.3), False, 1.9,
           Level(0.40, 0.05, 0.32, 0.60)),
)  # fmt: skip


UNTOLD = "top_mount"  # the commonest kind, ours


def family_of(kind: str) -> Family:
    """The family of a kind of appliance; where the kind was not told, the commonest.

    Parameters
    ----------
    kind : str
        As on the plate, such as "top_mount".

    Returns
    -------
    Family
        What is usual in it.

    Raises
    ------
    BadInput
        If the kind is not in the glossary.

    Examples
    --------
    >>> family_of("chest_freezer").one_compartment
    True
    """
    for family in FAMILIES:
        if family.kind == (UNTOLD if kind == "unknown" else kind):
            return family
    raise BadInput("job", "plate.kind", kind, ", ".join(f.kind for f in FAMILIES))


# Years at which the era curves are given, and their values; between them linear.
_YEARS = (1975.0, 1990.0, 2001.0, 2014.0, 2025.0)
# Wall with gasket per outside area [W/m2/K]: falls with the maximum-energy rules of
# 1990, 1993, 2001 and 2014 (42 U.S.C. 6295(b); 10 CFR 430.32), which fell to a third.
_WALL = (0.62, 0.50, 0.365, 0.30, 0.26)
# Electrical over indicated power: shaded and split-phase motors to run-capacitor ones.
_MOTOR = (0.66, 0.72, 0.78, 0.83, 0.86)
_INDICATED = (0.74, 0.78, 0.82, 0.85, 0.87)


def wall_coefficient(year: np.ndarray | float) -> np.ndarray:
    """Heat transmission of wall and gasket per outside area by year. [W/m2/K]

    Parameters
    ----------
    year : ndarray or float
        Of manufacture; 1975 to 2025, held outside. [-]

    Returns
    -------
    ndarray
        As year's shape. [W/m2/K]

    References
    ----------
    .. [1] Ours; falls with the maximum-energy rules of 1990 to 2014 (10 CFR 430.32).
    """
    return np.asarray(np.interp(year, _YEARS, _WALL))


def motor_efficiency(year: np.ndarray | float) -> np.ndarray:
    """Indicated over electrical work above idle by year. [-]

    Parameters
    ----------
    year : ndarray or float
        Of manufacture; 1975 to 2025, held outside. [-]

    Returns
    -------
    ndarray
        As year's shape. [-]

    References
    ----------
    .. [1] Ours, reasons in docs/catalogue-families.md.
    """
    return np.asarray(np.interp(year, _YEARS, _MOTOR))


def indicated_efficiency(year: np.ndarray | float) -> np.ndarray:
    """Isentropic over indicated work by year. [-]

    Parameters
    ----------
    year : ndarray or float
        Of manufacture; 1975 to 2025, held outside. [-]

    Returns
    -------
    ndarray
        As year's shape. [-]

    References
    ----------
    .. [1] Ours, reasons in docs/catalogue-families.md.
    """
    return np.asarray(np.interp(year, _YEARS, _INDICATED))


def likely_refrigerants(year: int | None) -> tuple[tuple[str, float], ...]:
    """Shares of the refrigerants with full tables where the plate does not say.

    Use by era as in trade texts (R12 to the mid-1990s, R134a from 1993-96, R600a in
    Europe from the 1990s and elsewhere from about 2012-2020); the shares are ours.

    Parameters
    ----------
    year : int or None
        Of manufacture; None where not known. [-]

    Returns
    -------
    tuple of (str, float)
        Name and share; they add up to 1. [-]

    Examples
    --------
    >>> likely_refrigerants(2000)
    (('R134a', 0.7), ('R600a', 0.3))
    """
    if year is None:
        return (("R134a", 0.45), ("R600a", 0.35), ("R12", 0.15), ("R290", 0.05))
    if year < 1993:
        return (("R12", 0.95), ("R134a", 0.05))
    if year < 1998:
        return (("R134a", 0.65), ("R12", 0.20), ("R600a", 0.15))
    if year < 2012:
        return (("R134a", 0.70), ("R600a", 0.30))
    return (("R600a", 0.75), ("R134a", 0.20), ("R290", 0.05))

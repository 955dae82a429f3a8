"""The laws a leak may follow, and which of them sources allow at its size.

Sources disagree where it matters: at 5 g/yr one calls the leak laminar, one on the
divide, one molecular in practice. Every law that a source allows is kept, and the answer is a band.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

from coldwright.leak.gases import Gas
from coldwright.units import STANDARD_ATMOSPHERE_PA

TURBULENT, LAMINAR, TRANSITIONAL, MOLECULAR = "turbulent", "laminar", "transitional", "molecular"


@dataclass(frozen=True, slots=True)
class Across:
    """A gas with the absolute pressures inside and outside of the wall."""

    gas: Gas
    inside_pa: float
    outside_pa: float = STANDARD_ATMOSPHERE_PA
    temperature_k: float = 293.15


class FlowLaw(Protocol):
    """How throughput depends on gas and pressures; `drive` is proportional to it."""

    @property
    def name(self) -> str:
        """Identifier."""
        ...

    def drive(self, state: Across) -> float:
        """Proportional to the throughput outwards at the gas temperature; negative inwards."""
        ...


@dataclass(frozen=True, slots=True)
class Viscous:
    """Laminar flow in a long passage: q ~ (p1^2 - p2^2) / viscosity (Poiseuille)."""

    name: str = "viscous"

    def drive(self, state: Across) -> float:
        """See `FlowLaw`."""
        squares = state.inside_pa**2 - state.outside_pa**2
        return squares / state.gas.viscosity(state.temperature_k)


@dataclass(frozen=True, slots=True)
class Molecular:
    """Free molecular flow: q ~ (p1 - p2) sqrt(T / M) (Knudsen)."""

    name: str = "molecular"

    def drive(self, state: Across) -> float:
        """See `FlowLaw`."""
        speed = math.sqrt(state.temperature_k / state.gas.molar_mass_kg_mol)
        return (state.inside_pa - state.outside_pa) * speed


@dataclass(frozen=True, slots=True)
class Orifice:
    """A short hole: isentropic nozzle (Saint-Venant and Wantzel), choked beyond the critical
    ratio; then q ~ p1 sqrt(T / M) alone."""

    name: str = "choked"

    def drive(self, state: Across) -> float:
        """See `FlowLaw`."""
        sign = 1.0 if state.inside_pa >= state.outside_pa else -1.0
        high = max(state.inside_pa, state.outside_pa)
        ratio = min(state.inside_pa, state.outside_pa) / high
        k = state.gas.heat_capacity_ratio
        r = max(ratio, state.gas.critical_ratio)
        shape = math.sqrt(max(2.0 * k / (k - 1.0) * (r ** (2.0 / k) - r ** ((k + 1.0) / k)), 0.0))
        return sign * high * shape * math.sqrt(state.temperature_k / state.gas.molar_mass_kg_mol)


VISCOUS, FREE, ORIFICE = Viscous(), Molecular(), Orifice()


@dataclass(frozen=True, slots=True)
class Opinion:
    """What one source calls a leak of this size; more than one word where its ranges overlap."""

    source: str
    regimes: tuple[str, ...]


# Rates in mbar l/s; a range (regime, from, below).
_INF = math.inf
_ATM_CC = 1.01325  # mbar l/s
_SOURCES: tuple[tuple[str, tuple[tuple[str, float, float], ...]], ...] = (
    (
        "leak-science page quoting the JPL/NASA leakage testing handbook, secondary",
        (
            (TURBULENT, 1e-2, _INF),
            (LAMINAR, 1e-6, 1e-1),
            (TRANSITIONAL, 1e-7, 1e-4),
            (MOLECULAR, 0.0, 1e-7),
        ),
    ),
    (
        "leak-test instrument manual, appendix 10: usual divide by rate",
        ((LAMINAR, 1e-5 * _ATM_CC, _INF), (MOLECULAR, 0.0, 1e-5 * _ATM_CC)),
    ),
    (
        "industrial leak-test page: literature, and real leaks found molecular up to 1e-4..1e-3",
        (
            (TURBULENT, 1e-2, _INF),
            (LAMINAR, 1e-4, 1e-2),
            (TRANSITIONAL, 1e-6, 1e-4),
            (MOLECULAR, 0.0, 1e-3),
        ),
    ),
)
KNUDSEN_VISCOUS, KNUDSEN_MOLECULAR = 0.01, 1.0  # mean free path over bore, same manual


def opinions(mbar_l_s: float, knudsen: float | None = None) -> tuple[Opinion, ...]:
    """What each source calls a leak of this rate.

    Parameters
    ----------
    mbar_l_s : float
        Throughput. [mbar l/s]
    knudsen : float, optional
        Mean free path over the equivalent bore, where it was worked out. [-]

    Returns
    -------
    tuple of Opinion
        One for each source that has a rule for it.
    """
    found = [
        Opinion(source, tuple(regime for regime, low, high in ranges if low <= mbar_l_s < high))
        for source, ranges in _SOURCES
    ]
    if knudsen is not None:
        if knudsen < KNUDSEN_VISCOUS:
            regime = LAMINAR
        else:
            regime = TRANSITIONAL if knudsen < KNUDSEN_MOLECULAR else MOLECULAR
        found.append(Opinion("the same manual, mean free path over the equivalent bore", (regime,)))
    return tuple(found)


def disputed(held: Iterable[Opinion]) -> bool:
    """True if sources allow both a viscous and a molecular reading.

    Parameters
    ----------
    held : iterable of Opinion
        Opinions of the sources.

    Returns
    -------
    bool
        Whether sources differ.
    """
    regimes = {regime for opinion in held for regime in opinion.regimes}
    return bool(regimes & {LAMINAR, TURBULENT}) and bool(regimes & {MOLECULAR, TRANSITIONAL})


def laws_allowed(held: Iterable[Opinion]) -> tuple[FlowLaw, ...]:
    """The laws to reckon with: a transitional leak lies between viscous and molecular.

    Parameters
    ----------
    held : iterable of Opinion
        Opinions of the sources.

    Returns
    -------
    tuple of FlowLaw
        One law or more.
    """
    regimes = {regime for opinion in held for regime in opinion.regimes}
    laws: list[FlowLaw] = []
    if regimes & {LAMINAR, TRANSITIONAL}:
        laws.append(VISCOUS)
    if regimes & {MOLECULAR, TRANSITIONAL}:
        laws.append(FREE)
    if TURBULENT in regimes:
        laws.append(ORIFICE)
    return tuple(laws)


def scaled(law: FlowLaw, before: Across, after: Across) -> float:
    """Throughput in another state over that in the first [-]; negative if it turns inwards.

    Throughputs count at the same basis temperature, so the ratio is one of moles.

    Parameters
    ----------
    law : FlowLaw
        How the flow depends on the pressures.
    before : Across
        State in which the throughput is known.
    after : Across
        State asked for.

    Returns
    -------
    float
        Ratio. [-]
    """
    was = law.drive(before) / before.temperature_k
    return law.drive(after) / after.temperature_k / was

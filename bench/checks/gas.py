"""Air and nitrogen inside: the running circuit beside what was published of it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from bench.checks.appliances import Appliance, mean_power, settled, shipped
from bench.checks.row import Known, Part, Row, Source, between, counted
from coldwright.cycle.state import RunningState

NITROGEN = Source("IJR article, IIR record 142095 (nitrogen in R600a)", Known.ABSTRACT)
KIM = Source("Kim et al. 2007 (air, refrigerant not named in the abstract)", Known.ABSTRACT)
CECCHINATO = Source(
    "Cecchinato et al. 2006, 2007 (refrigerator, upright freezer)", Known.ABSTRACT
)  # fmt: skip
NITROGEN_KG_MOL = 0.0280134  # CODATA
MASS_SHARE, MOLE_SHARE = 0.0043, 0.0146
SMALL_MOLE_SHARE = 0.003  # what "small amounts" may be, ours
R600A = ("plain_skin_cold_wall", "plain_skin_fan", "plain_static_plate", "frame_loop_first")
R134A = ("plain_fan_fan", "plain_skin_plate", "plain_static_fan", "frame_loop")
WHY_NOT_COLDER = (
    "Here the higher pressure drains the condenser until vapour and gas leave with the liquid and "
    "the evaporator is wet to its end; with a weaker pump and the same air it must then be "
    "warmer. A colder one is a starved one: gas held in the capillary's mouth that keeps liquid "
    "back in the condenser, which the abstract of the nitrogen article calls a partly gas-blocked "
    "capillary. How much of the gas gets there is not published, and is not modelled."
)
WORDS = (
    "Four R600a examples with nitrogen and four R134a examples with air (invented appliances), "
    "thermostat in charge, room 25 °C. The gas stays on the high side (Dalton); where vapour "
    "leaves with the liquid the capillary is fed with its volume. Subcooling is that by the "
    "gauge: saturation at the discharge pressure less the liquid's temperature."
)


def parts() -> tuple[Part, ...]:
    """All of them."""
    return (Part("Air and nitrogen inside", WORDS, (*_nitrogen(), *_air(), *_little())),)


def gassed(a: Appliance, mol: float) -> Appliance:
    """With so many mole of gas inside. [mol]"""
    return replace(a, circuit=replace(a.circuit, air_mol=mol))


def _pairs(
    names: tuple[str, ...], share: float, *, by_mass: bool
) -> list[tuple[RunningState, ...]]:
    """Sound and gassed state of each."""
    found = []
    for name in names:
        a = shipped(name)
        moles = a.circuit.charge_kg / a.med.tables.molar_mass
        mol = moles * share / (1.0 - share)
        if by_mass:
            mol = share * a.circuit.charge_kg / NITROGEN_KG_MOL
        found.append((settled(a), settled(gassed(a, mol))))
    return found


def _rise(pairs: list[tuple[RunningState, ...]]) -> list[float]:
    """Energy, in per cent."""
    return [100.0 * (mean_power(with_) / mean_power(sound) - 1.0) for sound, with_ in pairs]


def _spread(values: list[float], unit: str) -> str:
    return f"{min(values):+.3g} to {max(values):+.3g} {unit}"


def _signs(
    key: str, words: str, source: Source, pairs: list[tuple[RunningState, ...]]
) -> list[Row]:
    """Condensing and subcooling up, evaporating down."""
    up = [100.0 * (g.condensing_pressure_pa / s.condensing_pressure_pa - 1.0) for s, g in pairs]
    sub = [g.subcooling_k - s.subcooling_k for s, g in pairs]
    cold = [g.evaporating_k - s.evaporating_k for s, g in pairs]
    return [
        counted(f"{key}-pressure", f"{words}: discharge pressure", source, "up",
                [x > 0.0 for x in up], _spread(up, "%")),
        counted(f"{key}-subcooling", f"{words}: subcooling by the gauge", source, "up",
                [x > 0.0 for x in sub], _spread(sub, "K")),
        counted(f"{key}-evaporating", f"{words}: evaporating temperature", source, "down",
                [x < 0.0 for x in cold], _spread(cold, "K"), note=WHY_NOT_COLDER),
    ]  # fmt: skip


def _nitrogen() -> list[Row]:
    words = "nitrogen, 0.43 % by mass in R600a"
    pairs = _pairs(R600A, MASS_SHARE, by_mass=True)
    half = _pairs(R600A, 0.5 * MASS_SHARE, by_mass=True)
    rise, some = _rise(pairs), _rise(half)
    straight = [a / b for a, b in zip(some, rise, strict=True)]
    return [
        *_signs("nitrogen", words, NITROGEN, pairs),
        between("nitrogen-energy", f"{words}: rise of energy, median of four", NITROGEN, 17.3,
                34.5, float(np.median(rise)), published="+25.9 %", unit="%",
                why="a third either side, ours",
                note=f"Ours {_spread(rise, '%')}. A film of gas on the condenser's wall and gas in "
                "the capillary are left out, both of which would raise it."),
        between("nitrogen-linear", "half the nitrogen over all of it: rise of energy, median of "
                "four", NITROGEN, 0.35, 0.65, float(np.median(straight)),
                published="near-linear", why="0.35 to 0.65, ours"),
    ]  # fmt: skip


def _air() -> list[Row]:
    pairs = _pairs(R134A, MOLE_SHARE, by_mass=False)
    rise = _rise(pairs)
    return [
        *_signs("air", "air, 1.46 % by mole", KIM, pairs),
        between("air-energy", "air, 1.46 % by mole: rise of energy, median of four", KIM, 16.7,
                33.3, float(np.median(rise)), published="up to +25 %", unit="%",
                why="a third either side, ours", note=f"Ours {_spread(rise, '%')}."),
    ]  # fmt: skip


def _little() -> list[Row]:
    pairs = _pairs(R600A + R134A, SMALL_MOLE_SHARE, by_mass=False)
    return _signs("air-small", "air, 0.3 % by mole (theirs: small amounts)", CECCHINATO, pairs)

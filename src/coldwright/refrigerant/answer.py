"""What is answered about one refrigerant."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.refrigerant.charge_work import (
    AtPressure,
    Contents,
    Saturation,
)
from coldwright.refrigerant.cylinders import Fill
from coldwright.refrigerant.facts import Era, Refrigerant
from coldwright.refrigerant.lines import Trust
from coldwright.refrigerant.oil_choice import Pairing, Saying


@dataclass(frozen=True, slots=True)
class Equivalent:
    """Equal liquid volumes at 25 °C."""

    instead_of: str
    mass_of_it_kg: float
    mass_kg: float


@dataclass(frozen=True, slots=True)
class RefrigerantAnswer:
    """Facts first; None where nothing was asked."""

    facts: Refrigerant
    air_pressure_pa: float
    full_model: bool
    trust: Trust
    uses: tuple[Era, ...]
    pairings: tuple[Pairing, ...]
    sayings: tuple[Saying, ...]
    saturation: tuple[Saturation, ...]
    at_pressure: AtPressure | None
    contents: Contents | None
    equivalent: Equivalent | None
    fills: tuple[Fill, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]

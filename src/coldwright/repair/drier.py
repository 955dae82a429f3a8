"""Which drier: by refrigerant and oil, as far as the trade's texts go."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.repair.situation import Situation

_MEMORY = "from memory"
_READ = "refrigeration trade text, read"


@dataclass(frozen=True, slots=True)
class DrierChoice:
    """The drier for one circuit. `pore_angstrom` is 0 where nothing is known."""

    pore_angstrom: int
    core: str
    oil: str
    connections: str
    must: tuple[str, ...]
    source: str


def drier_for(situation: Situation) -> DrierChoice:
    """Drier by refrigerant and its usual oil.

    Parameters
    ----------
    situation : Situation
        Refrigerant and tube sizes.

    Returns
    -------
    DrierChoice
        Pore size [angstrom], core, oil and what must be kept to.
    """
    name = situation.refrigerant.name
    pore = situation.refrigerant.sieve_angstrom
    oils = situation.refrigerant.usual_oils
    ester = "polyol ester" in oils
    must = [
        f"renew it whenever the circuit is opened ({_READ})",
        "keep it plugged until the last minute: opened it takes water from the room within minutes",
        "capillary side down or sloping, so that liquid stands before the capillary",
    ]
    if name == "R134a":
        must.append(f"a drier for R12 does not suit R134a ({_READ})")
    if ester:
        must.append(
            f"molecular sieve alone, no loose alumina with ester oil unless its label says so "
            f"({_MEMORY})"
        )
    if situation.flammable:
        must.append("cut the old one out, do not unbraze it")
    if pore == 0:
        must.append(
            f"no class is held here for {name}: the drier's label must name it, or, where the "
            "refrigerant is not known, 3 Å sieve suits the most"
        )
    return DrierChoice(
        pore_angstrom=pore,
        core="molecular sieve with a screen before the capillary",
        oil=oils[0] if oils else "not known: read the compressor's label",
        connections="capillary on one end; on the other the liquid tube, and a process stub if "
        "both sides are to be evacuated",
        must=tuple(must),
        source=f"pore size {_MEMORY}; how many grams of water it takes: not found",
    )

"""The usual cautions in short sentences, and which of them a step needs.

Common practice of the trade, no published source, where no other is named.
They point at dangers; local codes and licensed practice decide.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from coldwright.catalogue.checks import Check
from coldwright.catalogue.tools import pick
from coldwright.errors import BadInput
from coldwright.refrigerant.facts import UNKNOWN, refrigerant_facts


@dataclass(frozen=True, slots=True)
class Caution:
    """One danger and what to do about it. The text is complete without the title."""

    identifier: str
    title: str
    sentences: tuple[str, ...]

    @property
    def text(self) -> str:
        """All of it as one paragraph."""
        return " ".join(self.sentences)


_BEFORE_POWER = (
    "Before anything is energised: gas alarm at floor level and inside the cabinet.",
    "No flame, spark, switch or brush motor near it.",
    "Ventilate at floor level.",
    "If the alarm sounds: work no switch or plug, ventilate, leave, cut the supply from outside.",
)
_CAUTIONS = (
    Caution(
        "flammable_refrigerant",
        "Flammable refrigerant",
        ("This refrigerant burns.", *_BEFORE_POWER),
    ),
    Caution(
        "unknown_refrigerant",
        "Refrigerant not known",
        ("The refrigerant is not known: treat it as flammable.", *_BEFORE_POWER),
    ),
    Caution(
        "flammable_mixture",
        "Air drawn in",
        ("A flammable mixture may be inside a circuit that has drawn in air: do not run it.",),
    ),
    Caution(
        "low_side_below_atmosphere",
        "Low side below atmosphere",
        (
            "The low side can be below atmospheric pressure.",
            "Connect gauges stopped and purged only: running, the circuit inhales.",
            "Air and moisture come in together.",
        ),
    ),
    Caution(
        "opens_circuit",
        "This opens the circuit",
        (
            "First do what opens nothing: each tap loses part of a small charge.",
            "Goggles and gloves: liquid refrigerant freezes skin.",
            "Never leave a piercing valve on the circuit.",
            "Recover, do not vent, unless local law lets you.",
            "Never start a compressor that is open or under vacuum.",
        ),
    ),
    Caution(
        "mains",
        "Mains voltage",
        (
            "Isolate before a cover comes off, and check that it is dead.",
            "Discharge capacitors through a resistor.",
            "What must be read live: insulated probes, covers back on first, dry floor.",
        ),
    ),
    Caution(
        "hot_surface",
        "Hot surface",
        ("Shell, discharge line and heaters can burn a hand: touch with the probe first.",),
    ),
    Caution(
        "moving_fan",
        "Moving fan",
        ("A fan may start at any time: stop it before fingers or sleeves come near.",),
    ),
    Caution(
        "licensed_practice",
        "Local codes",
        ("Local codes and licensed practice decide what may be done here, and by whom.",),
    ),
)
# The order is that of showing: what can kill first.
CAUTIONS: Mapping[str, Caution] = MappingProxyType({c.identifier: c for c in _CAUTIONS})


def cautions_for(refrigerant: str, checks: Iterable[Check] = ()) -> tuple[str, ...]:
    """Which cautions to show with these checks, or before any with none.

    Parameters
    ----------
    refrigerant : str
        As on the plate; one of which nothing is held counts as unknown, so as flammable.
    checks : iterable of Check
        What is going to be done.

    Returns
    -------
    tuple of str
        Keys of `CAUTIONS`, in the order of showing, each once.

    Raises
    ------
    BadInput
        If a check names a caution that is not known.
    """
    needed = {pick("caution", name, CAUTIONS).identifier for c in checks for name in c.cautions}
    burns = _flammable(refrigerant)
    if burns is not None:
        needed.add(burns)
        if "low_side_below_atmosphere" in needed:
            needed.add("flammable_mixture")
    if needed & {"opens_circuit", "mains", "flammable_refrigerant", "unknown_refrigerant"}:
        needed.add("licensed_practice")
    return tuple(identifier for identifier in CAUTIONS if identifier in needed)


def caution_texts(identifiers: Iterable[str]) -> tuple[str, ...]:
    """The sentences of these cautions, in their order.

    Parameters
    ----------
    identifiers : iterable of str
        Keys of `CAUTIONS`.

    Returns
    -------
    tuple of str
        Whole sentences.

    Raises
    ------
    BadInput
        If one is not known.
    """
    return tuple(s for name in identifiers for s in pick("caution", name, CAUTIONS).sentences)


def _flammable(refrigerant: str) -> str | None:
    try:
        facts = refrigerant_facts(refrigerant)
    except BadInput:
        facts = UNKNOWN
    if not facts.flammable:
        return None
    return "unknown_refrigerant" if facts is UNKNOWN else "flammable_refrigerant"

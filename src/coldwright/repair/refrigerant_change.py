"""Another refrigerant in the same circuit: what law, standard and physics allow, and where not.

Each rule is an object that speaks or stays silent; one refusal decides.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from coldwright.refrigerant.facts import REFRIGERANTS

PHASED_OUT = {
    "R12": "ozone-depleting; production ended (1996, Article 5 countries 2010): only what the "
    "same owner's circuit gave back",
    "R22": "ozone-depleting; new production ended or barred in the EU and US",
    "R401A": "holds HCFC, follows HCFC dates",
    "R409A": "holds HCFC, follows HCFC dates",
    "R502": "ozone-depleting", "R500": "ozone-depleting",
}  # fmt: skip
R12_SERVICE = ("R401A", "R409A", "R413A")
A3 = tuple(r.name for r in REFRIGERANTS if r.hydrocarbon)


@dataclass(frozen=True, slots=True)
class Ruling:
    """What one rule says."""

    refused: bool
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class ChangeOfRefrigerant:
    """The answer for one pair; `allowed` is False as soon as one rule refuses."""

    now: str
    wanted: str
    allowed: bool
    rulings: tuple[Ruling, ...]


class Rule(Protocol):
    """One rule."""

    def speak(self, now: str, wanted: str) -> Ruling | None:
        """What it says of this pair, None where it has nothing to say."""
        ...


class UnknownNow:
    """Nothing may be put into a circuit whose refrigerant is not known."""

    def speak(self, now: str, wanted: str) -> Ruling | None:
        """What it says of this pair."""
        if now != "unknown":
            return None
        text = f"what is inside is not known, so {wanted} cannot be judged: have the gas identified"
        return Ruling(True, text, "judgement of ours")


class FlammableIntoOther:
    """A flammable refrigerant only in an appliance built for it."""

    def speak(self, now: str, wanted: str) -> Ruling | None:
        """What it says of this pair."""
        if wanted not in A3 or now in A3:
            return None
        return Ruling(
            True,
            f"{wanted} is flammable and this appliance was not built for it: switches, heater, "
            "thermostat and lamp are not sealed against ignition, its wiring and plate not marked",
            "US EPA SNAP: hydrocarbons for new equipment only (read); IEC 60335-2-24 builds for "
            "them (from memory)",
        )


class OtherIntoFlammable:
    """A circuit made for a hydrocarbon keeps its refrigerant."""

    def speak(self, now: str, wanted: str) -> Ruling | None:
        """What it says of this pair."""
        if now not in A3 or now == wanted:
            return None
        return Ruling(
            True,
            f"made for {now}: motor, displacement, oil and capillary suit it and no other; "
            "its plate mass governs",
            "common practice, no published source; volumetric capacities differ (guideline, 2000)",
        )


class PhaseOut:
    """Ozone-depleting refrigerants."""

    def speak(self, now: str, wanted: str) -> Ruling | None:
        """What it says of this pair."""
        if wanted not in PHASED_OUT or wanted == now:
            return None
        refused = not (now == "R12" and wanted in R12_SERVICE)
        return Ruling(refused, f"{wanted}: {PHASED_OUT[wanted]}",
                      "Montreal Protocol and the laws that follow it, from memory")  # fmt: skip


class ServiceBlend:
    """A blend made for R12 circuits."""

    def speak(self, now: str, wanted: str) -> Ruling | None:
        """What it says of this pair."""
        if now != "R12" or wanted not in R12_SERVICE:
            return None
        return Ruling(
            False,
            f"{wanted} was made for R12 circuits: not by the same mass, charged as liquid, drier "
            "of 4 Å class renewed, plate marked anew; capacity and charge by its own figures",
            "trade practice, from memory",
        )


class HfcIntoMineralOil:
    """R134a does not mix with the mineral oil of an R12 circuit."""

    def speak(self, now: str, wanted: str) -> Ruling | None:
        """What it says of this pair."""
        if wanted != "R134a" or now not in PHASED_OUT:
            return None
        return Ruling(
            True,
            "mineral oil and chlorinated residue stay in a hermetic circuit: immiscible with "
            "R134a, other capillary length and drier; not to be done outside a factory",
            "oil maker's compatibility text, read; the ruling is a judgement of ours",
        )


class NoFigures:
    """Any other pair."""

    def speak(self, now: str, wanted: str) -> Ruling | None:
        """What it says of this pair."""
        known = wanted in (*A3, *PHASED_OUT, *R12_SERVICE) or (
            wanted == "R134a" and now in PHASED_OUT
        )
        if known or now == wanted:
            return None
        return Ruling(True, f"no rule here allows {wanted} in place of {now}", "judgement of ours")


class SameAsNow:
    """The plate's own refrigerant, by the plate's mass."""

    def speak(self, now: str, wanted: str) -> Ruling | None:
        """What it says of this pair."""
        if now != wanted or now == "unknown":
            return None
        if now in PHASED_OUT:
            return Ruling(False, f"{now}: {PHASED_OUT[now]}",
                          "Montreal Protocol and the laws that follow it, from memory")  # fmt: skip
        return Ruling(False, f"{now} as on the plate, by the plate's mass",
                      "common practice, no published source")  # fmt: skip


RULES: tuple[Rule, ...] = (
    UnknownNow(), SameAsNow(), FlammableIntoOther(), OtherIntoFlammable(), PhaseOut(),
    ServiceBlend(), HfcIntoMineralOil(), NoFigures(),
)  # fmt: skip


def change_of_refrigerant(now: str, wanted: str) -> ChangeOfRefrigerant:
    """Whether another refrigerant may go into a circuit.

    Parameters
    ----------
    now : str
        On the plate, or "unknown".
    wanted : str
        The one asked for.

    Returns
    -------
    ChangeOfRefrigerant
        Whether it is allowed, and each ruling with its reason.
    """
    rulings = tuple(r for rule in RULES if (r := rule.speak(now, wanted)) is not None)
    return ChangeOfRefrigerant(now, wanted, not any(r.refused for r in rulings), rulings)

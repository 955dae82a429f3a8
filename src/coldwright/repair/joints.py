"""The plan of one joint: every method asked, the offers in the order to be tried."""

from __future__ import annotations

from coldwright.repair import fillers
from coldwright.repair.flame_free import CrimpedRing
from coldwright.repair.joint_list import METHODS
from coldwright.repair.joint_methods import PRACTICE
from coldwright.repair.joint_records import Barred, Joint, JointPlan, Offer, Surrounding
from coldwright.repair.metals import UNKNOWN

NO_CADMIUM = "cadmium vapour poisons; older rods and books still name it"
_FLAME = (
    "Flame: extinguisher at hand, someone keeps watch, foam and liner shielded: they burn to "
    "toxic smoke.",
    "Never heat a plugged compressor or a closed circuit.",
)
_POISON = (
    "Fluorocarbon left inside makes hydrogen fluoride and phosgene in a flame: flush first, "
    "air the room, no smoking.",
)
_BURNS = (
    "Flammable refrigerant or one not known: no flame before the circuit is flushed and open "
    "with nitrogen flowing; cut, do not unbraze. Gas alarm on, air moving at floor level.",
)
_LOCAL = "Local codes and licensed practice decide what may be done here, and by whom."


def plan_joint(joint: Joint, around: Surrounding) -> JointPlan:
    """Ways to make a joint, best first, and what is barred.

    Parameters
    ----------
    joint : Joint
        Tubes and place.
    around : Surrounding
        Refrigerant and state of the circuit.

    Returns
    -------
    JointPlan
        Where the refrigerant burns or is not known the crimped ring comes first.
    """
    if UNKNOWN in joint.metals:
        answers: list[Offer | Barred | None] = [CrimpedRing().judge(joint, around)]
        why = "not before the metals are known: every filler that suits one is barred on another"
        answers += [Barred(m.name, why, PRACTICE) for m in METHODS[1:]]
    else:
        answers = [method.judge(joint, around) for method in METHODS]
    offers = [a for a in answers if isinstance(a, Offer)]
    barred = [a for a in answers if isinstance(a, Barred)]
    offers.sort(key=lambda offer: _order(offer, around))
    barred += [
        Barred(f"torch, {f.name}", NO_CADMIUM, PRACTICE)
        for f in fillers.CADMIUM
        if any(o.flame and o.method.endswith("silver filler") for o in offers)
    ]
    if around.flammable and any(o.flame and o.only_when for o in offers):
        barred.append(
            Barred("any flame as the circuit stands", "gas inside or coming out of the oil "
                   "catches fire: flush, cut, let nitrogen flow first", PRACTICE)
        )  # fmt: skip
    flame = any(o.flame for o in offers)
    cautions = (*(_BURNS if around.flammable else ()), *(_FLAME if flame else ()),
                *(_POISON if flame and around.fluorocarbon else ()), _LOCAL)  # fmt: skip
    return JointPlan(joint, tuple(offers), tuple(barred), cautions, _notes(joint))


def _order(offer: Offer, around: Surrounding) -> tuple[int, float, float]:
    flame_last = 1 if around.flammable and offer.flame else 0
    return flame_last, 1.0 - offer.first_time_success, offer.comeback_per_year


def _notes(joint: Joint) -> tuple[str, ...]:
    notes = []
    if joint.assumed:
        notes.append("Metals and sizes are the usual ones here, not seen: scrape and measure.")
    if {m.identifier for m in joint.metals} == {"copper", "aluminium"}:
        notes.append("Copper on aluminium corrodes where it stays wet: seal the joint with "
                     "heat-shrink or lacquer.")  # fmt: skip
    if joint.buried:
        notes.append("Buried: both ends have to come out of the foam first.")
    return tuple(notes)

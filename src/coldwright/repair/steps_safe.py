"""Steps that make safe, empty and open the circuit. Facts from the trade's texts, marked."""

from __future__ import annotations

from coldwright.repair.joint_records import CircuitState
from coldwright.repair.situation import Situation
from coldwright.repair.step_records import Step

LOCAL = "Local codes and licensed practice decide what may be done here, and by whom."
GAS = (
    "Gas alarm on at floor level and in the cabinet; no flame, spark, switch or brush motor "
    "near; air moving at floor level. If it sounds: work no switch, ventilate, leave, cut the "
    "supply from outside."
)
GAS_AGAIN = (
    "Flammable gas as in step 1: alarm on, no flame, spark or switch, air moving at floor level."
)
MAINS = "Mains: pull the plug and check that it is dead; discharge capacitors through a resistor."
HANDS = "Goggles and gloves: liquid refrigerant freezes skin, a hot shell burns it."
_RECOVERED = (CircuitState.RECOVERED, CircuitState.FLUSHED, CircuitState.OPEN)


def make_safe(situation: Situation) -> Step:
    """Before anything else.

    Parameters
    ----------
    situation : Situation
        The situation the job describes.

    Returns
    -------
    Step
        The step.
    """
    burns = (GAS,) if situation.flammable else ()
    do = ["plug out, food out, appliance where it can be walked round, floor covered"]
    if situation.flammable:
        do.insert(0, "alarm on, doors and windows open, ignition sources out of reach")
    return Step(
        "make_safe", "Make safe", tuple(do),
        ("gas alarm", "multimeter") if situation.flammable else ("multimeter",),
        10.0, 0.0, (*burns, MAINS, LOCAL),
        hold="record: refrigerant and mass on the plate, what was found, who does the work",
    )  # fmt: skip


def recover(situation: Situation) -> Step:
    """Take the refrigerant out.

    Parameters
    ----------
    situation : Situation
        The situation the job describes.

    Returns
    -------
    Step
        The step.
    """
    done = situation.state in _RECOVERED
    name = situation.refrigerant.name
    if situation.flammable:
        do = (
            f"recover {name} with a machine and cylinder made for flammable gas, or as local law "
            "lets, outdoors through a hose, away from openings and drains",
            "both sides: process tube and drier end; a capillary holds the other side back",
            "warm the shell from outside: the oil gives off what it holds",
        )
        source = "US household R600a exempt from the venting ban since 2014, from memory"
    else:
        do = (
            f"recover {name} into a cylinder of its own kind, never mixed, at most 80 % full",
            "compressor that runs: let it help; dead: warm and tap the shell, both sides",
            "weigh the cylinder before and after",
        )
        source = "US small appliance: 90 % running, 80 % dead, or 4 inHg vacuum (secondary source)"
    return Step(
        "recover", "Recover the refrigerant", do,
        ("piercing or hand valve, taken off afterwards", "recovery machine and cylinder", "scale"),
        20.0, 15.0,
        (*((GAS_AGAIN,) if situation.flammable else ()), HANDS,
         "Vent nothing unless local law lets you. Never start a compressor that is open or "
         "under vacuum."),
        hold="record: mass recovered [g], cylinder, compressor running or dead, final vacuum",
        source=source, done=done,
    )  # fmt: skip


def flush(situation: Situation) -> Step:
    """Purge with nitrogen and evacuate, repeated, then cut.

    Parameters
    ----------
    situation : Situation
        The situation the job describes.

    Returns
    -------
    Step
        The step.
    """
    done = situation.state in (CircuitState.FLUSHED, CircuitState.OPEN)
    twice = "evacuate, break with dry nitrogen, evacuate again, break again" if (
        situation.flammable
    ) else "sweep with dry nitrogen at low pressure, out through the open end"  # fmt: skip
    return Step(
        "flush", "Flush with nitrogen", (twice,),
        ("nitrogen with regulator and relief", "vacuum pump"),
        15.0, 10.0 if situation.flammable else 0.0,
        ("Nitrogen only, through a regulator with its relief set, bottle chained. Oxygen or "
         "compressed air in a circuit with oil explodes.",
         "Nitrogen displaces air: keep the room ventilated.",
         *(("Pump exhaust led outdoors, away from ignition.",) if situation.flammable else ())),
        hold="record: number of flushes" + ("; alarm silent at the open end"
                                            if situation.flammable else ""),
        done=done,
    )  # fmt: skip


def cut_open(situation: Situation) -> Step:
    """Cut, never unbraze, where the gas burns.

    Parameters
    ----------
    situation : Situation
        The situation the job describes.

    Returns
    -------
    Step
        The step.
    """
    how = (
        "cut with a tube cutter; do not unbraze"
        if situation.flammable
        else ("cut with a tube cutter where there is room; unbraze only with nitrogen flowing")
    )
    ester = "polyol ester" in situation.refrigerant.usual_oils
    plug = "plug every end at once" + (
        "; ester oil: compressor open 10 min at most (trade text)" if ester else ""
    )
    return Step(
        "cut_open", "Open the circuit", (how, "cut the old drier out", plug),
        ("tube cutter", "plugs", "capillary shears or file"), 10.0, 0.0,
        ((GAS_AGAIN,) if situation.flammable else ()) + (HANDS,),
        done=situation.state is CircuitState.OPEN,
    )  # fmt: skip

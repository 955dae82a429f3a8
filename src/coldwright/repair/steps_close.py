"""Steps that join, prove tight, dry, fill and close. Facts from the trade's texts, marked."""

from __future__ import annotations

from coldwright.repair.drier import DrierChoice
from coldwright.repair.joint_records import JointPlan
from coldwright.repair.situation import Situation
from coldwright.repair.step_records import Step
from coldwright.repair.steps_safe import GAS_AGAIN, HANDS


def fit_drier(choice: DrierChoice) -> Step:
    """The new drier goes in last before joining.

    Parameters
    ----------
    choice : DrierChoice
        Drier chosen.

    Returns
    -------
    Step
        The step.
    """
    pore = f"{choice.pore_angstrom} Å " if choice.pore_angstrom else ""
    return Step(
        "fit_drier", "New drier", (f"{pore}{choice.core}", *choice.must),
        ("drier of the right class", "wet cloth"), 8.0, source=choice.source,
    )  # fmt: skip


def make_joints(plans: tuple[JointPlan, ...]) -> Step:
    """All joints of the job, each by its plan.

    Parameters
    ----------
    plans : tuple of JointPlan
        One for each joint.

    Returns
    -------
    Step
        The step.
    """
    first = [p.offers[0] for p in plans if p.offers]
    tools: set[str] = set()
    if any(offer.flame for offer in first):
        tools |= {"torch", "filler and flux of the plan", "nitrogen with flow meter"}
    if any(not offer.flame for offer in first):
        tools.add("crimping tool, rings and fill")
    return Step(
        "make_joints", f"Make {len(plans)} joint{'s' if len(plans) != 1 else ''}",
        ("each as its plan on this sheet says, first way first",
         "let it cool or cure by itself; look all round with a mirror"),
        tuple(sorted(tools)), 12.0 * len(plans), 10.0,
        tuple(dict.fromkeys(c for p in plans for c in p.cautions)),
        hold="record: way taken for each joint", joints=tuple(range(1, len(plans) + 1)),
    )  # fmt: skip


def pressure_test() -> Step:
    """Dry nitrogen, whole circuit.

    Returns
    -------
    Step
        The step.

    Examples
    --------
    >>> pressure_test().title
    'Pressure test with nitrogen'
    """
    return Step(
        "pressure_test", "Pressure test with nitrogen",
        ("raise slowly in steps to 10 bar gauge at most, never above the lowest rating on the "
         "plate of either side",
         "bubble every joint; read pressure and air temperature now and 15 min later",
         "1 K moves 10 bar gauge by 38 mbar (computed): compare at equal temperature"),
        ("nitrogen with regulator and relief", "gauge", "thermometer", "bubble liquid"),
        10.0, 15.0,
        ("Nitrogen only. Stand aside while pressure rises; relief set for the test; bottle "
         "chained.", "Let it down slowly, through an open end."),
        hold="record: p and T at start and end; no fall beyond the temperature's share",
        source="10 bar gauge: usual at household circuits, from memory; one maker allows 16 bar "
               "(condenser alone) and 9.7 bar (evaporator alone), read",
    )  # fmt: skip


def evacuate(situation: Situation) -> Step:
    """Both sides, to a depth that is measured at the circuit.

    Parameters
    ----------
    situation : Situation
        The situation the job describes.

    Returns
    -------
    Step
        The step.
    """
    return Step(
        "evacuate", "Evacuate from both sides",
        ("both sides at once: through a capillary one side takes hours",
         "shell warmed; below 4585 micron (6.1 mbar) water freezes before it boils",
         "gauge at the circuit, not at the pump; to 500 micron, at least 30 min",
         "then close the valve and watch for 10 min"),
        ("two-stage pump", "vacuum gauge", "wide short hoses", "heat lamp or warm air"),
        12.0, 40.0,
        ("Never start the compressor under vacuum: it arcs inside.",
         *(("Pump exhaust outdoors, away from ignition.",) if situation.flammable else ())),
        hold="record: depth [micron], gauge place, reading after 10 min: 1000 micron at most "
             "(loose rule), 500 (tight); a rise that levels is water or gas from the oil, a "
             "straight one a leak",
        source="makers' texts ask for 50 to 2250 micron; 500 micron for 30 min read in one; "
               "decay rule from memory",
    )  # fmt: skip


def charge(situation: Situation, mass: str) -> Step:
    """By mass.

    Parameters
    ----------
    situation : Situation
        The situation the job describes.
    mass : str
        The mass, in words.

    Returns
    -------
    Step
        The step.
    """
    tolerance = situation.refrigerant.charge_tolerance_g
    return Step(
        "charge", "Charge by mass", (f"{mass}, within {tolerance:.0f} g", "cylinder weighed "
        "before and after; hose content allowed for"),
        ("scale that reads 0.1 g" if tolerance < 2.0 else "scale that reads 1 g",
         "charging hose or cylinder"), 12.0, 5.0,
        (*((GAS_AGAIN,) if situation.flammable else ()), HANDS),
        hold="record: mass charged [g], source cylinder, refrigerant",
        source="tolerances from memory; the plate's mass governs where the circuit is as built",
    )  # fmt: skip


def close_tube(situation: Situation) -> Step:
    """Pinch twice, cut, cap.

    Parameters
    ----------
    situation : Situation
        The situation the job describes.

    Returns
    -------
    Step
        The step.
    """
    cap = (
        "ring cap or cold plug: no flame on a charged circuit"
        if situation.flammable
        else "braze or ring-cap the end with the pinch tool still on"
    )
    return Step(
        "close_tube", "Close the process tube",
        ("pinch twice, tool left on", "cut beyond it", cap, "piercing valves come off for good"),
        ("pinch-off tool", "tube cutter", "ring cap"), 8.0, 0.0,
        (GAS_AGAIN,) if situation.flammable else (),
        hold="record: detector or bubbles at the closed end: nothing", source="from memory",
    )  # fmt: skip


def run_check(situation: Situation) -> Step:
    """Start, watch, read.

    Parameters
    ----------
    situation : Situation
        The situation the job describes.

    Returns
    -------
    Step
        The step.
    """
    return Step(
        "run_check", "Start and prove",
        ("covers on, equalised for 7 to 10 min, then plug in",
         "power, discharge line, condenser outlet, frost over the whole evaporator, sound at the "
         "capillary", "readings into this job: the odds should fall on nothing wrong"),
        ("plug-in meter", "thermometer"), 10.0, 30.0,
        (*(("Alarm silent in cabinet and at the floor before the plug goes in.",)
           if situation.flammable else ()),
         "Covers on and earth proved before mains."),
        hold="record: readings after 30 min; earth continuity",
        source="equalising time read in a trade text",
    )  # fmt: skip


def papers() -> Step:
    """What stays with the appliance and in the log.

    Returns
    -------
    Step
        The step.

    Examples
    --------
    >>> papers().title
    'Label and log'
    """
    return Step(
        "papers", "Label and log",
        ("label by the process tube: refrigerant, mass, date, what was altered",
         "log: recovered, charged, leak place and method, test, vacuum, drier"),
        ("label",), 8.0,
        hold="owner has the sheet; stock of refrigerant balances", source="log fields as an EU "
        "operator's record (secondary source), kept here by choice",
    )  # fmt: skip

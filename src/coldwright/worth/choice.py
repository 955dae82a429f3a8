"""Which alternative's sheet is shown, which could win, and what is said beside the answer."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from coldwright.diagnosis.result import Diagnosis
from coldwright.errors import BadInput, nearest
from coldwright.readings.job import Job
from coldwright.repair.alternative_records import Alternative, Ending
from coldwright.repair.causes import Cause
from coldwright.repair.changes import Change
from coldwright.repair.dew import FrameDew
from coldwright.repair.simulated import Simulated
from coldwright.repair.situation import Situation
from coldwright.worth.report import RepairReport
from coldwright.worth.verdict import Verdict

BYPASS = "bypass_frame_loop"


def with_heater(offered: tuple[Alternative, ...], dew: FrameDew | None) -> tuple[Alternative, ...]:
    """The by-pass with a frame heater where the frame is known to sweat; the rest as it is.

    Parameters
    ----------
    offered : tuple of Alternative
        All of them.
    dew : FrameDew or None
        The frame against the dew point.

    Returns
    -------
    tuple of Alternative
        In the order of `offered`.
    """
    if dew is None or not dew.heater_w or not dew.heater_kwh_year:
        return offered
    note = f"A frame heater of {dew.heater_w:.0f} W is counted with it: the frame would sweat."
    return tuple(
        replace(a, items=(*a.items, ("frame_heater", 1.0)), notes=(*a.notes, note))
        if a.identifier == BYPASS else a
        for a in offered
    )  # fmt: skip


def with_mass(
    offered: tuple[Alternative, ...], simulated: Mapping[Change, Simulated], plate_kg: float | None
) -> tuple[Alternative, ...]:
    """Sheets whose circuit is changed, with the new mass at the step that charges it.

    Parameters
    ----------
    offered : tuple of Alternative
        All of them.
    simulated : mapping
        What the simulator says of each change.
    plate_kg : float or None
        The plate's mass. [kg]

    Returns
    -------
    tuple of Alternative
        In the order of `offered`.
    """
    return tuple(_with_mass(a, simulated, plate_kg) for a in offered)


def _with_mass(
    a: Alternative, simulated: Mapping[Change, Simulated], plate_kg: float | None
) -> Alternative:
    if a.change is None or not a.change.moves_charge:
        return a
    found = simulated.get(a.change)
    if found is None:
        return a
    low, mid, high = (1000.0 * v for v in (
        found.charge_kg.low, found.charge_kg.median, found.charge_kg.high))  # fmt: skip
    plate = "" if plate_kg is None else f", not the plate's {1000.0 * plate_kg:.0f} g"
    do = (
        f"about {mid:.0f} g by inventory of the changed circuit ({low:.0f} to {high:.0f} g by the "
        f"model's spread){plate}",
        f"start with {low:.0f} g; after 30 min of running add 1 to 2 g at a time until frost "
        f"reaches the evaporator's outlet; not beyond {high:.0f} g",
    )
    return replace(a, steps=tuple(
        replace(s, do=(*do, *s.do[1:])) if s.identifier == "charge" else s for s in a.steps
    ))  # fmt: skip


def with_sheet(report: RepairReport, alternative: str) -> RepairReport:
    """The same report with another alternative's sheet.

    Parameters
    ----------
    report : RepairReport
        As worked out.
    alternative : str
        Whose sheet is wanted.

    Returns
    -------
    RepairReport
        A new report.

    Raises
    ------
    BadInput
        If it is none of those offered.
    """
    names = [c.alternative.identifier for c in report.considered]
    if alternative not in names:
        accepted = f"one of {', '.join(names)}; left out, the cheapest one is shown"
        raise BadInput("page", "alternative", f"'{alternative}'", accepted,
                       nearest(alternative, names))  # fmt: skip
    return replace(report, chosen=alternative, chosen_why="asked for")


def may_win(
    offered: tuple[Alternative, ...], result: Verdict, causes: tuple[Cause, ...]
) -> tuple[Alternative, ...]:
    """Those ranked now, and those that mend a cause that could lead were the odds others.

    Parameters
    ----------
    offered : tuple of Alternative
        Alternatives offered.
    result : Verdict
        What came of it.
    causes : tuple of Cause
        Causes with their probabilities. [-]

    Returns
    -------
    tuple of Alternative
        In the order of `offered`.
    """
    ranked = {w.alternative for w in result.worths if w.ranked}
    leading = [c.names for c in causes[:3] if c.names != ("nothing_wrong",)]
    return tuple(
        a for a in offered
        if a.identifier in ranked or any(a.chance(c) > 0.3 for c in leading)
    )  # fmt: skip


def chosen(
    job: Job, asked: str | None, offered: tuple[Alternative, ...], result: Verdict
) -> tuple[str, str]:
    """Whose sheet is shown, and why: asked for, else cheapest, else likeliest to work.

    Parameters
    ----------
    job : Job
        The job, read and checked.
    asked : str or None
        Identifier asked for, if any.
    offered : tuple of Alternative
        Alternatives offered.
    result : Verdict
        What came of it.

    Returns
    -------
    tuple
        Identifier of the alternative, and why.

    Raises
    ------
    BadInput
        If the alternative asked for is none of those offered.
    """
    names = [a.identifier for a in offered]
    for name, where, key in (
        (asked, "command line", "--alternative"),
        (job.mending.alternative, job.source, "repair.alternative"),
    ):
        if name is not None:
            if name not in names:
                accepted = f"one of {', '.join(names)}; left out, the cheapest one is shown"
                raise BadInput(where, key, f"'{name}'", accepted, nearest(name, names))
            return name, "asked for"
    if result.best is not None:
        return result.best, "least expected cost"
    mended = [w for w in result.worths if w.ranked]
    kept = {a.identifier for a in offered if a.ending is Ending.KEPT}
    likely = max((w for w in mended if w.alternative in kept),
                 key=lambda w: w.success_probability)  # fmt: skip
    return likely.alternative, "most likely to work; no money can be compared without prices"


def opening_note(diagnosis: Diagnosis, settled: str | None, chosen: Alternative) -> tuple[str, ...]:
    """What is said where the sheet opens a circuit that the odds would leave closed.

    Parameters
    ----------
    diagnosis : Diagnosis
        What the job was diagnosed as.
    settled : str or None
        Cause that is settled, if any.
    chosen : Alternative
        Alternative whose sheet is shown.

    Returns
    -------
    tuple of str
        One sentence or none.
    """
    if settled is not None or not chosen.opens_circuit or chosen.ending is not Ending.KEPT:
        return ()
    if diagnosis.open_circuit_advised:
        return ()
    check = diagnosis.next_checks[0].check if diagnosis.next_checks else "the cheap checks"
    return (
        f"The diagnosis does not advise opening the circuit yet: {check.replace('_', ' ')} first.",
    )


def age_note(situation: Situation) -> tuple[str, ...]:
    """What is said where the age is not known.

    Parameters
    ----------
    situation : Situation
        The situation the job describes.

    Returns
    -------
    tuple of str
        One sentence or none.
    """
    if situation.age_years is None:
        return ("Neither age nor year is given: 10 years are taken.",)
    if math.isclose(situation.age_years, 0.0):
        return ("Age 0: is the year of manufacture right?",)
    return ()

"""Steps put into the order of one job."""

from __future__ import annotations

from coldwright.repair import steps_close as close
from coldwright.repair import steps_safe as safe
from coldwright.repair.drier import drier_for
from coldwright.repair.joint_records import JointPlan
from coldwright.repair.situation import Situation
from coldwright.repair.step_records import Step


def charge_words(situation: Situation, changed: bool) -> str:
    """The mass to charge, in words; a changed circuit's mass is put in by the simulation.

    Parameters
    ----------
    situation : Situation
        The plate.
    changed : bool
        Whether the plate's mass no longer holds.

    Returns
    -------
    str
        One phrase.
    """
    if changed:
        return "a mass for the changed circuit, which is not the plate's and is not known here"
    if situation.charge_kg is None:
        return "the plate's mass (not in this job: read it)"
    return f"{1000.0 * situation.charge_kg:.0f} g {situation.refrigerant.name}, as on the plate"


def opened_circuit(
    situation: Situation,
    plans: tuple[JointPlan, ...],
    *,
    special: tuple[Step, ...] = (),
    changed: bool = False,
) -> tuple[Step, ...]:
    """The whole order of a repair that opens the circuit.

    Parameters
    ----------
    situation : Situation
        State of the job.
    plans : tuple of JointPlan
        Joints to be made.
    special : tuple of Step
        What is done to the open circuit before the drier goes in.
    changed : bool
        Whether the plate's mass no longer holds.

    Returns
    -------
    tuple of Step
        Steps in the order of work.
    """
    return (
        safe.make_safe(situation),
        safe.recover(situation),
        safe.flush(situation),
        safe.cut_open(situation),
        *special,
        close.fit_drier(drier_for(situation)),
        close.make_joints(plans),
        close.pressure_test(),
        close.evacuate(situation),
        close.charge(situation, charge_words(situation, changed)),
        close.close_tube(situation),
        close.run_check(situation),
        close.papers(),
    )


def closed_circuit(situation: Situation, special: tuple[Step, ...]) -> tuple[Step, ...]:
    """The order of a repair that opens nothing.

    Parameters
    ----------
    situation : Situation
        State of the job.
    special : tuple of Step
        The work itself.

    Returns
    -------
    tuple of Step
        Steps in the order of work.
    """
    return (safe.make_safe(situation), *special, close.run_check(situation))


def emptied(situation: Situation) -> tuple[Step, ...]:
    """Recovered and prepared for the scrap yard.

    Parameters
    ----------
    situation : Situation
        State of the job.

    Returns
    -------
    tuple of Step
        Steps in the order of work.
    """
    last = Step(
        "scrap", "Hand over for scrap",
        ("oil stays in or goes with the record", "doors off or locked: no child may climb in",
         "to a yard that takes the foam's gas, where there is one"), (), 10.0,
        hold="record: mass recovered, destination, receipt",
    )  # fmt: skip
    return (safe.make_safe(situation), safe.recover(situation), last)

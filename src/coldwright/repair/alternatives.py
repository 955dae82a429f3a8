"""Every kind of alternative, and those that exist for one job."""

from __future__ import annotations

from collections.abc import Sequence

from coldwright.readings.mending import JointSeen
from coldwright.repair import work
from coldwright.repair.alternative_records import Alternative, Ending, NotOffered
from coldwright.repair.offerers import (
    BypassLoop,
    ChangeCompressor,
    Closed,
    MendAluminium,
    MendTube,
    NewEvaporator,
    NoRepair,
    Offerer,
    Opened,
)
from coldwright.repair.situation import Situation

OFFERERS: tuple[Offerer, ...] = (
    MendTube(
        "mend_tube", "Mend the leak at a joint or tube that can be reached",
        "The leaking joint is made anew and it is filled again.",
        (("leak_reachable", 0.93),), search=True,
    ),
    BypassLoop(
        "bypass_frame_loop", "By-pass and abandon the door-frame loop",
        "The leaking tube in the door frame is left out; the frame loses its "
        "warmth and may sweat in damp weather.",
        (("leak_frame_loop", 0.95),), (work.BYPASS,),
    ),
    NewEvaporator(
        "new_evaporator", "New evaporator",
        "The cold plate or coil is changed.",
        (("leak_evaporator", 0.93),), (work.EVAPORATOR,), (("evaporator", 1.0),),
    ),
    MendAluminium(
        "mend_evaporator", "Mend the aluminium evaporator",
        "The hole in the cold plate is bridged or patched; it may pierce again beside it.",
        (("leak_evaporator", 0.72),), (work.ALUMINIUM_PATCH,),
    ),
    Opened(
        "renew_capillary", "Clear or renew capillary and drier",
        "The fine tube that feeds the cold plate, and its filter, are renewed.",
        (("capillary_restricted", 0.88), ("capillary_blocked", 0.85), ("drier_restricted", 0.93)),
        (work.CAPILLARY,), (("capillary", 1.0),),
    ),
    ChangeCompressor(
        "new_compressor", "New compressor",
        "The machine that pumps is changed.",
        (("motor", 0.93), ("weak_compressor", 0.93)), (work.COMPRESSOR,), (("compressor", 1.0),),
    ),
    Closed(
        "start_device", "Supply, starting device or overload",
        "An electrical part beside the compressor is changed; nothing is opened.",
        (("starting", 0.93),), (work.START_DEVICE,), (("start_device", 1.0),),
    ),
    Closed(
        "clean_condenser", "Clean the condenser, free its air",
        "Dust goes, air gets through.",
        (("condenser_air", 0.93),), (work.CLEAN_CONDENSER,),
    ),
    Closed(
        "defrost_and_fan", "De-ice; mend defrost or fan",
        "Ice goes and what let it grow is mended.",
        (("evaporator_air", 0.85),), (work.DEFROST,), (("fan", 1.0),),
    ),
    Closed(
        "seal_and_heater", "Door seal, hinge or stuck heater",
        "What lets heat in is mended.",
        (("heat_load", 0.85),), (work.SEAL,), (("seal", 1.0),),
    ),
    Closed(
        "mend_control", "Thermostat, sensor, timer, damper or board",
        "What switches it and shares out the cold is mended; nothing is opened.",
        (("control", 0.85),), (work.CONTROL,), (("control", 1.0),),
    ),
    Opened(
        "charge_anew", "Recover, evacuate, charge by the plate",
        "The filling is put right.",
        (("overcharge", 0.95), ("non_condensables", 0.9), ("moisture", 0.85), ("wrong_fill", 0.92)),
    ),
    NoRepair("do_nothing", "Do nothing", "It stays as it is; if it does not cool, a new one is "
             "needed all the same.", Ending.LEFT),
    NoRepair("replace", "Replace the appliance", "A new one comes, the old one is emptied and "
             "taken away.", Ending.REPLACED),
    NoRepair("scrap", "Recover and scrap, no new one", "It goes, and nothing takes its place.",
             Ending.SCRAPPED),
)  # fmt: skip


def alternatives_for(
    situation: Situation, seen: Sequence[JointSeen], share: float
) -> tuple[tuple[Alternative, ...], tuple[NotOffered, ...]]:
    """What can be done here, and what cannot and why.

    Parameters
    ----------
    situation : Situation
        The appliance and its state.
    seen : sequence of JointSeen
        Joints measured.
    share : float
        The door-frame loop's share of the high side. [-]
    """
    answers = [offerer.consider(situation, seen, share) for offerer in OFFERERS]
    return (
        tuple(a for a in answers if isinstance(a, Alternative)),
        tuple(a for a in answers if isinstance(a, NotOffered)),
    )

"""Every kind of alternative, and those that exist for one job."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from coldwright.faults.registry import FAULTS
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

# What mends a leak by its place, or a compressor by the part that stops it: chances of ours.
# What mends any other fault stands in the fault's record.
_BY_CAUSE: Mapping[str, tuple[tuple[str, float], ...]] = {
    "mend_tube": (("leak_reachable", 0.93),),
    "bypass_frame_loop": (("leak_frame_loop", 0.95),),
    "new_evaporator": (("leak_evaporator", 0.93),),
    "mend_evaporator": (("leak_evaporator", 0.72),),
    "new_compressor": (("motor", 0.93),),
    "start_device": (("starting", 0.93),),
}


def mended(alternative: str) -> tuple[tuple[str, float], ...]:
    """Causes an alternative mends, each with the chance that it then works. [-]

    Parameters
    ----------
    alternative : str
        Its identifier.

    Returns
    -------
    tuple
        Identifier of the cause and chance. [-]
    """
    by_record = tuple(
        (name, fault.mended_by[alternative])
        for name, fault in FAULTS.items()
        if alternative in fault.mended_by
    )
    return (*_BY_CAUSE.get(alternative, ()), *by_record)


OFFERERS: tuple[Offerer, ...] = (
    MendTube(
        "mend_tube", "Mend the leak at a joint or tube that can be reached",
        "The leaking joint is made anew and it is filled again.",
        mended("mend_tube"), search=True,
    ),
    BypassLoop(
        "bypass_frame_loop", "By-pass and abandon the door-frame loop",
        "The leaking tube in the door frame is left out; the frame loses its "
        "warmth and may sweat in damp weather.",
        mended("bypass_frame_loop"), (work.BYPASS,),
    ),
    NewEvaporator(
        "new_evaporator", "New evaporator",
        "The cold plate or coil is changed.",
        mended("new_evaporator"), (work.EVAPORATOR,), (("evaporator", 1.0),),
    ),
    MendAluminium(
        "mend_evaporator", "Mend the aluminium evaporator",
        "The hole in the cold plate is bridged or patched; it may pierce again beside it.",
        mended("mend_evaporator"), (work.ALUMINIUM_PATCH,),
    ),
    Opened(
        "renew_capillary", "Clear or renew capillary and drier",
        "The fine tube that feeds the cold plate, and its filter, are renewed.",
        mended("renew_capillary"), (work.CAPILLARY,), (("capillary", 1.0),),
    ),
    ChangeCompressor(
        "new_compressor", "New compressor",
        "The machine that pumps is changed.",
        mended("new_compressor"), (work.COMPRESSOR,), (("compressor", 1.0),),
    ),
    Closed(
        "start_device", "Supply, starting device or overload",
        "An electrical part beside the compressor is changed; nothing is opened.",
        mended("start_device"), (work.START_DEVICE,), (("start_device", 1.0),),
    ),
    Closed(
        "clean_condenser", "Clean the condenser, free its air",
        "Dust goes, air gets through.",
        mended("clean_condenser"), (work.CLEAN_CONDENSER,),
    ),
    Closed(
        "defrost_and_fan", "De-ice; mend defrost or fan",
        "Ice goes and what let it grow is mended.",
        mended("defrost_and_fan"), (work.DEFROST,), (("fan", 1.0),),
    ),
    Closed(
        "seal_and_heater", "Door seal, hinge or stuck heater",
        "What lets heat in is mended.",
        mended("seal_and_heater"), (work.SEAL,), (("seal", 1.0),),
    ),
    Closed(
        "mend_control", "Thermostat, sensor, timer, damper or board",
        "What switches it and shares out the cold is mended; nothing is opened.",
        mended("mend_control"), (work.CONTROL,), (("control", 1.0),),
    ),
    Opened(
        "charge_anew", "Recover, evacuate, charge by the plate",
        "The filling is put right.",
        mended("charge_anew"),
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

    Returns
    -------
    tuple
        Alternatives, and those not offered with the reason.
    """
    answers = [offerer.consider(situation, seen, share) for offerer in OFFERERS]
    return (
        tuple(a for a in answers if isinstance(a, Alternative)),
        tuple(a for a in answers if isinstance(a, NotOffered)),
    )

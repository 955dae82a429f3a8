"""Parts and dew point of one job: what was measured, else the middle of the family."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from coldwright.catalogue.unmeasured import usual_frequency
from coldwright.errors import OutOfRange, Refused
from coldwright.readings.job import Job
from coldwright.readings.shop import Shop
from coldwright.refrigerant.tables import FULL_REFRIGERANTS
from coldwright.repair.alternative_records import Alternative
from coldwright.repair.capillary_stock import CapillaryReplacement, replacements
from coldwright.repair.compressor_match import CompressorOffer, judge_stock, wanted_compressor
from coldwright.repair.dew import FrameDew, frame_dew, share_from_reading
from coldwright.repair.drier import drier_for
from coldwright.repair.rating_points import tables_for
from coldwright.repair.refrigerant_change import change_of_refrigerant
from coldwright.repair.simulated import Band, Frame, Herd
from coldwright.repair.situation import Situation
from coldwright.worth.report import NOT_SPREAD, Parts, Spreads

ASKED = ("R600a", "R290", "R134a", "R409A", "R401A")  # what technicians ask for
HUMIDITIES = (0.45, 0.55, 0.65, 0.75, 0.85)
MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split()


def parts_of(
    job: Job,
    situation: Situation,
    shop: Shop,
    herd: Herd | None,
    offered: Mapping[str, Alternative],
) -> Parts:
    """Drier, capillary, compressor and the question of another refrigerant.

    Parameters
    ----------
    job : Job
        The job, read and checked.
    situation : Situation
        The situation the job describes.
    shop : Shop
        Rates and prices.
    herd : Herd or None
        Members simulated; None where none were.
    offered : mapping
        Alternatives by identifier.

    Returns
    -------
    Parts
        What is wanted of each part, and what of the stock fits.
    """
    name = situation.refrigerant.name
    geometry = dict(job.circuit.geometry)
    capillary = _capillary(name, geometry, shop, herd) if "renew_capillary" in offered else None
    wanted = None
    stock: tuple[CompressorOffer, ...] = ()
    displacement = situation.displacement_m3
    if displacement is None and herd is not None:
        displacement = float(np.median(herd.members.circuits["compressor"]["displacement_m3"]))
    if displacement is not None and name in FULL_REFRIGERANTS:
        tables = tables_for(name)
        equalising = job.reading("equalising_time")
        wanted = wanted_compressor(
            name,
            displacement,
            tables,
            known=situation.displacement_m3 is not None,
            frequency=situation.frequency_hz
            or (50.0 if (situation.voltage_v or 230) > 150 else 60.0),
            voltage=situation.voltage_v,
            equalises_s=None if equalising is None else equalising.value,
            oils=situation.refrigerant.usual_oils,
        )
        stock = judge_stock(wanted, shop.compressors, tables)
    return Parts(
        drier_for(situation), capillary, wanted, stock,
        tuple(change_of_refrigerant(name, other) for other in dict.fromkeys((name, *ASKED))),
        _spreads(situation, geometry, herd),
    )  # fmt: skip


def _spreads(situation: Situation, geometry: Mapping[str, float], herd: Herd | None) -> Spreads:
    """What the members leave open of parts that were not measured."""
    if herd is None:
        return NOT_SPREAD
    circuits = herd.members.circuits
    measured = "capillary.bore" in geometry and "capillary.length" in geometry
    return Spreads(
        None if situation.displacement_m3 is not None
        else Band.of(circuits["compressor"]["displacement_m3"]),
        None if measured else Band.of(circuits["capillary"]["bore_m"]),
        None if measured else Band.of(circuits["capillary"]["length_m"]),
    )  # fmt: skip


def _frequency(situation: Situation) -> float:
    """Of the supply; where not on the plate as the subject takes it. [Hz]"""
    if situation.frequency_hz is not None:
        return situation.frequency_hz
    return usual_frequency(situation.voltage_v or math.nan)


def _capillary(
    refrigerant: str, geometry: Mapping[str, float], shop: Shop, herd: Herd | None
) -> CapillaryReplacement | None:
    bore, length = geometry.get("capillary.bore"), geometry.get("capillary.length")
    measured = bore is not None and length is not None
    if not measured and herd is not None:
        tube = herd.members.circuits["capillary"]
        bore, length = float(np.median(tube["bore_m"])), float(np.median(tube["length_m"]))
    if bore is None or length is None or refrigerant not in FULL_REFRIGERANTS:
        return None
    try:
        return replacements(tables_for(refrigerant), bore, length, shop.bores_m, measured=measured)
    except (OutOfRange, Refused):
        return None


def dew_of(
    job: Job, situation: Situation, shop: Shop, room: float, modelled: Frame | None
) -> FrameDew | None:
    """Frame against dew point, where there is a loop to lose.

    Parameters
    ----------
    job : Job
        Readings of frame, room and compartment.
    situation : Situation
        Layout.
    shop : Shop
        Room by month.
    room : float
        Mean room temperature. [K]
    modelled : Frame or None
        The by-passed frame by the model; a reading goes before it.

    Returns
    -------
    FrameDew or None
        The table, or None.
    """
    if not situation.frame_loop:
        return None
    inside = 255.15 if situation.kind in ("upright_freezer", "chest_freezer") else 278.15
    if shop.room_by_month:
        rooms = [(m, t, h) for m, (t, h) in zip(MONTHS, shop.room_by_month, strict=True)]
    else:
        rooms = [(f"{h:.0%} humidity", room, h) for h in HUMIDITIES]
    frame, air = job.reading("door_frame_temperature"), job.reading("ambient_temperature")
    cold = job.reading("fresh_food_temperature") or job.reading("freezer_temperature")
    room_now = air.value if air is not None else job.room.temperature_k
    share, spread = None, None
    source = "frame without its loop: not modelled yet, and no reading of the frame is there"
    if frame is not None and cold is not None and room_now is not None:
        share = share_from_reading(frame.value, room_now, cold.value)
        if share is not None:
            source = "from the door frame's reading, loop taken as without flow when it was read"
    if share is None and modelled is not None:
        share, source = modelled.share_fraction, "frame without its loop, by the model"
        spread = (modelled.share_low, modelled.share_high)
    lift = {} if modelled is None else {"heater_w_per_k": modelled.heater_w_per_k}
    months = bool(shop.room_by_month)
    return frame_dew(rooms, inside, share, source, months=months, spread=spread, **lift)

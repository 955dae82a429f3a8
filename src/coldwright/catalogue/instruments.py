"""Every reading's instrument for the kinds used: what it shows for a true value, how it errs.

The parts of an error stand in each reading's record (`readings`, `errors_of`);
`reading_errors.py` puts them to use.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from coldwright.catalogue.errors_of import Instrument as Instrument
from coldwright.catalogue.errors_of import Kit, Spot
from coldwright.catalogue.readings import READINGS
from coldwright.catalogue.tools import GAUGES, METERS, THERMOMETERS, pick


def instruments(
    *, thermometer: str | None = None, gauge: str | None = None, meter: str | None = None
) -> Mapping[str, Instrument]:
    """Every reading's instrument for the kinds used; None is the usual kind.

    Parameters
    ----------
    thermometer : str or None
        `clamp` (usual), `probe`, `infrared` or `dial`.
    gauge : str or None
        `dial` (usual) or `digital`.
    meter : str or None
        `plug_in` or `clamp`; usual is `plug_in` for power and `clamp` for current.

    Returns
    -------
    Mapping
        Reading identifier to `Instrument`.

    Raises
    ------
    BadInput
        If a kind is not known.
    """
    kit = Kit(
        pick("thermometer", thermometer or "clamp", THERMOMETERS),
        pick("gauge", gauge or "dial", GAUGES),
        pick("meter", meter or "plug_in", METERS),
        pick("meter", meter or "clamp", METERS),
    )
    return MappingProxyType(
        {
            name: reading.error.instrument(name, kit)
            for name, reading in READINGS.items()
            if reading.error is not None
        }
    )


def of_a_log(instrument: Instrument, sd: float, settling_s: float) -> Instrument:
    """The same instrument left in place and averaged over part of a log.

    How exactly the spot was met and the visit's bias stay; the single reading's scatter is
    replaced by the mean's own.

    Parameters
    ----------
    instrument : Instrument
        Of a single reading.
    sd : float
        Of the log's mean. [SI]
    settling_s : float
        Time constant after a start, as it acts on this mean. [s]

    Returns
    -------
    Instrument
        A copy with the mean's scatter and lag.
    """
    error = READINGS[instrument.identifier].error
    place = error.place_sd if isinstance(error, Spot) else 0.0
    return replace(instrument, sd=math.hypot(place, sd), relative_sd=0.0, settling_s=settling_s)

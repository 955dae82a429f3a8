"""A new capillary from stock bores: equal flow over the working range, not at one point."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import exp, log

from coldwright.cycle.capillary.flow import (
    capillary_flow,
    capillary_length,
    subcooled_inlet,
    two_phase_inlet,
)
from coldwright.cycle.capillary.records import CapillaryInlet, CapillaryTube
from coldwright.errors import OutOfRange
from coldwright.refrigerant.saturation import saturation_pressure
from coldwright.refrigerant.tables import Tables
from coldwright.repair.nitrogen_flow import NitrogenFlow, nitrogen_flow

# Working range: condensing temperature [K], subcooling [K] or vapour [-], evaporating [K].
# A cool and a hot room, charge a little short and right (judgement of ours).
POINTS = (
    (305.15, 1.0, 0.0, 243.15),
    (308.15, 4.0, 0.0, 248.15),
    (318.15, 4.0, 0.0, 248.15),
    (318.15, 0.0, 0.03, 248.15),
    (328.15, 8.0, 0.0, 253.15),
    (333.15, 4.0, 0.0, 258.15),
)
NITROGEN_INLET_PA = 1_101_325.0  # 10 bar gauge
WORST_ALLOWED = 0.03  # largest departure in flow; a tenth of what a maker's tolerance moves; ours
SHORTEST_M, LONGEST_M = 1.8, 5.0  # bond, both free ends; what is fitted; judgement of ours
ROUGHNESS_M = 0.6e-6


@dataclass(frozen=True, slots=True)
class CapillaryCut:
    """One stock bore cut to length for equal flow."""

    bore_m: float
    length_m: float
    worst_departure_fraction: float  # of the flow, over the working range
    usable: bool
    why: str
    nitrogen: NitrogenFlow


@dataclass(frozen=True, slots=True)
class CapillaryReplacement:
    """The old tube and what stock can take its place."""

    old_bore_m: float
    old_length_m: float
    measured: bool  # else the middle of what this appliance may have
    nitrogen: NitrogenFlow
    cuts: tuple[CapillaryCut, ...]  # usable ones first, nearest in length to the old


def replacements(
    tables: Tables, bore: float, length: float, stock: Iterable[float], *, measured: bool
) -> CapillaryReplacement:
    """Every stock bore cut for the flow of the old tube.

    Parameters
    ----------
    tables : Tables
        Property tables of the refrigerant.
    bore : float
        Of the old tube. [m]
    length : float
        Of the old tube. [m]
    stock : iterable of float
        Bores at hand. [m]
    measured : bool
        Whether bore and length were measured.

    Returns
    -------
    CapillaryReplacement
        Lengths by the geometric mean over the working range, with the largest departure.

    References
    ----------
    .. [1] The march of `cycle.capillary.flow`, adiabatic; bonded to a suction line both
       tubes pass more, alike.
    """
    old = CapillaryTube(bore, ROUGHNESS_M, 0.5)
    inlets = [_inlet(tables, *point) for point in POINTS]
    wanted = [
        capillary_flow(tables, inlet, tube=old, length=length, evaporating=te).mass_flow_kg_s
        for inlet, te in inlets
    ]
    cuts = [_cut(tables, inlets, wanted, b) for b in stock]
    cuts.sort(key=lambda c: (not c.usable, abs(log(c.length_m / length)) if c.length_m else 9.0))
    return CapillaryReplacement(
        bore, length, measured, nitrogen_flow(bore, length, NITROGEN_INLET_PA), tuple(cuts)
    )


def _inlet(
    tables: Tables, condensing: float, subcooling: float, vapour: float, evaporating: float
) -> tuple[CapillaryInlet, float]:
    p = float(saturation_pressure(tables, condensing))
    if vapour > 0.0:
        return two_phase_inlet(tables, p, vapour), evaporating
    return subcooled_inlet(tables, p, subcooling), evaporating


def _cut(
    tables: Tables, inlets: list[tuple[CapillaryInlet, float]], wanted: list[float], bore: float
) -> CapillaryCut:
    tube = CapillaryTube(bore, ROUGHNESS_M, 0.5)
    lengths = []
    for (inlet, te), flow in zip(inlets, wanted, strict=True):
        try:
            found = capillary_length(tables, inlet, tube=tube, mass_flow=flow, evaporating=te)
        except OutOfRange:
            return _useless(bore, "too narrow: it passes the flow at no length")
        lengths.append(found.length_m)
    length = exp(sum(map(log, lengths)) / len(lengths))
    if not 0.05 <= length <= 50.0:
        return _useless(bore, f"it would have to be {length:.0f} m long")
    worst = max(
        abs(capillary_flow(tables, i, tube=tube, length=length, evaporating=te).mass_flow_kg_s
            / flow - 1.0)
        for (i, te), flow in zip(inlets, wanted, strict=True)
    )  # fmt: skip
    why = ""
    if length < SHORTEST_M:
        why = "too short for the bond to the suction line and both free ends"
    elif length > LONGEST_M:
        why = "longer than is fitted"
    elif worst > WORST_ALLOWED:
        why = "its flow departs too far over the working range"
    return CapillaryCut(
        bore, length, worst, not why, why, nitrogen_flow(bore, length, NITROGEN_INLET_PA)
    )


def _useless(bore: float, why: str) -> CapillaryCut:
    nothing = NitrogenFlow(float("nan"), float("nan"), False)
    return CapillaryCut(bore, float("nan"), float("nan"), False, why, nothing)

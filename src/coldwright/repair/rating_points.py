"""Capacity of a compressor carried from one rating point to another.

Capacity = displacement x speed x volumetric efficiency x volumetric cooling capacity;
between two points of the same machine only the last two change.
"""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.cycle.compressor.physical import volumetric_efficiency
from coldwright.errors import Refused, require
from coldwright.refrigerant.kernels import liquid, vapour
from coldwright.refrigerant.saturation import saturation_pressure
from coldwright.refrigerant.tables import FULL_REFRIGERANTS, Tables, load_tables

CLEARANCE, REEXPANSION = 0.028, 1.05  # middle of the families; judgement of ours
TIGHTNESS = 0.85  # heating of the gas before the cylinder and leakage, both points; ours


@dataclass(frozen=True, slots=True)
class RatingPoint:
    """The state a capacity is stated at."""

    identifier: str
    label: str
    evaporating_k: float
    condensing_k: float
    liquid_k: float
    suction_k: float
    source: str


ASHRAE = RatingPoint(
    "ashrae", "ASHRAE low back pressure, -23.3/54.4 °C, liquid and gas 32.2 °C",
    249.82, 327.59, 305.37, 305.37, "ASHRAE 23 rating point of the trade, from memory",
)  # fmt: skip
CECOMAF = RatingPoint(
    "cecomaf", "CECOMAF / EN 12900 household, -25/55 °C, liquid 55 °C, gas 32 °C",
    248.15, 328.15, 328.15, 305.15,
    "EN 12900 household point, from memory; its volumetric capacities: guideline of 2000, read",
)  # fmt: skip
POINTS = {point.identifier: point for point in (ASHRAE, CECOMAF)}


def volumetric_capacity(tables: Tables, point: RatingPoint) -> float:
    """Cooling per swept volume at the suction state. [J/m3]

    Parameters
    ----------
    tables : Tables
        Property tables of the refrigerant.
    point : RatingPoint
        Where.

    Returns
    -------
    float
        Capacity per volume. [J/m3]
    """
    pe = float(saturation_pressure(tables, point.evaporating_k))
    pc = float(saturation_pressure(tables, point.condensing_k))
    gas = vapour(tables, pe, point.suction_k)
    feed = liquid(tables, pc, min(point.liquid_k, point.condensing_k - 1e-6))
    return float((gas[0] - feed[0]) / gas[1])


def pumped_share(tables: Tables, point: RatingPoint) -> float:
    """Clearance volumetric efficiency at a point. [-]

    Parameters
    ----------
    tables : Tables
        Property tables of the refrigerant.
    point : RatingPoint
        Where.

    Returns
    -------
    float
        Efficiency, 0 to 1. [-]
    """
    ratio = float(
        saturation_pressure(tables, point.condensing_k)
        / saturation_pressure(tables, point.evaporating_k)
    )
    return float(volumetric_efficiency(ratio, CLEARANCE, REEXPANSION))


def convert(capacity: float, tables: Tables, given: RatingPoint, wanted: RatingPoint) -> float:
    """Capacity of the same compressor at another point. [W]

    Parameters
    ----------
    capacity : float
        At the point given. [W]
    tables : Tables
        Property tables of the refrigerant.
    given, wanted : RatingPoint
        From where to where.

    Returns
    -------
    float
        Capacity. [W]

    Raises
    ------
    OutOfRange
        If the capacity is out of range.

    References
    ----------
    .. [1] Volumetric cooling capacity times clearance volumetric efficiency of Stoecker &
       Jones (1982), eq. (11.3); what else changes is left out (5 %, judgement of ours).
    """
    require("capacity", capacity, "W", 1.0, 5000.0)
    gain = volumetric_capacity(tables, wanted) / volumetric_capacity(tables, given)
    return capacity * gain * pumped_share(tables, wanted) / pumped_share(tables, given)


def capacity_of(displacement: float, frequency: float, tables: Tables, point: RatingPoint) -> float:
    """Capacity from the displacement alone. [W]

    Parameters
    ----------
    displacement : float
        Swept volume per revolution. [m3]
    frequency : float
        Of the supply; two-pole motor at 3.8 % slip. [Hz]
    tables : Tables
        Property tables of the refrigerant.
    point : RatingPoint
        Where.

    Returns
    -------
    float
        Capacity. [W]

    References
    ----------
    .. [1] As `convert`; the remaining loss is taken as 15 % (judgement of ours).
    """
    flow = displacement * 0.962 * frequency * TIGHTNESS * pumped_share(tables, point)
    return flow * volumetric_capacity(tables, point)


def tables_for(refrigerant: str) -> Tables:
    """Property tables.

    Parameters
    ----------
    refrigerant : str
        Name as on the plate.

    Returns
    -------
    Tables
        The tables.

    Raises
    ------
    Refused
        Where none are held.
    """
    if refrigerant not in FULL_REFRIGERANTS:
        raise Refused(
            f"no property tables for {refrigerant}: capacities are not converted",
            ("a compressor of the same displacement for the same refrigerant",),
        )
    return load_tables(refrigerant)

"""Heat content of goods, with freezing spread over a few kelvin."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.transient.records import Goods

# Siebel (1892), as in the ASHRAE Handbook, Refrigeration (from memory): solids 837 J/(kg K),
# water part 3349 above and 1256 J/(kg K) below freezing, 335 kJ/kg latent heat of the water.
SOLIDS, WATER, ICE, LATENT = 837.0, 3349.0, 1256.0, 335e3
FREEZING_BEGINS, FREEZING_ENDS = 272.15, 267.15  # most of a food's water; judgement of ours [K]
# Free convection and radiation onto packages of half a kilogram, some 0.08 m2 per kg (ours)
CONDUCTANCE_W_K_KG = 0.4


@dataclass(frozen=True, slots=True)
class Curve:
    """Enthalpy of one kilogram against temperature, zero where freezing ends."""

    below: float  # heat capacity, frozen [J/(kg K)]
    within: float
    above: float


def curve_of(goods: Goods) -> Curve:
    """Heat capacities of goods by their water.

    Parameters
    ----------
    goods : Goods
        What it is.

    Returns
    -------
    Curve
        Heat capacities below, within and above freezing. [SI]

    References
    ----------
    .. [1] Siebel (1892).
    """
    w = goods.water_fraction
    below, above = SOLIDS + ICE * w, SOLIDS + WATER * w
    span = FREEZING_BEGINS - FREEZING_ENDS
    return Curve(below, 0.5 * (below + above) + LATENT * w / span, above)


def enthalpy(curve: Curve, temperature_k: float) -> float:
    """Enthalpy per kilogram. [J/kg]

    Parameters
    ----------
    curve : Curve
        Of the goods.
    temperature_k : float
        Temperature. [K]

    Returns
    -------
    float
        From zero where freezing ends. [J/kg]

    References
    ----------
    .. [1] Siebel (1892); freezing in even measure over a few kelvin, ours.

    Examples
    --------
    >>> water = Curve(below=2e3, within=70e3, above=4e3)
    >>> enthalpy(water, 283.15) - enthalpy(water, 273.15)
    40000.0
    """
    if temperature_k <= FREEZING_ENDS:
        return curve.below * (temperature_k - FREEZING_ENDS)
    if temperature_k <= FREEZING_BEGINS:
        return curve.within * (temperature_k - FREEZING_ENDS)
    frozen_to = curve.within * (FREEZING_BEGINS - FREEZING_ENDS)
    return frozen_to + curve.above * (temperature_k - FREEZING_BEGINS)


def temperature(curve: Curve, enthalpy_j_kg: float) -> float:
    """Temperature at an enthalpy. [K]

    Parameters
    ----------
    curve : Curve
        Of the goods.
    enthalpy_j_kg : float
        As `enthalpy`. [J/kg]

    Returns
    -------
    float
        Temperature. [K]

    References
    ----------
    .. [1] The inverse of `enthalpy`.

    Examples
    --------
    >>> curve = Curve(below=2e3, within=70e3, above=4e3)
    >>> round(temperature(curve, enthalpy(curve, 280.0)), 6)
    280.0
    """
    frozen_to = curve.within * (FREEZING_BEGINS - FREEZING_ENDS)
    if enthalpy_j_kg <= 0.0:
        return FREEZING_ENDS + enthalpy_j_kg / curve.below
    if enthalpy_j_kg <= frozen_to:
        return FREEZING_ENDS + enthalpy_j_kg / curve.within
    return FREEZING_BEGINS + (enthalpy_j_kg - frozen_to) / curve.above


def capacity(curve: Curve, temperature_k: float) -> float:
    """Slope of the enthalpy. [J/(kg K)]

    Parameters
    ----------
    curve : Curve
        Of the goods.
    temperature_k : float
        Temperature. [K]

    Returns
    -------
    float
        Heat capacity, freezing included. [J/(kg K)]

    References
    ----------
    .. [1] As `enthalpy`.

    Examples
    --------
    >>> capacity(Curve(below=2e3, within=70e3, above=4e3), 270.0)
    70000.0
    """
    if temperature_k < FREEZING_ENDS:
        return curve.below
    return curve.within if temperature_k < FREEZING_BEGINS else curve.above

"""How large a hole or a capillary passage loses this much; bubbles."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from coldwright.errors import NotSolved, OutOfRange, require
from coldwright.leak.flow import Across, Orifice
from coldwright.leak.gases import GAS_CONSTANT, mean_free_path

WALL_M = 0.7e-3  # length of the passage: wall of a usual tube; judgement of ours
_SMALLEST_M, _LARGEST_M = 1e-9, 1e-2


@dataclass(frozen=True, slots=True)
class Equivalent:
    """Geometry that would leak as much."""

    hole_m: float  # diameter of a short round hole
    capillary_bore_m: float  # bore of a round passage through the wall
    capillary_length_m: float
    knudsen: float  # mean free path over that bore, in the state that drives most


def hole_throughput(diameter_m: float, state: Across) -> float:
    """Throughput of a short round hole at the gas temperature [Pa m3/s], nozzle of full area.

    Parameters
    ----------
    diameter_m : float
        Of the hole. [m]
    state : Across
        Gas and pressures.

    Returns
    -------
    float
        Throughput. [Pa m3/s]

    References
    ----------
    .. [1] Saint-Venant and Wantzel (1839); a real sharp edge passes 0.6 to 0.85 of it.
    """
    area = math.pi / 4.0 * diameter_m**2
    return area * Orifice().drive(state) * math.sqrt(GAS_CONSTANT)


def passage_throughput(bore_m: float, length_m: float, state: Across) -> float:
    """Throughput of a long round passage, laminar and molecular parts added [Pa m3/s].

    Parameters
    ----------
    bore_m : float
        Inside diameter. [m]
    length_m : float
        Length. [m]
    state : Across
        Gas and pressures.

    Returns
    -------
    float
        Throughput. [Pa m3/s]

    References
    ----------
    .. [1] Poiseuille: pi d^4 (p1^2 - p2^2) / (256 mu l); M. Knudsen (1909):
       pi d^3 v (p1 - p2) / (12 l) with v the mean molecular speed. Their plain sum in between.
    """
    gas, t = state.gas, state.temperature_k
    mu = gas.viscosity(t)
    speed = math.sqrt(8.0 * GAS_CONSTANT * t / (math.pi * gas.molar_mass_kg_mol))
    squares = state.inside_pa**2 - state.outside_pa**2
    laminar = math.pi * bore_m**4 * squares / (256.0 * mu * length_m)
    molecular = math.pi * bore_m**3 * speed / (12.0 * length_m)
    return laminar + molecular * (state.inside_pa - state.outside_pa)


def equivalent(
    q_pa_m3_s: float, states: Sequence[tuple[float, Across]], length_m: float = WALL_M
) -> Equivalent:
    """Hole and capillary passage of that mean throughput.

    Parameters
    ----------
    q_pa_m3_s : float
        Mean throughput outwards at the gas temperature. [Pa m3/s]
    states : sequence of (float, Across)
        Shares of the time and what presses in them; only outward ones count. [-]
    length_m : float
        Length of the passage. [m]

    Returns
    -------
    Equivalent
        Hole, bore and length. [m]

    Raises
    ------
    OutOfRange
        If nothing drives it outwards.
    NotSolved
        If no passage from 1 nm to 10 mm passes it.
    """
    require("throughput", q_pa_m3_s, "Pa m3/s", 1e-15, 1e3)
    outward = [(share, s) for share, s in states if s.inside_pa > s.outside_pa]
    driving = max((s for _, s in outward), key=lambda s: s.inside_pa, default=None)
    if driving is None:
        highest, air = max((s.inside_pa, s.outside_pa) for _, s in states)
        raise OutOfRange("pressure inside", highest, air, 1e8, "Pa")

    def passed(bore: float) -> float:
        return math.fsum(share * passage_throughput(bore, length_m, s) for share, s in outward)

    hole = math.sqrt(q_pa_m3_s / math.fsum(share * hole_throughput(1.0, s) for share, s in outward))
    low, high = _SMALLEST_M, _LARGEST_M
    if not passed(low) < q_pa_m3_s < passed(high):
        raise NotSolved("bore of the equivalent passage", (low, high), q_pa_m3_s)
    for _ in range(100):
        middle = math.sqrt(low * high)
        low, high = (middle, high) if passed(middle) < q_pa_m3_s else (low, middle)
    bore = math.sqrt(low * high)
    mean = (driving.inside_pa + driving.outside_pa) / 2.0
    path = mean_free_path(driving.gas, mean, driving.temperature_k)
    return Equivalent(hole, bore, length_m, path / bore)


def bubble_period(q_pa_m3_s: float, diameter_m: float, pressure_pa: float = 101_325.0) -> float:
    """Time one detached bubble takes to form [s].

    Parameters
    ----------
    q_pa_m3_s : float
        Throughput at the temperature of the bubble. [Pa m3/s]
    diameter_m : float
        Of the bubble when it comes off. [m]
    pressure_pa : float
        Where the bubble forms: air pressure and the liquid above it. [Pa]

    Returns
    -------
    float
        Time. [s]

    Raises
    ------
    OutOfRange
        If the throughput is out of range.

    Examples
    --------
    >>> round(bubble_period(1.0e-6, 0.001), 1)
    53.1
    """
    require("throughput", q_pa_m3_s, "Pa m3/s", 1e-15, 1e3)
    return math.pi / 6.0 * diameter_m**3 * pressure_pa / q_pa_m3_s

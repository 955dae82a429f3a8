"""Oil coolers and frame loops of a family's members: who has them, and how large they are.

No shares or sizes are published that we know of: every number here is a judgement of ours
(docs/catalogue-families.md says why). Drain-pan loops are counted with the condenser.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np
from scipy.special import ndtr

from coldwright.catalogue.families import Family, wall_coefficient
from coldwright.circuit.layout import Layout
from coldwright.circuit.records import Position

# Shares of a kind that have one, (before 1990, later); between 1980 and 1995 it changes evenly
FRAME_LOOPS: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "single_door": (0.05, 0.15),
        "top_mount": (0.30, 0.60),
        "bottom_mount": (0.30, 0.60),
        "side_by_side": (0.50, 0.75),
        "upright_freezer": (0.30, 0.50),
        "chest_freezer": (0.15, 0.25),
        "compact": (0.02, 0.05),
    }
)
OIL_COOLERS: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "single_door": (0.05, 0.01),
        "top_mount": (0.25, 0.04),
        "bottom_mount": (0.20, 0.04),
        "side_by_side": (0.35, 0.08),
        "upright_freezer": (0.30, 0.05),
        "chest_freezer": (0.35, 0.06),
        "compact": (0.02, 0.01),
    }
)
_CHANGE = (1980.0, 1995.0)
# Before, between, after: warm gas first gives the driest frame, last costs the least
POSITIONS = (0.2, 0.2, 0.6)
LOOP_BORE_M = 3.4e-3  # 4.76 mm steel tube
FRAME_LENGTH = 7.0  # tube over the cube root of the outside volume
BOX_OVER_NET = 1.45  # as in `sizing`
BOND_W_M_K = 2.0  # tube to flange by tape or clip
FLANGE_ROOM_W_M_K = 0.30  # the flange and the sheet beside it
FLANGE_CABINET_W_M_K = 0.05  # of a wall of 2001
_WALL_2001 = 0.365  # [W/m2/K], `families.wall_coefficient`
OIL_UA_W_K = 4.0  # at the heat of a shell of 110 W capacity
OIL_TUBE_M = 1.5
FIRST_WITH_OIL, FIRST_ELSE, FIRST_SD = 0.30, 0.50, 0.06


def share(table: Mapping[str, tuple[float, float]], kind: str, year: float) -> float:
    """Share of a kind that had it in a year. [-]

    Parameters
    ----------
    table : mapping
        Kind to its share before and after the change. [-]
    kind : str
        As on the plate.
    year : float
        Of manufacture. [-]

    Returns
    -------
    float
        In proportion between the two years of the change. [-]

    References
    ----------
    .. [1] Ours, reasons in docs/catalogue-families.md.

    Examples
    --------
    >>> round(share(FRAME_LOOPS, "top_mount", 1990.0), 3)
    0.5
    """
    return float(np.interp(year, _CHANGE, table[kind]))


def set_loops(
    c: np.ndarray,
    layout: Layout | None,
    position: Position | None,
    family: Family,
    year: float,
    net_m3: np.ndarray,
    fresh_food_share: np.ndarray,
    scores: Mapping[str, np.ndarray],
) -> np.ndarray:
    """Give each member its loops, in place; returns what its door frame leaks. [W/K]

    Parameters
    ----------
    c : ndarray
        Circuits, shape (n,).
    layout, position
        What is seen; None = drawn by its share.
    family : Family
        Kind of appliance.
    year : float
        Of manufacture. [-]
    net_m3 : ndarray
        Net volume, shape (n,). [m3]
    fresh_food_share : ndarray
        Of the door frame, shape (n,). [-]
    scores : mapping
        Standard normal scores by name, shape (n,). [-]

    Returns
    -------
    ndarray
        Conductance from the door frame into the cabinet, shape (n,). [W/K]

    References
    ----------
    .. [1] Ours, reasons in docs/catalogue-families.md.
    """
    n = c.shape[0]
    oil = np.full(n, layout in (Layout.OIL_COOLER, Layout.BOTH))
    framed = np.full(n, layout in (Layout.FRAME_LOOP, Layout.BOTH))
    if layout is None:
        oil = ndtr(scores["oil_cooler"]) < share(OIL_COOLERS, family.kind, year)
        framed = ndtr(scores["frame_loop"]) < share(FRAME_LOOPS, family.kind, year)
    where = np.searchsorted(np.cumsum(POSITIONS[:2]), ndtr(scores["frame_position"]))
    if position is not None:
        where = np.full(n, int(position))
    length = FRAME_LENGTH * (BOX_OVER_NET * net_m3) ** (1.0 / 3.0)
    length = np.where(framed, length * np.exp(0.12 * np.clip(scores["frame_size"], -3, 3)), 0.0)
    frame = c["frame_loop"]
    frame["position_code"] = np.where(framed, where, 0)
    frame["tube_length_m"] = length
    frame["tube_bore_m"] = np.where(framed, LOOP_BORE_M, 0.0)
    frame["bond_conductance_w_m_k"] = np.where(framed, BOND_W_M_K, 0.0)
    frame["room_conductance_w_k"] = FLANGE_ROOM_W_M_K * length
    leak = FLANGE_CABINET_W_M_K * wall_coefficient(year) / _WALL_2001
    leak = leak * np.exp(0.25 * np.clip(scores["frame_leak"], -3, 3)) * length
    frame["cabinet_conductance_w_k"] = leak
    frame["fresh_food_share_fraction"] = np.where(framed, fresh_food_share, 0.0)
    between = framed & (where == int(Position.BETWEEN_SECTIONS))
    first = np.where(oil, FIRST_WITH_OIL, FIRST_ELSE) + FIRST_SD * scores["first_section"]
    first = np.clip(first, 0.1, 0.7)
    c["condenser"]["first_section_fraction"] = np.where(oil | between, first, 0.0)
    c["oil_cooler"]["conductance_w_k"] = np.where(oil, OIL_UA_W_K, 0.0)
    return np.asarray(leak)


def oil_coolers(c: np.ndarray, heat: np.ndarray, scale: np.ndarray) -> None:
    """Fit the oil coolers that `set_loops` gave to their shells, in place.

    Parameters
    ----------
    c : ndarray
        Circuits, shape (n,).
    heat, scale : ndarray
        Growth of the shell's conductances and of its size, shape (n,). [-]
    """
    there = c["oil_cooler"]["conductance_w_k"] > 0.0
    c["oil_cooler"]["conductance_w_k"] *= heat
    c["oil_cooler"]["tube_length_m"] = np.where(there, OIL_TUBE_M * scale, 0.0)
    c["oil_cooler"]["tube_bore_m"] = np.where(there, LOOP_BORE_M, 0.0)


def frame_inward(
    frame: np.ndarray, room: float, fresh_food: np.ndarray, freezer: np.ndarray, tube: np.ndarray
) -> np.ndarray:
    """Heat past the door frame into the cabinet with its tube at one temperature.

    Parameters
    ----------
    frame : ndarray
        Frame loops, shape (n,).
    room : float
        Room temperature. [K]
    fresh_food, freezer, tube : ndarray
        Temperatures, shape (n,). [K]

    Returns
    -------
    ndarray
        Heat, 0 where there is no loop, shape (n,). [W]
    """
    out, into = frame["room_conductance_w_k"], frame["cabinet_conductance_w_k"]
    bond = frame["bond_conductance_w_m_k"] * frame["tube_length_m"]
    part = frame["fresh_food_share_fraction"]
    inside = part * fresh_food + (1.0 - part) * freezer
    flange = (out * room + into * inside + bond * tube) / np.maximum(out + into + bond, 1e-12)
    return np.asarray(into * (flange - inside))

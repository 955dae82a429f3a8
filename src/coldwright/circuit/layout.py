"""The high side as an ordered list of stretches, and the name of its layout."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from math import pi

from coldwright.circuit.records import Circuit, Position
from coldwright.errors import Refused


class Layout(Enum):
    """Layouts by their names in a job file; a drain-pan loop may be in any of them."""

    PLAIN = "plain"
    OIL_COOLER = "oil_cooler"
    FRAME_LOOP = "frame_loop"
    BOTH = "oil_cooler_and_frame_loop"


@dataclass(frozen=True, slots=True)
class Stretch:
    """One stretch of the high side."""

    name: str  # condenser, oil_cooler, frame_loop or drain_pan_loop
    tube_length_m: float
    volume_m3: float


def layout_of(circuit: Circuit) -> Layout:
    """The layout that the circuit's loops make.

    Parameters
    ----------
    circuit : Circuit
        The circuit.

    Returns
    -------
    Layout
        By the loops that are there.
    """
    oil = circuit.oil_cooler.conductance_w_k > 0.0
    frame = circuit.frame_loop.tube_length_m > 0.0
    if oil:
        return Layout.BOTH if frame else Layout.OIL_COOLER
    return Layout.FRAME_LOOP if frame else Layout.PLAIN


def divided(circuit: Circuit) -> bool:
    """Whether something lies between two sections of the condenser.

    Parameters
    ----------
    circuit : Circuit
        The circuit.

    Returns
    -------
    bool
        True for an oil cooler or a loop between the sections.
    """
    between = any(
        loop.tube_length_m > 0.0 and loop.position_code == Position.BETWEEN_SECTIONS
        for loop in (circuit.frame_loop, circuit.drain_pan_loop)
    )
    return between or circuit.oil_cooler.conductance_w_k > 0.0


def stretches(circuit: Circuit) -> tuple[Stretch, ...]:
    """The high side from discharge line to drier, in the order of flow.

    The oil cooler follows the first section at once; of two loops at one position the
    drain pan's comes first.

    Parameters
    ----------
    circuit : Circuit
        The circuit.

    Returns
    -------
    tuple of Stretch
        At least the condenser.
    """
    cond, oil = circuit.condenser, circuit.oil_cooler
    found: list[Stretch] = []

    def loops(at: Position) -> None:
        for name, loop in (
            ("drain_pan_loop", circuit.drain_pan_loop), ("frame_loop", circuit.frame_loop)
        ):  # fmt: skip
            if loop.tube_length_m > 0.0 and loop.position_code == at:
                found.append(_tube(name, loop.tube_length_m, loop.tube_bore_m))

    def section(share: float) -> None:
        found.append(Stretch("condenser", share * cond.tube_length_m, share * cond.volume_m3))

    loops(Position.BEFORE_CONDENSER)
    first = cond.first_section_fraction if divided(circuit) else 1.0
    section(first)
    if oil.conductance_w_k > 0.0:
        found.append(_tube("oil_cooler", oil.tube_length_m, oil.tube_bore_m))
    loops(Position.BETWEEN_SECTIONS)
    if first < 1.0:
        section(1.0 - first)
    loops(Position.AFTER_CONDENSER)
    return tuple(found)


def without_frame_loop(circuit: Circuit) -> Circuit:
    """The circuit with its frame loop by-passed; the door's flange stays and stays unheated.

    The charge is left as it is: what to fill is another question.

    Parameters
    ----------
    circuit : Circuit
        The circuit.

    Returns
    -------
    Circuit
        A copy without the loop, of the same charge.

    Raises
    ------
    Refused
        If there is no frame loop.
    """
    if not circuit.frame_loop.tube_length_m > 0.0:
        raise Refused("this circuit has no frame loop to take out", ("the circuit as it is",))
    return replace(circuit, frame_loop=replace(circuit.frame_loop, tube_length_m=0.0))


def _tube(name: str, length: float, bore: float) -> Stretch:
    return Stretch(name, length, 0.25 * pi * bore**2 * length)

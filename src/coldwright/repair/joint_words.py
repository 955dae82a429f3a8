"""An offer's fillers and amounts in words, the same for command line and pages."""

from __future__ import annotations

from coldwright.repair.joint_methods import ABOVE_LIQUIDUS_K
from coldwright.repair.joint_records import Offer
from coldwright.units import Dimension, System, show

LEAST_G = 0.1  # below which no one weighs filler


def flows(offer: Offer, system: System = System.SI) -> str:
    """Each filler with the temperature at which it flows, lowest first.

    Parameters
    ----------
    offer : Offer
        A way with a flame.
    system : System
        Units.

    Returns
    -------
    str
        One phrase.
    """
    pairs = sorted(zip(offer.flows_k, offer.fillers, strict=True))
    each = ", ".join(f"{_code(name)} {_whole(at, system)}" for at, name in pairs)
    ends = f"{_whole(pairs[0][0], system)} to {_whole(offer.heat_high_k, system)}"
    si = system is System.SI
    over = f"{ABOVE_LIQUIDUS_K:.0f} K" if si else f"{1.8 * ABOVE_LIQUIDUS_K:.0f} °F"
    return f"{each}; heat the tube at most {over} above, in all {ends}"


def filler_amount(offer: Offer) -> str:
    """How much filler, as mass and as rod.

    Parameters
    ----------
    offer : Offer
        One way to make the joint.

    Returns
    -------
    str
        One phrase.
    """
    grams = 1e3 * offer.filler_kg
    said = f"under {LEAST_G} g" if grams < LEAST_G else f"about {grams:.1f} g"
    return f"{said} ({max(1e3 * offer.rod_m, 1.0):.0f} mm of a 2 mm rod)"


def kind_of(offer: Offer) -> str:
    """What two offers share that need the same classes, heat, flux and gas.

    Parameters
    ----------
    offer : Offer
        One way to make the joint.

    Returns
    -------
    str
        A key to group offers by.
    """
    return f"{offer.method}; {offer.flux}; {flows(offer) if offer.flame else ''}"


def _code(name: str) -> str:
    """AWS and ISO class with a stroke between."""
    return name.replace(" (ISO 17672 ", "/").removesuffix(")")


def _whole(temperature: float, system: System) -> str:
    text = show(temperature, Dimension.TEMPERATURE, system)
    number, _, unit = text.partition(" ")
    return f"{float(number):.0f} {unit}"

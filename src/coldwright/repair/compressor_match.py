"""A compressor in the place of the old one: what it must be, and what of the stock is that."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from coldwright.readings.shop import StockCompressor
from coldwright.refrigerant.tables import Tables
from coldwright.repair.rating_points import ASHRAE, CECOMAF, POINTS, capacity_of, convert

DISPLACEMENT_BAND = 0.08  # either way; the capillary was chosen for the flow; judgement of ours
CAPACITY_BAND = 0.10
VOLTAGE_BAND = 0.06  # supply +-10 % under load is a trade text's limit; a label nearer; ours


@dataclass(frozen=True, slots=True)
class CompressorWanted:
    """What the label of a replacement must say."""

    refrigerant: str
    displacement_m3: float
    displacement_known: bool  # from a label; else the middle of what this appliance may have
    ashrae_w: float
    cecomaf_w: float
    frequency_hz: float
    voltage_v: float | None
    torque: str
    torque_why: str
    oils: tuple[str, ...]
    must: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CompressorOffer:
    """One of the stock, with what speaks against it."""

    name: str
    fits: bool
    against: tuple[str, ...]
    ashrae_w: float


def wanted_compressor(
    refrigerant: str,
    displacement: float,
    tables: Tables,
    *,
    known: bool,
    frequency: float,
    voltage: float | None,
    equalises_s: float | None,
    oils: tuple[str, ...],
) -> CompressorWanted:
    """What a replacement must be.

    Parameters
    ----------
    refrigerant : str
        Of the circuit; the compressor must be marked for it.
    displacement : float
        Of the old one. [m3]
    tables : Tables
        Property tables of the refrigerant.
    known : bool
        Whether the displacement was read from a label.
    frequency : float
        Of the supply. [Hz]
    voltage : float or None
        Of the supply. [V]
    equalises_s : float or None
        Time the circuit takes to equalise, where known. [s]
    oils : tuple of str
        Oils usual with the refrigerant.

    Returns
    -------
    CompressorWanted
        Displacement [m3], capacity [W], supply, start and oil.
    """
    slow = equalises_s is not None and equalises_s > 10.0 * 60.0
    torque = "high" if slow else "low"
    why = (
        "pressures are not equal when it restarts"
        if slow
        else "a capillary lets the pressures equalise in the pause, 7 to 10 min (trade text)"
    )
    return CompressorWanted(
        refrigerant=refrigerant,
        displacement_m3=displacement,
        displacement_known=known,
        ashrae_w=capacity_of(displacement, frequency, tables, ASHRAE),
        cecomaf_w=capacity_of(displacement, frequency, tables, CECOMAF),
        frequency_hz=frequency,
        voltage_v=voltage,
        torque=torque,
        torque_why=why,
        oils=oils,
        must=(
            "low back pressure application",
            f"marked for {refrigerant} by its maker, with the starting device and overload made "
            "for it",
            "oil as its label says; open to the air 10 min at most with ester oil (trade text)",
            "same cooling: an oil-cooler loop needs one with its two extra stubs, a fan needs "
            "its bracket",
        ),
    )


def judge_stock(
    wanted: CompressorWanted, stock: Iterable[StockCompressor], tables: Tables
) -> tuple[CompressorOffer, ...]:
    """Each compressor at hand, fitting ones first.

    Parameters
    ----------
    wanted : CompressorWanted
        What it must be.
    stock : iterable of StockCompressor
        What is at hand.
    tables : Tables
        Property tables of the refrigerant.

    Returns
    -------
    tuple of CompressorOffer
        One for each compressor, with what speaks against it.
    """
    offers = [_judged(wanted, one, tables) for one in stock]
    return tuple(
        sorted(
            offers, key=lambda o: (not o.fits, len(o.against), abs(o.ashrae_w - wanted.ashrae_w))
        )
    )


def _judged(wanted: CompressorWanted, one: StockCompressor, tables: Tables) -> CompressorOffer:
    against = []
    capacity = capacity_of(one.displacement_m3, one.frequency_hz, tables, ASHRAE)
    if one.refrigerant != wanted.refrigerant:
        against.append(f"marked for {one.refrigerant}, not {wanted.refrigerant}")
    elif one.capacity_w is not None and one.rating is not None:
        capacity = convert(one.capacity_w, tables, POINTS[one.rating], ASHRAE)
    ratio = one.displacement_m3 / wanted.displacement_m3
    if abs(ratio - 1.0) > DISPLACEMENT_BAND:
        against.append(f"displacement {ratio:.0%} of the old one's: the capillary would not fit it")
    if one.refrigerant == wanted.refrigerant and abs(capacity / wanted.ashrae_w - 1.0) > (
        CAPACITY_BAND + (0.0 if wanted.displacement_known else 0.10)
    ):
        against.append(f"capacity {capacity / wanted.ashrae_w:.0%} of what is wanted at ASHRAE")
    if abs(one.frequency_hz - wanted.frequency_hz) > 0.5:
        against.append(f"for {one.frequency_hz:.0f} Hz")
    if wanted.voltage_v is not None and abs(one.voltage_v / wanted.voltage_v - 1.0) > VOLTAGE_BAND:
        against.append(f"for {one.voltage_v:.0f} V")
    if wanted.torque == "high" and one.torque == "low":
        against.append("low starting torque: it would not start against a pressure difference")
    if one.oil is not None and wanted.oils and one.oil.replace("_", " ") not in wanted.oils:
        against.append(f"{one.oil.replace('_', ' ')} oil is not usual with {wanted.refrigerant}")
    return CompressorOffer(one.name, not against, tuple(against), capacity)

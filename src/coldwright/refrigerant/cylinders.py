"""What may be put into a cylinder: rules side by side, each with its standing."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.errors import require
from coldwright.refrigerant import lines as line
from coldwright.refrigerant.charge_work import ROOM_K, contents
from coldwright.refrigerant.fact_records import Known
from coldwright.refrigerant.lines import Lines

WARM_CYLINDER_K = 323.15  # 50 degC


@dataclass(frozen=True, slots=True)
class Fill:
    """One rule for filling a cylinder; `liquid_full_k` None where that is hotter than is held."""

    rule: str
    mass_kg: float
    liquid_share_at_50_c: float
    liquid_full_k: float | None
    source: str
    known: Known


def fills(lines: Lines, volume: float) -> tuple[Fill, ...]:
    """What may be put into a cylinder of that volume, by three rules; the stamp on it governs.

    Parameters
    ----------
    lines : Lines
        Of the refrigerant.
    volume : float
        Water capacity. [m³]

    Returns
    -------
    tuple of Fill
        One for each rule, with its source: mass [kg], liquid's share of the volume at 50 °C [-].

    Raises
    ------
    OutOfRange
        If the volume lies outside 0.01 to 2000 litres.

    Examples
    --------
    >>> from coldwright.refrigerant.lines import load_lines
    >>> [round(fill.mass_kg, 3) for fill in fills(load_lines("R134a"), 1e-3)]
    [0.965, 0.882, 1.047]
    """
    require("cylinder", volume, "m3", 1e-5, 2.0)
    room, warm = line.liquid_density(lines, ROOM_K), line.liquid_density(lines, WARM_CYLINDER_K)
    rules = (
        (
            "80 % full of liquid at 25 °C",
            0.80 * room,
            "AHRI Guideline K, as a trade journal tells it: 80 % of water capacity times the "
            "specific gravity of the liquid at 77 °F",
            Known.SECONDARY,
        ),
        (
            "80 % full of liquid at 50 °C",
            0.80 * warm,
            "the same share kept where a van gets hot",
            Known.PRACTICE,
        ),
        (
            "95 % full of liquid at 50 °C",
            0.95 * warm,
            "ADR packing instruction P200: 0.95 of the density of the liquid at 50 °C",
            Known.MEMORY,
        ),
    )
    return tuple(
        Fill(
            rule=rule,
            mass_kg=density * volume,
            liquid_share_at_50_c=_liquid_share(lines, density),
            liquid_full_k=_liquid_full(lines, density),
            source=source,
            known=known,
        )
        for rule, density, source, known in rules
    )


def _liquid_share(lines: Lines, density: float) -> float:
    """Of the volume, at 50 °C; 1 where it is full."""
    liquid = line.liquid_density(lines, WARM_CYLINDER_K)
    if density >= liquid:
        return 1.0
    return contents(lines, 1.0, WARM_CYLINDER_K, density).liquid_share_of_volume


def _liquid_full(lines: Lines, density: float) -> float | None:
    """Temperature at which the liquid alone has that density."""
    low, high = lines.coldest_k, lines.hottest_k
    if line.liquid_density(lines, high) > density:
        return None
    while high - low > 1e-4:
        middle = 0.5 * (low + high)
        if line.liquid_density(lines, middle) > density:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)

"""How far a circuit may be pressed for a test, and what sets it."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.errors import Refused
from coldwright.leak.gases import Gas
from coldwright.leak.sides import HIGH, LOW, saturation_pressure

USUAL_GAUGE_PA = 10e5  # whole household circuit; from memory, usual in the trade
TYPE_TEST = {HIGH: (3.5, 343.15), LOW: (5.0, 293.15)}  # IEC 60335-2-24, multipliers from memory
# One maker of an R134a appliance prints these for isolated parts; gauge, read in full text.
PUBLISHED_ISOLATED_PSI = {HIGH: 235.0, LOW: 140.0}


@dataclass(frozen=True, slots=True)
class PressureLimit:
    """Highest gauge pressure for a tightness test in the field, and why that one."""

    gauge_pa: float
    because: str


def type_test_gauge_pa(gas: Gas, side: str) -> float:
    """Factory type-test pressure of a side [Pa]. Not a field pressure.

    Parameters
    ----------
    gas : Gas
        The refrigerant.
    side : str
        `high_side` or `low_side`.

    Returns
    -------
    float
        Gauge pressure. [Pa]

    References
    ----------
    .. [1] IEC 60335-2-24, multipliers from memory, saturation from CoolProp; whether the
       multiplier applies to absolute or gauge pressure is not verified.
    """
    factor, temperature = TYPE_TEST[side]
    return factor * saturation_pressure(gas, temperature)


def field_limit(
    plate_high_pa: float | None = None,
    plate_low_pa: float | None = None,
    *,
    with_low_side: bool = True,
) -> PressureLimit:
    """The most a circuit may be pressed: the lowest rating on its plate, at most 10 bar gauge.

    Parameters
    ----------
    plate_high_pa : float, optional
        High-side rating on the plate, gauge. [Pa]
    plate_low_pa : float, optional
        Low-side rating on the plate, gauge. [Pa]
    with_low_side : bool
        The part under test holds the low side.

    Returns
    -------
    PressureLimit
        Gauge pressure [Pa], and whose limit it is.

    Raises
    ------
    Refused
        If a rating on the plate is too low to test with at all.
    """
    rated = [(plate_high_pa, "the high-side rating on the plate")]
    if with_low_side:
        rated.append((plate_low_pa, "the low-side rating on the plate"))
    best = PressureLimit(USUAL_GAUGE_PA, "usual for a whole household circuit, from memory")
    for value, because in rated:
        if value is not None and value < best.gauge_pa:
            best = PressureLimit(value, because)
    if best.gauge_pa < 0.5e5:
        raise Refused(f"{best.because} is under 0.5 bar: not a test pressure", ("a vacuum hold",))
    return best

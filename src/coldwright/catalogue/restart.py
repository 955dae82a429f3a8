"""A look-alike of a dead compressor: a sound one started against pressures not yet level.

A household compressor's motor has too little torque to start against the pressure left from
before the stop; it hums until the overload opens, and starts once the capillary has let the
pressures level (some minutes: common practice, no published source). The numbers are ours.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from coldwright.catalogue.stopped import Stopped

WAIT_MIN = 5.0  # common practice, no published source
# Share beside the kinds of a fault, which add up to one: as likely as all of them together
# where somebody saw it restarted too soon.
NOT_LEVEL = Stopped(
    "pressures_not_level", 1.0, 0.05, 0.90, "a sound motor stalls against the pressure left"
)
SIGNS = ("restarted_too_soon", "compressor_hums_and_trips")


def too_soon(signs: Mapping[str, bool]) -> bool:
    """Whether it hums and trips and was restarted too soon after a stop.

    Parameters
    ----------
    signs : mapping
        Sign identifier to seen or not seen.

    Returns
    -------
    bool
        True only where both signs were seen.

    Examples
    --------
    >>> too_soon({"restarted_too_soon": True, "compressor_hums_and_trips": True})
    True
    """
    return all(signs.get(sign, False) for sign in SIGNS)


def with_restart(kinds: Mapping[str, Stopped], signs: Mapping[str, bool]) -> Mapping[str, Stopped]:
    """The kinds of a compressor that does not run, the look-alike among them where it may be.

    Parameters
    ----------
    kinds : Mapping
        `stopped.STOPPED` or `STOPPED_VARIABLE_SPEED`.
    signs : Mapping
        Sign identifier to seen or not seen.

    Returns
    -------
    mapping
        Name to kind; the one given where the signs are not seen.
    """
    if not too_soon(signs):
        return kinds
    return MappingProxyType({NOT_LEVEL.which: NOT_LEVEL, **kinds})

"""Why a compressor does not run: kinds, their shares, and what each lets be heard.

No published shares are known to us; every number is a judgement of ours.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from coldwright.catalogue.tools import pick


@dataclass(frozen=True, slots=True)
class Stopped:
    """One kind of `compressor_not_running`."""

    which: str
    share: float  # of all compressors that do not run
    silent: float  # probability that nothing is heard
    hums_and_trips: float  # probability that it hums, then the overload trips
    why: str


_KINDS = (
    Stopped("relay", 0.32, 0.15, 0.80, "starting devices wear and burn first; mostly no start"),
    # a thermostat or board that does not call is the fault `control`
    Stopped("supply", 0.18, 0.90, 0.07, "socket, cord, terminals; low voltage hums"),
    Stopped("winding", 0.21, 0.55, 0.35, "both windings open is silent, one open or shorted hums"),
    Stopped("seized", 0.16, 0.05, 0.90, "locked rotor draws current until the overload opens"),
    Stopped("overload", 0.13, 0.92, 0.03, "an overload that stays open lets no current through"),
)
STOPPED: Mapping[str, Stopped] = MappingProxyType({kind.which: kind for kind in _KINDS})

# A drive board starts, runs and protects a variable-speed compressor: no relay, no overload.
_VARIABLE_SPEED_KINDS = (
    Stopped("board", 0.45, 0.75, 0.20, "drive electronics fail oftener than what they drive"),
    Stopped("supply", 0.27, 0.95, 0.02, "socket, cord, main board that gives no command"),
    Stopped("seized", 0.14, 0.35, 0.60, "the drive jerks it a few times and gives up"),
    Stopped("winding", 0.14, 0.80, 0.15, "the drive sees the fault and mostly does not try"),
)
STOPPED_VARIABLE_SPEED: Mapping[str, Stopped] = MappingProxyType(
    {kind.which: kind for kind in _VARIABLE_SPEED_KINDS}
)

# A fault to earth or a short in the winding is what trips a breaker.
_TRIPS_THE_BREAKER = {
    "relay": 0.7,
    "supply": 1.5,
    "winding": 6.0,
    "seized": 1.2,
    "overload": 0.3,
    "board": 2.0,
    "pressures_not_level": 0.2,
}
_SIGNS = ("compressor_silent", "compressor_hums_and_trips")


def which_odds(
    complaint: str | None = None,
    signs: Mapping[str, bool] | None = None,
    *,
    kinds: Mapping[str, Stopped] = STOPPED,
) -> dict[str, float]:
    """Odds of the kinds, given that the compressor does not run.

    Parameters
    ----------
    complaint : str or None
        What the owner says; only `trips_the_breaker` moves the odds.
    signs : Mapping or None
        Sign identifier to seen or not seen; signs that say nothing here are passed over.
    kinds : Mapping
        `STOPPED`, or `STOPPED_VARIABLE_SPEED` where a board drives the compressor.

    Returns
    -------
    dict
        Kind to probability; they sum to one. [-]
    """
    odds = {}
    for which, kind in kinds.items():
        weight = kind.share
        if complaint == "trips_the_breaker":
            weight *= _TRIPS_THE_BREAKER[which]
        for sign, seen in (signs or {}).items():
            if sign in _SIGNS:
                heard = _heard(kind, sign)
                weight *= heard if seen else 1.0 - heard
        odds[which] = weight
    whole = sum(odds.values())
    return {which: weight / whole for which, weight in odds.items()}


def heard_probability(which: str, sign: str) -> float:
    """Probability of `compressor_silent` or `compressor_hums_and_trips` for one kind. [-]

    Parameters
    ----------
    which : str
        A kind of `STOPPED`.
    sign : str
        One of the two signs.

    Returns
    -------
    float
        Probability. [-]

    Raises
    ------
    BadInput
        If the kind or the sign is none of these.

    References
    ----------
    .. [1] Ours.
    """
    return _heard(pick("which", which, STOPPED), sign)


def _heard(kind: Stopped, sign: str) -> float:
    heard = (kind.silent, kind.hums_and_trips)
    return pick("sign", sign, dict(zip(_SIGNS, heard, strict=True)))


def heard_share(sign: str) -> float:
    """The same for a stopped compressor of unknown kind. [-]

    Parameters
    ----------
    sign : str
        One of the two signs.

    Returns
    -------
    float
        Mean over the kinds by their shares. [-]

    Raises
    ------
    BadInput
        If the sign is none of these.

    References
    ----------
    .. [1] Ours.

    Examples
    --------
    >>> 0.0 < heard_share("compressor_silent") < 1.0
    True
    """
    return sum(kind.share * heard_probability(which, sign) for which, kind in STOPPED.items())

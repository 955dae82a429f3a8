"""How probable a reading is when its part is in some state: log-normal bands with heavy tails."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Self

from coldwright.catalogue.motor import Span
from coldwright.errors import require

_Z90 = 1.6448536269514722  # half of a normal's central 90 %
DEGREES = 4.0  # of the t: parts from other makers lie outside any span, ours
_LEAST = 1e-300  # below it the division would overflow; no meter shows it
_T_FACTOR = math.gamma(2.5) / (math.sqrt(math.pi * DEGREES) * math.gamma(2.0))


@dataclass(frozen=True, slots=True)
class LogBand:
    """ln of the reading is a t of 4 degrees round ln(mid), scale `spread`."""

    mid: float
    spread: float

    def __post_init__(self) -> None:
        require("middle of a band", self.mid, "any", 1e-12, math.inf)
        require("spread of a band", self.spread, "-", 1e-4, 20.0)

    @classmethod
    def of(cls, span: Span) -> Self:
        """The band whose central 90 % would be the span if it were normal."""
        ratio = math.log(span.high / span.low)
        return cls(math.sqrt(span.low * span.high), ratio / (2.0 * _Z90))

    def times(self, factor: float, extra: float = 0.0) -> LogBand:
        """Shifted by a factor and widened.

        Parameters
        ----------
        factor : float
            On the middle, above 0. [-]
        extra : float
            Further spread in the logarithm, added in squares. [-]
        """
        return LogBand(self.mid * factor, math.hypot(self.spread, extra))

    def density(self, value: float) -> float:
        """Probability density. [1 / unit of the value]

        Parameters
        ----------
        value : float
            The reading; nothing is expected at zero or below. [as mid]
        """
        if value < _LEAST:
            return 0.0
        t = (math.log(value / self.mid)) / self.spread
        core = float((1.0 + t * t / DEGREES) ** (-0.5 * (DEGREES + 1.0)))
        return _T_FACTOR * core / (self.spread * value)


@dataclass(frozen=True, slots=True)
class NearZero:
    """Nothing is there; what the meter still shows falls off exponentially."""

    scale: float

    def density(self, value: float) -> float:
        """Probability density. [1 / unit of the value]

        Parameters
        ----------
        value : float
            The reading. [as scale]
        """
        return math.exp(-value / self.scale) / self.scale if value >= 0.0 else 0.0


Band = LogBand | NearZero

"""A value with its standard deviation; one that cannot be is not built."""

from __future__ import annotations

import math
from dataclasses import dataclass

from coldwright.errors import OutOfRange


@dataclass(frozen=True, slots=True)
class Measured:
    """A finite value and one standard deviation in the same unit."""

    value: float
    sd: float

    def __post_init__(self) -> None:
        if not math.isfinite(self.value):
            raise OutOfRange("measured value", self.value, -math.inf, math.inf, "SI")
        if not (math.isfinite(self.sd) and self.sd > 0.0):
            raise OutOfRange("standard deviation", self.sd, 0.0, math.inf, "SI")

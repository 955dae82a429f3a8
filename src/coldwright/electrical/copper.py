"""Resistance of a winding against its temperature, and the temperature from a cold reading.

The resistance of an annealed metal is taken as a straight line that reaches zero
at -k degrees Celsius: R2 / R1 = (k + t2) / (k + t1), the resistance method of
IEC 60335-1 (household appliances, 11.3, from memory) and UL 60730/508 tests
(k 234.5 for copper and 225 for aluminium, read). IEC 60034-1 prints 235 for
copper (from memory): 0.2 K less in 100 K of rise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from coldwright.errors import require

REFERENCE_K = 293.15  # 20 °C, where cold resistances are compared
_ZERO_C_K = 273.15
LOW_K, HIGH_K = 233.15, 473.15  # -40 °C to 200 °C: where a straight line will do, ours


@dataclass(frozen=True, slots=True)
class Conductor:
    """A metal; `zero_c` is k, its resistance extrapolates to zero at -k °C."""

    name: str
    zero_c: float

    def coefficient(self, temperature_k: float) -> float:
        """Relative rise of resistance per kelvin at a temperature. [1/K]

        Parameters
        ----------
        temperature_k : float
            Of the metal. [K]
        """
        require("winding temperature", temperature_k, "K", LOW_K, HIGH_K)
        return 1.0 / (self.zero_c + temperature_k - _ZERO_C_K)

    def resistance_at(self, ohm: float, from_k: float, to_k: float = REFERENCE_K) -> float:
        """Resistance at another temperature. [ohm]

        Parameters
        ----------
        ohm : float
            Resistance as read, 0 or more. [ohm]
        from_k : float
            Temperature at which it was read. [K]
        to_k : float
            Temperature it is wanted for. [K]

        Raises
        ------
        OutOfRange
            If the resistance is negative or a temperature outside -40 to 200 °C.
        """
        require("resistance", ohm, "ohm", 0.0, math.inf)
        return ohm * self.coefficient(from_k) / self.coefficient(to_k)

    def mean_temperature(self, hot_ohm: float, cold_ohm: float, cold_k: float) -> float:
        """Mean temperature of a winding by the resistance method. [K]

        Parameters
        ----------
        hot_ohm : float
            Resistance now. [ohm]
        cold_ohm : float
            Resistance of the same winding when cold, above 0. [ohm]
        cold_k : float
            Temperature it had when cold, evenly throughout. [K]

        Raises
        ------
        OutOfRange
            If a resistance is not above zero, or the answer lies outside -40 to 200 °C.
        """
        require("cold resistance", cold_ohm, "ohm", 1e-6, math.inf)
        require("hot resistance", hot_ohm, "ohm", 1e-6, math.inf)
        zero_k = _ZERO_C_K - self.zero_c
        found = zero_k + hot_ohm / cold_ohm / self.coefficient(cold_k)
        require("mean winding temperature", found, "K", LOW_K, HIGH_K)
        return found


COPPER = Conductor("copper", 234.5)
ALUMINIUM = Conductor("aluminium", 225.0)
CONDUCTORS = (COPPER, ALUMINIUM)

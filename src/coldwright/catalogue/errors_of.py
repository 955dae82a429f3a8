"""How the error of a reading is made up, by kind of instrument: an object of each reading's record.

A thermometer on a tube shows T + k (T_air - T) + b + e: k and b are drawn once
per visit and thermometer, e at every reading, so the difference of two readings
is free of b. Every number is a judgement of ours unless its source says otherwise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Protocol

from coldwright.catalogue.tools import OURS, Gauge, Meter, Thermometer
from coldwright.errors import require

LEARNED = (
    "learned from simulated appliances with other closures (bench/accuracy/learn.py): what 95 %"
    " of the differences keep within, halved, and never less than our first judgement"
)
BANDS = "ours, inside the published band: air within 1 K (Hermes & Melo 2008, abstract)"


@dataclass(frozen=True, slots=True)
class Instrument:
    """How one reading errs. Absolute parts in the reading's SI unit, relative parts in 1.

    An empty group is shared with no other reading.
    """

    identifier: str
    sd: float  # each reading anew
    relative_sd: float = 0.0
    bias_sd: float = 0.0  # once per visit, common to its bias group
    bias_relative_sd: float = 0.0
    bias_group: str = ""
    air: str = ""  # "room" or "freezer": the air a tube's reading is drawn to
    toward_air_low: float = 0.0
    toward_air_high: float = 0.0
    model_sd: float = 0.0  # of our model for this reading
    model_relative_sd: float = 0.0
    model_group: str = ""  # readings whose model errors go together
    settling_s: float = 600.0  # time constant after a start
    source: str = OURS

    def __post_init__(self) -> None:
        for name in ("sd", "relative_sd", "bias_sd", "bias_relative_sd", "model_sd"):
            require(f"{self.identifier}: {name}", getattr(self, name), "SI", 0.0, math.inf)
        require(f"{self.identifier}: toward_air_low", self.toward_air_low, "-", 0.0, 1.0)
        high = self.toward_air_high
        require(f"{self.identifier}: toward_air_high", high, "-", self.toward_air_low, 1.0)

    @property
    def toward_air_mean(self) -> float:
        """Mean of k, uniform between its limits. [-]"""
        return 0.5 * (self.toward_air_low + self.toward_air_high)

    @property
    def toward_air_sd(self) -> float:
        """Standard deviation of k. [-]"""
        return (self.toward_air_high - self.toward_air_low) / math.sqrt(12.0)


@dataclass(frozen=True, slots=True)
class Kit:
    """The kinds of instrument used at a visit."""

    thermometer: Thermometer
    gauge: Gauge
    for_power: Meter
    for_current: Meter


class Error(Protocol):
    """How a reading errs with the instruments of a visit."""

    def instrument(self, identifier: str, kit: Kit) -> Instrument:
        """Its instrument."""
        ...


@dataclass(frozen=True, slots=True)
class Spot:
    """A thermometer at a spot of the circuit or in the air of a compartment."""

    place_sd: float  # how exactly the spot is met [K]
    air: str  # "room" or "freezer": what it is drawn to, and where it starts from; empty: neither
    model_sd: float  # [K]
    model_group: str
    settling_s: float

    def instrument(self, identifier: str, kit: Kit) -> Instrument:
        """Drawn to the air as far as the thermometer is."""
        t = kit.thermometer
        return Instrument(
            identifier,
            sd=math.hypot(t.sd_k, self.place_sd),
            bias_sd=t.bias_sd_k,
            bias_group="thermometer",
            air=self.air,
            toward_air_low=t.toward_air_low if self.air else 0.0,
            toward_air_high=t.toward_air_high if self.air else 0.0,
            model_sd=self.model_sd,
            model_group=self.model_group,
            settling_s=self.settling_s,
            source=BANDS if self.model_group == "air" else LEARNED,
        )


@dataclass(frozen=True, slots=True)
class Power:
    """A power meter."""

    # fans, lamp and electronics are never all known: 3 W more for the appliance
    model_sd: float
    model_relative_sd: float

    def instrument(self, identifier: str, kit: Kit) -> Instrument:
        """By the meter for power."""
        return Instrument(
            identifier,
            sd=kit.for_power.power_sd_w,
            relative_sd=0.01,  # flicker of the supply
            bias_relative_sd=kit.for_power.power_bias_relative_sd,
            bias_group="power_meter",
            model_sd=self.model_sd,
            model_relative_sd=self.model_relative_sd,
            model_group="power",
            source=LEARNED,
        )


@dataclass(frozen=True, slots=True)
class Current:
    """A meter for current."""

    model_sd: float  # 0.02 A more for the appliance
    model_relative_sd: float  # the power factor is a guess of its own

    def instrument(self, identifier: str, kit: Kit) -> Instrument:
        """By the meter for current."""
        return Instrument(
            identifier,
            sd=kit.for_current.current_sd_a,
            relative_sd=0.01,
            bias_relative_sd=kit.for_current.current_bias_relative_sd,
            bias_group="current_meter",
            model_sd=self.model_sd,
            model_relative_sd=self.model_relative_sd,
            model_group="power",
            source=LEARNED,
        )


# 2.4 K evaporating at 4.5 % per K, 2.4 K condensing at 2.6 % per K, about as learned for the
# temperatures of the tubes' middle (slopes: Clausius-Clapeyron, R134a and R600a); its own learned
# tail at the discharge is 7.6 %. At rest as learned (bench/accuracy/learn.py): which wetted spot
# is the coldest, and what the oil holds.
@dataclass(frozen=True, slots=True)
class LowSide:
    """The low gauge."""

    model_sd: float
    model_relative_sd: float
    model_group: str

    def instrument(self, identifier: str, kit: Kit) -> Instrument:
        """By the gauge's low side."""
        return Instrument(
            identifier,
            sd=kit.gauge.low_sd_pa,
            bias_sd=kit.gauge.low_bias_sd_pa,
            bias_group="low_gauge",
            model_sd=self.model_sd,
            model_relative_sd=self.model_relative_sd,
            model_group=self.model_group,
            source=kit.gauge.source,
        )


@dataclass(frozen=True, slots=True)
class HighSide:
    """The high gauge."""

    model_relative_sd: float
    model_group: str

    def instrument(self, identifier: str, kit: Kit) -> Instrument:
        """By the gauge's high side."""
        return Instrument(
            identifier,
            sd=kit.gauge.high_sd_pa,
            bias_sd=kit.gauge.high_bias_sd_pa,
            model_relative_sd=self.model_relative_sd,
            model_group=self.model_group,
            source=kit.gauge.source,
        )


@dataclass(frozen=True, slots=True)
class Own:
    """A reading whose error does not hang on the kind of instrument."""

    sd: float
    relative_sd: float = 0.0
    bias_sd: float = 0.0
    model_sd: float = 0.0
    model_relative_sd: float = 0.0
    settling_s: float = 600.0

    def instrument(self, identifier: str, kit: Kit) -> Instrument:
        """The same with any."""
        return Instrument(
            identifier, self.sd, self.relative_sd, self.bias_sd, model_sd=self.model_sd,
            model_relative_sd=self.model_relative_sd, settling_s=self.settling_s,
        )  # fmt: skip

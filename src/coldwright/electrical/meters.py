"""What the meter showed and on what it was held, as numbers."""

from __future__ import annotations

import math
from dataclasses import dataclass

from coldwright.catalogue.motor import SupplyClass, supply_class
from coldwright.electrical.copper import REFERENCE_K


@dataclass(frozen=True, slots=True)
class Meters:
    """Readings in SI, None where not taken; resistances infinite where open."""

    run_ohm: float | None = None  # common to run
    start_ohm: float | None = None  # common to start
    run_to_start_ohm: float | None = None
    insulation_ohm: float | None = None
    start_device_ohm: float | None = None
    overload_ohm: float | None = None
    capacitor_fraction: float | None = None  # of the printed value
    supply_v: float | None = None
    starting_a: float | None = None  # while it tries to start
    compressor_a: float | None = None
    appliance_a: float | None = None
    speed_per_s: float | None = None

    @property
    def ohms(self) -> tuple[float | None, float | None, float | None]:
        """The three between the pins: run, start, run to start."""
        return self.run_ohm, self.start_ohm, self.run_to_start_ohm


@dataclass(frozen=True, slots=True)
class Held:
    """The machine the meter was held to. NaN where not known."""

    nominal_v: float = 230.0
    frequency_hz: float = 50.0
    rated_a: float = math.nan  # on the plate
    winding_k: float = REFERENCE_K
    since_stop_min: float = math.nan
    variable_speed: bool = False

    @property
    def motors(self) -> SupplyClass:
        """What is usual for this voltage."""
        return supply_class(self.nominal_v)

    @property
    def full_load_a(self) -> float:
        """Plate current, or what is usual where the plate has none. [A]"""
        span = self.motors.running_a
        usual = math.sqrt(span.low * span.high) / 0.75
        return self.rated_a if self.rated_a > 0.0 else usual

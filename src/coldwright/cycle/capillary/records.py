"""A capillary tube alone: its records and what is accepted; kernels stay out of here."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.errors import require

# What a capillary of this trade can be at all; judgement of ours.
BORE_RANGE_M = (2e-4, 5e-3)
LENGTH_RANGE_M = (0.05, 50.0)
FLOW_RANGE_KG_S = (1e-7, 0.1)
MOST_ENTRANCE_LOSS = 10.0  # velocity heads
MOST_VAPOUR = 0.9  # beyond it the mixture is no longer a capillary's usual feed
ROUGHEST_SHARE_OF_BORE = 0.05  # the friction factor's own limit, see `friction.churchill`


@dataclass(frozen=True, slots=True)
class CapillaryTube:
    """A tube of constant bore; one that cannot be raises `OutOfRange`."""

    bore_m: float
    roughness_m: float
    entrance_loss_fraction: float  # velocity heads lost at the mouth
    flash_delay_fraction: float = 0.0  # of the delay of flashing, 0 = boils at saturation

    def __post_init__(self) -> None:
        require("bore", self.bore_m, "m", *BORE_RANGE_M)
        require("roughness", self.roughness_m, "m", 0.0, ROUGHEST_SHARE_OF_BORE * self.bore_m)
        require("entrance loss", self.entrance_loss_fraction, "-", 0.0, MOST_ENTRANCE_LOSS)
        require("flash delay", self.flash_delay_fraction, "-", 0.0, 1.0)


@dataclass(frozen=True, slots=True)
class CapillaryInlet:
    """State before the mouth; subcooled, saturated or two-phase."""

    pressure_pa: float
    temperature_k: float
    enthalpy_j_kg: float
    subcooling_k: float  # 0 when two-phase
    quality_fraction: float  # 0 when subcooled


@dataclass(frozen=True, slots=True)
class CapillaryFlow:
    """A solved capillary with the evidence: `residual_fraction` is what is left of the length."""

    mass_flow_kg_s: float
    length_m: float
    length_liquid_m: float
    length_two_phase_m: float
    choked: bool
    exit_pressure_pa: float
    exit_quality_fraction: float
    residual_fraction: float
    iterations: int

"""What an instrument shows for a true value, and how far it and our model may be off.

A thermometer on a tube shows T + k (T_air - T) + b + e: k and b are drawn once
per visit and thermometer, e at every reading, so the difference of two readings
is free of b. Every number is a judgement of ours unless its source says otherwise;
`reading_errors.py` puts them to use.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from coldwright.catalogue.tools import (
    GAUGES,
    METERS,
    OURS,
    THERMOMETERS,
    Gauge,
    Meter,
    Thermometer,
    pick,
)
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


# identifier, how exactly the spot is met [K], air, model [K], model group, settling [s]
_TEMPERATURES: tuple[tuple[str, float, str, float, str, float], ...] = (
    ("shell_temperature", 1.5, "room", 4.0, "shell", 2700.0),
    ("discharge_line_temperature", 0.5, "room", 4.3, "shell", 2700.0),
    ("condenser_inlet_temperature", 0.5, "room", 3.4, "shell", 1800.0),
    ("condenser_middle_temperature", 0.5, "room", 2.0, "condensing", 600.0),
    ("condenser_outlet_temperature", 0.3, "room", 4.0, "condensing", 600.0),
    ("drier_inlet_temperature", 0.2, "room", 4.0, "condensing", 600.0),
    ("drier_outlet_temperature", 0.2, "room", 4.1, "condensing", 600.0),
    ("evaporator_inlet_temperature", 0.5, "freezer", 2.4, "evaporating", 600.0),
    ("evaporator_outlet_temperature", 0.5, "freezer", 5.5, "evaporating", 600.0),
    ("suction_line_temperature", 0.3, "room", 2.5, "", 900.0),
    ("door_frame_temperature", 1.5, "room", 3.0, "", 900.0),
    ("fresh_food_temperature", 0.7, "", 1.0, "air", 7200.0),
    ("freezer_temperature", 0.7, "", 1.0, "air", 7200.0),
)


def instruments(
    *, thermometer: str | None = None, gauge: str | None = None, meter: str | None = None
) -> Mapping[str, Instrument]:
    """Every reading's instrument for the kinds used; None is the usual kind.

    Parameters
    ----------
    thermometer : str or None
        `clamp` (usual), `probe`, `infrared` or `dial`.
    gauge : str or None
        `dial` (usual) or `digital`.
    meter : str or None
        `plug_in` or `clamp`; usual is `plug_in` for power and `clamp` for current.

    Returns
    -------
    Mapping
        Reading identifier to `Instrument`.

    Raises
    ------
    BadInput
        If a kind is not known.
    """
    every = (
        *_electrical(
            pick("meter", meter or "plug_in", METERS), pick("meter", meter or "clamp", METERS)
        ),
        *_temperatures(pick("thermometer", thermometer or "clamp", THERMOMETERS)),
        *_pressures(pick("gauge", gauge or "dial", GAUGES)),
        *_OBSERVED,
    )
    return MappingProxyType({i.identifier: i for i in every})


def of_a_log(instrument: Instrument, sd: float, settling_s: float) -> Instrument:
    """The same instrument left in place and averaged over part of a log.

    How exactly the spot was met and the visit's bias stay; the single reading's scatter is
    replaced by the mean's own.

    Parameters
    ----------
    instrument : Instrument
        Of a single reading.
    sd : float
        Of the log's mean. [SI]
    settling_s : float
        Time constant after a start, as it acts on this mean. [s]
    """
    place = next((p for name, p, *_ in _TEMPERATURES if name == instrument.identifier), 0.0)
    return replace(instrument, sd=math.hypot(place, sd), relative_sd=0.0, settling_s=settling_s)


def _temperatures(t: Thermometer) -> Iterator[Instrument]:
    for identifier, place, air, model, group, settling in _TEMPERATURES:
        yield Instrument(
            identifier,
            sd=math.hypot(t.sd_k, place),
            bias_sd=t.bias_sd_k,
            bias_group="thermometer",
            air=air,
            toward_air_low=t.toward_air_low if air else 0.0,
            toward_air_high=t.toward_air_high if air else 0.0,
            model_sd=model,
            model_group=group,
            settling_s=settling,
            source=BANDS if group == "air" else LEARNED,
        )


def _electrical(for_power: Meter, for_current: Meter) -> Iterator[Instrument]:
    # fans, lamp and electronics are never all known: 3 W and 0.02 A more for the appliance
    for identifier, more, model in (
        ("appliance_power", 3.0, 0.10), ("compressor_power", 0.0, 0.12)
    ):  # fmt: skip
        yield Instrument(
            identifier,
            sd=for_power.power_sd_w,
            relative_sd=0.01,  # flicker of the supply
            bias_relative_sd=for_power.power_bias_relative_sd,
            bias_group="power_meter",
            model_sd=more,
            model_relative_sd=model,
            model_group="power",
            source=LEARNED,
        )
    for identifier, more, model in (
        ("appliance_current", 0.02, 0.12), ("compressor_current", 0.0, 0.14)
    ):  # fmt: skip
        yield Instrument(
            identifier,
            sd=for_current.current_sd_a,
            relative_sd=0.01,
            bias_relative_sd=for_current.current_bias_relative_sd,
            bias_group="current_meter",
            model_sd=more,
            model_relative_sd=model,  # the power factor is a guess of its own
            model_group="power",
            source=LEARNED,
        )


def _pressures(g: Gauge) -> Iterator[Instrument]:
    # 2.4 K evaporating at 4.5 % per K, 2.4 K condensing at 2.6 % per K, about as learned for the
    # temperatures of the tubes' middle (slopes: Clausius-Clapeyron, R134a and R600a); its own
    # learned tail at the discharge is 7.6 %. At rest as learned (bench/accuracy/learn.py): which
    # wetted spot is the coldest, and what the oil holds.
    for identifier, relative, more, group in (
        ("suction_pressure", 0.11, 2e3, "evaporating"),
        ("standing_pressure", 0.16, 5e3, ""),
    ):
        yield Instrument(
            identifier,
            sd=g.low_sd_pa,
            bias_sd=g.low_bias_sd_pa,
            bias_group="low_gauge",
            model_sd=more,
            model_relative_sd=relative,
            model_group=group,
            source=g.source,
        )
    yield Instrument(
        "discharge_pressure",
        sd=g.high_sd_pa,
        bias_sd=g.high_bias_sd_pa,
        model_relative_sd=0.06,
        model_group="condensing",
        source=g.source,
    )


_OBSERVED = (
    Instrument("run_fraction", sd=0.05, model_sd=0.07, settling_s=7200.0),
    # two readings of one thermometer 20 min apart, 0.2 K each; the model's part: how much is
    # stowed and how it follows, against our own march over hours (tests/physics/test_trend.py)
    Instrument("freezer_cooling_rate", sd=2.4e-4, model_sd=2e-4, model_relative_sd=0.5),
    Instrument("frosted_fraction", sd=0.08, bias_sd=0.05, model_sd=0.13, settling_s=1800.0),
    Instrument("equalising_time", sd=60.0, relative_sd=0.1, model_relative_sd=0.60),
    # the model's part: what stays behind in oil and hoses
    Instrument(
        "recovered_mass", sd=1e-3, relative_sd=0.02, bias_sd=1e-3, model_sd=3e-3,
        model_relative_sd=0.05,
    ),
)  # fmt: skip

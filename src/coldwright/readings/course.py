"""What a log comes down to: phases of the compressor, cycles, and readings with their worth.

Times count in seconds from the log's first line, or as its own elapsed time.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Stretch:
    """The appliance in one state; `whole` where neither end is the log's own."""

    state: str  # "running", "off" or "defrost"
    start_s: float
    end_s: float
    whole: bool

    @property
    def length_s(self) -> float:
        """How long it lasted. [s]"""
        return self.end_s - self.start_s


@dataclass(frozen=True, slots=True)
class LoggedReading:
    """A mean over part of a log. `sd` is the mean's own, without the instrument's bias; SI."""

    key: str
    value: float
    sd: float
    start_s: float
    end_s: float
    samples: int
    worth: float  # readings free of each other that the samples amount to
    unit: str  # of the log's head
    since_s: float = float("inf")  # from the start to its middle; infinite: lags have died out
    run_s: float = float("nan")  # usual run and rest of the cycles it lies in; NaN: no cycles
    rest_s: float = float("nan")

    def lag_left(self, settling_s: float) -> float:
        """Share of the way from rest to steady that is still to go.

        In a cycling machine a part returns only some of the way at rest; the periodic solution
        of a first-order lag.

        Parameters
        ----------
        settling_s : float
            Time constant of the part, above 0. [s]
        """
        left = math.exp(-self.since_s / settling_s)
        if self.rest_s > 0.0 and self.run_s > 0.0:
            back = -math.expm1(-self.rest_s / settling_s)
            left *= back / -math.expm1(-(self.run_s + self.rest_s) / settling_s)
        return left


@dataclass(frozen=True, slots=True)
class Defrosted:
    """One defrost, with the freezer's mean over an hour before and from one to two hours after."""

    start_s: float
    end_s: float
    freezer_before_k: float  # NaN where not logged
    freezer_after_k: float


@dataclass(frozen=True, slots=True)
class Course:
    """A log reduced."""

    source: str
    started: str  # first line's stamp, empty where the times are elapsed ones
    lines: int
    start_s: float
    end_s: float
    sensed_by: str  # reading the phases were told from; empty where none could
    stretches: tuple[Stretch, ...]
    cycles: int  # whole ones, no defrost in them
    starts_per_hour: float  # NaN where no compressor could be followed
    short_runs: int  # of a minute or three: it starts and is stopped again
    readings: tuple[LoggedReading, ...]
    running_s: float  # from the start to the middle of the window; NaN where not known
    steady: bool  # the window keeps the rule of a steady reading
    why_not: str
    settled: bool | None  # cycling on its thermostat without drift; None where it cannot be told
    freezer_k_h: float  # its slope over the last hour, NaN where not logged [K/h]
    defrosts: tuple[Defrosted, ...]
    signs: tuple[tuple[str, bool], ...]
    passed_over: tuple[str, ...] = ()  # readings entered by hand, which go first

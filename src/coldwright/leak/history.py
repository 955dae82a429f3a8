"""How fast it leaks, from what is missing and since when."""

from __future__ import annotations

import math
from dataclasses import dataclass

from coldwright.errors import require
from coldwright.leak.rates import SECONDS_PER_YEAR

MONTH_S = SECONDS_PER_YEAR / 12.0
UNNOTICED = 0.2  # share of the charge that may go before cooling suffers; ours
RECOVERY_SD = 0.1  # of what was in: recovery leaves some in the oil; ours
# Where nothing is known: a leak that empties a household charge in months to years; ours.
USUAL_G_YR, USUAL_LOG_SD = 40.0, 1.3
PACE_LOG_SD = 0.35  # the rate was not the same all the time; ours


@dataclass(frozen=True, slots=True)
class Pace:
    """Mean mass rate over the loss as a lognormal: median and log standard deviation."""

    median_g_yr: float
    log_sd: float
    because: str
    lost_kg: float | None = None

    def span(self, scores: float = 1.2816) -> tuple[float, float]:
        """Central span [g/yr]; 1.2816 scores hold 80 %.

        Parameters
        ----------
        scores : float
            Standard normal scores to either side. [-]
        """
        wide = math.exp(scores * self.log_sd)
        return self.median_g_yr / wide, self.median_g_yr * wide


def usual_pace() -> Pace:
    """The pace where neither loss nor time is known.

    Returns
    -------
    Pace
        Middle [g/yr] and spread of the logarithm. [-]

    Examples
    --------
    >>> usual_pace().because
    'no loss and no time given: a broad guess of ours'
    """
    return Pace(USUAL_G_YR, USUAL_LOG_SD, "no loss and no time given: a broad guess of ours")


def pace_of_loss(lost_kg: float, time_s: float, charge_kg: float | None = None) -> Pace:
    """Pace from a loss over the time since it last worked well.

    The loss began before anyone noticed: up to a fifth of the charge may have been
    gone by then, so the rate since lies between the whole loss and that much less.

    Parameters
    ----------
    lost_kg : float
        Mass missing. [kg]
    time_s : float
        Since it last worked well. [s]
    charge_kg : float, optional
        Charge when complete. [kg]

    Returns
    -------
    Pace
        Middle [g/yr] and spread of the logarithm. [-]

    Raises
    ------
    OutOfRange
        If they cannot be.
    """
    require("mass lost", lost_kg, "kg", 1e-5, 5.0)
    require("time", time_s, "s", 3600.0, 80.0 * SECONDS_PER_YEAR)
    if charge_kg is not None:
        require("mass lost", lost_kg, "kg", 1e-5, charge_kg)
    most = lost_kg
    least = max(lost_kg - UNNOTICED * (charge_kg or lost_kg), 0.25 * lost_kg)
    grams_year = 1000.0 * SECONDS_PER_YEAR / time_s
    middle = math.sqrt(most * least) * grams_year
    # The two ends count as an 80 % span.
    sd = math.hypot(math.log(most / least) / (2.0 * 1.2816), PACE_LOG_SD)
    return Pace(middle, sd, "mass missing over the time since it last worked well", lost_kg)

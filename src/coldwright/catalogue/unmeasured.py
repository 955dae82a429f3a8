"""What is taken of a visit where nobody measured or read it: one set for every command."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.catalogue.motor import BETWEEN_CLASSES_V


@dataclass(frozen=True, slots=True)
class Unmeasured:
    """What stands in for what a job does not say; each widens or is told in a note."""

    room_k: float = 296.15  # a lived-in kitchen, 23 °C; ours
    room_sd_k: float = 3.0  # of it, ours
    year: int = 2008  # middle of the stock in use, ours
    charge_kg: float = 0.11  # IPCC-era default for 150-300 l (New Zealand inventory), read
    age_years: float = 10.0  # of an appliance that is called for, ours


UNMEASURED = Unmeasured()


def usual_frequency(volts: float) -> float:
    """Mains frequency that goes with a supply voltage where the plate does not say.

    Parameters
    ----------
    volts : float
        Of plate or supply; NaN is taken as the higher class. [V]

    Returns
    -------
    float
        60 Hz below the gap between the two classes of household mains, else 50 Hz. [Hz]

    Examples
    --------
    >>> usual_frequency(120.0), usual_frequency(230.0)
    (60.0, 50.0)
    """
    return 60.0 if volts < BETWEEN_CLASSES_V else 50.0

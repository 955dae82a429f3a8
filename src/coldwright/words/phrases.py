"""Faults and severities as phrases within a sentence, short enough for a terminal."""

from __future__ import annotations

from coldwright.diagnosis.fault_words import fault_words, grams_of_air
from coldwright.diagnosis.result import FaultOdds, SeverityInterval
from coldwright.faults.record import Together
from coldwright.faults.registry import FAULTS, effect_named
from coldwright.units import Dimension as D
from coldwright.units import System, show
from coldwright.words.wording import plain as plain

FAULTY_FROM, SOUND_TO = 0.8, 0.2  # probability of a fault in the sealed circuit; ours


def fault(faults: str | Together) -> str:
    """A fault in the words the reasons use, or two at once as both.

    Parameters
    ----------
    faults : str or Together
        One fault or two at once.

    Returns
    -------
    str
        Words.
    """
    return fault_words(faults)


def severity(identifier: str, interval: SeverityInterval) -> str:
    """How bad, such as 'about 45 % of the charge left (30 to 60 %)'.

    Parameters
    ----------
    identifier : str
        Of the fault.
    interval : SeverityInterval
        10, 50 and 90 % points, in the fault's unit.

    Returns
    -------
    str
        One phrase.
    """
    if interval.unit == "mol":
        low, middle, high = (
            f"{grams_of_air(value):.1f}" for value in (interval.low, interval.median, interval.high)
        )
        return f"about {middle} g of air ({low} to {high} g; {interval.median:.3f} mol)"
    scale, unit = (100.0, "%") if interval.unit == "fraction" else (1.0, interval.unit)
    ends = (interval.low, interval.median, interval.high)
    low, middle, high = (f"{scale * value:.0f}" for value in ends)
    what = FAULTS[identifier].words.left if unit == "%" else "more than normal"
    text = f"about {middle} {unit} {what}"
    return text if low == high else f"{text} ({low} to {high} {unit})"


def simulated_severity(name: str, value: float, system: System) -> str:
    """A severity as it was asked of a simulation, such as '60 %', '30 W' or '0.01 mol'.

    Parameters
    ----------
    name : str
        Fault or way of one.
    value : float
        Its severity. [SI]
    system : System
        Units to tell it in.

    Returns
    -------
    str
        Value with unit.
    """
    unit = effect_named(name).unit
    if unit == "mol":
        return f"{value:g} mol ({grams_of_air(value):.2g} g of air)"
    if unit == "K":
        return show(value, D.TEMPERATURE_DIFFERENCE, system)
    if name.startswith("wrong_fill:"):
        return f"{value:g} times the right one"
    return show(value, D.POWER if unit == "W" else D.FRACTION, system)


def severities(odds: FaultOdds) -> list[str]:
    """How bad each of the faults is, those that have a severity.

    Parameters
    ----------
    odds : FaultOdds
        Hypothesis with its severities.

    Returns
    -------
    list of str
        One phrase for each fault that has a severity.
    """
    names = odds.faults
    both = zip(names, (odds.severity, odds.second), strict=False)
    told = [(name, interval) for name, interval in both if interval is not None]
    if len(names) == 1:
        return [severity(name, interval) for name, interval in told]
    return [f"{fault(name)}: {severity(name, interval)}" for name, interval in told]


def sealed(probability: float) -> str:
    """Whether the sealed circuit is at fault: yes, no or undecided.

    Parameters
    ----------
    probability : float
        That it is. [-]

    Returns
    -------
    str
        'yes', 'no' or 'undecided'.
    """
    if probability >= FAULTY_FROM:
        return "yes"
    return "no" if probability <= SOUND_TO else "undecided"

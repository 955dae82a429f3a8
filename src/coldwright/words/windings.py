"""What the pins and parts of a compressor say: dangers first."""

from __future__ import annotations

import math

from coldwright.diagnosis.windings_answer import WindingsAnswer
from coldwright.electrical.pins import Pins
from coldwright.units import Dimension as D
from coldwright.units import System, show
from coldwright.words.report import (
    Caution,
    Fact,
    Facts,
    Heading,
    Part,
    Points,
    Section,
    Step,
    Text,
    section,
)
from coldwright.words.wording import capital, percent, plain


def windings(answer: WindingsAnswer, system: System = System.SI) -> tuple[Section, ...]:
    """The whole answer.

    Parameters
    ----------
    answer : WindingsAnswer
        What came of it.
    system : System
        Units for a temperature.

    Returns
    -------
    tuple of Section
        Sections in the order of reading.
    """
    pins: list[Part] = []
    for one in answer.namings:
        title, facts = naming(one, len(answer.namings) > 1)
        pins += [Heading(title), *((Facts(facts),) if facts else ())]
    steps = []
    for number, check in enumerate(answer.next_checks, 1):
        further = tuple(c for c in check.cautions if c not in answer.cautions)
        steps.append(Step(
            number, capital(plain(check.check)), f"{check.minutes:.0f} min",
            (Caution("", further),) if further else (), (check.how,),
        ))  # fmt: skip
    return (
        *section("Caution", Caution("", answer.cautions)),
        *section("Pins", *pins),
        *section("Numbers", Facts(numbers(answer, system))),
        *section("Parts", Points(tuple(f"{f.name}: {f.value}" for f in findings(answer)))),
        *section("If it does not run", Text(which(answer))),
        *section("Notes", Points(answer.notes)),
        *section("Read next", *steps),
    )


def findings(answer: WindingsAnswer) -> tuple[Fact, ...]:
    """What each part's reading says, and how sure that is.

    Parameters
    ----------
    answer : WindingsAnswer
        What the use case found.

    Returns
    -------
    tuple of Fact
        One fact for each part.
    """
    return tuple(
        Fact(capital(f.name), f"{f.sentence} ({percent(f.probability)})") for f in answer.findings
    )


def which(answer: WindingsAnswer) -> str:
    """Which part it is, given that the compressor does not run.

    Parameters
    ----------
    answer : WindingsAnswer
        What the use case found.

    Returns
    -------
    str
        One sentence.
    """
    told = ", ".join(f"{plain(k.which)} {percent(k.probability)}" for k in answer.which)
    return f"{capital(told)}."


def naming(pins: Pins, several: bool) -> tuple[str, tuple[Fact, ...]]:
    """Which pin is which, and what that makes of the three resistances.

    Parameters
    ----------
    pins : Pins
        One way of naming them.
    several : bool
        Whether there are others, so that its odds are told.

    Returns
    -------
    tuple
        Title and facts.
    """
    if not pins.common:
        return f"{capital(pins.pattern.value)}.", ()
    odds = f" ({percent(pins.probability)})" if several else ""
    rows = (
        ("Run", pins.run_ohm, "run"),
        ("Start", pins.start_ohm, "start"),
        ("Run to start", pins.run_to_start_ohm, "run_to_start"),
    )
    facts = tuple(
        Fact(name, show(ohm, D.RESISTANCE) + (", computed" if pins.computed == part else ""))
        for name, ohm, part in rows
        if not math.isnan(ohm)
    )
    title = f"Common is pin {pins.common}, run is pin {pins.run}, start is pin {pins.start}{odds}."
    return title, facts


def numbers(answer: WindingsAnswer, system: System = System.SI) -> tuple[Fact, ...]:
    """What was worked out of the readings.

    Parameters
    ----------
    answer : WindingsAnswer
        What came of them.
    system : System
        Units for a temperature.

    Returns
    -------
    tuple of Fact
        Facts with units; what is not known is left out.
    """
    rows = (
        ("Run winding at 20 °C", answer.run_at_20c_ohm, D.RESISTANCE),
        ("Start winding at 20 °C", answer.start_at_20c_ohm, D.RESISTANCE),
        ("Winding, mean", answer.mean_winding_temperature_k, D.TEMPERATURE),
        ("Starting current is under", answer.most_starting_a, D.CURRENT),
        ("Share of the plate current", answer.running_to_plate_fraction, D.FRACTION),
    )
    return tuple(Fact(name, show(v, dim, system)) for name, v, dim in rows if math.isfinite(v))

"""Mend or replace, for the owner: without words of the trade."""

from __future__ import annotations

from collections.abc import Mapping

from coldwright.faults.record import Together
from coldwright.faults.registry import FAULTS
from coldwright.readings.mending import LABELS, WRITTEN
from coldwright.repair.alternative_records import Alternative, Ending
from coldwright.words.comparison import answer, choices, kilograms
from coldwright.words.mending import money, short
from coldwright.words.report import Bar, Blanks, Fact, Points, Section, Text, Way, section
from coldwright.words.wording import NBSP, percent
from coldwright.worth.choice import BYPASS
from coldwright.worth.flips import Flip
from coldwright.worth.report import Considered, RepairReport

TITLES: Mapping[str, str] = {
    "mend_tube": "Mend the leaking tube",
    "bypass_frame_loop": "Mend it by leaving out the leaking tube in the door frame",
    "new_evaporator": "Put in a new cold plate",
    "mend_evaporator": "Mend the hole in the cold plate",
    "renew_capillary": "Renew the blocked fine tube and its filter",
    "new_compressor": "Put in a new motor and pump",
    "start_device": "Mend the part that starts the motor",
    "clean_condenser": "Clean the warm coil, give it air",
    "defrost_and_fan": "Thaw it and mend what let it ice up",
    "seal_and_heater": "Mend the door seal, hinge or heater",
    "mend_control": "Mend its thermostat or control",
    "charge_anew": "Empty it and fill it anew",
    "do_nothing": "Leave it as it is",
    "replace": "Buy a new one",
    "scrap": "Give it up, without a new one",
}
CAUSES: Mapping[str, str] = {
    **{name: fault.words.owner for name, fault in FAULTS.items()},
    "leak_reachable": "it leaks at a tube that can be reached",
    "leak_evaporator": "it leaks in the cold plate",
    "leak_frame_loop": "it leaks in a tube inside the door frame",
    "leak_buried": "it leaks inside the insulation, out of reach",
    "starting": "the part that starts its motor, or the supply to it, has failed",
    "motor": "its motor or pump is dead",
    "weak_compressor": "its pump is worn",
    "unnamed": "it is something else",
}
# by the flip's quantity: what is said below and above
_IF: Mapping[str, tuple[str, str]] = {
    "age of the appliance": ("If it were younger than", "If it were older than"),
    "price of electricity": ("If electricity cost less than", "If electricity cost more than"),
    "price of a new appliance": ("If a new one cost less than", "If a new one cost more than"),
    "hourly rate": ("If an hour of work cost less than", "If an hour of work cost more than"),
    "probability of the leading cause": (
        "If we were less sure of the fault than", "If we were surer of the fault than",
    ),
}  # fmt: skip


def owner(r: RepairReport) -> tuple[Section, ...]:
    """What the owner is told, without trade words.

    Parameters
    ----------
    r : RepairReport
        What came of it.

    Returns
    -------
    tuple of Section
        Sections in the order of reading.
    """
    first = r.causes[0]
    found = f"Most likely {cause(first.names)} ({percent(first.probability)} sure)."
    return (
        *section("What was found", Text(found)),
        *section("What it comes to", Text(_answer(r), "strong"), Points(_why(r)), Text(_frame(r))),
        *section(
            f"Your choices, over {r.world.horizon_years:.0f} years",
            Text(
                "All that is paid in those years, put in today's money: work, parts, electricity, "
                "and a new appliance when the old one ends; a new one counts by the years it is "
                "used.", "quiet",
            ),
            *choices(r, _choice),
        ),
        *section(
            "What would change the answer",
            Points(tuple(line for f in r.flips for line in flip_lines(f, r))),
        ),
        *section(
            "What stands behind it", Points(_assumed(r), "quiet"),
            Blanks(("Chosen", "Date and name")),
        ),
    )  # fmt: skip


def _answer(r: RepairReport) -> str:
    if r.verdict.best is None:
        return answer(r)
    best = r.of(r.verdict.best)
    chance = best.worth.cheapest_probability or 0.0
    return (
        f"Costs least on the whole: {title(best.alternative).lower()}. "
        f"In {100.0 * chance:.0f} of 100 cases it turns out cheapest."
    )


def _choice(c: Considered, r: RepairReport, _: Bar | None) -> Way:
    a, w, m = c.alternative, c.worth, c.worth.money
    kept, now = a.ending is Ending.KEPT, w.labour_now + w.parts_now
    rows = (
        ("To pay now, about", money(now, r) if now > 0.0 and m is not None else ""),
        ("In all, 8 times in 10",
         "" if m is None else f"{money(m.low, r)} to {money(m.high, r)}"),
        ("Works afterwards, our judgement", percent(w.success_probability) if kept else ""),
        ("Fails again, each year", percent(a.comeback_per_year) if kept else ""),
        ("For the climate, CO₂", kilograms(w.co2e_kg.mean)),
    )  # fmt: skip
    return Way(
        title(a), "" if m is None else money(m.mean, r), (a.says,),
        facts=tuple(Fact(name, value) for name, value in rows if value),
        best=a.identifier == r.verdict.best,
    )  # fmt: skip


def _frame(r: RepairReport) -> str:
    if r.dew is None or r.verdict.best != BYPASS:
        return ""
    wet = [row.label for row in r.dew.rows if row.sweats]
    from_humidity = [row.sweats_from_fraction for row in r.dew.rows if row.sweats_from_fraction]
    if r.dew.share_fraction is None:
        return (
            "The door frame loses its warmth. Whether it sweats in damp weather has not been "
            "worked out; wipe it dry, or ask for a small heater."
        )
    if wet:
        return f"The door frame may sweat: {', '.join(wet)}. A small heater is counted with it."
    least = f", until the room's air is damper than {percent(min(from_humidity))}" if (
        from_humidity) else ""  # fmt: skip
    return f"The door frame stays dry{least}."


def _why(r: RepairReport) -> tuple[str, ...]:
    lines = []
    y = r.yardstick
    if y.old_model_kwh == y.old_model_kwh:
        lines.append(
            f"Yours would use about {y.old_model_kwh:.0f}{NBSP}kWh of electricity a year as it "
            f"left the factory, more by now with age; a new one like it about "
            f"{y.new_kwh:.0f}{NBSP}kWh."
        )
    kept = [c for c in r.considered if c.worth.ranked and c.alternative.ending is Ending.KEPT]
    for c in kept[:1]:
        lines.append(
            f"Mended, it would on average serve {c.worth.years_kept:.0f} of the next "
            f"{r.world.horizon_years:.0f} years; then a new one is counted."
        )
    name = r.verdict.least_co2e
    least = title(r.of(name).alternative)
    return (*lines, f"Least for the climate: {least[0].lower()}{least[1:]}.")


def _assumed(r: RepairReport) -> tuple[str, ...]:
    life = r.life_left
    return (
        f"It is {r.world.age_years:.0f} years old. In good order such a one lasts about "
        f"{life.median:.0f} more years ({life.low:.0f} to {life.high:.0f}), by published figures.",
        f"Money that is paid later counts {100.0 * r.world.rate:.0f}{NBSP}% less for each year.",
        "How often such a repair works, and fails again, is our judgement, not measured.",
        *(f"Not given: {LABELS[WRITTEN[name]]}. Then: {effect}." for name, effect in r.missing),
    )


def title(alternative: Alternative) -> str:
    """An alternative as the owner reads it.

    Parameters
    ----------
    alternative : Alternative
        Which one.

    Returns
    -------
    str
        Words.
    """
    first, *more = (TITLES.get(one, alternative.title) for one in alternative.parts)
    return ", and: ".join((first, *(name[:1].lower() + name[1:] for name in more)))


def cause(names: Together) -> str:
    """A cause as the owner reads it, or two at once as both.

    Parameters
    ----------
    names : Together
        One cause or two at once.

    Returns
    -------
    str
        Words.
    """
    return " and ".join(CAUSES.get(one, one.replace("_", " ")) for one in names)


def flip_lines(f: Flip, report: RepairReport) -> tuple[str, ...]:
    """One sentence for each end at which the answer changes.

    Parameters
    ----------
    f : Flip
        Lever and values at which the answer changes.
    report : RepairReport
        The report.

    Returns
    -------
    tuple of str
        Sentences.
    """
    below, above = _IF.get(f.quantity, (f"{f.quantity} below", f"{f.quantity} above"))
    ends = ((below, f.below, f.below_to), (above, f.above, f.above_to))
    return tuple(
        f"{start} {_amount(f, value, report)}: {_named(to, report)} would cost least."
        for start, value, to in ends
        if value is not None and to is not None
    )


def _named(alternative: str, report: RepairReport) -> str:
    said = title(report.of(alternative).alternative)
    return f"“{said[0].lower()}{said[1:]}”"


def _amount(f: Flip, value: float, report: RepairReport) -> str:
    if f.unit == "fraction":
        return f"{100.0 * value:.0f}{NBSP}%"
    if f.unit == "year":
        return f"{value:.0f}{NBSP}years"
    # A price of electricity needs its decimals, the others none.
    if value < 10.0:
        per = f" {f.unit}" if f.unit else ""
        return f"{short(value)}{NBSP}{report.shop.currency}".rstrip(NBSP) + per
    return money(value, report)

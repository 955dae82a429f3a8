"""Mend or replace, for the technician: what it comes to, what it does, what turns the answer."""

from __future__ import annotations

from collections.abc import Callable

from coldwright.readings.mending import LABELS, WRITTEN
from coldwright.repair.alternative_records import Ending
from coldwright.repair.causes import label_of
from coldwright.repair.simulated import AtRoom, Band, Simulated
from coldwright.units import Dimension as D
from coldwright.units import System, show
from coldwright.words.mending import band, flip, money, refrigerant_lines
from coldwright.words.report import (
    Bar,
    Fact,
    Facts,
    Heading,
    Points,
    Section,
    Text,
    Way,
    section,
)
from coldwright.words.wording import NBSP, capital, percent
from coldwright.worth.report import Considered, RepairReport

CAUSES = 3
SOUND = 0.95  # of the members that hold their settings, from which nothing is said


def comparison(r: RepairReport, system: System = System.SI) -> tuple[Section, ...]:
    """The alternatives side by side.

    Parameters
    ----------
    r : RepairReport
        What came of it.
    system : System
        Units.

    Returns
    -------
    tuple of Section
        Sections in the order of reading.
    """
    others = (
        *(f"{c.alternative.title}: {_why_not(c)}" for c in r.considered if not c.worth.ranked),
        *(f"{n.title}: {n.why}" for n in r.not_offered),
    )
    least = r.of(r.verdict.least_co2e).alternative.title
    life = r.life_left
    return (
        *section(
            f"Worth it? Over {r.world.horizon_years:.0f} years",
            Text(answer(r), "strong"),
            Text(f"{'; '.join(_causes(r))}.", "quiet"),
            *choices(r, _technician),
            Text(
                f"Least CO₂e: {least}. In good order it would last {life.median:.0f} more years "
                f"({life.low:.0f} to {life.high:.0f}), by published lives.", "quiet",
            ),
        ),
        *section("Where the answer changes", Points(tuple(flip(f, r) for f in r.flips))),
        *_afterwards(r, system),
        *frame(r, system),
        *section("Prices not given", Points(tuple(
            f"{capital(LABELS[WRITTEN[n]])}: {effect}" for n, effect in r.missing
        ))),
        *section(
            "Another refrigerant, and what is not possible here",
            Points((*refrigerant_lines(r.parts.refrigerants), *others)), folded=True,
        ),
        *section("Notes", Points((*r.notes, *_energy_notes(r)), "quiet")),
    )  # fmt: skip


def answer(r: RepairReport) -> str:
    """What costs least, or why no money is compared.

    Parameters
    ----------
    r : RepairReport
        The report.

    Returns
    -------
    str
        One sentence.
    """
    if r.verdict.best is None:
        missing = ", ".join(LABELS[name] for name in r.verdict.missing)
        return f"No money can be compared: {missing} not given."
    best = r.of(r.verdict.best)
    chance = best.worth.cheapest_probability or 0.0
    return (
        f"Least expected cost: {best.alternative.title} (cheapest in {percent(chance)} of cases)."
    )


def choices(
    r: RepairReport, of: Callable[[Considered, RepairReport, Bar | None], Way]
) -> tuple[Way, ...]:
    """One choice for each alternative that is ranked, bars on one scale.

    Parameters
    ----------
    r : RepairReport
        What came of it.
    of : callable
        Words one alternative for its reader.

    Returns
    -------
    tuple of Way
        In the order of the ranking.
    """
    ranked = [c for c in r.considered if c.worth.ranked]
    most = max((c.worth.money.high for c in ranked if c.worth.money is not None), default=1.0)
    found = []
    for c in ranked:
        m = c.worth.money
        ends = None if m is None else Bar(*(100.0 * v / most for v in (m.low, m.high, m.mean)))
        found.append(of(c, r, ends))
    return tuple(found)


def _technician(c: Considered, r: RepairReport, ends: Bar | None) -> Way:
    a, w, m = c.alternative, c.worth, c.worth.money
    years, now = f"{r.world.horizon_years:.0f}", w.labour_now + w.parts_now
    told = []
    if m is not None:
        told.append(
            f"Over {years} years, 8 times in 10: {money(m.low, r)} to {money(m.high, r)}."
        )  # fmt: skip
        told += [f"Now: {money(now, r)}."] if now > 0.0 else []
    if a.ending is Ending.KEPT:
        told.append(f"Works: {percent(w.success_probability)}.")
        told.append(f"Fails again in {percent(a.comeback_per_year)} of years.")
        told.append(f"Serves {w.years_kept:.0f} of the {years} years.")
    if w.cheapest_probability is not None:
        told.append(f"Cheapest in {percent(w.cheapest_probability)}.")
    if a.ending is Ending.KEPT:
        told.append(f"{a.minutes / 60.0:.1f}{NBSP}h at work.")
    told.append(f"{kilograms(w.co2e_kg.mean)} CO₂e.")
    return Way(
        a.title, "" if m is None else money(m.mean, r), (a.says,), tuple(told), bar=ends,
        best=a.identifier == r.verdict.best, key=a.identifier if a.steps else "",
    )  # fmt: skip


def kilograms(mass_kg: float) -> str:
    """A mass of CO₂ equivalents.

    Parameters
    ----------
    mass_kg : float
        The mass. [kg]

    Returns
    -------
    str
        Such as '1 200 kg'.
    """
    return f"{mass_kg:,.0f}".replace(",", NBSP) + f"{NBSP}kg"


def _causes(r: RepairReport) -> list[str]:
    return [f"{capital(label_of(c.names))}: {percent(c.probability)}"
            for c in r.causes[:CAUSES]]  # fmt: skip


def _why_not(c: Considered) -> str:
    if c.alternative.ending is Ending.SCRAPPED:
        return "not ranked: there is no refrigerator afterwards"
    return f"works in {percent(c.worth.success_probability)} only"


def _afterwards(r: RepairReport, system: System) -> tuple[Section, ...]:
    shown: dict[str, Simulated] = {}
    for c in r.considered:
        if c.simulated is not None and (c.worth.ranked or c.alternative.identifier == r.chosen):
            shown.setdefault(c.simulated.label, c.simulated)
    found: list[Heading | Facts] = []
    for s in shown.values():
        rooms = (*_room(s.mild, system), *_room(s.hot, system))
        found += [
            Heading(capital(s.label)),
            Facts((
                Fact("Charge", band(s.charge_kg, D.MASS, system)), *rooms,
                Fact("Energy a year", _energy(s)),
            )),
        ]  # fmt: skip
    return section("The circuit afterwards", *found)


def _energy(s: Simulated) -> str:
    spread = Band.of(s.energy_kwh_year)
    return f"{s.energy_kwh_year.mean():.0f}{NBSP}kWh ({spread.low:.0f} to {spread.high:.0f})"


def _room(at: AtRoom, system: System) -> tuple[Fact, ...]:
    room = show(at.room_k, D.TEMPERATURE, system).replace(".0 ", NBSP)
    f = at.run_fraction
    run = f"{100.0 * f.median:.0f}{NBSP}% of the time ({100.0 * f.low:.0f} to {100.0 * f.high:.0f})"
    if at.holds_fraction <= SOUND:
        run += f"; keeps its settings in {percent(at.holds_fraction)} of cases"
    return (
        Fact(f"At {room}, runs", run),
        Fact(f"At {room}, condensing", band(at.condensing_pressure_pa, D.PRESSURE, system)),
        Fact(f"At {room}, discharge line", band(at.discharge_k, D.TEMPERATURE, system)),
    )


def frame(r: RepairReport, system: System = System.SI) -> tuple[Section, ...]:
    """The door frame against the dew point, one line for each month or humidity.

    Parameters
    ----------
    r : RepairReport
        What came of it.
    system : System
        Units.

    Returns
    -------
    tuple of Section
        One section or none.
    """
    dew = r.dew
    if dew is None:
        return ()
    lines = []
    for row in dew.rows:
        point = show(row.dew_point_k, D.TEMPERATURE, system)
        if row.frame_k is None:
            lines.append(f"{row.label}: dry while the frame is above {point}")
            continue
        low, high = row.frame_low_k or row.frame_k, row.frame_high_k or row.frame_k
        held = band(Band(low, row.frame_k, high), D.TEMPERATURE, system)
        wet = ""
        if row.sweats_from_fraction is not None:
            wet = f"; wet from {percent(row.sweats_from_fraction)} humidity"
        word = "sweats" if row.sweats else "dry"
        lines.append(f"{row.label}: {word}. Frame {held}, dew point {point}{wet}")
    if dew.heater_w is not None and dew.heater_w > 0.0:
        energy, price = dew.heater_kwh_year, r.world.prices.electricity_per_kwh
        year = "" if energy is None else f": {energy:.0f}{NBSP}kWh a year"
        if energy is not None and price is not None:
            year += f", {money(price * energy, r)} a year"
        lines.append(f"A frame heater of {dew.heater_w:.0f}{NBSP}W keeps it dry{year}")
    return section(
        "Door frame against the dew point", Text(f"{capital(dew.known_from)}."),
        Points(tuple(lines)),
    )  # fmt: skip


def _energy_notes(r: RepairReport) -> tuple[str, ...]:
    y = r.yardstick
    old = "not modelled"
    if y.old_model_kwh == y.old_model_kwh:
        old = f"{y.old_model_kwh:.0f} kWh a year by the model"
    return (
        f"Energy, this appliance mended: {old}; {y.old_rule_kwh:.0f} kWh: {y.old_rule}.",
        f"Energy, a new one: {y.new_kwh:.0f} kWh a year ({y.new_from}); "
        f"{y.new_rule_kwh:.0f} kWh: {y.new_rule}.",
    )

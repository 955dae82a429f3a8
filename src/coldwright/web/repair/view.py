"""A repair report as the job's page and the owner's page show it."""

from __future__ import annotations

from coldwright.readings.mending import LABELS, WRITTEN
from coldwright.repair.alternative_records import Ending
from coldwright.repair.causes import label_of
from coldwright.repair.simulated import AtRoom, Band, Simulated
from coldwright.units import Dimension as D
from coldwright.units import show
from coldwright.web.repair.context import After, Choice, OwnerPage, RepairPage, RepairPart
from coldwright.words.mending import refrigerant_lines
from coldwright.words.owner import cause, flip_lines, title
from coldwright.words.repair import band, flip, money
from coldwright.words.report import Fact
from coldwright.words.wording import NBSP, capital, percent
from coldwright.worth.report import Considered, RepairReport

CAUSES = 3
SOUND = 0.95  # of the members that hold their settings, from which nothing is said


def repair_page(report: RepairReport, job_url: str, summary: str) -> RepairPage:
    """The whole page, for a browser without script."""
    return RepairPage(report.title, summary, repair_part(report, job_url))


def repair_part(report: RepairReport, job_url: str) -> RepairPart:
    """The alternatives side by side.

    Parameters
    ----------
    report : RepairReport
        What came of it.
    job_url : str
        Address of the job's page.
    """
    dew = report.dew
    return RepairPart(
        job_url=job_url,
        answer=_answer(report),
        causes=tuple(
            f"{capital(label_of(c.names))}: {percent(c.probability)}"
            for c in report.causes[:CAUSES]
        ),
        years=f"{report.world.horizon_years:.0f}",
        choices=_choices(report, job_url),
        others=tuple(
            [f"{c.alternative.title}: {_why_not(c)}" for c in report.considered
             if not c.worth.ranked]
            + [f"{n.title}: {n.why}" for n in report.not_offered]
        ),
        flips=tuple(flip(f, report) for f in report.flips),
        after=_after(report),
        frame_from=capital(dew.known_from) + "." if dew is not None else "",
        frame=frame_lines(report),
        refrigerants=refrigerant_lines(report.parts.refrigerants),
        missing=tuple(f"{capital(LABELS[WRITTEN[n]])}: {effect}" for n, effect in report.missing),
        notes=report.notes,
    )  # fmt: skip


def owner_page(report: RepairReport, job_url: str) -> OwnerPage:
    """What the owner is told, without trade words.

    Parameters
    ----------
    report : RepairReport
        What came of it.
    job_url : str
        Address of the job's page.
    """
    first = report.causes[0]
    return OwnerPage(
        title=report.title,
        shop=report.shop.name,
        job_url=job_url,
        found=f"Most likely {cause(first.names)} ({percent(first.probability)} sure).",
        answer=_answer_for_owner(report),
        why=_why(report),
        years=f"{report.world.horizon_years:.0f}",
        choices=_choices(report, job_url, owner=True),
        flips=tuple(line for f in report.flips for line in flip_lines(f, report)),
        frame=_frame_for_owner(report),
        assumed=_assumed(report),
    )


def _answer(report: RepairReport) -> str:
    if report.verdict.best is None:
        missing = ", ".join(LABELS[name] for name in report.verdict.missing)
        return f"No money can be compared: {missing} not given."
    best = report.of(report.verdict.best)
    chance = best.worth.cheapest_probability or 0.0
    return (
        f"Least expected cost: {best.alternative.title} (cheapest in {percent(chance)} of cases)."
    )


def _answer_for_owner(report: RepairReport) -> str:
    if report.verdict.best is None:
        return _answer(report)
    best = report.of(report.verdict.best)
    chance = best.worth.cheapest_probability or 0.0
    return (
        f"Costs least on the whole: {title(best.alternative).lower()}. "
        f"In {100.0 * chance:.0f} of 100 cases it turns out cheapest."
    )


def _choices(report: RepairReport, job_url: str, owner: bool = False) -> tuple[Choice, ...]:
    ranked = [c for c in report.considered if c.worth.ranked]
    most = max((c.worth.money.high for c in ranked if c.worth.money is not None), default=1.0)
    return tuple(_choice(c, report, job_url, most, owner) for c in ranked)


def _choice(c: Considered, report: RepairReport, job_url: str, most: float, owner: bool) -> Choice:
    a, w = c.alternative, c.worth
    m = w.money
    hours = a.minutes / 60.0
    kept, now = a.ending is Ending.KEPT, w.labour_now + w.parts_now
    return Choice(
        name=title(a) if owner else a.title,
        says=a.says,
        money="" if m is None else money(m.mean, report),
        spread="" if m is None else f"{money(m.low, report)} to {money(m.high, report)}",
        now=money(now, report) if now > 0.0 and m is not None else "",
        works=percent(w.success_probability) if kept else "",
        again=percent(a.comeback_per_year) if kept else "",
        cheapest="" if w.cheapest_probability is None else percent(w.cheapest_probability),
        work=f"{hours:.1f}{NBSP}h" if kept else "",
        co2e=f"{w.co2e_kg.mean:,.0f}".replace(",", NBSP) + f"{NBSP}kg",
        bar_from="" if m is None else f"{100.0 * m.low / most:.1f}",
        bar_width="" if m is None else f"{100.0 * (m.high - m.low) / most:.1f}",
        bar_mark="" if m is None else f"{100.0 * m.mean / most:.1f}",
        best=a.identifier == report.verdict.best,
        bench_url=f"{job_url}/bench?alternative={a.identifier}" if a.steps else "",
    )


def _why_not(c: Considered) -> str:
    if c.alternative.ending is Ending.SCRAPPED:
        return "not ranked: there is no refrigerator afterwards"
    return f"works in {percent(c.worth.success_probability)} only"


def _after(report: RepairReport) -> tuple[After, ...]:
    shown: dict[str, Simulated] = {}
    for c in report.considered:
        if c.simulated is not None and c.worth.ranked:
            shown.setdefault(c.simulated.label, c.simulated)
    return tuple(
        After(
            capital(s.label),
            (
                Fact("Charge", band(s.charge_kg, D.MASS)),
                *_room(s.mild),
                *_room(s.hot),
                Fact("Energy a year", _energy(s)),
            ),
        )
        for s in shown.values()
    )


def _energy(s: Simulated) -> str:
    spread = Band.of(s.energy_kwh_year)
    ends = f"{spread.low:.0f} to {spread.high:.0f}"
    return f"{s.energy_kwh_year.mean():.0f}{NBSP}kWh ({ends})"


def _room(at: AtRoom) -> tuple[Fact, ...]:
    room = show(at.room_k, D.TEMPERATURE).replace(".0 ", NBSP)
    holds = (
        ""
        if at.holds_fraction > SOUND
        else f"; keeps its settings in {percent(at.holds_fraction)} of cases"
    )
    f = at.run_fraction
    run = f"{100.0 * f.median:.0f}{NBSP}% of the time ({100.0 * f.low:.0f} to {100.0 * f.high:.0f})"
    run += holds
    return (
        Fact(f"In a room of {room}, runs", run),
        Fact(f"At {room}, condensing", band(at.condensing_pressure_pa, D.PRESSURE)),
        Fact(f"At {room}, discharge line", band(at.discharge_k, D.TEMPERATURE)),
    )


def frame_lines(report: RepairReport) -> tuple[str, ...]:
    """The door frame against the dew point, one line for each month or humidity."""
    if report.dew is None:
        return ()
    lines = []
    for row in report.dew.rows:
        point = show(row.dew_point_k, D.TEMPERATURE)
        if row.frame_k is None:
            lines.append(f"{row.label}: dry while the frame is above {point}")
        else:
            word = "sweats" if row.sweats else "dry"
            low, high = row.frame_low_k or row.frame_k, row.frame_high_k or row.frame_k
            frame = band(Band(low, row.frame_k, high), D.TEMPERATURE)
            wet = ""
            if row.sweats_from_fraction is not None:
                wet = f"; wet from {percent(row.sweats_from_fraction)} humidity"
            lines.append(f"{row.label}: {word}. Frame {frame}, dew point {point}{wet}")
    energy, price = report.dew.heater_kwh_year, report.world.prices.electricity_per_kwh
    if report.dew.heater_w is not None and report.dew.heater_w > 0.0:
        year = "" if energy is None else f": {energy:.0f}{NBSP}kWh a year"
        if energy is not None and price is not None:
            year += f", {money(price * energy, report)} a year"
        lines.append(f"A frame heater of {report.dew.heater_w:.0f}{NBSP}W keeps it dry{year}")
    return tuple(lines)


def _frame_for_owner(report: RepairReport) -> str:
    if report.dew is None or report.verdict.best != "bypass_frame_loop":
        return ""
    wet = [row.label for row in report.dew.rows if row.sweats]
    from_humidity = [r.sweats_from_fraction for r in report.dew.rows if r.sweats_from_fraction]
    if report.dew.share_fraction is None:
        return (
            "The door frame loses its warmth. Whether it sweats in damp weather has not been "
            "worked out; wipe it dry, or ask for a small heater."
        )
    if wet:
        return f"The door frame may sweat: {', '.join(wet)}. A small heater is counted with it."
    least = f", until the room's air is damper than {percent(min(from_humidity))}"
    return f"The door frame stays dry{least if from_humidity else ''}."


def _why(report: RepairReport) -> tuple[str, ...]:
    lines = []
    y = report.yardstick
    if y.old_model_kwh == y.old_model_kwh:
        lines.append(
            f"Yours would use about {y.old_model_kwh:.0f}{NBSP}kWh of electricity a year as it "
            f"left the factory, more by now with age; a new one like it about "
            f"{y.new_kwh:.0f}{NBSP}kWh."
        )
    kept = [c for c in report.considered
            if c.worth.ranked and c.alternative.ending is Ending.KEPT]  # fmt: skip
    for c in kept[:1]:
        lines.append(
            f"Mended, it would on average serve {c.worth.years_kept:.0f} of the next "
            f"{report.world.horizon_years:.0f} years; then a new one is counted."
        )
    name = report.verdict.least_co2e
    least = title(report.of(name).alternative)
    lines.append(f"Least for the climate: {least[0].lower()}{least[1:]}.")
    return tuple(lines)


def _assumed(report: RepairReport) -> tuple[str, ...]:
    w = report.world
    life = report.life_left
    age = (
        f"It is {w.age_years:.0f} years old. In good order such a one lasts about "
        f"{life.median:.0f} more years ({life.low:.0f} to {life.high:.0f}), by published figures."
    )
    rate = f"Money that is paid later counts {100.0 * w.rate:.0f}{NBSP}% less for each year."
    odds = "How often such a repair works, and fails again, is our judgement, not measured."
    return (age, rate, odds, *(f"Not given: {LABELS[WRITTEN[name]]}. Then: {effect}."
                               for name, effect in report.missing))  # fmt: skip

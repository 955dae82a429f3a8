"""A repair report as short text: what it comes to, what it does, what to do, in that order."""

from __future__ import annotations

from collections.abc import Sequence

from coldwright.cli.joint_text import barred_lines, joint_lines
from coldwright.cli.text import capital, items, percent, table, wrapped
from coldwright.readings.mending import LABELS, WRITTEN
from coldwright.repair.alternative_records import Ending
from coldwright.repair.causes import label_of
from coldwright.repair.dew import DewRow
from coldwright.repair.simulated import AtRoom, Band, Simulated
from coldwright.repair.step_records import Step
from coldwright.units import Dimension as D
from coldwright.units import System, show
from coldwright.words.mending import (
    old_capillary,
    old_displacement,
    refrigerant_lines,
    spread_words,
)
from coldwright.worth.report import Considered, Parts, RepairReport

CAUSES = 3
CUTS = 2


def report_lines(r: RepairReport, system: System, *, full: bool) -> list[str]:
    """Lines of at most `text.WIDTH` characters.

    Parameters
    ----------
    r : RepairReport
        What came of it.
    system : System
        Units.
    full : bool
        With joints, parts and steps of the sheet.
    """
    lines = [*wrapped(r.title or r.job), *(wrapped(r.job) if r.title else [])]
    lines += _block("WHAT IS WRONG", items(
        f"{capital(label_of(c.names))}: {percent(c.probability)}" for c in r.causes[:CAUSES]
    ))  # fmt: skip
    lines += _block(f"WORTH IT? OVER {r.world.horizon_years:.0f} YEARS", _worth(r))
    lines += _block("THE ANSWER FLIPS", _flips(r))
    lines += _block("THE CIRCUIT AFTERWARDS", _afterwards(r, system))
    if r.dew is not None:
        lines += _block("DOOR FRAME AGAINST DEW POINT", _dew(r, system))
    if full:
        lines += _sheet(r, system)
    lines += _block("NOT POSSIBLE HERE", items(f"{n.title}: {n.why}" for n in r.not_offered))
    lines += _block("PRICES NOT GIVEN", items(
        f"{capital(LABELS[WRITTEN[n]])}: {effect}" for n, effect in r.missing
    ))  # fmt: skip
    lines += _block("NOTES", items((*r.notes, *_energy(r))))
    return lines


def _block(title: str, lines: list[str]) -> list[str]:
    return ["", title, *lines] if lines else []


def _money(value: float, r: RepairReport) -> str:
    return f"{value:.0f} {r.shop.currency}".rstrip()


def _short(value: float) -> str:
    return f"{value:.0f}" if abs(value) >= 1000.0 else f"{value:.3g}"


def _worth(r: RepairReport) -> list[str]:
    lines = []
    for c in r.considered:
        if not c.worth.ranked:
            continue
        lines += wrapped(f"{c.alternative.title}", first="* ")
        lines += wrapped(_worth_words(c, r), first="  ")
    if r.verdict.best is not None:
        best = r.of(r.verdict.best).alternative.title
        lines += ["", *wrapped(f"Least expected cost: {best}.")]
    else:
        lines += [
            "",
            *wrapped(
                "No money compared, not given: "
                + ", ".join(LABELS[name] for name in r.verdict.missing)
                + "."
            ),
        ]
    least = r.of(r.verdict.least_co2e).alternative.title
    lines += wrapped(f"Least CO2e: {least}.")
    life = r.life_left
    return lines + wrapped(
        f"In good order it would last {life.median:.0f} more years ({life.low:.0f} to "
        f"{life.high:.0f}), by published lives."
    )


def _worth_words(c: Considered, r: RepairReport) -> str:
    w = c.worth
    parts = []
    if w.money is not None:
        parts.append(f"{_money(w.money.mean, r)} in all ({w.money.low:.0f} to {w.money.high:.0f})")
    if w.money is not None and w.labour_now + w.parts_now > 0.0:
        parts.append(f"now {_money(w.labour_now + w.parts_now, r)}")
    if w.cheapest_probability is not None:
        parts.append(f"cheapest in {percent(w.cheapest_probability)}")
    if c.alternative.ending is Ending.KEPT:
        parts.append(f"works {percent(w.success_probability)}")
        parts.append(f"{c.alternative.minutes / 60.0:.1f} h work")
        parts.append(f"fails again in {percent(c.alternative.comeback_per_year)} of years")
        parts.append(f"serves {w.years_kept:.0f} of the {r.world.horizon_years:.0f} years")
    parts.append(f"{w.co2e_kg.mean:.0f} kg CO2e")
    return ", ".join(parts) + "."


def _flips(r: RepairReport) -> list[str]:
    lines = []
    for f in r.flips:
        scale, unit = (100.0, "%") if f.unit == "fraction" else (1.0, f.unit)
        unit = "years" if unit == "year" else unit
        ends = [
            f"{word} {_short(scale * value)} {unit} to: {r.of(to).alternative.title}".replace(
                "  ", " "
            )
            for word, value, to in (("below", f.below, f.below_to), ("above", f.above, f.above_to))
            if value is not None and to is not None
        ]
        said = "; ".join(ends) or "nowhere between " + (
            f"{_short(scale * f.searched_low)} and {_short(scale * f.searched_high)} {unit}"
        )
        now = f"{_short(scale * f.now)} {unit}".strip()
        lines += wrapped(f"{capital(f.quantity)} (now {now}): {said}.", first="- ")
    return lines


def _afterwards(r: RepairReport, system: System) -> list[str]:
    shown: dict[str, Simulated] = {}
    for c in r.considered:
        if c.simulated is not None and (c.worth.ranked or c.alternative.identifier == r.chosen):
            shown.setdefault(c.simulated.label, c.simulated)
    lines: list[str] = []
    for s in shown.values():
        lines += wrapped(capital(s.label), first="* ")
        lines += table(
            [
                ("Charge", _band(s.charge_kg, D.MASS, system)),
                *_room_rows(s.mild, system),
                *_room_rows(s.hot, system),
                ("Energy", _energy_band(s)),
            ],
            "  ",
        )
    return lines


def _room_rows(at: AtRoom, system: System) -> list[tuple[str, str]]:
    room = show(at.room_k, D.TEMPERATURE, system).replace(".0 ", " ")
    holds = (
        "" if at.holds_fraction > 0.95
        else f"; keeps its settings in {percent(at.holds_fraction)} of cases"
    )  # fmt: skip
    run = at.run_fraction
    return [
        (f"At {room}", f"runs {100 * run.median:.0f} % of the time ({100 * run.low:.0f} to "
         f"{100 * run.high:.0f} %){holds}"),
        ("  condensing", _band(at.condensing_pressure_pa, D.PRESSURE, system)),
        ("  discharge", _band(at.discharge_k, D.TEMPERATURE, system)),
    ]  # fmt: skip


def _energy_band(s: Simulated) -> str:
    spread = Band.of(s.energy_kwh_year)
    return f"{s.energy_kwh_year.mean():.0f} kWh a year ({spread.low:.0f} to {spread.high:.0f})"


def _band(band: Band, dimension: D, system: System) -> str:
    mid, low, high = (show(v, dimension, system) for v in (band.median, band.low, band.high))
    return spread_words(mid, low, high)


def _dew(r: RepairReport, system: System) -> list[str]:
    dew = r.dew
    assert dew is not None
    lines = wrapped(capital(dew.known_from) + _frame_spread(dew.rows, system) + ".")
    for row in dew.rows:
        point = show(row.dew_point_k, D.TEMPERATURE, system)
        if row.frame_k is None:
            said = f"dry while the frame is above {point}"
        else:
            frame = show(row.frame_k, D.TEMPERATURE, system)
            said = f"{'sweats' if row.sweats else 'dry'}: frame {frame}, dew {point}"
            if row.sweats_from_fraction is not None:
                said += f", wet from {percent(row.sweats_from_fraction)}"
        lines += wrapped(f"{row.label} {said}", first="- ")
    if dew.heater_w is not None and dew.heater_w > 0.0:
        energy = dew.heater_kwh_year
        year = "" if energy is None else f": {energy:.0f} kWh a year{_heater_cost(r, energy)}"
        lines += wrapped(f"A frame heater of {dew.heater_w:.0f} W keeps it dry{year}.")
    return lines


def _frame_spread(rows: Sequence[DewRow], system: System) -> str:
    """How far the frame may be from the middle that the rows show."""
    gaps = [
        (row.frame_k - row.frame_low_k, row.frame_high_k - row.frame_k)
        for row in rows
        if row.frame_k is not None and row.frame_low_k is not None and row.frame_high_k is not None
    ]
    if not gaps or max(map(max, gaps)) <= 0.0:
        return ""
    both = [max(ends) for ends in zip(*gaps, strict=True)]
    down, up = (show(k, D.TEMPERATURE_DIFFERENCE, system) for k in both)
    return f"; its frame may be {down} colder or {up} warmer; last: humidity that wets it"


def _heater_cost(r: RepairReport, energy_kwh: float) -> str:
    price = r.world.prices.electricity_per_kwh
    return "" if price is None else f", {_money(price * energy_kwh, r)}"


def _energy(r: RepairReport) -> tuple[str, ...]:
    y = r.yardstick
    old = f"{y.old_model_kwh:.0f} kWh a year by the model" if y.old_model_kwh == y.old_model_kwh \
        else "not modelled"  # fmt: skip
    return (
        f"Energy, this appliance mended: {old}; {y.old_rule_kwh:.0f} kWh: {y.old_rule}.",
        f"Energy, a new one: {y.new_kwh:.0f} kWh a year ({y.new_from}); "
        f"{y.new_rule_kwh:.0f} kWh: {y.new_rule}.",
    )


def _sheet(r: RepairReport, system: System) -> list[str]:
    a = r.sheet.alternative
    lines = ["", *wrapped(f"SHEET: {a.title} ({r.chosen_why})")]
    for number, step in enumerate(a.steps, 1):
        lines += _step(number, step)
    told: dict[str, int] = {}
    for number, plan in enumerate(a.joints, 1):
        lines += ["", *joint_lines(number, plan, system, told)]
    lines += _block("NEVER HERE", barred_lines(a.joints))
    if r.parts_needed:
        lines += _block("PARTS", _parts(r.parts, system))
    lines += _block("ANOTHER REFRIGERANT", items(refrigerant_lines(r.parts.refrigerants)))
    for number, plan in enumerate(r.joints_asked, 1):
        lines += ["", *wrapped("Asked for:"), *joint_lines(number, plan, system)]
        lines += barred_lines((plan,))
    return lines


def _step(number: int, step: Step) -> list[str]:
    done = "done, " if step.done else ""
    wait = f" + {step.waiting_minutes:.0f} waiting" if step.waiting_minutes else ""
    lines = wrapped(f"{step.title} ({done}{step.minutes:.0f} min{wait})", first=f"{number}. ")
    lines += [line for c in step.cautions for line in wrapped(c, first="   ! ")]
    lines += [line for d in step.do for line in wrapped(d, first="   - ")]
    return lines + (wrapped(f"HOLD: {step.hold}", first="   ") if step.hold else [])


def _parts(parts: Parts, system: System) -> list[str]:
    d = parts.drier
    pore = f"{d.pore_angstrom} Å" if d.pore_angstrom else "not known"
    lines = wrapped(f"Drier: {pore} {d.core}", first="- ")
    if parts.capillary is not None:
        c = parts.capillary
        lines += wrapped(
            f"Capillary: {old_capillary(parts, system)}, nitrogen "
            f"{c.nitrogen.free_litre_per_min:.2f} l/min at 10 bar gauge", first="- ",
        )  # fmt: skip
        usable = [cut for cut in c.cuts if cut.usable][:CUTS]
        for cut in usable:
            lines += wrapped(
                f"in its place {show(cut.bore_m, D.LENGTH, system)} x "
                f"{show(cut.length_m, D.LENGTH, system)}: flow within "
                f"{100 * cut.worst_departure_fraction:.1f} % over the range, nitrogen "
                f"{cut.nitrogen.free_litre_per_min:.2f} l/min", first="  ",
            )  # fmt: skip
        if not usable:
            lines += wrapped("no stock bore takes its place", first="  ")
    if parts.compressor is not None:
        w = parts.compressor
        lines += wrapped(
            f"Compressor: {old_displacement(parts)}, {w.ashrae_w:.0f} W ASHRAE, "
            f"{w.cecomaf_w:.0f} W CECOMAF/EN 12900, {w.torque} starting torque", first="- ",
        )  # fmt: skip
        for o in parts.compressor_stock:
            lines += wrapped(f"{o.name}: {'fits' if o.fits else '; '.join(o.against)}", first="  ")
    return lines

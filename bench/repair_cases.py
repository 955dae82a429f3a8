"""Recipe of the worked cases in docs/repair.md: `python -m bench.repair_cases`.

Runs the invented jobs of `demo_repair` with the invented shop and writes the block
between the two markers of the page anew.
"""

from __future__ import annotations

from pathlib import Path

import coldwright
from coldwright.readings.jobfile import load_job
from coldwright.readings.shop import load_shop
from coldwright.repair.causes import label_of
from coldwright.usecases.repair import repair
from coldwright.words.repair import flip
from coldwright.worth.report import RepairReport

FOLDER = Path(coldwright.__file__).parent / "demo_repair"
PAGE = Path(__file__).parents[1] / "docs" / "repair.md"
START, END = "<!-- cases: start -->", "<!-- cases: end -->"
CASES = (
    ("frame-loop", "The door-frame loop leaks: by-passed, the appliance is saved"),
    ("pierced-plate", "A young aluminium evaporator, pierced: scrapped all the same"),
    ("cheap-power", "An old appliance kept because electricity is cheap"),
)


def main() -> None:
    """Run all cases and write the page."""
    shop = load_shop(FOLDER / "shop.toml")
    blocks = []
    for name, title in CASES:
        report = repair(load_job(FOLDER / "jobs" / f"{name}.toml"), shop=shop)
        blocks.append(case(name, title, report))
    text = PAGE.read_text(encoding="utf-8")
    head, _, rest = text.partition(START)
    _, _, tail = rest.partition(END)
    PAGE.write_text(f"{head}{START}\n\n" + "\n".join(blocks) + f"\n{END}{tail}", encoding="utf-8")


def case(name: str, title: str, r: RepairReport) -> str:
    """One case as Markdown."""
    lead = r.causes[0]
    lines = [
        f"### {title}",
        "",
        f"`demo_repair/jobs/{name}.toml`; {label_of(lead.identifier)}, {lead.probability:.0%}; "
        f"age {r.world.age_years:.0f} years; over {r.world.horizon_years:.0f} years; "
        f"seed {r.seed}.",
        "",
        f"| alternative | works | now, {r.shop.currency} | in all | 10 to 90 % | cheapest in "
        "| kg CO2e | years kept |",
        "|---|---|---|---|---|---|---|---|",
    ]
    for c in r.considered:
        w = c.worth
        if w.ranked and w.money is not None and w.cheapest_probability is not None:
            mark = "**" if c.alternative.identifier == r.verdict.best else ""
            lines.append(
                f"| {mark}{c.alternative.title}{mark} | {w.success_probability:.0%} "
                f"| {w.labour_now + w.parts_now:.0f} | {w.money.mean:.0f} "
                f"| {w.money.low:.0f} to {w.money.high:.0f} | {w.cheapest_probability:.0%} "
                f"| {w.co2e_kg.mean:.0f} | {w.years_kept:.1f} |"
            )
    lines += ["", "Flips: " + " ".join(flip(f, r) for f in r.flips).replace("\xa0", " "), ""]
    y = r.yardstick
    energy = f"Energy: mended {y.old_model_kwh:.0f} kWh a year as new by the model"
    energy += f", {y.old_rule_kwh:.0f} by the rule of its year; a new one {y.new_kwh:.0f} by the "
    lines += [energy + f"model, {y.new_rule_kwh:.0f} by the newest rule held.", ""]
    passed = next((c.simulated for c in r.considered
                   if c.alternative.identifier == "bypass_frame_loop"), None)  # fmt: skip
    built = next((c.simulated for c in r.considered
                  if c.simulated is not None and not c.simulated.moves_charge), None)  # fmt: skip
    if passed is not None and built is not None:
        lines += [
            "| circuit | charge | at 25 °C runs | condensing | discharge | at 43 °C runs "
            "| condensing | discharge | kWh a year |",
            "|---|---|---|---|---|---|---|---|---|",
        ]
        for s in (built, passed):
            cells = [s.label, f"{1e3 * s.charge_kg.median:.1f} g"]
            for at in (s.mild, s.hot):
                cells += [
                    f"{at.run_fraction.median:.0%}",
                    f"{at.condensing_pressure_pa.median * 1e-5:.2f} bar absolute",
                    f"{at.discharge_k.median - 273.15:.0f} °C",
                ]
            cells.append(f"{s.energy_kwh_year.mean():.0f}")
            lines.append("| " + " | ".join(cells) + " |")
        lines.append("")
    return "\n".join(lines)


if __name__ == "__main__":
    main()

"""The invented repair shop: job files written from simulated appliances.

Run as ``python -m bench.make_demo``. Every appliance, owner and reading is made up:
a member is drawn with a seed of its own (never the ensemble's), given a fault,
simulated, and read with instrument and model error.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

import coldwright
from coldwright.catalogue.families import family_of
from coldwright.catalogue.findings import FINDINGS
from coldwright.catalogue.instruments import instruments
from coldwright.catalogue.signs import sign_probability
from coldwright.catalogue.sizing import DIMENSIONS, Known
from coldwright.circuit.records import CondenserKind, EvaporatorKind
from coldwright.cycle.medium import medium
from coldwright.diagnosis.ensemble import Block, surroundings_of
from coldwright.diagnosis.findings import NO_FINDINGS
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.likelihood import draw_readings, setup
from coldwright.diagnosis.population import members_for, simulate
from coldwright.diagnosis.subject import Subject
from coldwright.readings.keys import READINGS
from coldwright.units import Dimension

NAN = float("nan")
FOLDER = Path(coldwright.__file__).parent / "demo"
FRONT = (
    "# Invented for the demonstration: shop, owner, appliance and readings are made up.\n"
    "# Readings come from a simulated appliance with instrument error.\n"
)
COMMON = ("appliance_power", "discharge_line_temperature", "condenser_middle_temperature",
          "condenser_outlet_temperature", "evaporator_inlet_temperature",
          "evaporator_outlet_temperature")  # fmt: skip

# file, title, kind, year, refrigerant, condenser, evaporator, Hz, fault, severity score, room,
# complaint, imposed (fresh food, freezer) in degC or None for settled, readings, signs, seed
SHOP = (
    ("hall-refrigerator", "Hall refrigerator, Heron Lane repair shop", "top_mount", 2004, "R134a",
     "static", "fan", 60, "undercharge", -0.1, 24.0, "both_too_warm", (12.0, -6.0), COMMON,
     ("frost_only_at_inlet", "condenser_dusty"), 11),
    ("kitchen-single-door", "Kitchen refrigerator of the bakery", "single_door", 2012, "R600a",
     "static", "plate", 50, "capillary_restricted", -0.3, 22.0, "both_too_warm", (11.0, 2.0),
     COMMON, (), 12),
    ("cellar-chest", "Old chest freezer in the cellar", "chest_freezer", 1988, "R12", "skin",
     "cold_wall", 50, "weak_compressor", -0.2, 19.0, "runs_all_the_time", (None, -9.0),
     COMMON, ("flow_sound_weak",), 13),
    ("flat-bottom-mount", "Bottom-mount in the third-floor flat", "bottom_mount", 2016, "R600a",
     "skin", "fan", 50, "evaporator_air", -0.6, 25.0, "fresh_food_warm_freezer_good",
     (13.0, -12.0), COMMON, ("coil_iced_over", "evaporator_fan_stopped"), 14),
    ("guesthouse-side-by-side", "Side-by-side of the guesthouse", "side_by_side", 2005, "R134a",
     "fan", "fan", 60, "condenser_air", -0.8, 29.0, "runs_all_the_time", (8.0, -13.0), COMMON,
     ("condenser_dusty",), 15),
    ("garage-upright", "Upright freezer in the garage", "upright_freezer", 2018, "R290", "static",
     "fan", 50, "undercharge", 0.6, 17.0, "runs_all_the_time", (None, -11.0), COMMON, (), 16),
    ("office-compact", "Compact in the office", "compact", 2015, "R600a", "static", "plate", 50,
     "compressor_not_running", 0.0, 24.0, "nothing_cold", (21.0, 19.0),
     ("compressor_power", "shell_temperature", "evaporator_inlet_temperature"),
     ("compressor_silent", "compressor_hums_and_trips"), 17),
    ("porch-single-door", "Refrigerator on the glazed porch", "single_door", 1999, "R134a",
     "static", "plate", 50, "nothing_wrong", 0.0, 34.0, "runs_all_the_time", None,
     ("run_fraction", "fresh_food_temperature", "condenser_middle_temperature",
      "condenser_outlet_temperature", "evaporator_outlet_temperature", "appliance_power"), (), 18),
    ("farm-chest", "Chest freezer at the farm", "chest_freezer", 2014, "R600a", "skin",
     "cold_wall", 50, "heat_load", 1.0, 21.0, "runs_all_the_time", None,
     ("run_fraction", "freezer_temperature", "appliance_power", "condenser_outlet_temperature",
      "evaporator_outlet_temperature"), ("door_seal_gap",), 19),
    ("museum-top-mount", "Top-mount in the museum's kitchen", "top_mount", 1986, "R12", "static",
     "plate", 60, "drier_restricted", -0.5, 21.0, "both_too_warm", (14.0, -2.0), COMMON,
     ("no_flow_sound",), 20),
)  # fmt: skip


def text_of(value: float, key: str) -> str:
    """A reading as a technician writes it."""
    dimension = READINGS[key].dimension
    if dimension is Dimension.TEMPERATURE:
        return f'"{value - 273.15:.1f} °C"'
    if dimension is Dimension.POWER:
        return f'"{max(value, 0.0):.0f} W"'
    if dimension is Dimension.FRACTION:
        return f'"{100 * min(max(value, 0.0), 1.0):.0f} %"'
    if dimension is Dimension.CURRENT:
        return f'"{max(value, 0.0):.2f} A"'
    raise ValueError(key)


def job_text(row) -> str:  # type: ignore[no-untyped-def]
    """The job file of one row of the shop."""
    (_, title, kind, year, refrigerant, condenser, evaporator, hertz, fault, score, room, complaint,
     boundary, keys, signs, seed) = row  # fmt: skip
    rng = np.random.default_rng(seed)
    med = medium(refrigerant)
    known = Known(
        family_of(kind), float(year), NAN, NAN, NAN, NAN, NAN, float(hertz),
        CondenserKind[condenser.upper()], EvaporatorKind[evaporator.upper()],
    )  # fmt: skip
    volts = 120.0 if hertz == 60 else 230.0
    ff, fz = boundary or (None, None)
    imposed_ff = NAN if ff is None else ff + 273.15
    imposed_fz = NAN if fz is None else fz + 273.15
    subject = Subject(
        known, ((refrigerant, 1.0),), room + 273.15, imposed_ff, imposed_fz, boundary is None,
        volts, float("inf"), (), (),
    )  # fmt: skip
    z = np.clip(rng.standard_normal((1, DIMENSIONS)), -1.5, 1.5)
    z[0, 0] = score
    members = members_for(med, subject, z)
    true = simulate(med, subject, hypothesis_named(fault), z, members)
    if not (members.good[0] and true.solved[0]):
        raise RuntimeError(f"{title}: the drawn appliance was not solved, choose another seed")
    block = Block(refrigerant, 1.0, med, (true,))
    tools = instruments()
    truth = np.array([[block.column(true, k, volts)[0] for k in keys]])
    chosen = tuple(tools[k] for k in keys)
    air, start = surroundings_of(true, chosen, keys, truth)
    setting = setup(chosen, np.full(len(keys), np.nan), float("inf"))
    read = draw_readings(setting, truth[0], air[0], start[0], rng)
    unit = 1 if refrigerant in ("R600a", "R290") else 5
    charge = unit * round(1000 * float(members.design_charge_kg[0]) / unit)
    lines = [FRONT, f'title = "{title} (invented)"', "", "[plate]", f'kind = "{kind}"',
             f"year = {year}", f'refrigerant = "{refrigerant}"', f'charge = "{charge} g"',
             f'voltage = "{volts:.0f} V"', f'frequency = "{hertz} Hz"', "", "[circuit]",
             'layout = "plain"', f'condenser = "{condenser}"', f'evaporator = "{evaporator}"', "",
             "[room]", f'temperature = "{room:.0f} °C"', "", "[history]",
             f'complaint = "{complaint}"', "earlier_repair = false", "", "[taken]"]  # fmt: skip
    lines.append("settled = true" if boundary is None else "minutes_since_start = 150")
    lines += ["", "[readings]"]
    if ff is not None:
        lines.append(f'fresh_food_temperature = "{ff:.1f} °C"')
    if fz is not None:
        lines.append(f'freezer_temperature = "{fz:.1f} °C"')
    lines += [f"{k} = {text_of(v, k)}" for k, v in zip(keys, read, strict=True)]
    if signs:
        lines += ["", "[signs]"]
        for sign in signs:
            if sign in FINDINGS:
                p = NO_FINDINGS.chance(sign, true.faults)
            else:
                p = sign_probability(sign, true.faults, true.severity, true.states)[0]
            lines.append(f"{sign} = {'true' if rng.random() < p else 'false'}")
    return "\n".join(lines) + "\n"


def main() -> None:
    """Write the shop's job files."""
    FOLDER.mkdir(exist_ok=True)
    for row in SHOP:
        (FOLDER / f"{row[0]}.toml").write_text(job_text(row), encoding="utf-8")
        print(f"{row[0]}: {row[8]}")


if __name__ == "__main__":
    main()

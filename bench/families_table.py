"""Healthy members of every family: where they land, and their energy against the public rules.

``python -m bench.families_table`` prints the tables of docs/catalogue-families.md.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coldwright.catalogue.families import FAMILIES, family_of
from coldwright.catalogue.sizing import (
    DESIGN_ROOM_K,
    DIMENSIONS,
    LOOP_SCORES,
    SCORES,
    Known,
    Members,
    size_members,
)
from coldwright.circuit.records import EvaporatorKind
from coldwright.circuit.vector import SURROUNDINGS
from coldwright.cycle.medium import Medium, medium
from coldwright.cycle.solver.members import solve_members
from coldwright.cycle.state import SOLVED

NAN = float("nan")
ERAS = (
    ("R12", 1982), ("R12", 1991), ("R134a", 1996), ("R134a", 2004), ("R134a", 2012),
    ("R600a", 2000), ("R600a", 2012), ("R600a", 2020), ("R290", 2020),
)  # fmt: skip
TEST_ROOM_K = 305.37  # 90 degF, the rules' test room, doors closed (from memory)
HOURS_PER_KWH = 8.766  # kWh a year per watt
CUBIC_FOOT = 0.0283168466  # [m3]

# Healthy household range at 25 degC: common practice, no published source. The keys are
# fields of the running state; condensing is its rise above the room.
HEALTHY = {
    "evaporating_k": (273.15 - 30.0, 273.15 - 22.0),
    "condensing_rise_k": (8.0, 20.0),
    "run_fraction": (0.3, 0.7),
    "discharge_line_k": (273.15 + 45.0, 273.15 + 95.0),
}

# Maximum energy, kWh a year = slope * AV [ft3] + intercept. 1990: 42 U.S.C. 6295(b)(1), full
# text. 1993 and 2001: 10 CFR 430.32(a), a copy. 2014: a standards database for classes 1 to
# 4, from memory for 5, 8, 9, 10 and 11.
YEARS = (1990.0, 1993.0, 2001.5, 2014.7)  # in force from
RULES = {
    1: ((16.3, 316.0), (13.5, 299.0), (8.82, 248.4), (7.99, 225.0)),
    2: ((21.8, 429.0), (10.4, 398.0), (8.82, 248.4), (7.99, 225.0)),
    3: ((23.5, 471.0), (16.0, 355.0), (9.80, 276.0), (8.07, 233.7)),
    4: ((27.7, 488.0), (11.8, 501.0), (4.91, 507.5), (8.51, 297.8)),
    5: ((27.7, 488.0), (16.5, 367.0), (4.60, 459.0), (8.85, 317.0)),
    8: ((10.9, 422.0), (10.3, 264.0), (7.55, 258.3), (5.57, 193.7)),
    9: ((16.0, 623.0), (14.9, 391.0), (12.43, 326.1), (8.62, 228.3)),
    10: ((14.8, 223.0), (11.0, 160.0), (9.88, 143.7), (7.29, 107.8)),
    11: ((NAN, NAN), (NAN, NAN), (10.70, 299.0), (9.03, 252.3)),
}
# Class by kind for coils that defrost by hand and by themselves (a plate beside a freezer
# that does not: partial automatic)
CLASSES = {
    "single_door": (1, 3), "top_mount": (2, 3), "bottom_mount": (2, 5), "side_by_side": (4, 4),
    "upright_freezer": (8, 9), "chest_freezer": (10, 10), "compact": (11, 11),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Sample:
    """Healthy members of one family, era and refrigerant."""

    kind: str
    refrigerant: str
    year: int
    med: Medium
    members: Members
    states: np.ndarray  # settled, room 25 degC
    solved: np.ndarray  # bool


def sample(kind: str, refrigerant: str, year: int, count: int, seed: int) -> Sample:
    """Draw, size and settle healthy members at 25 degC."""
    med = medium(refrigerant)
    known = Known(family_of(kind), year, NAN, NAN, NAN, NAN, NAN, 60.0, None, None)
    # The loops' scores play no part in a plain circuit
    z = np.zeros((count, DIMENSIONS))
    plain = SCORES.index(LOOP_SCORES[0])
    z[:, :plain] = np.random.default_rng(seed).standard_normal((count, plain))
    members = size_members(med, known, z)
    states = settle_at(med, members, members.circuits, DESIGN_ROOM_K)
    solved = members.good & (states["status_code"] == SOLVED)
    return Sample(kind, refrigerant, year, med, members, states, solved)


def settle_at(med: Medium, members: Members, circuits: np.ndarray, room_k: float) -> np.ndarray:
    """Running states of altered members with the thermostat in charge."""
    n = circuits.shape[0]
    c0 = members.circuits.copy()
    c0["charge_kg"] = members.design_charge_kg
    s0 = np.zeros(n, SURROUNDINGS)
    s0["room_k"] = DESIGN_ROOM_K
    s0["fresh_food_k"], s0["freezer_k"] = members.set_fresh_food_k, members.set_freezer_k
    c1, s1 = circuits.copy(), s0.copy()
    s1["room_k"] = room_k
    return solve_members(med, (c0, s0), (c1, s1), members.unknowns, settled=True)


def healthy_values(states: np.ndarray, room_k: float) -> dict[str, np.ndarray]:
    """The quantities of `HEALTHY`."""
    return {
        "evaporating_k": states["evaporating_k"],
        "condensing_rise_k": states["condensing_k"] - room_k,
        "run_fraction": states["run_fraction"],
        "discharge_line_k": states["discharge_line_k"],
    }


def in_healthy_range(states: np.ndarray, room_k: float) -> np.ndarray:
    """Whether all of `HEALTHY` hold, shape of `states`."""
    values = healthy_values(states, room_k)
    inside = [(v >= HEALTHY[k][0]) & (v <= HEALTHY[k][1]) for k, v in values.items()]
    return np.logical_and.reduce(inside)


def energy_kwh(drawn: Sample) -> np.ndarray:
    """Energy of a year in the rules' test room, doors closed, shape (n,)."""
    circuits = drawn.members.circuits.copy()
    circuits["cabinet"]["opening_power_w"] = 0.0
    o = settle_at(drawn.med, drawn.members, circuits, TEST_ROOM_K)
    k = circuits["cabinet"]
    running = o["compressor_power_w"] + k["evaporator_fan_power_w"] + k["condenser_fan_power_w"]
    always = k["controls_power_w"] + k["heater_power_w"]
    return HOURS_PER_KWH * (o["run_fraction"] * running + always)


def allowed_kwh(drawn: Sample) -> np.ndarray:
    """Maximum energy of each member by the rule of its year, NaN where there was none."""
    column = int(np.searchsorted(YEARS, drawn.year, side="right")) - 1
    n = drawn.states.shape[0]
    if column < 0:
        return np.full(n, NAN)
    family = family_of(drawn.kind)
    weight = 1.76 if column == 3 else (1.73 if family.one_compartment else 1.63)  # from memory
    # The families' scores stretch both volumes alike; a rule is nearly linear in them.
    volume = family.fresh_food_m3.median + weight * family.freezer_m3.median
    by_hand, by_itself = CLASSES[drawn.kind]
    fan = drawn.members.circuits["evaporator"]["kind_code"] == float(EvaporatorKind.FAN)
    slopes = np.where(fan, RULES[by_itself][column][0], RULES[by_hand][column][0])
    bases = np.where(fan, RULES[by_itself][column][1], RULES[by_hand][column][1])
    return slopes * volume / CUBIC_FOOT + bases


def main(count: int = 250, seed: int = 7) -> None:
    """Print both tables."""
    print("| kind | refrigerant | year | sized | healthy | evaporating °C | rise K | run |"
          " discharge line °C | power W | charge g | kWh a year | of the maximum |")  # fmt: skip
    print("|" + "---|" * 13)
    for family in FAMILIES:
        for refrigerant, year in ERAS:
            drawn = sample(family.kind, refrigerant, year, count, seed)
            ok, o = drawn.solved, drawn.states
            energy, limit = energy_kwh(drawn)[ok], allowed_kwh(drawn)[ok]
            ratio = np.median(energy / limit)
            cells = (
                family.kind, refrigerant, str(year), f"{drawn.members.good.mean():.3f}",
                f"{in_healthy_range(o, DESIGN_ROOM_K)[ok].mean():.3f}",
                _span(o["evaporating_k"][ok] - 273.15, 1),
                _span(o["condensing_k"][ok] - DESIGN_ROOM_K, 1),
                _span(o["run_fraction"][ok], 2), _span(o["discharge_line_k"][ok] - 273.15, 0),
                _span(o["compressor_power_w"][ok], 0),
                _span(1e3 * drawn.members.circuits["charge_kg"][ok], 0), _span(energy, 0),
                "no rule" if np.isnan(ratio) else f"{ratio:.2f}",
            )  # fmt: skip
            print("| " + " | ".join(cells) + " |")


def _span(values: np.ndarray, digits: int) -> str:
    low, middle, high = np.percentile(values, (5, 50, 95))
    return f"{middle:.{digits}f} ({low:.{digits}f} to {high:.{digits}f})"


if __name__ == "__main__":
    main()

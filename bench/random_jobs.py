"""Random valid jobs through the whole diagnosis: ``python -m bench.random_jobs N``.

Any mixture of keys, each anywhere within what it accepts, sense or none. Every job must
end in an answer or a refusal: no traceback, no warning, none over its deadline.
``--members 10000 --refine`` runs them as a user would.
"""

from __future__ import annotations

import argparse
import math
import sys
import time
import traceback
import warnings
from collections import Counter
from dataclasses import dataclass

import numpy as np

from coldwright.errors import BadInput, ColdwrightError
from coldwright.readings import keys
from coldwright.readings.jobfile import job_from_text
from coldwright.units import Dimension as D
from coldwright.usecases.diagnose import diagnose

SEED = 20261201
DEADLINE_S = 30.0  # of refining, as on a page
# Units a value is written in: SI value -> text
_WRITTEN = {
    D.TEMPERATURE: lambda v: f"{v - 273.15:.2f} °C",
    D.POWER: lambda v: f"{v:.4g} W",
    D.CURRENT: lambda v: f"{v:.4g} A",
    D.VOLTAGE: lambda v: f"{v:.4g} V",
    D.FREQUENCY: lambda v: f"{v:.4g} Hz",
    D.ROTATIONAL_SPEED: lambda v: f"{60.0 * v:.5g} rpm",
    D.FRACTION: lambda v: f"{100.0 * v:.4g} %",
    D.TEMPERATURE_RATE: lambda v: f"{3600.0 * v:.4g} K/h",
    D.TIME: lambda v: f"{v:.6g} s",
    D.RESISTANCE: lambda v: f"{v:.4g} ohm",
    D.PRESSURE: lambda v: f"{v / 1e5:.5f} bar abs",
    D.MASS: lambda v: f"{1e3 * v:.4f} g",
    D.VOLUME: lambda v: f"{1e6 * v:.4f} cm3",
    D.NUMBER: lambda v: f"{v:.5g}",
    D.ALTITUDE: lambda v: f"{v:.5g} m",
}
_LONG = {D.MASS, D.RESISTANCE, D.VOLUME, D.TIME, D.POWER}  # drawn over their decades
_SANE = 0.5  # share of the jobs whose values lie where appliances have them
_USUAL = {  # SI, where the values of such jobs come from; ours
    "appliance_power": (60.0, 250.0), "compressor_power": (50.0, 220.0),
    "shell_temperature": (305.0, 365.0), "discharge_line_temperature": (310.0, 380.0),
    "freezer_temperature": (245.0, 275.0), "fresh_food_temperature": (273.0, 295.0),
    "suction_pressure": (5e4, 3e5), "discharge_pressure": (4e5, 1.5e6),
    "charge": (0.02, 0.2), "displacement": (3e-6, 9e-6), "voltage": (110.0, 240.0),
    "frequency": (50.0, 60.0), "current": (0.4, 2.0), "power": (60.0, 250.0),
    "volume_fresh_food": (0.1, 0.4), "volume_freezer": (0.02, 0.3),
    "temperature": (285.0, 310.0),
}  # fmt: skip


def value(rng: np.random.Generator, key: keys.QuantityKey | keys.ReadingKey, sane: bool) -> str:
    """A value of a key, written with its unit."""
    low, high = key.low, min(key.high, 1e5)
    if sane and key.identifier in _USUAL:
        low, high = _USUAL[key.identifier]
    corner = 0.0 if sane else 0.1
    u = float(rng.choice([0.0, 1.0])) if rng.random() < corner else float(rng.random())
    if key.dimension in _LONG and high > 0.0:
        least = max(low, 1e-4 * high)
        v = least * math.exp(u * math.log(high / least))
    else:
        v = low + u * (high - low)
    return _WRITTEN[key.dimension](v)


def random_job(rng: np.random.Generator) -> str:
    """The text of one job; most are valid, those that are not are drawn again."""
    sane = bool(rng.random() < _SANE)

    def some(known: dict[str, keys.QuantityKey], share: float) -> list[str]:
        return [
            f'{k} = "{value(rng, key, sane)}"' for k, key in known.items() if rng.random() < share
        ]

    def one(name: str, choices: tuple[str, ...], share: float) -> list[str]:
        return [f'{name} = "{rng.choice(choices)}"'] if rng.random() < share else []

    models = ("R134a", "R600a", "R12", "R290", "R22", "unknown")
    lines = ["[plate]", f'kind = "{rng.choice(tuple(keys.KINDS))}"']
    lines += one("refrigerant", models if rng.random() < 0.9 else keys.REFRIGERANTS, 0.9)
    lines += [f"year = {rng.integers(1930, 2027)}"] if rng.random() < 0.5 else []
    lines += some(dict(keys.PLATE_QUANTITIES), 0.35)
    lines += ["[circuit]", *one("layout", keys.LAYOUTS, 0.4)]
    lines += one("condenser", keys.CONDENSERS, 0.5) + one("evaporator", keys.EVAPORATORS, 0.5)
    lines += some(dict(keys.CIRCUIT_QUANTITIES), 0.15)
    lines += ["[room]", *some(dict(keys.ROOM_QUANTITIES), 0.5)]
    lines += ["[history]", *one("complaint", tuple(keys.COMPLAINTS), 0.7)]
    lines += some(dict(keys.HISTORY_QUANTITIES), 0.2)
    lines += ["[taken]"]
    lines += [f"settled = {rng.choice(['true', 'false'])}"] if rng.random() < 0.5 else []
    lines += some(dict(keys.TAKEN_QUANTITIES), 0.2) + one("tools", keys.TOOL_KITS, 0.3)
    share = float(rng.choice([0.0, 0.05, 0.15, 0.4]))
    lines += ["[readings]", *some(dict(keys.READINGS), share)]  # type: ignore[arg-type]
    lines += ["[signs]"]
    lines += [
        f"{sign} = {rng.choice(['true', 'false'])}" for sign in keys.SIGNS
        if rng.random() < share
    ]  # fmt: skip
    return "\n".join(lines) + "\n"


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one job."""

    text: str
    how: str  # 'answered', 'refused', 'warned', 'failed' or 'late'
    told: str
    seconds: float


def tried(text: str, members: int, refine: bool, seconds: float) -> Outcome:
    """Diagnose one job; whatever it raises or warns of is kept."""
    begun, told = time.perf_counter(), ""
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            job = job_from_text(text, "random.toml")
            found = diagnose(job, members=members, refine=refine, deadline_s=seconds)
            total = sum(f.probability for f in found.faults)
            how = "answered" if found.refused is None else "refused"
            if how == "answered" and not abs(total - 1.0) < 1e-6:
                how, told = "failed", f"odds sum to {total}"
        except ColdwrightError as error:
            how, told = "failed", f"{type(error).__name__}: {error}"
        except Warning as warned:
            how, told = "warned", "".join(traceback.format_exception(warned))
        except Exception as error:
            how, told = "failed", "".join(traceback.format_exception(error))
    spent = time.perf_counter() - begun
    if how in ("answered", "refused") and spent > 2.0 * seconds:
        how, told = "late", f"{spent:.0f} s"
    return Outcome(text, how, told, spent)


def valid_job(rng: np.random.Generator) -> str:
    """A random job that is accepted."""
    while True:
        text = random_job(rng)
        try:
            job_from_text(text, "random.toml")
        except BadInput:
            continue
        return text


def main() -> int:
    """Run so many of them; 1 where any did not end in an answer or a refusal."""
    asked = argparse.ArgumentParser(prog="python -m bench.random_jobs", description=__doc__)
    asked.add_argument("count", type=int, nargs="?", default=300)
    asked.add_argument("--members", type=int, default=300)
    asked.add_argument("--refine", action="store_true")
    asked.add_argument("--seed", type=int, default=SEED)
    asked.add_argument("--deadline", type=float, default=DEADLINE_S)
    given = asked.parse_args()
    rng = np.random.default_rng(given.seed)
    counts: Counter[str] = Counter()
    spent: list[float] = []
    for number in range(given.count):
        one = tried(valid_job(rng), given.members, given.refine, given.deadline)
        counts[one.how] += 1
        spent.append(one.seconds)
        if one.how not in ("answered", "refused"):
            print(f"--- job {number}: {one.how}\n{one.text}\n{one.told}", flush=True)
    told = ", ".join(f"{n} {how}" for how, n in sorted(counts.items()))
    print(
        f"{given.count} jobs: {told}; median {np.median(spent):.2f} s, longest {max(spent):.1f} s"
    )
    return 1 if set(counts) - {"answered", "refused"} else 0


if __name__ == "__main__":
    sys.exit(main())

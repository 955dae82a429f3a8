"""Model errors learned from foreign truth: ``python -m bench.accuracy.learn``.

The same intentions and the same fault, once by our closures and once by foreign ones:
what a reading differs by between the two is what our model may be off by on an
appliance that is not our model's. Drawn over all families, refrigerants and faults
by the priors. Told per reading: the middle 68 % of the differences, halved (a
standard deviation that a few wild members do not set), the mean, and how the
differences of one group of readings go together.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import numpy as np

from bench.accuracy import foreign
from coldwright.catalogue.families import FAMILIES, likely_refrigerants
from coldwright.catalogue.instruments import instruments
from coldwright.catalogue.pairs import prior_with_pairs
from coldwright.catalogue.sizing import DIMENSIONS, Known
from coldwright.cycle.medium import medium
from coldwright.diagnosis.ensemble import Block
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.population import members_for, simulate
from coldwright.diagnosis.predict import COLUMNS
from coldwright.diagnosis.subject import Subject

SEED, BATCHES, SIZE = 40_417, 240, 24
FILE = Path(__file__).with_name("model_errors.json")
NAN = float("nan")


def differences(batches: int = BATCHES, seed: int = SEED) -> dict[str, np.ndarray]:
    """Foreign less own reading, and the own one, for every column: arrays (n, 2)."""
    rng = np.random.default_rng(seed)
    prior = prior_with_pairs()
    names, chances = list(prior), np.array(list(prior.values()))
    found: dict[str, list[np.ndarray]] = {key: [] for key in COLUMNS}
    for batch in range(batches):  # one family, refrigerant, fault and void model each
        family = FAMILIES[int(rng.integers(len(FAMILIES)))]
        year = int(rng.integers(1985, 2024))
        gases, shares = zip(*likely_refrigerants(year), strict=True)
        gas = str(rng.choice(gases, p=np.array(shares) / sum(shares)))
        known = Known(
            family, float(year), NAN, NAN, NAN, NAN, NAN, 50.0 if batch % 2 else 60.0, None, None
        )  # fmt: skip
        volts = 230.0 if batch % 2 else 120.0
        room = float(rng.uniform(288.0, 308.0))
        settled = bool(rng.random() < 0.4)
        warm = rng.uniform(0.0, 0.4)
        subject = Subject(
            known, ((gas, 1.0),), room, NAN if settled else 278.0 + 18.0 * warm,
            NAN if settled else 256.0 + 35.0 * warm, settled, volts, float("inf"), (), (),
        )  # fmt: skip
        z = rng.standard_normal((SIZE, DIMENSIONS))
        fault = hypothesis_named(*names[rng.choice(len(names), p=chances)])
        closures = foreign.draw(rng, SIZE)
        own_med, med = medium(gas), foreign.foreign_medium(gas, closures)
        own = simulate(own_med, subject, fault, z, members_for(own_med, subject, z),
                       refrigerant=gas)  # fmt: skip
        other = foreign.truth(
            med, subject, fault, z, foreign.sized(med, known, z, closures), closures, gas
        )
        fine = own.solved & other.solved
        for key in COLUMNS:
            a = Block(gas, 1.0, own_med, (own,)).column(own, key, volts)
            b = Block(gas, 1.0, med, (other,)).column(other, key, volts)
            both = fine & np.isfinite(a) & np.isfinite(b)
            found[key].append(np.column_stack([b[both] - a[both], a[both]]))
        print(f"\r{batch + 1}/{batches}", end="", file=sys.stderr)
    return {key: np.concatenate(parts) for key, parts in found.items()}


def spread(values: np.ndarray) -> float:
    """Half of the middle 68 %."""
    low, high = np.percentile(values, (16.0, 84.0))
    return float(0.5 * (high - low))


def table(found: dict[str, np.ndarray]) -> dict[str, dict[str, float]]:
    """Per reading: count, mean, spread, spread of the relative difference, ours in use."""
    held = instruments()
    out = {}
    for key, rows in found.items():
        if rows.shape[0] < 50 or key not in held:
            continue
        difference, own = rows[:, 0], np.abs(rows[:, 1])
        usual = float(np.median(own))
        i = held[key]
        out[key] = {
            "count": rows.shape[0],
            "mean": float(np.mean(difference)),
            "sd": spread(difference),
            "relative": spread(difference / np.maximum(own, 1e-9)),
            "tail": float(np.percentile(np.abs(difference), 95.0)),
            "in_use": float(np.hypot(i.model_sd, i.model_relative_sd * usual)),
            "usual": usual,
        }
    return out


def main() -> None:
    """Learn and write."""
    found = table(differences())
    FILE.write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")
    print(file=sys.stderr)
    for key, row in found.items():
        print(
            f"{key:30s} n {row['count']:5d} mean {row['mean']:9.3g} sd {row['sd']:9.3g}"
            f" (rel {row['relative']:6.3f}) 95% {row['tail']:9.3g} in use {row['in_use']:9.3g}"
        )


if __name__ == "__main__":
    main()

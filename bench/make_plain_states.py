"""Record running states of the plain example circuits, sound and faulty.

What a circuit without loops answers must not move when the high side learns new
stretches. Run again only after a change that is meant to move it:
``python -m bench.make_plain_states``.
"""

from __future__ import annotations

import dataclasses
import json
import math
from pathlib import Path

from coldwright.readings.jobfile import load_job
from coldwright.usecases.simulate import simulate

TESTS = Path(__file__).parent.parent / "tests"
FILE = TESTS / "snapshots" / "plain_states.json"
FOLDER = Path(__file__).parent.parent / "src" / "coldwright" / "examples"
FAULTS: tuple[tuple[tuple[str, float], ...], ...] = (
    (),
    (("undercharge", 0.5),),
    (("condenser_air", 0.4),),
    (("capillary_restricted", 0.5),),
    (("capillary_blocked", math.nan),),
)


def states() -> dict[str, dict[str, float]]:
    """Every recorded state by 'example fault', fields in SI."""
    found = {}
    for path in sorted(FOLDER.glob("plain_*.toml")):
        for faults in FAULTS:
            name = "+".join(f for f, _ in faults) or "sound"
            result = simulate(load_job(path), faults=faults)
            state = dataclasses.asdict(result.running)
            state["standing_pressure_pa"] = result.standing.pressure_pa
            found[f"{path.stem} {name}"] = state
    return found


def main() -> None:
    """Write them."""
    FILE.write_text(json.dumps(states(), indent=1) + "\n", encoding="utf-8")
    print(f"wrote {FILE.name}")


if __name__ == "__main__":
    main()

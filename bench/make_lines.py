"""Recipe of the bubble and dew lines that ship with the package: CoolProp through `mixtures`.

Run: python -m bench.make_lines [NAME ...]
"""

from __future__ import annotations

import sys
from pathlib import Path

import CoolProp

import coldwright.refrigerant
from coldwright.refrigerant.facts import REFRIGERANTS, Refrigerant
from coldwright.refrigerant.lines import COLUMNS, STEP_K
from coldwright.refrigerant.mixtures import PAIRS, state

FOLDER = Path(coldwright.refrigerant.__file__).parent / "line_tables"
COLDEST_K, HOTTEST_K = 203.15, 348.15  # -70 to 75 degC
BELOW_CRITICAL_K = 6.0  # nearer, a flash of a blend does not always close
# Blends: critical temperatures [K], ASHRAE Handbook, Fundamentals (2017), ch. 29, table 5, where
# it has them; else the lowest of the parts that carry the blend.
CRITICAL_K = {"R404A": 345.2, "R502": 353.66, "R500": 375.24}


def rows(refrigerant: Refrigerant) -> list[tuple[float, ...]]:
    """Rows of `COLUMNS` from cold to hot."""
    fluid = state(refrigerant)
    if refrigerant.components:
        critical = CRITICAL_K.get(refrigerant.name, HOTTEST_K + BELOW_CRITICAL_K)
    else:
        critical = fluid.T_critical()
    hottest = min(HOTTEST_K, critical - BELOW_CRITICAL_K)
    found = []
    for i in range(int((hottest - COLDEST_K) / STEP_K) + 1):
        t = COLDEST_K + i * STEP_K
        fluid.update(CoolProp.QT_INPUTS, 0.0, t)
        bubble, liquid = fluid.p(), fluid.rhomass()
        fluid.update(CoolProp.QT_INPUTS, 1.0, t)
        found.append((t, bubble, fluid.p(), liquid, fluid.rhomass()))
    return found


def table(refrigerant: Refrigerant) -> str:
    """The file of one refrigerant."""
    names = [part.coolprop_name for part in refrigerant.components]
    head = [
        f"# {refrigerant.name}: bubble and dew line; bench/make_lines.py,",
        f"# CoolProp {CoolProp.__version__} (Bell et al. 2014, doi 10.1021/ie4033999)",
    ]
    head += [
        f"# pair {pair.first}-{pair.second}: gammaT {pair.gamma_t}, {pair.source}"
        for pair in PAIRS
        if pair.first in names and pair.second in names
    ]
    body = [
        f"{t:.2f},{pb:.8g},{pd:.8g},{dl:.8g},{dv:.8g}" for t, pb, pd, dl, dv in rows(refrigerant)
    ]
    return "\n".join([*head, ",".join(COLUMNS), *body]) + "\n"


def main(wanted: list[str]) -> None:
    """Write the files of these refrigerants, or of all."""
    FOLDER.mkdir(exist_ok=True)
    for refrigerant in REFRIGERANTS:
        if not wanted or refrigerant.name in wanted:
            (FOLDER / f"{refrigerant.name}.csv").write_text(table(refrigerant), encoding="ascii")
            print(refrigerant.name)


if __name__ == "__main__":
    main(sys.argv[1:])

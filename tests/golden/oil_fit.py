"""Recipe of the parameters in `coldwright.refrigerant.oils`: fit from the golden points.

Least squares of the relative deviation in mole fraction, soft-l1 at 3 % so that a
badly digitised point cannot pull. For the R134a esters r is held at 6: the best
free r (10-20) would split the liquid in two within the measured range, where the
points show one liquid; holding it costs about one per cent in the mean.
"""

from __future__ import annotations

import numpy as np
from CoolProp.CoolProp import PropsSI
from scipy.optimize import least_squares

from coldwright.refrigerant.oils import mole_fraction
from tests.golden import load_golden_csv


def points(*oils: str) -> np.ndarray:
    """Rows of (p over psat, temperature, measured mole fraction)."""
    rows = [row for row in load_golden_csv("oil_solubility.csv") if row["oil"] in oils]
    table = []
    for row in rows:
        t = float(row["temperature_k"])
        psat = PropsSI("P", "T", t, "Q", 0, row["refrigerant"])
        table.append((float(row["pressure_pa"]) / psat, t, float(row["mole_fraction"])))
    return np.array(table)


def deviation(table: np.ndarray, r: float, chi0: float, chi1: float) -> np.ndarray:
    """Relative deviation of the model's mole fraction, point by point."""
    model = np.array([mole_fraction(a, t, r, chi0, chi1) for a, t, _ in table])
    return model / table[:, 2] - 1.0


def fit(table: np.ndarray, r: float | None = None) -> tuple[float, float, float]:
    """Size ratio, chi0 and chi1; the size ratio is fitted too when None.

    chi1 enters centred at 320 K, so that the three parameters part company.
    """
    free = [] if r is not None else [4.0]

    def unpack(q: np.ndarray) -> tuple[float, float, float]:
        size = r if r is not None else float(q[2])
        return size, float(q[0] - q[1]), float(q[1] * 320.0)

    found = least_squares(
        lambda q: deviation(table, *unpack(q)),
        [0.4, 0.3, *free],
        loss="soft_l1",
        f_scale=0.03,
        diff_step=1e-5,
    )
    return unpack(found.x)

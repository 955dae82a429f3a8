"""Recipe of the gas constants in `leak/gases.py` and the virial fit in `leak/nitrogen.py`.

Run as `python -m bench.leak_gases`; prints what those modules hold. Needs CoolProp.
"""

from __future__ import annotations

import math

import numpy as np

FLUIDS = {
    "R134a": "R134a",
    "R600a": "IsoButane",
    "R12": "R12",
    "R290": "n-Propane",
    "R22": "R22",
    "nitrogen": "Nitrogen",
    "air": "Air",
    "helium": "Helium",
    "hydrogen": "Hydrogen",
}


def properties(fluid: str) -> tuple[float, float, float, float]:
    """Molar mass, viscosity at 20 degC, its exponent in T from 0 to 40 degC, cp/cv at 25 degC."""
    from CoolProp.CoolProp import PropsSI

    mu = [PropsSI("V", "T", t, "D", 1e-3, fluid) for t in (273.15, 293.15, 313.15)]
    exponent = math.log(mu[2] / mu[0]) / math.log(313.15 / 273.15)
    mass = PropsSI("M", fluid)
    cp = PropsSI("CP0MASS", "T", 298.15, "P", 1e3, fluid) * mass
    return mass, mu[1], exponent, cp / (cp - 8.314462618)


def wilke(shares: tuple[float, ...], mu: tuple[float, ...], mass: tuple[float, ...]) -> float:
    """Viscosity of a mixture; C. R. Wilke, J. Chem. Phys. 18 (1950) 517, eqs. 13-14."""
    total = 0.0
    for x, m, w in zip(shares, mu, mass, strict=True):
        below = sum(
            xj * (1 + math.sqrt(m / mj) * (wj / w) ** 0.25) ** 2 / math.sqrt(8 * (1 + w / wj))
            for xj, mj, wj in zip(shares, mu, mass, strict=True)
        )
        total += x * m / below
    return total


def virial() -> tuple[np.ndarray, np.ndarray]:
    """Nitrogen: Z = 1 + b(t) p + c(t) p^2, b cubic and c quadratic in T - 293.15, 1 to 18 bar."""
    from CoolProp.CoolProp import PropsSI

    temperatures, pressures = np.arange(258.15, 329.0, 2.5), np.linspace(1e5, 18e5, 35)
    rows, values = [], []
    for t in temperatures:
        d = t - 293.15
        for p in pressures:
            z = PropsSI("Z", "T", t, "P", p, "Nitrogen")
            rows.append([p, p * d, p * d**2, p * d**3, p * p, p * p * d, p * p * d**2])
            values.append(z - 1.0)
    fit = np.linalg.lstsq(np.array(rows), np.array(values), rcond=None)[0]
    return fit[:4], fit[4:]


if __name__ == "__main__":
    held = {name: properties(fluid) for name, fluid in FLUIDS.items()}
    for name, (mass, mu, exponent, k) in held.items():
        print(f"{name:10} {mass:.8g} {mu:.6g} {exponent:.3f} {k:.4f}")
    h2, n2 = held["hydrogen"], held["nitrogen"]
    mixed = wilke((0.05, 0.95), (h2[1], n2[1]), (h2[0], n2[0]))
    print(f"5 % hydrogen: {0.05 * h2[0] + 0.95 * n2[0]:.6g} {mixed:.6g}")
    b, c = virial()
    print("virial", [f"{x:.6e}" for x in b], [f"{x:.6e}" for x in c])

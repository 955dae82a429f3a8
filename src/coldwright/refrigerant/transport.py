"""Where CoolProp's viscosity misses the published tables: factors that bring it to them.

Only R22 needs it: CoolProp 8.0.0 gives it by extended corresponding states, 13 to
23 % low in the liquid and 10 % high in the vapour. The factor depends on
temperature alone, so CoolProp's own change with pressure is kept.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True, slots=True)
class ViscosityLevel:
    """Published saturated viscosity over CoolProp's, at some temperatures."""

    temperatures_k: tuple[float, ...]
    liquid: tuple[float, ...]
    vapour: tuple[float, ...]
    source: str

    def factors(self, temperature: float) -> tuple[float, float]:
        """Factors for liquid and vapour; beyond the ends the last one holds.

        Parameters
        ----------
        temperature : float
            Any. [K]
        """
        return (
            float(np.interp(temperature, self.temperatures_k, self.liquid)),
            float(np.interp(temperature, self.temperatures_k, self.vapour)),
        )


_AS_COOLPROP = ViscosityLevel((0.0,), (1.0,), (1.0,), "CoolProp as it is")
LEVELS: dict[str, ViscosityLevel] = {
    "R22": ViscosityLevel(
        (200.0, 225.0, 232.34, 250.0, 275.0, 300.0, 325.0, 350.0),
        (1.1474, 1.1907, 1.2022, 1.2295, 1.2662, 1.2935, 1.2989, 1.2511),
        # From 325 K on held: nearer the critical point the ratio is one of density, not of gas.
        (0.9154, 0.9104, 0.9087, 0.9036, 0.8977, 0.8972, 0.9082, 0.9082),
        "VDI Heat Atlas, saturated R22, 200 to 350 K, by way of an open data file (chemicals "
        "1.5.2); its other set, the PPDS polynomial, lies 3 to 24 % below in the liquid",
    ),
}  # fmt: skip


def level_of(name: str) -> ViscosityLevel:
    """What CoolProp's viscosity of a refrigerant is multiplied with.

    Parameters
    ----------
    name : str
        Its name in CoolProp.

    Returns
    -------
    ViscosityLevel
        Factors over temperature; 1 where CoolProp stands as it is. [-]
    """
    return LEVELS.get(name, _AS_COOLPROP)

"""Gases that leak out, are drawn in or are put in to be found.

Molar mass, viscosity at low density and heat-capacity ratio come from CoolProp 8.0.0
(Bell et al. 2014, doi 10.1021/ie4033999) by the recipe in `bench/leak_gases.py`;
a test compares them again. Air-hydrogen and other mixtures made on site are forbidden.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

GAS_CONSTANT = 8.314462618  # J/(mol K), SI 2019, exact to the digits shown
REFERENCE_K = 293.15  # of the viscosities below


@dataclass(frozen=True, slots=True)
class Gas:
    """One gas at the pressures of a leak, ideal."""

    identifier: str
    words: str
    molar_mass_kg_mol: float
    viscosity_20c_pa_s: float
    viscosity_exponent: float  # viscosity ~ T**exponent between 0 and 40 degC
    heat_capacity_ratio: float  # ideal gas, 25 degC

    def viscosity(self, temperature_k: float) -> float:
        """Viscosity at low density [Pa s]."""
        return float(
            self.viscosity_20c_pa_s * (temperature_k / REFERENCE_K) ** self.viscosity_exponent
        )

    @property
    def critical_ratio(self) -> float:
        """Outlet over inlet pressure below which a short hole is choked [-]."""
        k = self.heat_capacity_ratio
        return float((2.0 / (k + 1.0)) ** (k / (k - 1.0)))


_GASES = (
    Gas("R134a", "R134a", 0.102032, 1.16586e-5, 0.966, 1.1084),
    Gas("R600a", "R600a", 0.0581222, 7.39804e-6, 0.961, 1.0941),
    Gas("R12", "R12", 0.120913, 1.16495e-5, 1.017, 1.1288),
    Gas("R290", "R290", 0.04409562, 8.02173e-6, 0.971, 1.1279),
    Gas("R22", "R22", 0.086468, 1.35474e-5, 1.015, 1.1737),
    Gas("nitrogen", "nitrogen", 0.02801348, 1.75595e-5, 0.778, 1.3995),
    Gas("air", "air", 0.02896546, 1.81911e-5, 0.785, 1.4000),
    Gas("helium", "helium", 0.004002602, 1.96138e-5, 0.684, 1.6667),
    Gas("hydrogen", "hydrogen", 0.00201588, 8.79619e-6, 0.692, 1.4052),
    # 5 % hydrogen by volume; viscosity by C. R. Wilke, J. Chem. Phys. 18 (1950) 517, eq. 14.
    Gas("hydrogen_mixture", "5 % hydrogen in nitrogen", 0.0267136, 1.75448e-5, 0.778, 1.3998),
)
GASES: Mapping[str, Gas] = MappingProxyType({gas.identifier: gas for gas in _GASES})
REFRIGERANT_GASES = ("R134a", "R600a", "R12", "R290", "R22")


def mean_free_path(gas: Gas, pressure_pa: float, temperature_k: float) -> float:
    """Mean free path [m].

    Parameters
    ----------
    gas : Gas
        Which.
    pressure_pa : float
        Absolute pressure. [Pa]
    temperature_k : float
        Gas temperature. [K]

    Returns
    -------
    float
        Length. [m]

    References
    ----------
    .. [1] From the viscosity by kinetic theory, lambda = (mu / p) sqrt(pi R T / (2 M));
       G. A. Bird, Molecular Gas Dynamics, 1994, hard spheres within 2 %.
    """
    speed = math.sqrt(math.pi * GAS_CONSTANT * temperature_k / (2.0 * gas.molar_mass_kg_mol))
    return gas.viscosity(temperature_k) / pressure_pa * speed

"""A leak's rate in every unit of the trade, with the temperature it counts at.

q = (mass flow / M) R T: a throughput without its temperature is 7.3 % uncertain
between 0 and 20 degC, so every record carries its basis.
"""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.errors import require
from coldwright.leak.gases import GAS_CONSTANT, Gas
from coldwright.units import STANDARD_ATMOSPHERE_PA

SECONDS_PER_YEAR = 31_557_600.0  # 365.25 days
BASIS_K = 293.15  # 20 degC where nothing else is said
PA_M3_PER_MBAR_L = 0.1  # exact
PA_M3_PER_ATM_CC = STANDARD_ATMOSPHERE_PA * 1e-6  # exact
PA_M3_PER_TORR_L = STANDARD_ATMOSPHERE_PA / 760.0 * 1e-3
SCCM_BASIS_K = 273.15  # a standard cubic centimetre counts at 0 degC and 1 atm

# What 1 of each unit is in Pa m3/s, at whatever temperature it is stated for.
THROUGHPUT_UNITS = {
    "Pa·m³/s": 1.0,
    "mbar·l/s": PA_M3_PER_MBAR_L,
    "atm·cc/s": PA_M3_PER_ATM_CC,
    "torr·l/s": PA_M3_PER_TORR_L,
}


@dataclass(frozen=True, slots=True)
class LeakRate:
    """A mass flow of one gas, shown as throughput at a stated temperature."""

    gas: Gas
    mass_flow_kg_s: float
    basis_k: float = BASIS_K

    @property
    def throughput_pa_m3_s(self) -> float:
        """Throughput at the basis temperature [Pa m3/s]."""
        return throughput(self.mass_flow_kg_s, self.gas, self.basis_k)

    @property
    def mbar_l_s(self) -> float:
        """The same [mbar l/s]."""
        return self.throughput_pa_m3_s / PA_M3_PER_MBAR_L

    @property
    def atm_cc_s(self) -> float:
        """The same [atm cc/s]."""
        return self.throughput_pa_m3_s / PA_M3_PER_ATM_CC

    @property
    def sccm(self) -> float:
        """Standard cubic centimetres per minute, 0 degC and 1 atm whatever the basis."""
        return throughput(self.mass_flow_kg_s, self.gas, SCCM_BASIS_K) / PA_M3_PER_ATM_CC * 60.0

    @property
    def g_yr(self) -> float:
        """Mass rate [g/yr], year of 365.25 days."""
        return self.mass_flow_kg_s * 1000.0 * SECONDS_PER_YEAR

    @property
    def oz_yr(self) -> float:
        """Mass rate [oz/yr]."""
        return self.g_yr / 28.349523125

    def times(self, factor: float) -> LeakRate:
        """The same gas at a multiple of the rate."""
        return LeakRate(self.gas, self.mass_flow_kg_s * factor, self.basis_k)


def throughput(mass_flow_kg_s: float, gas: Gas, basis_k: float) -> float:
    """Throughput q = (mass flow / M) R T [Pa m3/s].

    Parameters
    ----------
    mass_flow_kg_s : float
        Mass flow. [kg/s]
    gas : Gas
        Which gas.
    basis_k : float
        Temperature the volume counts at. [K]

    Returns
    -------
    float
        Throughput. [Pa m3/s]
    """
    return mass_flow_kg_s / gas.molar_mass_kg_mol * GAS_CONSTANT * basis_k


def rate_from_throughput(q_pa_m3_s: float, gas: Gas, basis_k: float = BASIS_K) -> LeakRate:
    """A rate from its throughput at a stated temperature.

    Parameters
    ----------
    q_pa_m3_s : float
        Throughput. [Pa m3/s]
    gas : Gas
        Which gas.
    basis_k : float
        Temperature the volume counts at. [K]

    Returns
    -------
    LeakRate
        The rate.
    """
    return LeakRate(gas, q_pa_m3_s * gas.molar_mass_kg_mol / (GAS_CONSTANT * basis_k), basis_k)


def rate_from_grams_per_year(g_yr: float, gas: Gas, basis_k: float = BASIS_K) -> LeakRate:
    """A rate from grams per year.

    Parameters
    ----------
    g_yr : float
        Mass rate. [g/yr]
    gas : Gas
        Which gas.
    basis_k : float
        Temperature throughputs will be shown at. [K]

    Returns
    -------
    LeakRate
        The rate.
    """
    return LeakRate(gas, g_yr * 1e-3 / SECONDS_PER_YEAR, basis_k)


def rate_from_loss(mass_kg: float, time_s: float, gas: Gas, basis_k: float = BASIS_K) -> LeakRate:
    """Mean rate of a mass lost over a time.

    Parameters
    ----------
    mass_kg : float
        Mass lost. [kg]
    time_s : float
        Time it took. [s]
    gas : Gas
        Which gas.
    basis_k : float
        Temperature throughputs will be shown at. [K]

    Returns
    -------
    LeakRate
        The rate.

    Raises
    ------
    OutOfRange
        If mass or time is no positive number of a household appliance.
    """
    require("mass lost", mass_kg, "kg", 0.0, 5.0)
    require("time", time_s, "s", 60.0, 80.0 * SECONDS_PER_YEAR)
    return LeakRate(gas, mass_kg / time_s, basis_k)


def throughput_of_pressure_change(volume_m3: float, change_pa: float, time_s: float) -> float:
    """Throughput that changes a closed volume's pressure, V dp/dt [Pa m3/s].

    Parameters
    ----------
    volume_m3 : float
        Closed volume. [m3]
    change_pa : float
        Pressure change at constant temperature. [Pa]
    time_s : float
        Time it took. [s]

    Returns
    -------
    float
        Throughput, negative where it falls. [Pa m3/s]

    Raises
    ------
    OutOfRange
        If the time is out of range.

    Examples
    --------
    >>> throughput_of_pressure_change(0.002, 100.0, 10.0)
    0.02
    """
    require("time", time_s, "s", 1.0, 1e9)
    return volume_m3 * change_pa / time_s

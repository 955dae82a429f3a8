"""Nitrogen as a real gas, for the temperature compensation of a hold.

Z = 1 + b(T) p + c(T) p^2, polynomials fitted to CoolProp 8.0.0 (Span et al. 2000 for
nitrogen) from -15 to 55 degC and 1 to 18 bar by the recipe in `bench/leak_gases.py`.
"""

from __future__ import annotations

from coldwright.errors import require
from coldwright.leak.gases import GAS_CONSTANT

# Powers of T - 293.15 K.
_B = (
    -2.420636e-09,
    9.119048e-11,
    -6.661805e-13,
    3.665302e-15,
)  # 1/Pa
_C = (2.384755e-16, -1.760950e-18, 4.218479e-21)  # 1/Pa2


def compressibility(pressure_pa: float, temperature_k: float) -> float:
    """Z of nitrogen [-], within 5e-5 of CoolProp.

    Parameters
    ----------
    pressure_pa : float
        Absolute pressure, up to 18 bar. [Pa]
    temperature_k : float
        Gas temperature, 258 to 328.2 K. [K]

    Returns
    -------
    float
        Z. [-]

    Raises
    ------
    OutOfRange
        Outside these.

    Examples
    --------
    >>> round(compressibility(101325.0, 293.15), 4)
    0.9998
    """
    require("pressure", pressure_pa, "Pa", 0.0, 18e5)
    require("temperature", temperature_k, "K", 258.0, 328.2)
    d = temperature_k - 293.15
    b = _B[0] + d * (_B[1] + d * (_B[2] + d * _B[3]))
    c = _C[0] + d * (_C[1] + d * _C[2])
    return 1.0 + pressure_pa * (b + pressure_pa * c)


def concentration(pressure_pa: float, temperature_k: float) -> float:
    """Amount of nitrogen per volume [mol/m3].

    Parameters
    ----------
    pressure_pa : float
        Absolute pressure. [Pa]
    temperature_k : float
        Gas temperature. [K]

    Returns
    -------
    float
        Amount per volume. [mol/m3]

    Examples
    --------
    >>> round(concentration(101325.0, 293.15), 1)
    41.6
    """
    z = compressibility(pressure_pa, temperature_k)
    return pressure_pa / (z * GAS_CONSTANT * temperature_k)


def compensated(
    pressure_pa: float, temperature_k: float, at_k: float, ideal: bool = False
) -> float:
    """Pressure the same closed gas has at another temperature [Pa].

    Parameters
    ----------
    pressure_pa : float
        Absolute pressure now. [Pa]
    temperature_k : float
        Temperature now. [K]
    at_k : float
        The other temperature. [K]
    ideal : bool
        By p T2/T1 alone, as trade texts do.

    Returns
    -------
    float
        Pressure. [Pa]

    Examples
    --------
    >>> round(compensated(1.0e6, 293.15, 303.15, ideal=True))
    1034112
    """
    simple = pressure_pa * at_k / temperature_k
    if ideal:
        return simple
    z1 = compressibility(pressure_pa, temperature_k)
    p = simple
    for _ in range(20):  # the correction contracts by 1e-3 a step
        p = simple * compressibility(p, at_k) / z1
    return p

"""Conversions as plain functions, one name per conversion.

Factors: B. N. Taylor, Guide for the Use of the International System of Units,
NIST Special Publication 811, 2008 edition, appendix B.
"""

from __future__ import annotations

STANDARD_ATMOSPHERE_PA = 101_325.0  # exact, CGPM 1954
PASCAL_PER_PSI = 6894.757293168  # lbf/in2 from the exact pound, inch and g_n; SP 811 B.8
PASCAL_PER_INHG = 3386.389  # conventional inch of mercury, SP 811 B.8
PASCAL_PER_MMHG = 133.322387415  # conventional millimetre of mercury, SP 811 B.8
PASCAL_PER_MICRON = PASCAL_PER_MMHG * 1e-3
KILOGRAM_PER_OUNCE = 0.028349523125  # avoirdupois, exact
KILOGRAM_PER_POUND = 0.45359237  # exact
METRE_PER_INCH = 0.0254  # exact
METRE_PER_FOOT = 0.3048  # exact
WATT_PER_BTU_H = 1055.05585262 / 3600.0  # international table BTU, SP 811 B.8
WATT_PER_HORSEPOWER = 745.69987158227022  # 550 ft lbf/s
WATT_PER_METRIC_HORSEPOWER = 735.49875  # 75 kgf m/s, exact
SECONDS_PER_YEAR = 31_557_600.0  # 365.25 days


def kelvin_from_celsius(t_c: float) -> float:
    """Thermodynamic temperature [K].

    Parameters
    ----------
    t_c : float
        Celsius temperature. [°C]

    Returns
    -------
    float
        Thermodynamic temperature. [K]

    Examples
    --------
    >>> kelvin_from_celsius(25.0)
    298.15
    """
    return t_c + 273.15


def celsius_from_kelvin(t_k: float) -> float:
    """Celsius temperature [°C].

    Parameters
    ----------
    t_k : float
        Thermodynamic temperature. [K]

    Returns
    -------
    float
        Celsius temperature. [°C]

    Examples
    --------
    >>> round(celsius_from_kelvin(255.15), 2)
    -18.0
    """
    return t_k - 273.15


def kelvin_from_fahrenheit(t_f: float) -> float:
    """Thermodynamic temperature [K].

    Parameters
    ----------
    t_f : float
        Fahrenheit temperature. [°F]

    Returns
    -------
    float
        Thermodynamic temperature. [K]

    References
    ----------
    .. [1] NIST Special Publication 811 (2008), appendix B.

    Examples
    --------
    >>> round(kelvin_from_fahrenheit(32.0), 2)
    273.15
    """
    return (t_f + 459.67) / 1.8


def fahrenheit_from_kelvin(t_k: float) -> float:
    """Fahrenheit temperature [°F].

    Parameters
    ----------
    t_k : float
        Thermodynamic temperature. [K]

    Returns
    -------
    float
        Fahrenheit temperature. [°F]

    References
    ----------
    .. [1] NIST Special Publication 811 (2008), appendix B.

    Examples
    --------
    >>> round(fahrenheit_from_kelvin(273.15), 2)
    32.0
    """
    return t_k * 1.8 - 459.67


def kelvin_difference_from_celsius_difference(dt_c: float) -> float:
    """Temperature difference [K].

    Parameters
    ----------
    dt_c : float
        Difference of two Celsius temperatures. [°C]

    Returns
    -------
    float
        The same number. [K]
    """
    return dt_c


def kelvin_difference_from_fahrenheit_difference(dt_f: float) -> float:
    """Temperature difference [K].

    Parameters
    ----------
    dt_f : float
        Difference of two Fahrenheit temperatures. [°F]

    Returns
    -------
    float
        Temperature difference. [K]

    Examples
    --------
    >>> kelvin_difference_from_fahrenheit_difference(9.0)
    5.0
    """
    return dt_f / 1.8


def pascal_abs_from_bar_gauge(p_bar_g: float, ambient_pa: float = STANDARD_ATMOSPHERE_PA) -> float:
    """Absolute pressure [Pa].

    Parameters
    ----------
    p_bar_g : float
        Gauge pressure. [bar]
    ambient_pa : float
        Air pressure at the gauge. [Pa]

    Returns
    -------
    float
        Absolute pressure. [Pa]

    Examples
    --------
    >>> round(pascal_abs_from_bar_gauge(1.0))
    201325
    """
    return ambient_pa + p_bar_g * 1e5


def bar_gauge_from_pascal_abs(p_pa: float, ambient_pa: float = STANDARD_ATMOSPHERE_PA) -> float:
    """Gauge pressure [bar].

    Parameters
    ----------
    p_pa : float
        Absolute pressure. [Pa]
    ambient_pa : float
        Air pressure at the gauge. [Pa]

    Returns
    -------
    float
        Gauge pressure; below 0 for a vacuum. [bar]

    Examples
    --------
    >>> round(bar_gauge_from_pascal_abs(60e3), 3)
    -0.413
    """
    return (p_pa - ambient_pa) * 1e-5


def pascal_abs_from_psig(p_psig: float, ambient_pa: float = STANDARD_ATMOSPHERE_PA) -> float:
    """Absolute pressure [Pa].

    Parameters
    ----------
    p_psig : float
        Gauge pressure. [psi]
    ambient_pa : float
        Air pressure at the gauge. [Pa]

    Returns
    -------
    float
        Absolute pressure. [Pa]

    References
    ----------
    .. [1] NIST Special Publication 811 (2008), B.8.

    Examples
    --------
    >>> round(pascal_abs_from_psig(2.0))
    115115
    """
    return ambient_pa + p_psig * PASCAL_PER_PSI


def psig_from_pascal_abs(p_pa: float, ambient_pa: float = STANDARD_ATMOSPHERE_PA) -> float:
    """Gauge pressure [psi].

    Parameters
    ----------
    p_pa : float
        Absolute pressure. [Pa]
    ambient_pa : float
        Air pressure at the gauge. [Pa]

    Returns
    -------
    float
        Gauge pressure; below 0 for a vacuum. [psi]

    References
    ----------
    .. [1] NIST Special Publication 811 (2008), B.8.

    Examples
    --------
    >>> round(psig_from_pascal_abs(133.7e3), 1)
    4.7
    """
    return (p_pa - ambient_pa) / PASCAL_PER_PSI


def pascal_abs_from_inhg_vacuum(
    vacuum_inhg: float, ambient_pa: float = STANDARD_ATMOSPHERE_PA
) -> float:
    """Absolute pressure [Pa]; a vacuum is counted downwards from the air pressure.

    Parameters
    ----------
    vacuum_inhg : float
        Vacuum. [inHg]
    ambient_pa : float
        Air pressure at the gauge. [Pa]

    Returns
    -------
    float
        Absolute pressure. [Pa]

    References
    ----------
    .. [1] NIST Special Publication 811 (2008), B.8.

    Examples
    --------
    >>> round(pascal_abs_from_inhg_vacuum(6.0))
    81007
    """
    return ambient_pa - vacuum_inhg * PASCAL_PER_INHG


def inhg_vacuum_from_pascal_abs(p_pa: float, ambient_pa: float = STANDARD_ATMOSPHERE_PA) -> float:
    """Vacuum [inHg].

    Parameters
    ----------
    p_pa : float
        Absolute pressure. [Pa]
    ambient_pa : float
        Air pressure at the gauge. [Pa]

    Returns
    -------
    float
        Vacuum; below 0 above the air pressure. [inHg]

    References
    ----------
    .. [1] NIST Special Publication 811 (2008), B.8.

    Examples
    --------
    >>> round(inhg_vacuum_from_pascal_abs(81e3), 1)
    6.0
    """
    return (ambient_pa - p_pa) / PASCAL_PER_INHG


def air_pressure_at_altitude(altitude_m: float) -> float:
    """Air pressure of the standard atmosphere [Pa], -500 m to 11 km.

    Parameters
    ----------
    altitude_m : float
        Height above sea level. [m]

    Returns
    -------
    float
        Absolute pressure. [Pa]

    References
    ----------
    .. [1] ICAO, Manual of the Standard Atmosphere, Doc 7488, 3rd ed., 1993: sea level
       101 325 Pa and 288.15 K, 6.5 K per km.

    Examples
    --------
    >>> round(air_pressure_at_altitude(1500.0))
    84556
    """
    return float(STANDARD_ATMOSPHERE_PA * (1.0 - 0.0065 * altitude_m / 288.15) ** 5.255876)

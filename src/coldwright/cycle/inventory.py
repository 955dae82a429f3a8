"""Charge: of a two-phase stretch, and of the shell with its oil."""

from __future__ import annotations

from coldwright.cycle.void import PREMOLI, premoli_factors, void_fraction
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import vapour
from coldwright.refrigerant.oils import dissolved_ratio
from coldwright.refrigerant.saturation import saturation_pressure

OIL_COLDEST = 220.0  # no household oil is colder [K]
# Gauss-Legendre, six points on 0..1 (Abramowitz & Stegun 1964, table 25.4).
_NODE = (
    0.033765242898424, 0.169395306766868, 0.380690406958402,
    0.619309593041598, 0.830604693233132, 0.966234757101576,
)  # fmt: skip
_WEIGHT = (
    0.085662246189585, 0.180380786524069, 0.233956967286346,
    0.233956967286346, 0.180380786524069, 0.085662246189585,
)  # fmt: skip


@kernel
def two_phase_density(code, x_a, x_b, sat, flux, bore):
    """Mean density of a two-phase stretch whose quality is linear in length.

    Parameters
    ----------
    code : int
        Void model. [-]
    x_a : float
        Quality at one end. [-]
    x_b : float
        Quality at the other end. [-]
    sat : tuple
        `saturation_all` at the pressure.
    flux : float
        Mass flux. [kg/m2/s]
    bore : float
        Inner diameter. [m]

    Returns
    -------
    float
        Density. [kg/m3]

    References
    ----------
    .. [1] Rice (1987), ASHRAE paper 3035 (inventory by void integration).
    """
    lo = min(max(min(x_a, x_b), 0.0), 1.0)
    hi = min(max(max(x_a, x_b), 0.0), 1.0)
    rho_l, rho_v = 1.0 / sat[3], 1.0 / sat[4]
    if hi - lo < 1e-7:
        a = void_fraction(code, 0.5 * (lo + hi), rho_l, rho_v, sat[5], sat[6], sat[13], flux, bore)
        return a * rho_v + (1.0 - a) * rho_l
    # In sqrt(x) the steep start of the void curve is smooth.
    ua, ub = lo**0.5, hi**0.5
    total = 0.0
    if code == PREMOLI:
        # The same correlation with its x-independent powers taken out of the loop.
        e1, e2 = premoli_factors(rho_l, rho_v, sat[5], sat[13], flux, bore)
        for i in range(6):
            u = ua + (ub - ua) * _NODE[i]
            x = u * u
            y = x / (1.0 - x) * rho_l / rho_v
            inner = y / (1.0 + y * e2) - y * e2
            slip = 1.0 + e1 * inner**0.5 if inner > 0.0 else 1.0
            total += _WEIGHT[i] * 2.0 * u * (ub - ua) * x / (x + slip * (1.0 - x) * rho_v / rho_l)
        a = total / (hi - lo)
        return a * rho_v + (1.0 - a) * rho_l
    for i in range(6):
        u = ua + (ub - ua) * _NODE[i]
        a = void_fraction(code, u * u, rho_l, rho_v, sat[5], sat[6], sat[13], flux, bore)
        total += _WEIGHT[i] * 2.0 * u * (ub - ua) * a
    a = total / (hi - lo)
    return a * rho_v + (1.0 - a) * rho_l


@kernel
def oil_and_shell(med, c, p, t_shell):
    """Refrigerant in the shell: (gas [kg], dissolved in oil [kg]).

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    p : float
        Shell pressure. [Pa]
    t_shell : float
        Shell and oil temperature. [K]

    References
    ----------
    .. [1] `refrigerant.oils.dissolved_ratio`.
    """
    tab = med.tables
    v = vapour(tab, p, t_shell)[1]
    t = max(t_shell, OIL_COLDEST)
    ratio = dissolved_ratio(
        p, t, saturation_pressure(tab, t), med.size_ratio, med.chi0, med.chi1, tab.molar_mass,
        med.oil_molar_mass,
    )  # fmt: skip
    return c.compressor.shell_volume_m3 / v, c.compressor.oil_mass_kg * ratio

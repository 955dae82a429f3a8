# mypy: disable-error-code=no-any-return
# float ** float has type Any.
"""Wall friction and two-phase viscosity, as compiled scalar kernels.

The kernels do not raise: a quality outside 0..1 is held at the nearer end,
a Reynolds number below 1e-3 at 1e-3.
"""

from __future__ import annotations

from math import log, pi

from coldwright.refrigerant.compiled import kernel


@kernel
def churchill(re: float, relative_roughness: float) -> float:
    """Darcy friction factor of a round tube, laminar to fully rough, in one expression.

    Continuous with all its derivatives over every Reynolds number, so a march that
    crosses from laminar to turbulent flow has no step in it.

    Parameters
    ----------
    re : float
        Reynolds number on the bore, any value > 0. [-]
    relative_roughness : float
        Wall roughness over bore, 0 to 0.05. [-]

    Returns
    -------
    float
        Darcy friction factor (four times Fanning's). [-]

    References
    ----------
    .. [1] S. W. Churchill, Friction-factor equation spans all fluid-flow regimes,
       Chemical Engineering 84 (24), 1977, 91-92, eq. (18).
    """
    if re < 1e-3:
        re = 1e-3
    a = (-2.457 * log((7.0 / re) ** 0.9 + 0.27 * relative_roughness)) ** 16
    b = (37530.0 / re) ** 16
    return 8.0 * ((8.0 / re) ** 12 + (a + b) ** -1.5) ** (1.0 / 12.0)


@kernel
def mcadams_viscosity(x: float, mu_l: float, mu_v: float) -> float:
    """Viscosity of a homogeneous mixture, reciprocal mean by mass.

    Parameters
    ----------
    x : float
        Vapour quality, 0 to 1. [-]
    mu_l : float
        Viscosity of the saturated liquid. [Pa s]
    mu_v : float
        Viscosity of the saturated vapour. [Pa s]

    Returns
    -------
    float
        Viscosity of the mixture. [Pa s]

    References
    ----------
    .. [1] W. H. McAdams, W. K. Woods, L. C. Heroman, Vaporization inside horizontal
       tubes II: benzene-oil mixtures, Trans. ASME 64, 1942, 193-200.
    """
    if x < 0.0:
        x = 0.0
    elif x > 1.0:
        x = 1.0
    return 1.0 / (x / mu_v + (1.0 - x) / mu_l)


@kernel
def cicchitti_viscosity(x: float, mu_l: float, mu_v: float) -> float:
    """Viscosity of a homogeneous mixture, arithmetic mean by mass.

    Parameters
    ----------
    x : float
        Vapour quality, 0 to 1. [-]
    mu_l : float
        Viscosity of the saturated liquid. [Pa s]
    mu_v : float
        Viscosity of the saturated vapour. [Pa s]

    Returns
    -------
    float
        Viscosity of the mixture. [Pa s]

    References
    ----------
    .. [1] A. Cicchitti et al., Two-phase cooling experiments: pressure drop, heat
       transfer and burnout measurements, Energia Nucleare 7 (6), 1960, 407-425.
    """
    if x < 0.0:
        x = 0.0
    elif x > 1.0:
        x = 1.0
    return x * mu_v + (1.0 - x) * mu_l


@kernel
def single_phase_gradient(m_dot: float, rho: float, mu: float, bore: float) -> float:
    """Frictional pressure gradient of one phase filling a smooth tube.

    Parameters
    ----------
    m_dot : float
        Mass flow, >= 0. [kg/s]
    rho : float
        Density. [kg/m³]
    mu : float
        Viscosity. [Pa s]
    bore : float
        Inside diameter. [m]

    Returns
    -------
    float
        Pressure lost per length, >= 0. [Pa/m]

    References
    ----------
    .. [1] Darcy-Weisbach with Churchill (1977), see `churchill`.
    """
    g = m_dot / (0.25 * pi * bore * bore)
    return churchill(g * bore / mu, 0.0) * g * g / (2.0 * rho * bore)


@kernel
def muller_steinhagen_heck(
    m_dot: float, x: float, rho_l: float, rho_v: float, mu_l: float, mu_v: float, bore: float
) -> float:
    """Frictional pressure gradient of two-phase flow in a smooth tube.

    An interpolation between all-liquid and all-vapour flow, exact at both ends.
    The friction factor is Churchill's, not the paper's two branches (64/Re and
    Blasius), which leave a step at Re = 1187.

    Parameters
    ----------
    m_dot : float
        Total mass flow, >= 0. [kg/s]
    x : float
        Vapour quality, 0 to 1. [-]
    rho_l : float
        Density of the saturated liquid. [kg/m³]
    rho_v : float
        Density of the saturated vapour. [kg/m³]
    mu_l : float
        Viscosity of the saturated liquid. [Pa s]
    mu_v : float
        Viscosity of the saturated vapour. [Pa s]
    bore : float
        Inside diameter, 4 to 392 mm in the data. [m]

    Returns
    -------
    float
        Pressure lost per length, >= 0. [Pa/m]

    References
    ----------
    .. [1] H. Muller-Steinhagen, K. Heck, A simple friction pressure drop correlation
       for two-phase flow in pipes, Chem. Eng. Process. 20, 1986, 297-308, eq. (7).
    """
    if x < 0.0:
        x = 0.0
    elif x > 1.0:
        x = 1.0
    liquid = single_phase_gradient(m_dot, rho_l, mu_l, bore)
    vapour = single_phase_gradient(m_dot, rho_v, mu_v, bore)
    return (liquid + 2.0 * (vapour - liquid) * x) * (1.0 - x) ** (1.0 / 3.0) + vapour * x**3

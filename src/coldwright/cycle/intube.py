# mypy: disable-error-code=no-any-return
# float ** float has type Any.
"""Heat transfer inside the tubes, as compiled scalar kernels.

Boiling is a function of heat flux, not of wall superheat, so a cell of the
evaporator needs no inner iteration. Of the heat-flux forms, Gungor and
Winterton's simplified one is used: its data hold R12 (and R11, R22, R113,
R114), bores from 3 mm and mass fluxes from 12 kg/(m² s), horizontal tubes with
partly wetted walls included, which is where a household evaporator runs
(4-8 mm, 15-150 kg/(m² s)). Lazarek and Black stand beside it for comparison.
"""

from __future__ import annotations

from math import log10

from coldwright.refrigerant.compiled import kernel

GRAVITY = 9.80665  # m/s2, standard value (CGPM 1901)
LAMINAR_NUSSELT = 3.66  # developed laminar flow, constant wall temperature (Graetz 1883)
LAMINAR_END = 2300.0  # Gnielinski 2013
TURBULENT_BEGIN = 4000.0  # Gnielinski 2013
# Quality where the wall begins to dry; from there to 1 we blend (judgement of ours).
DRYOUT_QUALITY = 0.9


@kernel
def _gnielinski_nusselt(re: float, pr: float) -> float:
    f = (1.8 * log10(re) - 1.5) ** -2 / 8.0
    return f * (re - 1000.0) * pr / (1.0 + 12.7 * f**0.5 * (pr ** (2.0 / 3.0) - 1.0))


@kernel
def single_phase(re: float, pr: float, k: float, bore: float) -> float:
    """Heat transfer coefficient of one phase in a round tube, continuous in Re.

    Developed laminar flow (Nu = 3.66) up to Re 2300, Gnielinski's turbulent form from
    4000, and his straight line between the two.

    Parameters
    ----------
    re : float
        Reynolds number on the bore, 0 to 1e6. [-]
    pr : float
        Prandtl number, 0.5 to 2000. [-]
    k : float
        Thermal conductivity. [W/(m K)]
    bore : float
        Inside diameter. [m]

    Returns
    -------
    float
        Heat transfer coefficient. [W/(m² K)]

    References
    ----------
    .. [1] V. Gnielinski, On heat transfer in tubes, Int. J. Heat Mass Transfer 63,
       2013, 134-140, eqs. (1)-(5), friction factor by Konakov (1946).
    """
    if re <= LAMINAR_END:
        nu = LAMINAR_NUSSELT
    elif re >= TURBULENT_BEGIN:
        nu = _gnielinski_nusselt(re, pr)
    else:
        share = (re - LAMINAR_END) / (TURBULENT_BEGIN - LAMINAR_END)
        nu = (1.0 - share) * LAMINAR_NUSSELT + share * _gnielinski_nusselt(TURBULENT_BEGIN, pr)
    return nu * k / bore


@kernel
def liquid_dittus_boelter(
    mass_flux: float, bore: float, mu_l: float, k_l: float, cp_l: float
) -> float:
    """Turbulent heat transfer coefficient of liquid, the base of the two-phase forms.

    Parameters
    ----------
    mass_flux : float
        Mass flow of the liquid over the whole flow section. [kg/(m² s)]
    bore : float
        Inside diameter. [m]
    mu_l : float
        Viscosity of the saturated liquid. [Pa s]
    k_l : float
        Thermal conductivity of the saturated liquid. [W/(m K)]
    cp_l : float
        Specific heat of the saturated liquid. [J/(kg K)]

    Returns
    -------
    float
        Heat transfer coefficient. [W/(m² K)]

    References
    ----------
    .. [1] F. W. Dittus, L. M. K. Boelter, Univ. California Publ. Eng. 2, 1930, 443; in
       the form 0.023 Re^0.8 Pr^0.4 that both two-phase correlations here use.
    """
    re = mass_flux * bore / mu_l
    return 0.023 * re**0.8 * (cp_l * mu_l / k_l) ** 0.4 * k_l / bore


@kernel
def shah_condensation(
    x: float,
    mass_flux: float,
    bore: float,
    mu_l: float,
    k_l: float,
    cp_l: float,
    reduced_pressure: float,
) -> float:
    """Local film condensation coefficient inside a tube.

    Parameters
    ----------
    x : float
        Vapour quality, 0 to 1. [-]
    mass_flux : float
        Mass flow over flow section; 11 to 211 in the data. [kg/(m² s)]
    bore : float
        Inside diameter; 7 to 40 mm in the data, smaller is an extrapolation. [m]
    mu_l : float
        Viscosity of the saturated liquid. [Pa s]
    k_l : float
        Thermal conductivity of the saturated liquid. [W/(m K)]
    cp_l : float
        Specific heat of the saturated liquid. [J/(kg K)]
    reduced_pressure : float
        Pressure over critical pressure; 0.002 to 0.44 in the data. [-]

    Returns
    -------
    float
        Heat transfer coefficient. [W/(m² K)]

    References
    ----------
    .. [1] M. M. Shah, A general correlation for heat transfer during film condensation
       inside pipes, Int. J. Heat Mass Transfer 22, 1979, 547-556, eq. (5); all-liquid
       Reynolds number above 350.
    """
    if x < 0.0:
        x = 0.0
    elif x > 1.0:
        x = 1.0
    liquid = liquid_dittus_boelter(mass_flux, bore, mu_l, k_l, cp_l)
    return liquid * ((1.0 - x) ** 0.8 + 3.8 * x**0.76 * (1.0 - x) ** 0.04 / reduced_pressure**0.38)


@kernel
def shah_condensation_mean(
    x_in: float,
    x_out: float,
    mass_flux: float,
    bore: float,
    mu_l: float,
    k_l: float,
    cp_l: float,
    reduced_pressure: float,
) -> float:
    """Condensation coefficient averaged over quality (linear quality along the tube).

    Integrated in closed form but for the factor (1 - x)^0.04, whose integral is taken
    by three-point Gauss quadrature in t = x^1.76 on each side of x = 0.9 (error < 0.2 %).

    Parameters
    ----------
    x_in : float
        Vapour quality at one end, 0 to 1. [-]
    x_out : float
        Vapour quality at the other end, 0 to 1. [-]
    mass_flux : float
        Mass flow over flow section; 11 to 211 in the data. [kg/(m² s)]
    bore : float
        Inside diameter; 7 to 40 mm in the data. [m]
    mu_l : float
        Viscosity of the saturated liquid. [Pa s]
    k_l : float
        Thermal conductivity of the saturated liquid. [W/(m K)]
    cp_l : float
        Specific heat of the saturated liquid. [J/(kg K)]
    reduced_pressure : float
        Pressure over critical pressure; 0.002 to 0.44 in the data. [-]

    Returns
    -------
    float
        Mean heat transfer coefficient. [W/(m² K)]

    References
    ----------
    .. [1] M. M. Shah (1979), see `shah_condensation`; the paper's own mean over the
       whole range, 0.55 + 2.09 / pr^0.38, is eq. (9).
    """
    lo = min(max(min(x_in, x_out), 0.0), 1.0)
    hi = min(max(max(x_in, x_out), 0.0), 1.0)
    if hi - lo < 1e-6:
        return shah_condensation(
            0.5 * (lo + hi), mass_flux, bore, mu_l, k_l, cp_l, reduced_pressure
        )
    liquid = liquid_dittus_boelter(mass_flux, bore, mu_l, k_l, cp_l)
    first = ((1.0 - lo) ** 1.8 - (1.0 - hi) ** 1.8) / 1.8
    split = min(max(DRYOUT_QUALITY, lo), hi)
    second = _film_term(lo, split) + _film_term(split, hi)
    return liquid * (first + 3.8 * second / reduced_pressure**0.38) / (hi - lo)


@kernel
def _film_term(lo: float, hi: float) -> float:
    """Integral of x^0.76 (1 - x)^0.04 from lo to hi, by t = x^1.76."""
    a, b = lo**1.76, hi**1.76
    half, mid = 0.5 * (b - a), 0.5 * (b + a)
    node = 0.7745966692414834 * half
    low = (1.0 - (mid - node) ** (1.0 / 1.76)) ** 0.04
    centre = (1.0 - mid ** (1.0 / 1.76)) ** 0.04
    high = (1.0 - (mid + node) ** (1.0 / 1.76)) ** 0.04
    return half * (5.0 * low + 8.0 * centre + 5.0 * high) / 9.0 / 1.76


@kernel
def gungor_winterton(
    x: float,
    heat_flux: float,
    mass_flux: float,
    bore: float,
    rho_l: float,
    rho_v: float,
    mu_l: float,
    k_l: float,
    cp_l: float,
    h_fg: float,
) -> float:
    """Local boiling coefficient in a horizontal tube from the heat flux.

    Parameters
    ----------
    x : float
        Vapour quality, 0 <= x < 1; held at 0.999 above. [-]
    heat_flux : float
        Heat flux at the inner wall, >= 0. [W/m²]
    mass_flux : float
        Mass flow over flow section; 12 to 60000 in the data, held at 1e-3 below. [kg/(m² s)]
    bore : float
        Inside diameter; 2.95 to 32 mm in the data. [m]
    rho_l : float
        Density of the saturated liquid. [kg/m³]
    rho_v : float
        Density of the saturated vapour. [kg/m³]
    mu_l : float
        Viscosity of the saturated liquid. [Pa s]
    k_l : float
        Thermal conductivity of the saturated liquid. [W/(m K)]
    cp_l : float
        Specific heat of the saturated liquid. [J/(kg K)]
    h_fg : float
        Heat of vaporisation. [J/kg]

    Returns
    -------
    float
        Heat transfer coefficient. [W/(m² K)]

    References
    ----------
    .. [1] K. E. Gungor, R. H. S. Winterton, Simplified general correlation for saturated
       flow boiling and comparisons of correlations with data, Chem. Eng. Res. Des. 65,
       1987, 148-156; range from the data base of their 1986 paper. Constants recalled,
       and found the same in public general-purpose modelling code; paper not read.
    """
    if x < 0.0:
        x = 0.0
    elif x > 0.999:
        x = 0.999
    g = max(mass_flux, 1e-3)
    boiling_number = max(heat_flux, 0.0) / (g * h_fg)
    liquid = liquid_dittus_boelter(g * (1.0 - x), bore, mu_l, k_l, cp_l)
    gain = (
        1.0
        + 3000.0 * boiling_number**0.86
        + 1.12 * (x / (1.0 - x)) ** 0.75 * (rho_l / rho_v) ** 0.41
    )
    froude = g * g / (rho_l * rho_l * GRAVITY * bore)
    wetted = froude ** (0.1 - 2.0 * froude) if froude < 0.05 else 1.0
    return liquid * gain * wetted


@kernel
def lazarek_black(
    heat_flux: float, mass_flux: float, bore: float, mu_l: float, k_l: float, h_fg: float
) -> float:
    """Boiling coefficient in a narrow tube from the heat flux, independent of quality.

    Parameters
    ----------
    heat_flux : float
        Heat flux at the inner wall; 14000 to 380000 in the data. [W/m²]
    mass_flux : float
        Mass flow over flow section; 125 to 750 in the data. [kg/(m² s)]
    bore : float
        Inside diameter; 3.1 mm in the data (R113). [m]
    mu_l : float
        Viscosity of the saturated liquid. [Pa s]
    k_l : float
        Thermal conductivity of the saturated liquid. [W/(m K)]
    h_fg : float
        Heat of vaporisation. [J/kg]

    Returns
    -------
    float
        Heat transfer coefficient. [W/(m² K)]

    References
    ----------
    .. [1] G. M. Lazarek, S. H. Black, Evaporative heat transfer, pressure drop and
       critical heat flux in a small vertical tube with R-113, Int. J. Heat Mass
       Transfer 25, 1982, 945-960.
    """
    re = mass_flux * bore / mu_l
    boiling_number = heat_flux / (mass_flux * h_fg)
    return 30.0 * re**0.857 * boiling_number**0.714 * k_l / bore


@kernel
def with_dryout(x: float, wetted: float, dry: float) -> float:
    """Boiling coefficient brought down to the vapour's as the wall dries.

    A smooth step between quality 0.9 and 1: the place where the wall dries is not
    predicted, only that at quality 1 nothing but vapour touches it (judgement of ours).

    Parameters
    ----------
    x : float
        Vapour quality, any value. [-]
    wetted : float
        Boiling coefficient of a wetted wall. [W/(m² K)]
    dry : float
        Single-phase coefficient of the vapour. [W/(m² K)]

    Returns
    -------
    float
        Heat transfer coefficient. [W/(m² K)]

    References
    ----------
    .. [1] Judgement of ours, no published source.
    """
    if x <= DRYOUT_QUALITY:
        return wetted
    if x >= 1.0:
        return dry
    s = (x - DRYOUT_QUALITY) / (1.0 - DRYOUT_QUALITY)
    s = s * s * (3.0 - 2.0 * s)
    return (1.0 - s) * wetted + s * dry

# mypy: disable-error-code=no-any-return
# float ** float has type Any.
"""Void fraction: how much of a tube's section the vapour takes.

Kernels choose by an integer code; Python code passes one of `VOID_MODELS`.
Every form runs from exactly 0 at no vapour to exactly 1 at no liquid and stays
between; a quality outside 0..1 is held at the nearer end.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import Protocol

from coldwright.refrigerant.compiled import kernel

PREMOLI = 0
ROUHANI = 1
ZIVI = 2
HOMOGENEOUS = 3
BAROCZY = 4

GRAVITY = 9.80665  # m/s2, standard value (CGPM 1901)
# Below this the correlations were never measured; it only keeps 0/0 away (ours).
LEAST_MASS_FLUX = 1e-3  # kg/m2/s


@kernel
def premoli_factors(
    rho_l: float, rho_v: float, mu_l: float, sigma: float, mass_flux: float, bore: float
) -> tuple[float, float]:
    """The two factors of `premoli_slip` that do not depend on quality, E1 and E2.

    Parameters
    ----------
    rho_l : float
        Density of the saturated liquid. [kg/m³]
    rho_v : float
        Density of the saturated vapour. [kg/m³]
    mu_l : float
        Viscosity of the saturated liquid. [Pa s]
    sigma : float
        Surface tension. [N/m]
    mass_flux : float
        Mass flow over flow section, held at 1e-3 below that. [kg/(m² s)]
    bore : float
        Inside diameter. [m]

    Returns
    -------
    tuple
        The two factors of the slip. [-]

    References
    ----------
    .. [1] Premoli et al. (1971), see `premoli_slip`.
    """
    g = max(mass_flux, LEAST_MASS_FLUX)
    re = g * bore / mu_l
    we = g * g * bore / (sigma * rho_l)
    ratio = rho_l / rho_v
    return 1.578 * re**-0.19 * ratio**0.22, 0.0273 * we * re**-0.51 * ratio**-0.08


@kernel
def premoli_slip(
    x: float, rho_l: float, rho_v: float, mu_l: float, sigma: float, mass_flux: float, bore: float
) -> float:
    """Slip ratio by Premoli and others, often called the CISE correlation.

    Parameters
    ----------
    x : float
        Vapour quality, 0 < x < 1. [-]
    rho_l : float
        Density of the saturated liquid. [kg/m³]
    rho_v : float
        Density of the saturated vapour. [kg/m³]
    mu_l : float
        Viscosity of the saturated liquid. [Pa s]
    sigma : float
        Surface tension. [N/m]
    mass_flux : float
        Mass flow over flow section, > 0. [kg/(m² s)]
    bore : float
        Inside diameter. [m]

    Returns
    -------
    float
        Vapour velocity over liquid velocity, >= 1. [-]

    References
    ----------
    .. [1] A. Premoli, D. Di Francesco, A. Prina, A dimensionless correlation for
       determining the density of two-phase mixtures, La Termotecnica 25, 1971, 17-26.
       Constants recalled, and found the same in public general-purpose flow code;
       the paper itself was not read.
    """
    e1, e2 = premoli_factors(rho_l, rho_v, mu_l, sigma, mass_flux, bore)
    y = x / (1.0 - x) * rho_l / rho_v
    inner = y / (1.0 + y * e2) - y * e2
    if inner <= 0.0:
        return 1.0
    return 1.0 + e1 * sqrt(inner)


@kernel
def void_fraction(
    code: int,
    x: float,
    rho_l: float,
    rho_v: float,
    mu_l: float,
    mu_v: float,
    sigma: float,
    mass_flux: float,
    bore: float,
) -> float:
    """Share of the tube's section that vapour takes, by the model of that code.

    Premoli and Rouhani depend on mass flux (measured above about 50 kg/(m² s), below
    that an extrapolation); the other three do not and ignore it.

    Parameters
    ----------
    code : int
        One of PREMOLI, ROUHANI, ZIVI, HOMOGENEOUS, BAROCZY. [-]
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
    sigma : float
        Surface tension. [N/m]
    mass_flux : float
        Mass flow over flow section, >= 0; held at 1e-3 below that. [kg/(m² s)]
    bore : float
        Inside diameter. [m]

    Returns
    -------
    float
        Void fraction, 0 to 1. [-]

    Raises
    ------
    ValueError
        If the code is none of the five.

    References
    ----------
    .. [1] Premoli et al. (1971), see `premoli_slip`.
    .. [2] S. Z. Rouhani, E. Axelsson, Calculation of void volume fraction in the
       subcooled and quality boiling regions, Int. J. Heat Mass Transfer 13, 1970,
       383-393; distribution parameter 1 + 0.2 (1 - x).
    .. [3] S. M. Zivi, Estimation of steady-state steam void-fraction by means of the
       principle of minimum entropy production, J. Heat Transfer 86, 1964, 247-252.
    .. [4] C. J. Baroczy, A systematic correlation for two-phase pressure drop, Chem.
       Eng. Prog. Symp. 62, 1966, in the form of D. Butterworth, Int. J. Multiphase
       Flow 1, 1975, 845-850.
    """
    if x <= 0.0:
        return 0.0
    if x >= 1.0:
        return 1.0
    if code == PREMOLI:
        g = max(mass_flux, LEAST_MASS_FLUX)
        slip = premoli_slip(x, rho_l, rho_v, mu_l, sigma, g, bore)
        return x / (x + slip * (1.0 - x) * rho_v / rho_l)
    if code == ROUHANI:
        g = max(mass_flux, LEAST_MASS_FLUX)
        c0 = 1.0 + 0.2 * (1.0 - x)
        drift = 1.18 * (1.0 - x) * (GRAVITY * sigma * (rho_l - rho_v)) ** 0.25 / sqrt(rho_l)
        return x / (rho_v * (c0 * (x / rho_v + (1.0 - x) / rho_l) + drift / g))
    if code == ZIVI:
        return x / (x + (1.0 - x) * (rho_v / rho_l) ** (2.0 / 3.0))
    if code == HOMOGENEOUS:
        return x / (x + (1.0 - x) * rho_v / rho_l)
    if code == BAROCZY:
        xtt = ((1.0 - x) / x) ** 0.74 * (rho_v / rho_l) ** 0.65 * (mu_l / mu_v) ** 0.13
        return 1.0 / (1.0 + xtt)
    raise ValueError("unknown void fraction code")


class VoidModel(Protocol):
    """What every void fraction model offers."""

    @property
    def code(self) -> int:
        """The integer that kernels take. [-]"""
        ...

    @property
    def name(self) -> str:
        """Name by author."""
        ...

    @property
    def source(self) -> str:
        """Publication and what is known of it."""
        ...

    def fraction(
        self,
        x: float,
        *,
        rho_l: float,
        rho_v: float,
        mu_l: float,
        mu_v: float,
        sigma: float,
        mass_flux: float,
        bore: float,
    ) -> float:
        """Void fraction, 0 to 1. [-]"""
        ...


@dataclass(frozen=True, slots=True)
class CodedVoid:
    """A void fraction model that the kernel knows by code."""

    code: int
    name: str
    source: str

    def fraction(
        self,
        x: float,
        *,
        rho_l: float,
        rho_v: float,
        mu_l: float,
        mu_v: float,
        sigma: float,
        mass_flux: float,
        bore: float,
    ) -> float:
        """Void fraction of this model; arguments as in `void_fraction`."""
        return float(void_fraction(self.code, x, rho_l, rho_v, mu_l, mu_v, sigma, mass_flux, bore))


VOID_MODELS: tuple[CodedVoid, ...] = (
    CodedVoid(PREMOLI, "Premoli (CISE)", "Premoli, Di Francesco, Prina 1971"),
    CodedVoid(ROUHANI, "Rouhani-Axelsson", "Rouhani, Axelsson 1970"),
    CodedVoid(ZIVI, "Zivi", "Zivi 1964"),
    CodedVoid(HOMOGENEOUS, "homogeneous", "no slip between the phases; a lower bound on charge"),
    CodedVoid(BAROCZY, "Baroczy", "Baroczy 1966 as fitted by Butterworth 1975"),
)

# Rice (ASHRAE paper 3035, 1987) found Hughmark, Premoli, Tandon and Baroczy highest in
# charge and closest to measurement; of these Premoli sees mass flux and needs no iteration.
DEFAULT: CodedVoid = VOID_MODELS[PREMOLI]

"""Refrigerant dissolved in compressor oil: one activity form, one record per pair.

Flory and Huggins (1942) with an interaction parameter that follows temperature:
ln(p/psat) = ln(v) + (1 - 1/r)(1 - v) + (chi0 + chi1/T)(1 - v)²
where v is the volume fraction of refrigerant and r the oil's size over the
refrigerant's. Fitted to MOLE fractions; a mass needs the oil's molar mass, which
is a separate, less certain number. Vapour is taken as pure refrigerant.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, log, sqrt

from numba import njit

from coldwright.errors import BadInput

# Above this the oil is a trace in liquid refrigerant; keeps the ratio finite (ours).
MOST_MOLE_FRACTION = 0.98
_BLEND = 0.02  # half-width in mole fraction over which that limit is met smoothly (ours)
# Near the chi that splits the liquid in two, uptake turns into a step; held below it so
# that a solver sees one root and a gentle slope (ours; not met within the fitted ranges).
_STABLE_SHARE = 0.9


@njit(cache=True, nogil=True, error_model="numpy")
def mole_fraction(
    p_over_psat: float, t: float, size_ratio: float, chi0: float, chi1: float
) -> float:
    """Mole fraction of refrigerant in the oil at equilibrium with its vapour.

    Rises steadily with pressure, with a continuous slope; from 0.96 it bends over to
    its limit 0.98, which it holds for any p/psat above 1 (liquid refrigerant present).

    Parameters
    ----------
    p_over_psat : float
        Refrigerant pressure over its saturation pressure at the oil temperature, > 0;
        0 is returned at and below 0. [-]
    t : float
        Oil temperature. [K]
    size_ratio : float
        Molecular size of the oil over the refrigerant's, r > 0. [-]
    chi0 : float
        Constant part of the interaction parameter. [-]
    chi1 : float
        Part of the interaction parameter that goes with 1/T. [K]

    Returns
    -------
    float
        Moles of refrigerant over moles of refrigerant and oil, 0 to 0.98. [-]

    References
    ----------
    .. [1] P. J. Flory, Thermodynamics of high polymer solutions, J. Chem. Phys. 10,
       1942, 51-61; M. L. Huggins, Ann. N.Y. Acad. Sci. 43, 1942, 1-32.
    """
    if p_over_psat <= 0.0:
        return 0.0
    if p_over_psat >= 1.0:
        raw = p_over_psat  # slope 1, as the solution has at x = 1
    else:
        split = 0.5 * (1.0 + 1.0 / sqrt(size_ratio)) ** 2
        chi = min(chi0 + chi1 / t, _STABLE_SHARE * split)
        volume = _volume_fraction(log(p_over_psat), size_ratio, chi)
        raw = size_ratio * volume / (1.0 + (size_ratio - 1.0) * volume)
    gap = abs(raw - MOST_MOLE_FRACTION)
    least = min(raw, MOST_MOLE_FRACTION)
    if gap < _BLEND:
        least -= 0.25 * (_BLEND - gap) ** 2 / _BLEND
    return least


@njit(cache=True, nogil=True, error_model="numpy")
def _volume_fraction(ln_activity: float, r: float, chi: float) -> float:
    """Root in ln(v) by Newton inside a shrinking bracket; the left side is monotone."""
    a = 1.0 - 1.0 / r
    low = ln_activity - max(a, 0.0) - max(chi, 0.0)
    high = 0.0
    u = min(max(ln_activity - 0.5 * (a + chi), low), high)
    for _ in range(60):
        v = exp(u)
        f = u + a * (1.0 - v) + chi * (1.0 - v) ** 2 - ln_activity
        if f > 0.0:
            high = u
        else:
            low = u
        slope = 1.0 - v * (a + 2.0 * chi * (1.0 - v))
        step = u - f / slope if slope > 0.0 else low - 1.0
        if step <= low or step >= high:
            step = 0.5 * (low + high)
        if abs(step - u) < 1e-13:
            return exp(step)
        u = step
    return exp(u)


@njit(cache=True, nogil=True, error_model="numpy")
def dissolved_ratio(
    p: float,
    t: float,
    psat: float,
    size_ratio: float,
    chi0: float,
    chi1: float,
    molar_mass_refrigerant: float,
    molar_mass_oil: float,
) -> float:
    """Mass of refrigerant dissolved per mass of oil, at equilibrium.

    Parameters
    ----------
    p : float
        Partial pressure of the refrigerant over the oil. [Pa]
    t : float
        Oil temperature. [K]
    psat : float
        Saturation pressure of the refrigerant at the oil temperature. [Pa]
    size_ratio : float
        Molecular size of the oil over the refrigerant's, > 0. [-]
    chi0 : float
        Constant part of the interaction parameter. [-]
    chi1 : float
        Part of the interaction parameter that goes with 1/T. [K]
    molar_mass_refrigerant : float
        Molar mass of the refrigerant. [kg/mol]
    molar_mass_oil : float
        Mean molar mass of the oil. [kg/mol]

    Returns
    -------
    float
        Kilogram of refrigerant per kilogram of oil (not a mass fraction). [kg/kg]

    References
    ----------
    .. [1] See `mole_fraction`.
    """
    x = mole_fraction(p / psat, t, size_ratio, chi0, chi1)
    ratio: float = x / (1.0 - x) * molar_mass_refrigerant / molar_mass_oil
    return ratio


@dataclass(frozen=True, slots=True)
class Oil:
    """One refrigerant in one oil."""

    name: str
    refrigerant: str
    oil: str
    size_ratio: float  # [-]
    chi0: float  # [-]
    chi1: float  # [K]
    molar_mass_kg_mol: float  # mean, of the oil
    molar_mass_known: str  # where that number comes from
    source: str
    fitted_t_low_k: float  # range of the data; equal to high where there was none
    fitted_t_high_k: float
    fitted_mole_fraction_low: float
    fitted_mole_fraction_high: float
    mole_fraction_uncertainty: float  # relative, one standard deviation
    mass_ratio_uncertainty: float  # relative, one standard deviation, with the molar mass's


_NETO = (
    "M. Marcelino Neto, J. R. Barbosa, Int. J. Refrigeration 31, 2008, 34-44; digitised "
    "points from an open sorption data library, fitted here"
)
_WAHLSTROM = (
    "A. Wahlstrom, L. Vamling, J. Chem. Eng. Data 45, 2000, 97-103; table points from an "
    "open sorption data library, fitted here"
)
_IDEAL = (
    "approximation of ours, no data: size ratio from molar volumes at 20 C, chi 0.4 between "
    "the 0.3 usual for alkanes in alkanes and the 0.5 fitted to isobutane in POE"
)
_ESTER = "ideal formula weight of the ester"

R600A_POE7 = Oil(
    "R600a in POE ISO 7", "R600a", "POE ISO 7", 3.546, -0.5165, 323.2, 0.400,
    "not published; 0.400 kg/mol assumed for a light ester of that viscosity (ours, 20 %)",
    _NETO, 283.15, 333.15, 0.0395, 0.8483, 0.03, 0.20,
)  # fmt: skip
R134A_PEB8 = Oil(
    "R134a in PEB8", "R134a", "pentaerythritol tetra(2-ethylhexanoate)", 6.0, -0.7391, 420.0,
    0.64094, _ESTER, _WAHLSTROM, 303.0, 363.0, 0.0653, 0.653, 0.03, 0.04,
)  # fmt: skip
R134A_PEB6 = Oil(
    "R134a in PEB6", "R134a", "pentaerythritol tetra(2-ethylbutanoate)", 6.0, -0.5909, 349.9,
    0.52873, _ESTER, _WAHLSTROM, 323.0, 363.0, 0.0886, 0.5349, 0.03, 0.04,
)  # fmt: skip
R134A_PEC9 = Oil(
    "R134a in PEC9", "R134a", "pentaerythritol tetranonanoate", 6.0, -1.1823, 598.2,
    0.69705, _ESTER, _WAHLSTROM, 303.0, 363.0, 0.0949, 0.648, 0.08, 0.08,
)  # fmt: skip
R134A_POE = Oil(
    "R134a in household POE", "R134a", "POE ISO 10-22", 6.0, -0.8106, 437.1, 0.585,
    "mean of PEB6 and PEB8, taken for a household ester of unknown make (ours, 20 %)",
    "PEB6 and PEB8 fitted together: " + _WAHLSTROM,
    303.0, 363.0, 0.0653, 0.653, 0.10, 0.22,
)  # fmt: skip
R600A_MINERAL = Oil(
    "R600a in mineral oil", "R600a", "mineral oil or alkylbenzene, ISO 5-15", 2.9, 0.4, 0.0, 0.270,
    "typical of a light naphthenic oil or alkylbenzene, from memory (20 %)",
    _IDEAL, 293.15, 293.15, 0.0, 0.0, 0.15, 0.25,
)  # fmt: skip
R290_MINERAL = Oil(
    "R290 in mineral oil", "R290", "mineral oil or alkylbenzene, ISO 15-32", 3.9, 0.4, 0.0, 0.300,
    "typical of a naphthenic oil or alkylbenzene, from memory (20 %)",
    _IDEAL, 293.15, 293.15, 0.0, 0.0, 0.15, 0.25,
)  # fmt: skip
R12_MINERAL = Oil(
    "R12 in mineral oil", "R12", "mineral oil, ISO 32", 4.0, 0.4, 0.0, 0.330,
    "typical of a naphthenic ISO 32 oil, from memory (20 %)",
    _IDEAL, 293.15, 293.15, 0.0, 0.0, 0.20, 0.30,
)  # fmt: skip
R22_MINERAL = Oil(
    "R22 in mineral oil", "R22", "mineral oil or alkylbenzene, ISO 32", 5.1, 0.9, 0.0, 0.330,
    "typical of a naphthenic ISO 32 oil, from memory (20 %)",
    "approximation of ours, no data: only partly miscible in the cold, so chi not far "
    "below the value that splits the liquid", 293.15, 293.15, 0.0, 0.0, 0.30, 0.40,
)  # fmt: skip

# The rest: no data; by analogy with the nearest pair above. The size ratio is the oil's molar
# volume over the refrigerant's, liquid at 20 degC (CoolProp; oil 0.97 kg/l ester, 0.90 mineral,
# 0.87 alkylbenzene, from memory). Pressures of a blend are taken at its mean line.
_LIKE = (
    "approximation of ours, no data: size ratio from molar volumes at 20 C, interaction "
    "parameter taken from {}"
)
_ESTER_MASS = "taken as for R134a in household POE (ours, 20 %)"
_MINERAL_MASS = "typical of an ISO 32 oil, from memory (20 %)"


def _ester(name: str, size_ratio: float, spread: float) -> Oil:
    return Oil(
        f"{name} in POE", name, "POE ISO 10-32", size_ratio, -0.8106, 437.1, 0.585, _ESTER_MASS,
        _LIKE.format("R134a in household POE"), 293.15, 293.15, 0.0, 0.0, spread, spread + 0.10,
    )  # fmt: skip


def _mineral(name: str, oil: str, size_ratio: float, chi: float, like: str) -> Oil:
    return Oil(
        f"{name} in {oil}", name, f"{oil}, ISO 15-32", size_ratio, chi, 0.0, 0.320, _MINERAL_MASS,
        _LIKE.format(like), 293.15, 293.15, 0.0, 0.0, 0.30, 0.40,
    )  # fmt: skip


R152A_POE = _ester("R152a", 8.3, 0.25)
R1234YF_POE = _ester("R1234yf", 5.9, 0.25)
R404A_POE = _ester("R404A", 6.6, 0.30)
R413A_POE = _ester("R413A", 6.9, 0.25)
R401A_ALKYLBENZENE = _mineral("R401A", "alkylbenzene", 4.7, 0.7, "between R12 and R22")
R409A_ALKYLBENZENE = _mineral("R409A", "alkylbenzene", 4.7, 0.7, "between R12 and R22")
R500_MINERAL = _mineral("R500", "mineral oil", 4.2, 0.5, "R12, a little less soluble")
R502_MINERAL = _mineral("R502", "mineral oil", 4.0, 0.9, "R22")
R436A_MINERAL = _mineral("R436A", "mineral oil", 3.8, 0.4, "R290 and R600a")
R436B_MINERAL = _mineral("R436B", "mineral oil", 3.8, 0.4, "R290 and R600a")

OILS: tuple[Oil, ...] = (
    R600A_MINERAL,
    R600A_POE7,
    R134A_POE,
    R134A_PEB8,
    R134A_PEB6,
    R134A_PEC9,
    R12_MINERAL,
    R290_MINERAL,
    R22_MINERAL,
    R152A_POE,
    R1234YF_POE,
    R404A_POE,
    R413A_POE,
    R401A_ALKYLBENZENE,
    R409A_ALKYLBENZENE,
    R500_MINERAL,
    R502_MINERAL,
    R436A_MINERAL,
    R436B_MINERAL,
)


def usual_oil(refrigerant: str) -> Oil:
    """The oil taken for a refrigerant when the plate does not say.

    Mineral oil or alkylbenzene for the hydrocarbons, CFC and HCFC, ester for the HFC:
    common practice, no published source.

    Parameters
    ----------
    refrigerant : str
        Refrigerant name as in the glossary, such as "R134a".

    Returns
    -------
    Oil
        The first record of `OILS` for it.

    Raises
    ------
    BadInput
        If no record holds this refrigerant.
    """
    for oil in OILS:
        if oil.refrigerant == refrigerant:
            return oil
    names = ", ".join(sorted({oil.refrigerant for oil in OILS}))
    raise BadInput("oil", "refrigerant", refrigerant, names)

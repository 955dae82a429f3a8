"""Methods to find a leak: what each senses, from what rate, how long it takes, why it is barred.

Published limits are laboratory or class figures; that half the leaks of that size are found
in the field, the spread, the coverage and the minutes are judgements of ours.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType


class Reach(Enum):
    """How a place can be got at."""

    OPEN = "open"
    FOAM = "foam"


@dataclass(frozen=True, slots=True)
class LeakMethod:
    """One method at one place. `limit` is the rate of which half are found in still air."""

    identifier: str
    words: str
    gases: tuple[str, ...]  # what must be inside: refrigerant, nitrogen, hydrogen_mixture, helium
    limit_pa_m3_s: float  # of the gas inside; 0 where `limit_g_yr` holds
    limit_g_yr: float  # of refrigerant; 0 where the other holds
    log_spread: float  # of a logistic in ln(rate)
    coverage_open: float  # chance with a large leak and all the time
    coverage_foam: float
    minutes: float  # at one place, usual
    patience_min: float  # time constant of finding at a place
    setup_min: float  # fetch, warm up, zero, mix
    draught_factor: float  # on the limit for each step of draught
    powered: bool
    source: str


_HALOGENATED = ("R134a", "R12", "R22")
_ANY = ("refrigerant", "nitrogen", "hydrogen_mixture", "helium")


def _method(identifier: str, words: str, gases: tuple[str, ...], **numbers: float | str | bool
            ) -> LeakMethod:  # fmt: skip
    return LeakMethod(identifier, words, gases, **numbers)  # type: ignore[arg-type]


_METHODS = (
    _method(
        "visual", "eyes: oil trace, rust, dents", _ANY, limit_pa_m3_s=0.0, limit_g_yr=0.0,
        log_spread=1.0, coverage_open=0.45, coverage_foam=0.02, minutes=0.5, patience_min=0.25,
        setup_min=1.0, draught_factor=1.0, powered=False,
        source="common practice, no published source; depends on what has leaked, not on the rate",
    ),
    _method(
        "bubble_test", "soap solution", _ANY, limit_pa_m3_s=1e-4, limit_g_yr=0.0,
        log_spread=1.05, coverage_open=0.92, coverage_foam=0.0, minutes=2.0, patience_min=0.7,
        setup_min=2.0, draught_factor=1.0, powered=False,
        source="brushed-on liquid 1e-4 Pa·m³/s (EN 1779, from memory, low confidence); 1e-3 to "
               "1e-4 (page citing the ASNT handbook); immersion 1e-5 (reference card, read)",
    ),
    _method(
        "ultrasonic", "ultrasonic ear", _ANY, limit_pa_m3_s=1e-3, limit_g_yr=0.0,
        log_spread=0.6, coverage_open=0.85, coverage_foam=0.03, minutes=0.7, patience_min=0.3,
        setup_min=2.0, draught_factor=1.0, powered=True,
        source="0.01 atm·cc/s, only turbulent leaks sound (reference card and leak-science page, "
               "read)",
    ),
    _method(
        "electronic_detector", "electronic detector, principle not stated", ("refrigerant",),
        limit_pa_m3_s=0.0, limit_g_yr=10.0, log_spread=0.9, coverage_open=0.88,
        coverage_foam=0.12, minutes=1.0, patience_min=0.45, setup_min=4.0, draught_factor=2.2,
        powered=True, source="between the classes below; ours",
    ),
    _method(
        "heated_diode_detector", "heated-diode detector", ("refrigerant",), limit_pa_m3_s=0.0,
        limit_g_yr=5.0, log_spread=0.8, coverage_open=0.9, coverage_foam=0.12, minutes=1.0,
        patience_min=0.45, setup_min=4.0, draught_factor=2.2, powered=True,
        source="scales of 4, 7 and 14 g/yr (SAE J2791:2019, scope read); 5 g/yr asked of portable "
               "detectors (EU 1516/2007, from memory)",
    ),
    _method(
        "infrared_detector", "infrared detector", ("refrigerant",), limit_pa_m3_s=0.0,
        limit_g_yr=5.0, log_spread=0.8, coverage_open=0.9, coverage_foam=0.15, minutes=1.3,
        patience_min=0.6, setup_min=2.0, draught_factor=2.2, powered=True,
        source="the same class; slower to answer, common practice",
    ),
    _method(
        "corona_detector", "corona-discharge detector", ("refrigerant",), limit_pa_m3_s=0.0,
        limit_g_yr=14.0, log_spread=0.9, coverage_open=0.85, coverage_foam=0.08, minutes=0.9,
        patience_min=0.4, setup_min=3.0, draught_factor=2.5, powered=True,
        source="the coarsest scale of that class; alarms falsely on damp, common practice",
    ),
    _method(
        "combustible_gas_detector", "flammable-gas detector, rated for the gas", ("refrigerant",),
        limit_pa_m3_s=0.0, limit_g_yr=8.0, log_spread=0.9, coverage_open=0.9, coverage_foam=0.15,
        minutes=1.2, patience_min=0.5, setup_min=4.0, draught_factor=2.2, powered=True,
        source="no class read (EN 14624 not reached); ours",
    ),
    _method(
        "tracer_gas", "5 % hydrogen in nitrogen and its sniffer", ("hydrogen_mixture",),
        limit_pa_m3_s=1.5e-6, limit_g_yr=0.0, log_spread=0.8, coverage_open=0.93,
        coverage_foam=0.3, minutes=1.0, patience_min=0.4, setup_min=4.0, draught_factor=2.0,
        powered=True,
        source="field instruments of about 0.5 to 5 g/yr (from memory), 2 g/yr of R134a here",
    ),
    _method(
        "helium_tracer", "helium and its sniffer", ("helium",), limit_pa_m3_s=5e-7,
        limit_g_yr=0.0, log_spread=0.8, coverage_open=0.93, coverage_foam=0.2, minutes=1.2,
        patience_min=0.5, setup_min=12.0, draught_factor=2.0, powered=True,
        source="ASTM E499-95 reaches 4.5e-13 mol/s (scope, read); sniffing 1e-7 Pa·m³/s (EN 1779, "
               "from memory, low confidence); a carried instrument less, ours",
    ),
    _method(
        "fluorescent_dye", "fluorescent dye", ("refrigerant",), limit_pa_m3_s=0.0, limit_g_yr=5.0,
        log_spread=0.8, coverage_open=0.8, coverage_foam=0.02, minutes=1.0, patience_min=0.5,
        setup_min=2900.0, draught_factor=1.0, powered=False,
        source="about 3 to 7 g/yr with time (from memory)",
    ),
    _method(
        "halide_torch", "halide torch", ("refrigerant",), limit_pa_m3_s=0.0, limit_g_yr=250.0,
        log_spread=0.4, coverage_open=0.9, coverage_foam=0.02, minutes=1.0, patience_min=0.4,
        setup_min=3.0, draught_factor=3.0, powered=True,
        source="200 to 300 g/yr (ASNT handbook vol. 1, read; it prints mL where g is meant)",
    ),
)  # fmt: skip
METHODS: Mapping[str, LeakMethod] = MappingProxyType({m.identifier: m for m in _METHODS})
# What a technician is taken to carry where the job does not say; ours.
USUAL_TOOLS = (
    *("visual", "bubble_test", "heated_diode_detector", "combustible_gas_detector"),
    *("tracer_gas", "pressure_hold", "vacuum_hold"),
)


def why_barred(method: str, refrigerant: str, flammable: bool) -> str:
    """Why a method must not or cannot be used on this circuit; empty where it may.

    Parameters
    ----------
    method : str
        Identifier.
    refrigerant : str
        As on the plate.
    flammable : bool
        It burns, or is not known.

    Returns
    -------
    str
        The reason, or empty.

    Examples
    --------
    >>> why_barred("combustible_gas_detector", "R134a", False)
    'senses what burns; R134a does not'
    """
    if method == "fluorescent_dye":
        return (
            "needs oil that carries it round and days of running; its solvent stays in a circuit "
            "with a cupful of oil"
        )
    if method == "halide_torch":
        if flammable:
            return "an open flame where flammable gas may be"
        chlorine = "" if refrigerant in ("R12", "R22") else "; and this refrigerant has no chlorine"
        return f"an open flame beside foam that turns the refrigerant to poison{chlorine}"
    if flammable and method in ("heated_diode_detector", "corona_detector", "electronic_detector"):
        return "its sensor can ignite flammable gas, and it is made for halogens"
    if flammable and method == "infrared_detector":
        return "not rated for flammable gas unless its maker says so"
    if method == "combustible_gas_detector" and refrigerant in _HALOGENATED:
        return f"senses what burns; {refrigerant} does not"
    return ""


def sensed_only_with_test_gas(method: str, flammable: bool) -> bool:
    """True for a powered ear that may come near only once the flammable charge is out.

    Parameters
    ----------
    method : str
        Identifier.
    flammable : bool
        The refrigerant burns, or is not known.

    Returns
    -------
    bool
        False where it may come near with the charge in.

    Examples
    --------
    >>> sensed_only_with_test_gas("ultrasonic", True)
    True
    """
    return flammable and method == "ultrasonic"


# Changes of what is inside, minutes, first fill counted; ours. From refrigerant it is recovered.
TO_TEST_GAS_MIN, BETWEEN_TEST_GASES_MIN, TO_VACUUM_MIN = 35.0, 10.0, 25.0
EMPTY_TO_TEST_GAS_MIN = 12.0
# Cutting and closing both ends so that a part holds pressure, minutes; ours.
CUT_HALVES_MIN, CUT_SEGMENT_MIN = 35.0, 30.0
HOLD_HOURS = ((0.5, 32.0), (16.0, 45.0))  # hours, minutes paid: stay, or come back next day
VACUUM_HOLD_HOURS, VACUUM_HOLD_PAID_MIN = 0.5, 32.0
VACUUM_NOISE_PA_M3_S = 3e-5  # gas from the oil hides less than this, one sd; ours

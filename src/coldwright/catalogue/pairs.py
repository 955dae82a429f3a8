"""Two faults at once: which pairs occur together, and how often beside one of them alone.

No published shares are known to us: every number is a judgement of ours, with its
reason. A pair's odds are those of its leading fault times a share, so whatever is
known of the leading fault (complaint, history, age) moves the pair alike.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from coldwright.catalogue.priors import UNTOLD, Background, fault_prior
from coldwright.faults.record import Together

DUSTY = 0.10  # of all appliances, dusty enough to matter whatever else ails them, ours
# Low sides below atmospheric pressure draw air in at a leak: R600a always, others when starved
_DRAWN_IN = {"R600a": 0.25, "R12": 0.04, "R134a": 0.08, "R290": 0.01, "R22": 0.02}
_DRAWN_IN_UNTOLD = 0.12
_TOPPED_UP = 0.03  # restrictions taken for a lost charge and filled up, where nothing is told
_TOPPED_UP_TOLD = 0.5


@dataclass(frozen=True, slots=True)
class Pair:
    """Two faults at once; `leading` sets the odds, `beside` comes with it."""

    leading: str
    beside: str
    why: str

    @property
    def faults(self) -> Together:
        """Both names, as a hypothesis."""
        return self.leading, self.beside


_DUST = "dust settles whatever else fails"
PAIRS: tuple[Pair, ...] = (
    Pair(
        "undercharge",
        "non_condensables",
        "a leak on a low side below atmospheric pressure lets refrigerant out and air in",
    ),
    Pair("capillary_restricted", "overcharge", "a restriction taken for a leak and topped up"),
    Pair("undercharge", "condenser_air", _DUST),
    Pair("capillary_restricted", "condenser_air", _DUST),
    Pair("weak_compressor", "condenser_air", _DUST),
    Pair("evaporator_air", "condenser_air", _DUST),
    Pair("heat_load", "condenser_air", _DUST),
)


def prior_with_pairs(
    complaint: str | None = None, background: Background = UNTOLD, refrigerant: str | None = None
) -> dict[Together, float]:
    """Odds of every single fault and pair before any reading; they sum to one.

    Parameters
    ----------
    complaint : str or None
        What the owner says.
    background : Background
        Age, history and kinds of coil.
    refrigerant : str or None
        On the plate; None where it is not known.

    Returns
    -------
    dict
        Hypothesis to probability. [-]
    """
    return with_pairs(fault_prior(complaint, background), background, refrigerant)


def with_pairs(
    singles: Mapping[str, float], background: Background = UNTOLD, refrigerant: str | None = None
) -> dict[Together, float]:
    """The same from odds of the single faults.

    Parameters
    ----------
    singles : Mapping
        Fault to probability. [-]
    background : Background
        History and kinds of coil.
    refrigerant : str or None
        On the plate; None where it is not known.
    """
    odds: dict[Together, float] = {(fault,): p for fault, p in singles.items()}
    for pair in PAIRS:
        odds[pair.faults] = singles[pair.leading] * _share(pair, background, refrigerant)
    whole = sum(odds.values())
    return {name: p / whole for name, p in odds.items()}


def _share(pair: Pair, known: Background, refrigerant: str | None) -> float:
    if pair.beside == "condenser_air":
        # a panel in the cabinet's wall gathers no dust to speak of
        return DUSTY * (0.4 if known.condenser == "skin" else 1.0)
    if pair.beside == "non_condensables":
        return _DRAWN_IN.get(refrigerant or "", _DRAWN_IN_UNTOLD)
    return _TOPPED_UP_TOLD if (known.charge_added_kg or 0.0) > 0.0 else _TOPPED_UP

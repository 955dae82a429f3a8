"""What a check is worth in money: the expected value of the sample information.

Value of the best alternative after the check's outcome, averaged over outcomes, less the
value of the best alternative now (Raiffa & Schlaifer 1961, Applied Statistical Decision
Theory, chapter 4). A check that cannot turn the choice is worth nothing, however much it
tells. One check at a time: two that only together turn the choice are each worth nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from coldwright.catalogue.checks import CHECKS
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.next_check import Outlook
from coldwright.diagnosis.result import CheckValue, Decision
from coldwright.electrical.evidence import NONE_READ, STANDING_STILL, ElectricalEvidence
from coldwright.faults.record import Together


class Stakes(Protocol):
    """What hangs on the choice; worked out where prices and repairs are known."""

    @property
    def titles(self) -> tuple[str, ...]:
        """Alternatives in words, in the order of the rows of `costs`."""
        ...

    @property
    def identifiers(self) -> tuple[str, ...]:
        """Alternatives by identifier, in the same order."""
        ...

    @property
    def currency(self) -> str:
        """Name of the money; may be empty."""
        ...

    @property
    def per_minute(self) -> float:
        """A minute of work. [currency/min]"""
        ...

    @property
    def opening_risk(self) -> float:
        """What opening a sound circuit costs in later trouble, on average. [currency]"""
        ...

    def costs(self, faults: Sequence[Together]) -> np.ndarray:
        """Expected cost of each alternative under each fault, shape (alternatives, faults)."""
        ...

    def stopped_costs(self, kinds: Sequence[str]) -> np.ndarray:
        """The same under each kind of a compressor that does not run, (alternatives, kinds)."""
        ...


@dataclass(frozen=True, slots=True)
class Valued:
    """The choice as it stands, and what each check would be worth to it."""

    decision: Decision
    by_check: dict[str, CheckValue]

    def pays(self, check: str) -> bool:
        """Whether a check saves more than its minutes and its risk cost."""
        return check in self.by_check and self.by_check[check].net > 0.0

    def opening_pays(self, check: str) -> bool:
        """Whether a check that opens the circuit pays, and no closed one does."""
        return self.pays(check) and not self.closed_pays

    @property
    def closed_pays(self) -> bool:
        """Whether any check that opens nothing pays."""
        return any(self.pays(k) for k in self.by_check if not CHECKS[k].opens_circuit)


def valued(seen: Outlook, stakes: Stakes, electrical: ElectricalEvidence = NONE_READ) -> Valued:
    """Every check of an outlook with its value in money, those of electrical parts included.

    Parameters
    ----------
    seen : Outlook
        From `next_check.outlook`: what each check would show, by equally likely members.
    stakes : Stakes
        What hangs on the choice.
    electrical : ElectricalEvidence
        What the parts not yet read would show, were the compressor not to run.

    Returns
    -------
    Valued
        The decision as it stands and the value of each check. [currency]
    """
    costs = stakes.costs(seen.faults)  # (alternatives, faults)
    one_of = np.eye(len(seen.faults))[seen.fault_code]  # (members, faults)
    now = costs @ one_of.mean(axis=0)
    order = np.argsort(now)
    best = int(order[0])
    sound = 1.0 - sum(
        float(np.mean(seen.fault_code == k))
        for k, fault in enumerate(seen.faults)
        if hypothesis_named(*fault).sealed
    )
    found: dict[str, CheckValue] = {}
    for view in seen.views:
        weight = np.exp(view.log_density - view.log_density.max(axis=1, keepdims=True))
        weight /= weight.sum(axis=1, keepdims=True)
        after = weight @ one_of @ costs.T  # (values shown, alternatives)
        even = np.full(after.shape[0], 1.0 / after.shape[0])
        found[view.check] = _value(view.check, even, after, stakes, sound, best)
    for key, joint in _parts(seen, costs, one_of, stakes, electrical).items():
        mass = joint[0]
        good = mass > 0.0
        found[key] = _value(key, mass[good], joint[1][good], stakes, sound, best)
    second = int(order[1]) if order.size > 1 else best
    decision = Decision(
        stakes.identifiers[best], stakes.titles[best], float(now[best]), stakes.titles[second],
        float(now[second]), stakes.currency, stakes.opening_risk, sound,
        any(v.net > 0.0 for v in found.values()),
    )  # fmt: skip
    return Valued(decision, found)


def _parts(
    seen: Outlook,
    costs: np.ndarray,
    one_of: np.ndarray,
    stakes: Stakes,
    electrical: ElectricalEvidence,
) -> dict[str, tuple[np.ndarray, np.ndarray]]:
    """Per electrical check: how likely each outcome is, and every alternative's cost after it."""
    share = one_of.mean(axis=0)
    at = seen.faults.index(STANDING_STILL) if STANDING_STILL in seen.faults else None
    if at is None or share[at] <= 0.0:
        return {}
    stopped = float(share[at])
    rest = share.copy()
    rest[at] = 0.0
    runs = costs @ (rest / max(rest.sum(), 1e-12)) if rest.sum() > 0.0 else costs[:, at]
    table = np.column_stack([runs, stakes.stopped_costs([k for k, _ in electrical.kinds])])
    out = {}
    for key, joint in electrical.outlook(stopped).items():
        if key in CHECKS:
            mass = joint.sum(axis=1)
            out[key] = (mass, joint @ table.T / np.maximum(mass, 1e-12)[:, None])
    return out


def _value(
    key: str, mass: np.ndarray, after: np.ndarray, stakes: Stakes, sound: float, best: int
) -> CheckValue:
    """The value of one check from the likelihood of its outcomes and the costs after each."""
    gross = sample_value(after, mass)
    check = CHECKS[key]
    minutes = check.minutes * stakes.per_minute
    risk = stakes.opening_risk * sound if check.opens_circuit else 0.0
    share = mass / mass.sum()
    choice = np.argmin(after, axis=1)
    by_choice = np.bincount(choice, share, minlength=after.shape[1])
    by_choice[best] = 0.0
    turns, to = float(by_choice.sum()), int(np.argmax(by_choice))
    return CheckValue(
        gross, minutes, risk, gross - minutes - risk, turns,
        stakes.titles[to] if turns > 0.0 else "",
    )  # fmt: skip


def sample_value(after: np.ndarray, mass: np.ndarray | None = None) -> float:
    """Expected value of sample information, never below zero. [currency]

    The cost without the check is taken over the same outcomes, so that the draws' own noise
    does not count as value.

    Parameters
    ----------
    after : ndarray
        Expected cost of each alternative after each outcome, shape (outcomes, alternatives).
        [currency]
    mass : ndarray, optional
        How likely each outcome is, shape (outcomes,); all alike if not given. [-]

    Returns
    -------
    float
        What the check saves on average, at least 0. [currency]

    References
    ----------
    .. [1] H. Raiffa, R. Schlaifer, Applied Statistical Decision Theory, Harvard, 1961, ch. 4.
    """
    share = np.full(after.shape[0], 1.0) if mass is None else mass
    share = share / share.sum()
    return max(float(np.min(share @ after) - share @ np.min(after, axis=1)), 0.0)

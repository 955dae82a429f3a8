"""What hangs on the choice between repairs, by the shop's prices: what a check is judged by.

No circuit is simulated here: energies are those of the published rules, which is enough
to tell which repair is best under which fault, and quick.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from coldwright.catalogue.restart import NOT_LEVEL
from coldwright.catalogue.unmeasured import UNMEASURED
from coldwright.diagnosis.hypotheses import HYPOTHESES
from coldwright.faults.record import Together
from coldwright.kept import Kept
from coldwright.readings.job import Job
from coldwright.readings.shop import Shop
from coldwright.repair.alternative_records import Alternative, Ending
from coldwright.repair.alternatives import alternatives_for
from coldwright.repair.causes import MOTOR, SOUND, shares_of
from coldwright.repair.changes import loop_share
from coldwright.repair.situation import Situation, situation_of
from coldwright.worth.accounts import Energies
from coldwright.worth.cost_table import cost_table
from coldwright.worth.job_world import (
    new_energy,
    rule_sample,
    yardstick_of,
)
from coldwright.worth.verdict import missing_prices
from coldwright.worth.world import HORIZON_YEARS, World, draw

DRAWS = 400  # common to all alternatives: only their differences matter
SEED = 1961
USUAL_TUBE_M = 12.0  # of a high side, for the share of a door-frame loop; judgement of ours
RISK_MINUTES = 60.0  # of work that opening a sound circuit costs later on average; ours


@dataclass(frozen=True, slots=True)
class ShopStakes:
    """Costs of each alternative under each fault, in the shop's money."""

    situation: Situation
    alternatives: tuple[Alternative, ...]
    world: World
    energies: Energies
    currency: str

    @property
    def identifiers(self) -> tuple[str, ...]:
        """Alternatives by identifier."""
        return tuple(a.identifier for a in self.alternatives)

    @property
    def titles(self) -> tuple[str, ...]:
        """Alternatives in words."""
        return tuple(a.title for a in self.alternatives)

    @property
    def per_minute(self) -> float:
        """A minute of work. [currency/min]"""
        return self.world.price("labour_per_hour") / 60.0

    @property
    def opening_risk(self) -> float:
        """What opening a sound circuit costs in later trouble, on average. [currency]"""
        given = self.world.prices.opening_risk
        return RISK_MINUTES * self.per_minute if given is None else given

    def costs(self, faults: Sequence[Together]) -> np.ndarray:
        """Expected cost of each alternative under each fault, shape (alternatives, faults).

        Parameters
        ----------
        faults : sequence of tuple
            Hypotheses of the diagnosis.
        """
        known = _table(self)
        return np.stack([known[fault] for fault in faults], axis=1)

    def stopped_costs(self, kinds: Sequence[str]) -> np.ndarray:
        """The same under each kind of a compressor that does not run, (alternatives, kinds).

        Parameters
        ----------
        kinds : sequence of str
            Kinds of the diagnosis, such as "winding".
        """
        known = _table(self)
        return np.stack([known[(_cause_of(kind),)] for kind in kinds], axis=1)


def _cause_of(kind: str) -> str:
    """What a kind of standing still is mended as; restarted too soon it is sound."""
    if kind == NOT_LEVEL.which:
        return SOUND
    return "motor" if kind in MOTOR else "starting"


_TABLES: Kept[dict[Together, np.ndarray]] = Kept(32)


def _table(stakes: ShopStakes) -> dict[Together, np.ndarray]:
    """Costs under every fault and pair, worked out once: a page asks again at every reading."""
    key = repr((stakes.situation, stakes.identifiers, stakes.world, stakes.energies.sample_kwh))
    return _TABLES.get(key, lambda: _worked_out(stakes))


def _worked_out(stakes: ShopStakes) -> dict[Together, np.ndarray]:
    shares = {h.faults: shares_of(h.faults, stakes.situation) for h in HYPOTHESES}
    shares |= {(cause,): {(cause,): 1.0} for cause in ("motor", "starting")}
    causes = tuple(dict.fromkeys(cause for share in shares.values() for cause in share))
    energies = dict.fromkeys(stakes.identifiers, stakes.energies)
    draws = draw(np.random.default_rng(SEED), DRAWS)
    table = cost_table(stakes.alternatives, stakes.world, draws, causes, energies)
    return {
        fault: table @ np.array([share.get(cause, 0.0) for cause in causes])
        for fault, share in shares.items()
    }


def stakes_of(job: Job, shop: Shop, this_year: int) -> ShopStakes | None:
    """What hangs on the choice, None where an essential price is missing.

    Parameters
    ----------
    job : Job
        Its prices go before the shop's.
    shop : Shop
        Rates and prices.
    this_year : int
        For an age where only the year of manufacture is known. [a]

    Returns
    -------
    ShopStakes or None
        Alternatives, prices and energies, or None.
    """
    situation = situation_of(job, this_year)
    world = World(
        prices=job.mending.prices.over(shop.prices),
        kind=situation.kind,
        age_years=UNMEASURED.age_years if situation.age_years is None else situation.age_years,
        horizon_years=HORIZON_YEARS,
        new_energy_kwh=new_energy(situation, job, shop, None)[0],
        charge_kg=UNMEASURED.charge_kg if situation.charge_kg is None else situation.charge_kg,
        charge_left_fraction=1.0,  # moves CO2e only
        gwp=0.0,
    )
    if missing_prices(world):
        return None
    share = loop_share(situation.frame_loop_length_m, USUAL_TUBE_M)
    offered, _ = alternatives_for(situation, job.mending.joints, share)
    kept = tuple(a for a in offered if a.ending is not Ending.SCRAPPED)
    sample = rule_sample(yardstick_of(situation, job, shop, None, None))
    return ShopStakes(situation, kept, world, Energies(sample, sample), shop.currency)

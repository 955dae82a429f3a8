"""From job and shop to the shared numbers of the comparison."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from coldwright.catalogue.families import family_of
from coldwright.catalogue.unmeasured import UNMEASURED
from coldwright.diagnosis.result import Diagnosis
from coldwright.readings.job import Job
from coldwright.readings.shop import Shop
from coldwright.repair.causes import LEAKS, Cause
from coldwright.repair.joint_records import CircuitState
from coldwright.repair.simulated import Simulated
from coldwright.repair.situation import Situation
from coldwright.worth.energy_rules import (
    adjusted_volume,
    most_energy,
    product_class,
    rule_of,
)
from coldwright.worth.report import Yardstick
from coldwright.worth.world import HORIZON_YEARS, World

BELOW_RULE = 0.85  # a new one against the most it may use; judgement of ours
NEWEST_RULE = 2014
RULE_LOG_SD = 0.20  # of an old one's energy against its rule; judgement of ours


def mean_room(job: Job, shop: Shop) -> float:
    """Mean temperature over the year where it stands. [K]

    Parameters
    ----------
    job : Job
        The job, read and checked.
    shop : Shop
        Rates and prices.

    Returns
    -------
    float
        Temperature. [K]
    """
    if shop.room_by_month:
        return sum(t for t, _ in shop.room_by_month) / len(shop.room_by_month)
    if job.room.temperature_k is not None:
        return job.room.temperature_k
    return UNMEASURED.room_k


def world_of(
    job: Job,
    situation: Situation,
    shop: Shop,
    diagnosis: Diagnosis,
    causes: Sequence[Cause],
    years: float | None,
    new_kwh: float,
) -> World:
    """Shared numbers of the comparison.

    Parameters
    ----------
    job : Job
        Its prices go before the shop's.
    situation : Situation
        Age, charge, refrigerant.
    shop : Shop
        Prices.
    diagnosis : Diagnosis
        For the charge that is left.
    causes : sequence of Cause
        The leading one says whether charge was lost.
    years : float or None
        Over how many years. [a]
    new_kwh : float
        Energy a year of a new one. [kWh]

    Returns
    -------
    World
        Prices [currency], kind, ages and horizon [a], energies [kWh].
    """
    prices = job.mending.prices.over(shop.prices)
    gwp = situation.refrigerant.gwp100
    sets = {g.set_name: g.value for g in gwp}
    return World(
        prices=prices,
        kind=situation.kind,
        age_years=UNMEASURED.age_years if situation.age_years is None else situation.age_years,
        horizon_years=HORIZON_YEARS if years is None else years,
        new_energy_kwh=new_kwh,
        charge_kg=UNMEASURED.charge_kg if situation.charge_kg is None else situation.charge_kg,
        charge_left_fraction=_left(job, situation, diagnosis, causes),
        gwp=sets.get("AR5", next(iter(sets.values()), 0.0)),
    )


def _left(job: Job, situation: Situation, diagnosis: Diagnosis, causes: Sequence[Cause]) -> float:
    if situation.state is not CircuitState.CHARGED:
        return 0.0
    recovered = job.reading("recovered_mass")
    if recovered is not None and situation.charge_kg:
        return min(recovered.value / situation.charge_kg, 1.5)
    if set(causes[0].names) <= set(LEAKS):
        for odds in diagnosis.faults:
            if odds.faults == ("undercharge",) and odds.severity is not None:
                return odds.severity.median
        return 0.5  # a leak that made it fail, mass not known; judgement of ours
    return 1.0


def volumes(situation: Situation, job: Job) -> tuple[float, float]:
    """Fresh-food and freezer volume, from the plate or the family's middle. [m3]

    Parameters
    ----------
    situation : Situation
        The situation the job describes.
    job : Job
        The job, read and checked.

    Returns
    -------
    tuple
        Fresh food and freezer. [m3]
    """
    family = family_of(situation.kind)
    fresh, cold = job.plate.volume_fresh_food_m3, job.plate.volume_freezer_m3
    return (
        family.fresh_food_m3.median if fresh is None else fresh,
        family.freezer_m3.median if cold is None else cold,
    )


def new_energy(
    situation: Situation, job: Job, shop: Shop, modelled: np.ndarray | None
) -> tuple[float, str]:
    """Energy a year of a new one like it, and where that comes from. [kWh]

    Parameters
    ----------
    situation : Situation
        Kind.
    job : Job
        Volumes; its own figure goes before.
    shop : Shop
        Prices.
    modelled : ndarray or None
        New ones by the same model as the old one. [kWh]

    Returns
    -------
    tuple
        Energy a year [kWh], and its source in words.
    """
    given = job.mending.prices.over(shop.prices).new_energy_kwh_year
    if given is not None:
        return given, "as given"
    if modelled is not None and modelled.size:
        return float(np.median(modelled)), "same model, kind and volumes, made this year"
    most, label = newest_rule(situation, job)
    return BELOW_RULE * most, f"{BELOW_RULE:.0%} (ours) of the {label}"


def newest_rule(situation: Situation, job: Job) -> tuple[float, str]:
    """Most a new one like it may use by the newest rule held. [kWh]

    Parameters
    ----------
    situation : Situation
        Kind, coil.
    job : Job
        Volumes.

    Returns
    -------
    tuple
        Energy a year [kWh], and the rule in words.
    """
    return _rule_energy(situation, job, NEWEST_RULE)


def _rule_energy(situation: Situation, job: Job, year: int) -> tuple[float, str]:
    name = product_class(situation.kind, automatic=_frost_free(situation))
    rule = rule_of(max(year, 1990), name) or rule_of(2001, name)
    if rule is None:
        return math.nan, "no rule for this class and year"
    volume = adjusted_volume(situation.kind, *volumes(situation, job), rule.first_year)
    return float(most_energy(rule, volume)), (
        f"most by the US rule of {rule.first_year}, class {name} ({rule.known}; "
        "its test: 32 °C room, doors shut)"
    )


def yardstick_of(
    situation: Situation, job: Job, shop: Shop, built: Simulated | None, new: np.ndarray | None
) -> Yardstick:
    """The model's energy beside the published rules.

    Parameters
    ----------
    situation : Situation
        Kind, year, coil.
    job : Job
        Volumes.
    shop : Shop
        Prices, for the new one's energy.
    built : Simulated or None
        The circuit as built.
    new : ndarray or None
        New ones by the same model. [kWh]

    Returns
    -------
    Yardstick
        Energies a year. [kWh]
    """
    old, label = _rule_energy(situation, job, situation.year or UNMEASURED.year)
    most, new_label = newest_rule(situation, job)
    energy, source = new_energy(situation, job, shop, new)
    model = math.nan if built is None else float(np.median(built.energy_kwh_year))
    return Yardstick(model, old, label, energy, source, most, new_label)


def rule_sample(yard: Yardstick) -> np.ndarray:
    """Energies a year where the model says nothing: about the rule, with a spread. [kWh]

    Parameters
    ----------
    yard : Yardstick
        Model and rules side by side.

    Returns
    -------
    ndarray
        Shape (k,). [kWh]
    """
    z = (-1.28, -0.67, 0.0, 0.67, 1.28)
    middle = yard.old_rule_kwh if math.isfinite(yard.old_rule_kwh) else 400.0
    return middle * np.exp(RULE_LOG_SD * np.array(z))


def _frost_free(situation: Situation) -> bool:
    return situation.evaporator == "fan" or (
        situation.evaporator is None and situation.kind in ("side_by_side", "top_mount")
    )

"""The JSON of `coldwright repair`; other programs rely on its keys."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from coldwright.cli.as_json import plain
from coldwright.repair.joint_records import JointPlan, Offer
from coldwright.repair.simulated import Band, Simulated
from coldwright.worth.report import Considered, Parts, RepairReport


def reports_json(results: Sequence[RepairReport]) -> dict[str, Any]:
    """All results of one run under the model and the seed they share.

    Parameters
    ----------
    results : sequence of RepairReport
        One for each job, at least one.

    Returns
    -------
    dict
        What JSON can hold.
    """
    return {
        "model": results[0].model,
        "seed": results[0].seed,
        "results": [_result(result) for result in results],
    }


def _result(r: RepairReport) -> dict[str, Any]:
    return {
        "job": r.job,
        "title": r.title,
        "currency": r.shop.currency,
        "years_compared": r.world.horizon_years,
        "settled": r.settled,
        "causes": plain(r.causes),
        "best": r.verdict.best,
        "least_co2e": r.verdict.least_co2e,
        "alternatives": [_considered(c) for c in r.considered],
        "not_offered": plain(r.not_offered),
        "flips": plain(r.flips),
        "sheet": {
            "alternative": r.chosen,
            "why": r.chosen_why,
            "steps": plain(r.sheet.alternative.steps),
            "joints": [joint_json(plan) for plan in r.sheet.alternative.joints],
        },
        "joints_asked": [joint_json(plan) for plan in r.joints_asked],
        "parts": _parts(r.parts),
        "frame_dew": plain(r.dew),
        "life_left_years": plain(r.life_left),
        "energy": plain(r.yardstick),
        "missing": [{"price": name, "effect": effect} for name, effect in r.missing],
        "notes": plain(r.notes),
    }


def _considered(c: Considered) -> dict[str, Any]:
    a, w = c.alternative, c.worth
    return {
        "alternative": a.identifier,
        "title": a.title,
        "ending": a.ending.value,
        "opens_circuit": a.opens_circuit,
        "success_probability": w.success_probability,
        "comeback_per_year": a.comeback_per_year,
        "labour_minutes": a.minutes,
        "waiting_minutes": a.waiting_minutes,
        "labour_now": w.labour_now,
        "parts_now": w.parts_now,
        "money": plain(w.money),
        "co2e_kg": plain(w.co2e_kg),
        "cheapest_probability": w.cheapest_probability,
        "years_kept": w.years_kept,
        "ranked": w.ranked,
        "mends": [{"cause": cause, "chance": chance} for cause, chance in a.mends],
        "changed": None if c.simulated is None else _simulated(c.simulated),
        "notes": plain(a.notes),
    }


def _simulated(s: Simulated) -> dict[str, Any]:
    return {
        "label": s.label,
        "charge_kg": plain(s.charge_kg),
        "moves_charge": s.moves_charge,
        "rooms": [plain(s.mild), plain(s.hot)],
        "energy_kwh_year": float(s.energy_kwh_year.mean()),
        "energy_spread_kwh_year": plain(Band.of(s.energy_kwh_year)),
        "members": s.members,
        "unsolved": s.unsolved,
    }


def joint_json(plan: JointPlan) -> dict[str, Any]:
    """One joint with its offers and what is barred.

    Parameters
    ----------
    plan : JointPlan
        Joint with its offers.

    Returns
    -------
    dict
        What JSON can hold, lengths in m.
    """
    j = plan.joint
    return {
        "place": j.place,
        "metals": [m.identifier for m in j.metals],
        "outside_m": list(j.outside_m),
        "wall_m": list(j.wall_m),
        "buried": j.buried,
        "assumed": j.assumed,
        "offers": [_offer(offer) for offer in plan.offers],
        "barred": plain(plan.barred),
        "cautions": plain(plan.cautions),
        "notes": plain(plan.notes),
    }


def _offer(offer: Offer) -> dict[str, Any]:
    return dict(plain(offer))


def _parts(parts: Parts) -> dict[str, Any]:
    return {
        "drier": plain(parts.drier),
        "capillary": plain(parts.capillary),
        "compressor": plain(parts.compressor),
        "compressor_stock": plain(parts.compressor_stock),
        "refrigerants": plain(parts.refrigerants),
        "spreads": plain(parts.spreads),
    }

"""Where no simulated appliance is like the one entered: which plate value is at fault."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from coldwright.catalogue.sizing import DIMENSIONS, Known, Members
from coldwright.diagnosis.ensemble import Block
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.population import members_for
from coldwright.diagnosis.posterior import Posterior
from coldwright.diagnosis.subject import Subject
from coldwright.errors import Refused
from coldwright.units import Dimension as D
from coldwright.units import show

FEWEST = 4  # members that can be built and run below which the plate fits none, ours
TRIED = 48  # members sized without each plate value in turn, ours
SEED = 20260103

# Field of Known, its name on the plate, what a sized member has there
_VALUES = (
    ("displacement_m3", "circuit.displacement", D.VOLUME),
    ("charge_kg", "plate.charge", D.MASS),
    ("fresh_food_m3", "plate.volume_fresh_food", D.VOLUME),
    ("freezer_m3", "plate.volume_freezer", D.VOLUME),
    ("plate_power_w", "plate.power or plate.current", D.POWER),
)
_STILL = (
    "fans, coils, door seal, defrost and thermostat",
    "windings, starting device, overload and supply",
)


def nothing_fits(posterior: Posterior) -> Refused | None:
    """Why no odds can be told where no member carries weight; None where some do.

    Parameters
    ----------
    posterior : Posterior
        Weighed.

    Returns
    -------
    Refused or None
        Names the plate value without which appliances can be built, or the readings.
    """
    running = [
        g for g in posterior.groups
        if hypothesis_named(*g.population.faults).runs
    ]  # fmt: skip
    built = sum(
        int(np.sum(g.population.solved & np.isfinite(g.population.log_plate))) for g in running
    )
    if running and built < FEWEST:
        return _plate_at_fault(posterior.ensemble.subject, [g.block for g in running])
    if any(np.isfinite(g.log_evidence) for g in posterior.groups):
        return None
    return Refused(
        "nothing fits: no simulated appliance, sound or faulty, could show these readings",
        ("read again what you trust least, or leave it out", *_STILL),
    )


def _plate_at_fault(subject: Subject, blocks: list[Block]) -> Refused:
    known = subject.known
    block = max(blocks, key=lambda b: b.share)
    z = np.random.default_rng(SEED).standard_normal((TRIED, DIMENSIONS))
    found: list[tuple[float, str]] = []
    for field, name, dimension in _VALUES:
        value = getattr(known, field)
        if not np.isfinite(value):
            continue
        sized = members_for(block.med, replace(subject, known=_without(known, field)), z)
        good = sized.good & np.isfinite(sized.log_weight)
        if good.sum() >= FEWEST:
            # Its distance from what the others have, the further the likelier at fault
            usual = _usual(known, sized, field)[good]
            middle = float(np.median(usual))
            if not middle > 0.0:
                continue  # this kind has no such compartment
            said = f"{name} {show(value, dimension, digits=3)}"
            low, high = np.quantile(usual, (0.05, 0.95))
            said += (
                f" (appliances of this kind that fit the rest have"
                f" {show(float(low), dimension, digits=2)} to"
                f" {show(float(high), dimension, digits=2)})"
            )
            found.append((abs(float(np.log(value / middle))), said))
    if found:
        at_fault = max(found)[1]
        return Refused(
            f"nothing fits the plate as entered: no appliance can be built with {at_fault}",
            ("read that value again on the plate, or leave it out", *_STILL),
        )
    kind = known.family.kind.replace("_", " ")
    return Refused(
        f"nothing fits: no {kind} with {block.refrigerant} could be built and run as entered",
        ("kind, refrigerant, plate and conditions: is everything as it is there?", *_STILL),
    )


def _without(known: Known, field: str) -> Known:
    unknown: dict[str, Any] = {field: float("nan")}
    return replace(known, **unknown)


def _of_members(sized: Members, field: str) -> np.ndarray:
    """What the members have where the plate tells this value."""
    if field == "displacement_m3":
        return np.asarray(sized.circuits["compressor"]["displacement_m3"])
    if field == "charge_kg":
        return sized.design_charge_kg
    if field == "plate_power_w":
        return np.asarray(sized.design_states["appliance_power_w"])
    raise KeyError(field)


def _usual(known: Known, sized: Members, field: str) -> np.ndarray:
    """What appliances without this value on their plate have there."""
    if field in ("fresh_food_m3", "freezer_m3"):
        z = np.linspace(-1.64, 1.64, sized.good.size)
        return np.asarray(getattr(known.family, field).at(z))
    return _of_members(sized, field)

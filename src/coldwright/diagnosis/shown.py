"""What an instrument would show at members: the true value, its pull toward the air, its error."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coldwright.catalogue.instruments import Instrument
from coldwright.diagnosis.posterior import Group, weighted_quantiles

_Z = np.array([-1.645, -0.842, 0.0, 0.842, 1.645])  # midpoints of five even slices, about normal


@dataclass(frozen=True, slots=True)
class Shown:
    """Mean and standard deviation of what would be read, per member. [SI]"""

    mean: np.ndarray
    sd: np.ndarray


def air_of(group: Group, instrument: Instrument) -> np.ndarray:
    """Air round the spot, per member of a group. [K]

    Parameters
    ----------
    group : Group
        Members of one hypothesis.
    instrument : Instrument
        Where it reads.

    Returns
    -------
    ndarray
        Shape (n,). [K]
    """
    if instrument.air == "freezer":
        return np.asarray(group.population.states["freezer_k"])
    return np.asarray(group.population.room_k)


def shown(truth: np.ndarray, air: np.ndarray, i: Instrument) -> Shown:
    """What an instrument would show.

    Parameters
    ----------
    truth : ndarray
        True values. [SI]
    air : ndarray
        Air round the spot; used where the instrument is drawn to it. [SI]
    i : Instrument
        How it errs.

    Returns
    -------
    Shown
        Mean and standard deviation, shape (n,) each. [SI]
    """
    mean = truth + (i.toward_air_mean * (air - truth) if i.air else 0.0)
    size = np.abs(truth)
    var = (
        i.sd**2 + (i.relative_sd * size) ** 2 + i.bias_sd**2 + (i.bias_relative_sd * size) ** 2
        + i.model_sd**2 + (i.model_relative_sd * size) ** 2
        + ((i.toward_air_sd * (air - truth)) ** 2 if i.air else 0.0)
    )  # fmt: skip
    return Shown(np.asarray(mean), np.sqrt(var))


def shown_range(
    found: Shown, weights: np.ndarray, points: tuple[float, ...] = (0.1, 0.5, 0.9)
) -> tuple[float, ...] | None:
    """Quantiles of what would be read over weighted members, None where none has such a reading.

    Parameters
    ----------
    found : Shown
        Per member.
    weights : ndarray
        Of the members. [-]
    points : tuple of float
        Which quantiles. [-]

    Returns
    -------
    tuple of float or None
        One per point, in the reading's unit. [SI]
    """
    good = np.isfinite(found.mean) & np.isfinite(found.sd) & (weights > 0.0)
    if not good.any():
        return None
    values = (found.mean[good, None] + found.sd[good, None] * _Z[None, :]).ravel()
    return weighted_quantiles(values, np.repeat(weights[good], _Z.size), points)

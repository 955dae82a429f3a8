"""Mean and covariance of several readings at once, for arrays of members.

Shapes: `expected` and `air` are (..., n) for n readings; members stand in the
leading axes.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from coldwright.catalogue.instruments import Instrument
from coldwright.errors import OutOfRange, require

MODEL_SHARED = 0.5  # share of the model's variance common to a model group, ours [-]


def shown(chosen: Sequence[Instrument], expected: np.ndarray, air: np.ndarray) -> np.ndarray:
    """What the instruments show on average: the true value drawn toward the air.

    Parameters
    ----------
    chosen : sequence of Instrument
        One per reading.
    expected : ndarray
        True values by the model, shape (..., n). [SI]
    air : ndarray
        Air round each spot, shape (..., n); unused where the instrument names no air. [K]

    Returns
    -------
    ndarray
        Shape (..., n). [SI]
    """
    pull = _gaps(chosen, expected, air) * np.array([i.toward_air_mean for i in chosen])
    return np.asarray(expected + pull)


def covariance(
    chosen: Sequence[Instrument],
    expected: np.ndarray,
    air: np.ndarray,
    stated_sd: np.ndarray | None = None,
) -> np.ndarray:
    """Covariance of readings about `shown`: single reading, visit bias, k, model.

    Parameters
    ----------
    chosen : sequence of Instrument
        One per reading.
    expected : ndarray
        True values by the model, shape (..., n). [SI]
    air : ndarray
        Air round each spot, shape (..., n). [K]
    stated_sd : ndarray or None
        Standard deviation the technician states, NaN where none, shape (n,); it takes the
        place of the single reading's and the bias', not of k's or the model's. [SI]

    Returns
    -------
    ndarray
        Shape (..., n, n). [SI squared]

    Raises
    ------
    OutOfRange
        If a stated standard deviation is not above zero.
    """
    expected, air = np.broadcast_arrays(expected, air)
    size = np.abs(expected)
    single = np.square(_parts(chosen, "sd")) + np.square(_parts(chosen, "relative_sd") * size)
    bias = np.hypot(_parts(chosen, "bias_sd"), _parts(chosen, "bias_relative_sd") * size)
    if stated_sd is not None:
        for instrument, sd in zip(chosen, stated_sd, strict=True):
            if sd <= 0.0:
                raise OutOfRange(f"{instrument.identifier}: stated sd", sd, 0.0, np.inf, "SI")
        single = np.where(np.isnan(stated_sd), single, np.square(stated_sd))
        bias = np.where(np.isnan(stated_sd), bias, 0.0)
    pull = _gaps(chosen, expected, air) * np.array([i.toward_air_sd for i in chosen])
    model = np.hypot(_parts(chosen, "model_sd"), _parts(chosen, "model_relative_sd") * size)
    same_model = _same([i.model_group for i in chosen])
    shared = MODEL_SHARED * same_model + (1.0 - MODEL_SHARED) * np.eye(len(chosen))
    same_bias = _same([i.bias_group for i in chosen])
    # added up in place: for thousands of members the copies would cost more than the sums
    total = _outer(model) * shared
    total += _outer(bias) * same_bias
    total += _outer(pull) * same_bias
    np.einsum("...ii->...i", total)[...] += single
    return total


def unsettled_share(chosen: Sequence[Instrument], running_s: float) -> np.ndarray:
    """Share of the way from start to steady state that each reading still lacks.

    Parameters
    ----------
    chosen : sequence of Instrument
        One per reading.
    running_s : float
        Time since the compressor started. [s]

    Returns
    -------
    ndarray
        exp(-t / settling time), shape (n,). [-]

    Raises
    ------
    OutOfRange
        If the time is negative.
    """
    require("running time", running_s, "s", 0.0, np.inf)
    return np.exp(-running_s / _parts(chosen, "settling_s"))


def _gaps(chosen: Sequence[Instrument], expected: np.ndarray, air: np.ndarray) -> np.ndarray:
    # zero where no air is named, so an unknown (NaN) air there does no harm
    return np.where([bool(i.air) for i in chosen], np.asarray(air) - expected, 0.0)


def _parts(chosen: Sequence[Instrument], name: str) -> np.ndarray:
    return np.array([getattr(i, name) for i in chosen], dtype=float)


def _outer(sd: np.ndarray) -> np.ndarray:
    return np.asarray(sd[..., :, None] * sd[..., None, :])


def _same(groups: list[str]) -> np.ndarray:
    """1 where two readings share a group (an empty group is shared with none)."""
    names = np.array([g or f"own {i}" for i, g in enumerate(groups)])
    return np.asarray(names[:, None] == names[None, :], dtype=float)

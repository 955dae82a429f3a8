"""Whether a running state stands firm: how its charge moves along the circuit's curve of states.

The exchange between capillary and suction line can fold that curve: on one branch
more charge means more subcooling, as in any sound appliance; on the other it does
not, and a running circuit would leave such a state by itself.
"""

from __future__ import annotations

import numpy as np

from coldwright.cycle.batches import in_batches
from coldwright.cycle.medium import Medium, require_medium
from coldwright.cycle.solver.newton import DIFFERENCE, solve_linear
from coldwright.cycle.solver.residuals import residuals
from coldwright.cycle.state import NO, STATE
from coldwright.refrigerant.compiled import kernel


@kernel
def firmness(med, c, s, u, out):
    """Rise of ln(charge) per rise of ln(suction pressure) along the curve of states.

    All balances but the charge's are kept.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    s : record
        `circuit.records.Surroundings`.
    u : ndarray
        Unknowns at a solution with imposed compartments, shape (5,). [-]
    out : record
        Scratch, `cycle.state.RunningState`.

    Returns
    -------
    float
        Positive on the branch of sound circuits, 0 at a fold. [-]

    References
    ----------
    .. [1] Keller (1977), in Applications of Bifurcation Theory: sign of the arclength
       derivative of the parameter.
    """
    r, r1 = np.empty(5), np.empty(5)
    a, b, charge = np.empty((5, 5)), np.empty(5), np.empty(4)
    residuals(med, c, s, u, NO, r, out)
    for j in range(4):
        trial = u.copy()
        trial[j] += DIFFERENCE
        residuals(med, c, s, trial, NO, r1, out)
        charge[j] = (r1[2] - r[2]) / DIFFERENCE
        for i in range(3):
            k = i if i < 2 else 3
            slope = (r1[k] - r[k]) / DIFFERENCE
            if j > 0:
                a[i, j - 1] = slope
            else:
                b[i] = -slope
    if not solve_linear(a, b, 3):
        return 0.0
    return charge[0] + charge[1] * b[0] + charge[2] * b[1] + charge[3] * b[2]


@kernel
def firmness_range(first, last, med, c, s, u, out, firm):
    """`firmness` over members first..last-1.

    Parameters
    ----------
    first, last : int
        Range of members. [-]
    med : Medium
        Refrigerant, oil, void model.
    c, s, out : ndarray
        Circuits, surroundings and scratch states, shape (n,).
    u : ndarray
        Unknowns, shape (n, 5). [-]
    firm : ndarray
        Out, shape (n,). [-]

    References
    ----------
    .. [1] `firmness`.
    """
    for i in range(first, last):
        firm[i] = firmness(med, c[i], s[i], u[i], out[i])


def firmness_of(
    med: Medium,
    circuits: np.ndarray,
    surroundings: np.ndarray,
    unknowns: np.ndarray,
) -> np.ndarray:
    """`firmness` of many solved circuits.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    circuits, surroundings : ndarray
        Dtypes CIRCUIT and SURROUNDINGS, shape (n,).
    unknowns : ndarray
        Solutions, shape (n, 5). [-]

    Returns
    -------
    ndarray
        Shape (n,). [-]

    Raises
    ------
    Refused
        If a circuit holds another refrigerant or names another void model.
    """
    require_medium(med, circuits)
    n = circuits.shape[0]
    firm, scratch = np.empty(n), np.zeros(n, STATE)

    def loop(first: int, last: int) -> None:
        firmness_range(first, last, med, circuits, surroundings, unknowns, scratch, firm)

    in_batches(loop, n)
    return firm

"""The compiled cycle against its own equations interpreted, with CoolProp at every look-up.

CoolProp: Bell et al. (2014), doi 10.1021/ie4033999. Another solver too: MINPACK's hybrid
method through scipy (More, Garbow & Hillstrom 1980).
"""

import numpy as np
import pytest

from bench.__main__ import ALIKE
from bench.direct import LOOK_UPS, Direct
from bench.twins import compared
from coldwright.refrigerant import kernels, saturation
from coldwright.refrigerant.tables import load_tables

SEED = 20260304


@pytest.fixture(scope="module")
def both():
    return compared(np.random.default_rng(SEED))


@pytest.mark.slow
def test_answers_are_alike(both):
    assert both.off.shape[0] >= 14  # some of each of nine running faults, twice
    assert np.all(np.isfinite(both.off))
    assert np.max(np.abs(both.off)) < ALIKE
    assert np.max(np.abs(both.off)) > 1e-9  # tables and CoolProp do differ: not one and the same


@pytest.mark.slow
def test_most_are_found_from_the_same_start(both):
    assert both.closed.mean() > 0.7


ARGUMENTS = {
    "saturation_temperature": (2e5,), "saturation_pressure": (290.0,), "saturation_march": (2e5,),
    "saturation_march_slopes": (2e5,), "saturation_all": (2e5,), "vapour": (2e5, 300.0),
    "vapour_hvs": (2e5, 263.0, 300.0), "vapour_temperature": (2e5, 4.3e5),
    "liquid": (12e5, 300.0), "liquid_heat_capacity": (300.0,), "liquid_temperature": (12e5, 2.3e5),
    "temperature": (12e5, 2.3e5),
}  # fmt: skip
READ = 14  # columns of `saturation_all` the cycle reads
TRANSPORT_RTOL = 2e-3


@pytest.mark.parametrize("look_up", LOOK_UPS, ids=lambda f: f.__name__)
def test_direct_calls_return_what_the_look_ups_do(look_up):
    name = look_up.__name__
    tables = load_tables("R134a")
    table = getattr(saturation, name, None) or getattr(kernels, name)
    fast = np.atleast_1d(table(tables, *ARGUMENTS[name]))[:READ]
    slow = np.atleast_1d(look_up(Direct("R134a", tables), *ARGUMENTS[name]))[:READ]
    assert slow == pytest.approx(fast, rel=TRANSPORT_RTOL)

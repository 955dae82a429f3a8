"""Void fraction models against values that another hand computed."""

import math

import pytest
from CoolProp.CoolProp import PropsSI

from coldwright.cycle import void
from tests.golden import load_golden

ATOL = 1.0e-4  # printed to four decimals
MODELS = {
    "premoli": void.PREMOLI,
    "rouhani": void.ROUHANI,
    "zivi": void.ZIVI,
    "homogeneous": void.HOMOGENEOUS,
    "baroczy": void.BAROCZY,
}


@pytest.mark.parametrize("model", MODELS)
@pytest.mark.parametrize("case", load_golden("void_fraction_computed.json"))
def test_against_the_table(case, model):
    t, name = case["temperature_c"] + 273.15, case["refrigerant"]

    def of(key: str, q: float) -> float:
        return PropsSI(key, "T", t, "Q", q, name)

    bore = case["bore_mm"] / 1e3
    flux = case["mass_flow_kg_h"] / 3600 / (math.pi / 4 * bore**2)
    got = void.void_fraction(
        MODELS[model], case["quality"], of("D", 0), of("D", 1), of("V", 0), of("V", 1),
        of("I", 0), flux, bore,
    )  # fmt: skip
    assert got == pytest.approx(case[model], abs=ATOL)

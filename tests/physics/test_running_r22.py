"""The whole model with R22: an invented example circuit refilled, its state closed."""

from __future__ import annotations

from importlib.resources import files

import pytest

from coldwright.readings.jobfile import job_from_text
from coldwright.refrigerant.lines import bubble_pressure, load_lines
from coldwright.usecases.simulate import simulate

CHARGE_KG = 0.075  # near the R600a charge of 33 g times the ratio of liquid densities, 2.2


def test_an_example_refilled_with_r22_is_solved_and_closes():
    text = (files("coldwright") / "examples" / "plain_static_plate.toml").read_text("utf-8")
    text = text.replace('refrigerant = "R600a"', 'refrigerant = "R22"')
    text = text.replace('charge = "33 g"', 'charge = "75 g"')
    found = simulate(job_from_text(text, "r22.toml"))
    r = found.running
    assert r.residual < 1e-6
    assert r.outside_range_code == 0.0
    charges = [getattr(r, name) for name in r.__slots__ if name.startswith("charge_")]
    assert sum(charges) == pytest.approx(CHARGE_KG, rel=1e-6)
    lines = load_lines("R22")
    for t, p in (
        (r.evaporating_k, r.evaporating_pressure_pa),
        (r.condensing_k, r.condensing_pressure_pa),
    ):
        assert bubble_pressure(lines, t) == pytest.approx(p, rel=2e-4)
    # A hot discharge is known of R22 (handbook cycle: 65 degC against 41 for R502, same states).
    assert r.discharge_line_k > 360.0
    assert any("VDI Heat Atlas" in model for model in found.models)

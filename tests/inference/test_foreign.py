"""Foreign truth differs from ours, and the learned model errors are what it gives."""

import json

import numpy as np
import pytest

from bench.accuracy import foreign, learn
from coldwright.catalogue.families import family_of
from coldwright.catalogue.instruments import instruments
from coldwright.catalogue.sizing import DIMENSIONS, Known, size_members
from coldwright.cycle.medium import medium
from coldwright.cycle.state import SOLVED
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.population import members_for, simulate
from coldwright.diagnosis.subject import Subject

NAN = float("nan")
COUNT = 24
# 95 % of a t with 7 degrees of freedom, scaled to unit deviation, keeps within 2.0 (tables)
TAIL = 2.0
# What the first judgement was, before anything was learned: the floor
JUDGED = {
    "discharge_line_temperature": 4.0, "condenser_inlet_temperature": 3.0,
    "condenser_middle_temperature": 1.2, "condenser_outlet_temperature": 1.2,
    "drier_inlet_temperature": 1.2, "drier_outlet_temperature": 1.2,
    "evaporator_inlet_temperature": 1.5, "evaporator_outlet_temperature": 1.5,
    "suction_line_temperature": 2.5, "shell_temperature": 4.0, "frosted_fraction": 0.12,
}  # fmt: skip


@pytest.fixture(scope="module")
def twins():
    known = Known(family_of("top_mount"), 2004.0, NAN, NAN, NAN, NAN, NAN, 60.0, None, None)
    subject = Subject(
        known, (("R134a", 1.0),), 300.15, 281.0, 262.0, False, 120.0, float("inf"), (), ()
    )
    rng = np.random.default_rng(8)
    z = rng.standard_normal((COUNT, DIMENSIONS))
    closures = foreign.draw(rng, COUNT)
    med = foreign.foreign_medium("R134a", closures)
    fault = hypothesis_named("undercharge")
    members = foreign.sized(med, known, z, closures)
    own = simulate(medium("R134a"), subject, fault, z, members_for(medium("R134a"), subject, z))
    other = foreign.truth(med, subject, fault, z, members, closures, "R134a")
    return known, z, closures, members, own, other


def test_a_foreign_appliance_is_healthy_by_its_own_physics(twins):
    _, _, _, members, _, _ = twins
    fine = members.good
    assert fine.mean() > 0.9
    rise = members.design_states["condensing_k"][fine] - 298.15
    assert (rise > 5.0).all()
    assert (rise < 25.0).all()


def test_a_foreign_appliance_behaves_otherwise_away_from_its_design(twins):
    _, _, _, _, own, other = twins
    both = own.solved & other.solved & (other.states["status_code"] == SOLVED)
    assert both.mean() > 0.8
    gap = other.states["evaporating_k"][both] - own.states["evaporating_k"][both]
    assert np.std(gap) > 0.2
    power = other.states["appliance_power_w"][both] / own.states["appliance_power_w"][both]
    assert np.std(power) > 0.01


def test_no_change_where_the_closures_are_ours():
    known = Known(family_of("chest_freezer"), 2004.0, NAN, NAN, NAN, NAN, NAN, 50.0, None, None)
    z = np.random.default_rng(1).standard_normal((8, DIMENSIONS))
    plain = size_members(medium("R134a"), known, z)
    same = size_members(medium("R134a"), known, z, lambda _: None)
    assert (plain.circuits == same.circuits).all()


def test_errors_in_use_are_the_learned_ones_never_below_the_first_judgement():
    table = json.loads(learn.FILE.read_text(encoding="utf-8"))
    held = instruments()
    for key, judged in JUDGED.items():
        wanted = max(table[key]["tail"] / TAIL, judged)
        assert held[key].model_sd == pytest.approx(wanted, rel=0.06), key
    for key in ("appliance_power", "compressor_power", "appliance_current", "compressor_current",
                "standing_pressure"):  # fmt: skip
        i, row = held[key], table[key]
        in_use = np.hypot(i.model_sd, i.model_relative_sd * row["usual"])
        assert in_use == pytest.approx(row["tail"] / TAIL, rel=0.12), key


@pytest.mark.slow
def test_learning_again_on_fewer_gives_about_the_same():
    table = json.loads(learn.FILE.read_text(encoding="utf-8"))
    again = learn.table(learn.differences(batches=60, seed=9))
    for key in ("condenser_middle_temperature", "evaporator_inlet_temperature",
                "appliance_power", "discharge_line_temperature"):  # fmt: skip
        assert 0.4 < again[key]["tail"] / table[key]["tail"] < 2.5, key

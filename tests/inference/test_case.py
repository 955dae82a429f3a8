"""One diagnosis: odds, drawing and repair speak of the same posterior, proven jobs included."""

import numpy as np
import pytest

from coldwright.case.background import Background
from coldwright.case.case import Case
from coldwright.learning.experience import Experience
from coldwright.learning.proven import proven_of
from coldwright.readings.jobfile import job_from_text
from coldwright.usecases.diagnose import diagnosis_of
from coldwright.usecases.inside import inside_of
from coldwright.usecases.repair import repair_of

MEMBERS = 900
BLOCKED_DRIER = ("drier_restricted",)
# An invented refrigerator that a lost charge and a blocked drier explain alike
TIED = """
[plate]
kind = "top_mount"
year = 2004
refrigerant = "R134a"
charge = "105 g"
[room]
temperature = "25 °C"
[history]
complaint = "both_too_warm"
[readings]
fresh_food_temperature = "16 °C"
freezer_temperature = "-6 °C"
evaporator_outlet_temperature = "4 °C"
discharge_line_temperature = "49 °C"
"""
BLOCKED = (
    'title = "Invented {}"\n[plate]\nkind = "top_mount"\nrefrigerant = "R134a"\n'
    '[outcome]\nfound = "drier_restricted"\nproven_by = "repaired_and_held"\n'
)


@pytest.fixture(scope="module")
def case():
    proven = proven_of(job_from_text(BLOCKED.format(n), f"{n}.toml") for n in range(40))
    job = job_from_text(TIED, "tied.toml")
    return Case(job, Background(experience=Experience(proven), members=MEMBERS, refine=False))


def test_drawing_and_odds_name_the_same_leading_fault(case):
    told = diagnosis_of(case)
    ill = next(f for f in told.faults if f.faults != ("nothing_wrong",))
    drawn = inside_of(case)
    assert ill.faults == BLOCKED_DRIER  # the shop's forty jobs decide the tie
    assert drawn.faults == ill.faults == case.leading
    assert drawn.probability == pytest.approx(ill.probability)


def test_repair_weighs_the_causes_by_the_same_odds(case):
    told = diagnosis_of(case)
    report = repair_of(case)
    blocked = sum(f.probability for f in told.faults if f.faults == BLOCKED_DRIER)
    by_fault = [c for c in report.causes if c.faults == BLOCKED_DRIER]
    assert by_fault
    assert report.causes[0].faults == BLOCKED_DRIER
    assert sum(c.probability for c in by_fault) == pytest.approx(blocked, abs=1e-9)


def test_without_proven_jobs_another_fault_may_lead(case):
    plain = Case(case.job, Background(members=MEMBERS, refine=False))
    assert plain.odds[BLOCKED_DRIER] < 0.5 * case.odds[BLOCKED_DRIER]


def test_draws_follow_the_posterior(case):
    drawn = case.draws(BLOCKED_DRIER, 2000, np.random.default_rng(3))
    values, weights = case.posterior.members_of("drier_restricted", lambda g: g.population.severity)
    assert drawn.severity.mean() == pytest.approx(float(values @ weights), abs=0.03)
    assert drawn.circuits.shape == drawn.severity.shape == (2000,)


def test_a_reading_more_weighs_the_same_appliances_again(case):
    warmer = case.with_reading("suction_line_temperature", "12 °C")
    assert warmer.job.reading("suction_line_temperature").value == pytest.approx(285.15)
    assert case.job.reading("suction_line_temperature") is None
    assert warmer.ensemble.blocks is case.ensemble.blocks
    assert warmer.first_look() is not None


def test_a_posterior_is_made_once(case):
    again = Case(case.job, case.background)
    assert again.posterior is case.posterior

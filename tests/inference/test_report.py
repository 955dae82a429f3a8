"""The accuracy study's pages and figures, from a few made-up jobs and answers."""

import hashlib
from pathlib import Path

import numpy as np
import pytest

from bench.accuracy import outside, powers, recipe, report, score
from bench.accuracy.recipe import load
from coldwright.catalogue.pairs import prior_with_pairs
from coldwright.catalogue.priors import Background
from coldwright.catalogue.ways import WAYS
from coldwright.cli.as_json import joined
from coldwright.diagnosis.hypotheses import HYPOTHESES
from coldwright.diagnosis.posterior import EVIDENCE_POWER

NAMES = [joined(h.faults) for h in HYPOTHESES]


FROZEN = "3221b2e9a65d5d23"


def answered(job: dict, first: str, p: float) -> dict:
    """An answer that puts one hypothesis first with p, its evidence to match."""
    coils = Background(condenser=job["condenser"], evaporator=job["evaporator"])
    prior = prior_with_pairs(job["complaint"], coils, job["refrigerant"])
    odds = dict.fromkeys(NAMES, (1.0 - p) / (len(NAMES) - 1)) | {first: p}
    logs = {}
    for name in NAMES:
        own = np.log(max(prior.get(score.apart(name), 0.0), 1e-12))
        logs[name] = float(own + (np.log(odds[name]) - own) / EVIDENCE_POWER)
    return {
        "number": job["number"], "odds": odds, "rough": odds, "logs": logs,
        "tapped": odds if job["number"] % 6 == 0 else None,
        "steps": (5, 3) if p > 0.9 else None,
        "severities": {f"{power:g}": (0.2, 0.4, 0.6) for power in (1.0, 0.75, 0.5, 0.35)},
        "surprise": 0.4, "effective": 30.0, "unsolved": 1, "members": 1500, "seconds": 3.0,
    }  # fmt: skip


@pytest.fixture(scope="module")
def study() -> tuple[list[dict], list[dict]]:
    jobs = load()[:150]
    return jobs, [answered(j, j["fault"], 0.95 if j["number"] % 3 else 0.5) for j in jobs]


def test_the_page_tells_what_the_figures_are(study):
    jobs, rows = study
    text = report.page(jobs, rows, jobs[:2], rows[:2], np.random.default_rng(1), 1500)
    assert "from 150 of 1500 simulated jobs" in text
    foreign = text[text.index("## Foreign truth") : text.index("## Own truth")]
    assert f"| all {sum(j['foreign'] for j in jobs)} | 100.0% [100.0%, 100.0%]" in foreign
    assert "| opening advised on a sound circuit | 0.0%" in foreign
    assert "within 3 points in 100%" in text
    assert "nan" not in text[: text.index("## Powers")]


def test_the_page_of_what_can_be_told_holds_every_common_fault(study):
    text = outside.page(*study)
    for name in ("undercharge", "evaporator_air", "nothing_wrong", "control"):
        assert f"| {name} |" in text


def test_odds_at_the_power_in_use_are_the_odds(study):
    for job, row in zip(*study, strict=True):
        again = score.at_power(job, row, EVIDENCE_POWER)
        assert again == pytest.approx(row["odds"], abs=1e-9)
    flat = score.at_power(study[0][0], study[1][0], 0.0)
    coils = Background(condenser=study[0][0]["condenser"], evaporator=study[0][0]["evaporator"])
    prior = prior_with_pairs(study[0][0]["complaint"], coils, study[0][0]["refrigerant"])
    assert flat["undercharge"] == pytest.approx(prior["undercharge",] / sum(prior.values()))


def test_severities_inside_are_counted():
    rows = [{"severities": {"0.5": (0.2, 0.4, 0.6)}}, {"severities": {"0.5": None}}] * 2
    jobs = [{"severity": 0.3}, {"severity": 0.3}, {"severity": 0.7}, {"severity": None}]
    assert score.covered(jobs, rows, 0.5) == (0.5, 2)


def test_median_of_readings_with_the_unsure_at_the_end():
    rows = [{"steps": s} for s in ((4, 2), (6, 5), (9, 7), None)]
    assert report._steps(rows, np.ones(4, bool)).startswith("6; with the signs")
    unsure = report._steps([*rows, {"steps": None}, {"steps": None}], np.ones(6, bool))
    assert unsure == "not reached in half of the jobs (in 50% of 6)"


def test_a_way_that_shows_nothing_has_no_effect():
    ways = {j["way"] for j in load() if j["fault"] == "control" and j["effect"] is None}
    hidden = {w.effect.identifier for w in WAYS["control"] if w.settled_only}
    assert ways
    assert ways <= hidden
    for job in load():
        if job["fault"] == "control" and job["effect"] is None:
            assert not job["settled"]
        if job["fault"] in ("undercharge", "weak_compressor"):
            assert job["effect"] == pytest.approx(1.0 - job["severity"])
        if job["fault"] == "heat_load":
            assert job["effect"] > 0.0


def test_the_recipe_makes_the_same_jobs_twice_and_the_frozen_ones_are_untouched():
    """The frozen jobs are those the page tells of: drawn by the shares and signs of 2026-11-28,
    before findings; the recipe as it stands draws others."""
    assert recipe.make(3) == recipe.make(3)
    frozen = (Path(recipe.__file__).parent / "jobs.jsonl").read_bytes()
    assert hashlib.sha256(frozen).hexdigest()[:16] == FROZEN


def test_powers_tried_hold_the_ones_in_use(study):
    lines = "\n".join(powers.section(*study, 60))
    assert f"| {EVIDENCE_POWER:g} |" in lines
    assert lines.count("| 0.5 |") == 2

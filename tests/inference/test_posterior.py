"""Odds, quantiles and the measure of fit on invented ensembles."""

import numpy as np
import pytest
from scipy import stats

from coldwright.catalogue.reading_errors import shown
from coldwright.diagnosis.ensemble import surroundings_of
from coldwright.diagnosis.likelihood import draw_readings, log_likelihood
from coldwright.diagnosis.posterior import (
    EVIDENCE_POWER,
    odds_of,
    severity_interval,
    surprise,
    weigh,
    weighted_quantiles,
)
from tests.inference.invented import TOOLS, ensemble, evidence

KEYS = ("condenser_middle_temperature", "evaporator_inlet_temperature", "appliance_power")
CENTRE = np.array([312.0, 246.0, 90.0])
SPREAD = np.array([3.0, 3.0, 8.0])


def _columns(rng: np.random.Generator, n: int, shift: float = 0.0) -> dict[str, np.ndarray]:
    values = CENTRE + SPREAD * (rng.standard_normal((n, 3)) + shift)
    return dict(zip(KEYS, values.T, strict=True))


def _draw_from(made, fault: int, member: int, rng: np.random.Generator) -> dict[str, float]:
    """Readings at one member by the law of the instruments."""
    p = made.blocks[0].populations[fault]
    truth = np.column_stack([made.blocks[0].columns[(p.faults, k)] for k in KEYS])
    seen = evidence(dict(zip(KEYS, truth[member], strict=True)))
    air, start = surroundings_of(p, seen.instruments, KEYS, truth)
    read = draw_readings(seen.setting(), truth[member], air[member], start[member], rng)
    return dict(zip(KEYS, read, strict=True))


def test_quantiles_of_equal_weights_are_hazens():
    """Hyndman & Fan (1996), definition 5, as numpy has it."""
    v = np.random.default_rng(0).standard_normal(101)
    points = (0.1, 0.5, 0.9)
    assert weighted_quantiles(v, np.ones(101), points) == pytest.approx(
        np.quantile(v, points, method="hazen")
    )


def test_quantiles_of_weighted_members_are_the_laws():
    """Members drawn wide, weighted to a standard normal."""
    v = 3.0 * np.random.default_rng(1).standard_normal(40_000)
    w = stats.norm.pdf(v) / stats.norm.pdf(v, scale=3.0)
    got = weighted_quantiles(v, 17.0 * w, (0.1, 0.5, 0.9))
    assert got == pytest.approx(stats.norm.ppf((0.1, 0.5, 0.9)), abs=0.04)


def test_odds_are_prior_times_mean_likelihood(r134a):
    rng = np.random.default_rng(2)
    made = ensemble(
        r134a, {"nothing_wrong": _columns(rng, 300), "undercharge": _columns(rng, 300, 1.5)}
    )
    seen = evidence(dict(zip(KEYS, CENTRE + SPREAD, strict=True)))
    want = {}
    for p in made.blocks[0].populations:
        truth = np.column_stack([made.blocks[0].columns[(p.faults, k)] for k in KEYS])
        air, start = surroundings_of(p, seen.instruments, KEYS, truth)
        mean = np.exp(log_likelihood(seen.setting(), seen.values, truth, air, start)[0]).mean()
        want[p.faults] = mean**EVIDENCE_POWER  # the priors are alike
    total = sum(want.values())
    odds = weigh(made, seen).odds
    assert sum(odds.values()) == pytest.approx(1.0, abs=1e-12)
    assert odds == pytest.approx({f: v / total for f, v in want.items()}, rel=1e-9)


def test_no_evidence_leaves_the_prior(r134a):
    rng = np.random.default_rng(3)
    made = ensemble(r134a, {f: _columns(rng, 50) for f in ("nothing_wrong", "heat_load")})
    assert weigh(made, evidence({})).odds == pytest.approx(
        {("nothing_wrong",): 0.5, ("heat_load",): 0.5}
    )


def test_odds_hold_their_word(r134a):
    """Readings drawn from the ensemble itself: of odds p at full power, a share p comes true."""
    rng = np.random.default_rng(4)
    made = ensemble(
        r134a, {"nothing_wrong": _columns(rng, 400), "undercharge": _columns(rng, 400, 0.8)}
    )
    said, true = [], []
    for _ in range(600):
        fault = int(rng.integers(2))
        read = _draw_from(made, fault, int(rng.integers(400)), rng)
        sound, short = (g.log_whole for g in weigh(made, evidence(read)).groups)
        said.append(float(1.0 / (1.0 + np.exp(sound - short))))
        true.append(float(fault == 1))
    p, hit = np.array(said), np.array(true)
    assert p.std() > 0.1  # the odds do speak
    for low, high in ((0.0, 0.3), (0.3, 0.7), (0.7, 1.0)):
        inside = (p >= low) & (p <= high)
        error = np.sqrt((p[inside] * (1.0 - p[inside])).sum()) / inside.sum()
        assert abs(hit[inside].mean() - p[inside].mean()) < 4.0 * error


def test_surprise_is_uniform_where_the_appliance_is_known(r134a):
    rng = np.random.default_rng(5)
    made = ensemble(r134a, {"nothing_wrong": dict(zip(KEYS, CENTRE[:, None], strict=True))})
    got = [surprise(weigh(made, evidence(_draw_from(made, 0, 0, rng)))) for _ in range(500)]
    assert stats.kstest(got, "uniform").pvalue > 0.01


def test_surprise_is_rarely_small_under_the_model(r134a):
    rng = np.random.default_rng(6)
    made = ensemble(r134a, {"nothing_wrong": _columns(rng, 300)})
    got = np.array(
        [surprise(weigh(made, evidence(_draw_from(made, 0, i, rng)))) for i in range(300)]
    )
    assert 0.4 < got.mean() < 0.75
    assert np.mean(got < 0.05) < 0.05
    off = {k: v + 14.0 * s for k, v, s in zip(KEYS, CENTRE, SPREAD, strict=True)}
    assert surprise(weigh(made, evidence(off))) < 0.01


def test_shared_evidence_of_two_refrigerants_adds_up(r134a):
    rng = np.random.default_rng(7)
    made = ensemble(r134a, {f: _columns(rng, 60) for f in ("nothing_wrong", "heat_load")})
    seen = evidence(dict(zip(KEYS, CENTRE, strict=True)))
    groups = weigh(made, seen).groups
    assert odds_of((*groups, *groups)) == pytest.approx(odds_of(groups))


def test_members_round_a_reading_are_those_kept(r134a):
    key = "condenser_middle_temperature"
    values = np.linspace(300.0, 330.0, 61)
    made = ensemble(r134a, {"nothing_wrong": {key: values}})
    posterior = weigh(made, evidence({key: 312.0}))
    kept, w = posterior.members_of("nothing_wrong", lambda _: values)
    low, _, high = weighted_quantiles(kept, w, (0.1, 0.5, 0.9))
    seen = shown([TOOLS[key]], np.array([[low], [high]]), np.array([[298.15]] * 2)).ravel()
    assert seen[0] < 312.0 < seen[1]
    assert high - low < 10.0


def test_evidence_between_faults_counts_with_its_power(r134a):
    # Two faults of equal prior, every member at one value: odds are a ratio of densities
    warm, cold = np.full(40, 300.0), np.full(40, 296.0)
    made = ensemble(
        r134a,
        {
            "undercharge": {"condenser_middle_temperature": warm},
            "overcharge": {"condenser_middle_temperature": cold},
        },
    )
    seen = weigh(made, evidence({"condenser_middle_temperature": 301.0}))
    whole = {g.population.faults: g.log_whole for g in seen.groups}
    told = np.log(seen.odds["undercharge",] / seen.odds["overcharge",])
    gap = whole["undercharge",] - whole["overcharge",]
    assert gap > 0.1
    assert told == pytest.approx(EVIDENCE_POWER * gap)
    assert seen.log_evidence == pytest.approx(np.logaddexp.reduce(list(whole.values())))


def test_a_severity_interval_weighs_the_likelihood_by_its_power(r134a):
    """By hand: quantiles of the members weighed by their likelihood to that power."""
    made = ensemble(r134a, {"undercharge": _columns(np.random.default_rng(5), 4000)})
    p = made.blocks[0].populations[0]
    p.severity[:] = 0.5 + 0.1 * (made.blocks[0].columns[("undercharge",), KEYS[0]] - CENTRE[0])
    found = weigh(made, evidence(dict(zip(KEYS, CENTRE, strict=True))))
    log_l = found.groups[0].log_w
    widths = []
    for power in (1.0, 0.5, 0.25):
        got = severity_interval(found, ("undercharge",), power=power)
        w = np.exp(power * (log_l - log_l.max()))
        assert got == pytest.approx(weighted_quantiles(p.severity, w, (0.1, 0.5, 0.9)), abs=1e-6)
        widths.append(got[2] - got[0])
    assert widths == sorted(widths)
    assert widths[2] > 1.1 * widths[0]

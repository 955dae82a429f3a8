"""Signs: probabilities of every sign under every fault, and which way physics moves them."""

import numpy as np
import pytest

from coldwright.catalogue.findings import FINDINGS
from coldwright.catalogue.priors import FAULTS, severity_from_uniform
from coldwright.catalogue.signs import SIGN_MODELS, UNINFORMED, SignModel, sign_probability
from coldwright.cycle.state import PUMPED_DOWN, STATE, UNSOLVED
from coldwright.errors import BadInput, OutOfRange
from coldwright.faults.tells import step
from coldwright.readings import keys

# An invented healthy running state in round numbers; only what the signs read.
HEALTHY = {
    "cooling_w": 120.0,
    "mass_flow_kg_s": 8e-4,
    "condenser_heat_w": 170.0,
    "condenser_outlet_quality": -0.05,
    "evaporator_wetted_fraction": 1.0,
    "frosted_fraction": 1.0,
    "suction_line_k": 297.0,
    "shell_k": 335.0,
}
N = 25


def states(n=N, **fields):
    state = np.zeros(n, dtype=STATE)
    for name, value in (HEALTHY | fields).items():
        state[name] = value
    return state


def probability(sign, fault="nothing_wrong", severity=np.nan, **fields):
    severity = np.broadcast_to(np.asarray(severity, dtype=float), (N,))
    return sign_probability(sign, (fault,), severity, states(**fields))


def test_every_sign_has_a_model_and_no_other():
    assert set(SIGN_MODELS) | {f for f, model in FINDINGS.items() if model.how} == set(keys.SIGNS)
    assert not set(SIGN_MODELS) & set(FINDINGS)
    assert all(model.identifier == name and model.why for name, model in SIGN_MODELS.items())


@pytest.mark.parametrize("sign", SIGN_MODELS)
@pytest.mark.parametrize("fault", FAULTS)
def test_never_certain_either_way_whatever_the_state(sign, fault):
    rng = np.random.default_rng(11)
    n = 400
    state = np.zeros(n, dtype=STATE)
    for name in STATE.names:
        state[name] = rng.normal(0.0, 1.0, n) * 10.0 ** rng.uniform(-3.0, 4.0, n)
    state["status_code"] = rng.choice([0.0, PUMPED_DOWN], n)
    severity = severity_from_uniform(fault, rng.uniform(size=n))
    p = sign_probability(sign, (fault,), severity, state)
    assert p.shape == (n,)
    assert ((p > 0.0) & (p < 1.0)).all()
    model = SIGN_MODELS[sign]
    assert ((p >= model.false - 1e-12) & (p <= model.hit + 1e-12)).all()


@pytest.mark.parametrize(
    ("sign", "field", "values", "direction"),
    [
        ("flow_sound_steady", "cooling_w", np.geomspace(1.0, 300.0, N), 1),
        ("flow_sound_steady", "condenser_outlet_quality", np.linspace(-0.1, 0.5, N), -1),
        ("flow_sound_weak", "condenser_outlet_quality", np.linspace(-0.1, 0.5, N), 1),
        ("flow_sound_weak", "cooling_w", np.geomspace(40.0, 300.0, N), -1),
        ("no_flow_sound", "cooling_w", np.geomspace(0.1, 300.0, N), -1),
        ("frost_only_at_inlet", "evaporator_wetted_fraction", np.linspace(0.05, 1.0, N), -1),
        ("suction_line_frosted", "suction_line_k", np.linspace(262.0, 300.0, N), -1),
        ("door_frame_cold_or_sweating", "condenser_heat_w", np.linspace(0.0, 200.0, N), -1),
    ],
)
def test_sign_follows_its_driver_in_the_running_state(sign, field, values, direction):
    p = probability(sign, "undercharge", 0.5, **{field: values})
    assert (direction * np.diff(p) >= 0.0).all()
    assert abs(p[-1] - p[0]) > 0.1


@pytest.mark.parametrize(
    ("sign", "fault", "direction"),
    [
        ("condenser_dusty", "condenser_air", -1),
        ("warm_food_loaded", "heat_load", 1),
    ],
)
def test_sign_follows_the_severity_of_its_fault(sign, fault, direction):
    severity = severity_from_uniform(fault, np.linspace(0.0, 1.0, N))
    p = sign_probability(sign, (fault,), severity, states())
    assert (direction * np.diff(p) >= 0.0).all()
    strongest = p.max()
    assert strongest > 3.0 * probability(sign, "weak_compressor", 0.5).max()


def test_a_seal_gap_explains_tens_of_watts_but_not_a_heater():
    few, tens, heater = (
        probability("door_seal_gap", "heat_load", w)[0] for w in (1.0, 30.0, 150.0)
    )
    assert tens > 2.0 * few
    assert tens > 2.0 * heater


@pytest.mark.parametrize(
    ("sign", "faults"),
    [
        ("oil_trace", {"undercharge"}),
        ("rust", {"undercharge"}),
        ("dent", {"capillary_restricted", "capillary_blocked"}),
        ("no_flow_sound", {"capillary_blocked", "compressor_not_running"}),
        ("restarted_too_soon", {"nothing_wrong"}),
    ],
)
def test_sign_speaks_for_its_faults_above_all_others(sign, faults):
    middle = {fault: severity_from_uniform(fault, np.array(0.5)) for fault in FAULTS}
    p = {fault: probability(sign, fault, middle[fault])[0] for fault in FAULTS}
    least = min(p[fault] for fault in faults)
    assert all(least > 1.1 * p[fault] for fault in set(FAULTS) - faults)


def test_bare_evaporator_is_not_frost_at_the_inlet():
    starved = {"evaporator_wetted_fraction": 0.2}
    frosted = probability("frost_only_at_inlet", frosted_fraction=0.2, **starved)[0]
    bare = probability("frost_only_at_inlet", frosted_fraction=0.0, **starved)[0]
    assert frosted > 0.7
    assert bare < 0.15


@pytest.mark.parametrize("fault", ["capillary_blocked", "compressor_not_running"])
def test_where_nothing_flows_the_state_is_not_asked(fault):
    lost = states(**dict.fromkeys(HEALTHY, np.nan))
    for sign in SIGN_MODELS:
        p = sign_probability(sign, (fault,), np.full(N, np.nan), lost)
        assert np.isfinite(p).all()
    assert sign_probability("no_flow_sound", (fault,), np.full(N, np.nan), lost)[0] > 0.8
    assert sign_probability("suction_line_frosted", (fault,), np.full(N, np.nan), lost)[0] < 0.05


def test_pumped_down_circuit_is_silent_under_any_fault():
    p = probability("no_flow_sound", "capillary_restricted", 0.05, status_code=PUMPED_DOWN)
    assert (p > 0.8).all()


def test_unsolved_members_are_left_uninformed():
    state = states(**dict.fromkeys(HEALTHY, np.nan), status_code=UNSOLVED)
    state["status_code"][0] = PUMPED_DOWN
    p = sign_probability("flow_sound_steady", ("undercharge",), np.full(N, 0.5), state)
    assert (p[1:] == UNINFORMED).all()
    assert p[0] != UNINFORMED


def test_solved_state_without_a_number_is_an_error():
    with pytest.raises(OutOfRange, match="suction_line_k"):
        probability("suction_line_frosted", suction_line_k=np.nan)


@pytest.mark.parametrize(("sign", "fault"), [("omen", "undercharge"), ("rust", "curse")])
def test_unknown_names_are_refused(sign, fault):
    with pytest.raises(BadInput):
        probability(sign, fault, 0.5)


def test_step_is_a_logistic_and_does_not_overflow():
    x = np.array([-1e300, -2.0, 0.0, 2.0, 1e300])
    assert step(x, 0.0, 1.0)[1:4] == pytest.approx(1.0 / (1.0 + np.exp(-x[1:4])))
    assert (step(x, 0.0, 1.0)[[0, 4]] == [0.0, 1.0]).all()


def test_hit_rate_below_the_false_rate_cannot_be_built():
    with pytest.raises(OutOfRange):
        SignModel("rust", lambda _: 0.5, 0.1, 0.2, "")

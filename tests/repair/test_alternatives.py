"""What is offered, what is not and why; causes; order and cautions of the steps."""

import pytest

from coldwright.diagnosis.result import Diagnosis, FaultOdds, WhichOdds
from coldwright.errors import BadInput
from coldwright.readings.jobfile import job_from_text
from coldwright.repair.alternatives import OFFERERS, alternatives_for
from coldwright.repair.causes import (
    Cause,
    causes_of,
    label_of,
    leak_at,
    place_shares,
    shares_of,
)
from coldwright.repair.situation import situation_of
from coldwright.repair.together import with_pairs


def job(refrigerant="R600a", circuit="", rest=""):
    text = (
        f'[plate]\nkind = "top_mount"\nyear = 2015\nrefrigerant = "{refrigerant}"\n'
        f'charge = "50 g"\n[circuit]\n{circuit}\n{rest}'
    )
    return job_from_text(text, "made up")


def offered(made):
    return alternatives_for(situation_of(made, 2026), made.mending.joints, 0.3)


def diagnosis(*faults):
    return Diagnosis(
        "made up", "", tuple(faults), 0.0, 0.0, False, (), (), (), (), (), (),
        None, None, 0, 0.0, 0, 1, "made up", "made up",
    )  # fmt: skip


LOOP = 'layout = "frame_loop"\nevaporator = "fan"\ncondenser = "static"'


def test_a_loop_is_by_passed_only_where_there_is_one():
    there, _ = offered(job(circuit=LOOP))
    assert "bypass_frame_loop" in {a.identifier for a in there}
    _, barred = offered(job(circuit='layout = "plain"'))
    assert "bypass_frame_loop" in {n.identifier for n in barred}
    assert all(n.why for n in barred)


def test_a_foamed_in_evaporator_is_neither_changed_nor_patched():
    _, barred = offered(job(circuit='evaporator = "cold_wall"'))
    assert {"new_evaporator", "mend_evaporator"} <= {n.identifier for n in barred}


def test_a_copper_evaporator_is_mended_as_any_tube():
    _, barred = offered(job(rest='[repair]\nmetals = { evaporator = "copper" }'))
    assert "mend_evaporator" in {n.identifier for n in barred}


def test_every_offerer_answers_and_every_chance_is_one():
    there, barred = offered(job(circuit=LOOP))
    assert len(there) + len(barred) == len(OFFERERS)
    for a in there:
        assert all(0.0 <= p <= 1.0 for _, p in a.mends)
        assert len({cause for cause, _ in a.mends}) == len(a.mends)


@pytest.mark.parametrize("refrigerant", ["R600a", "R134a", "unknown"])
def test_steps_that_open_come_in_a_safe_order(refrigerant):
    for a in offered(job(refrigerant, LOOP))[0]:
        names = [s.identifier for s in a.steps]
        if "cut_open" not in names:
            continue
        order = (
            "make_safe recover flush cut_open fit_drier make_joints pressure_test evacuate "
            "charge close_tube run_check papers"
        ).split()
        assert [n for n in names if n in order] == order
        assert names.index("cut_open") < names.index("make_joints")


@pytest.mark.parametrize("refrigerant", ["R600a", "R290", "unknown"])
def test_a_flammable_one_is_cut_and_warned_of_at_every_step_where_gas_comes_out(refrigerant):
    steps = {s.identifier: s for s in offered(job(refrigerant, LOOP))[0][0].steps}
    for name in ("make_safe", "recover", "cut_open", "charge", "close_tube"):
        assert any("no flame" in c.lower() for c in steps[name].cautions), name
    assert any("do not unbraze" in line for line in steps["cut_open"].do)
    assert any("no flame" in line for line in steps["close_tube"].do)


def test_cautions_stand_where_they_belong():
    steps = {s.identifier: s for s in offered(job("R134a", LOOP))[0][0].steps}
    assert any("explodes" in c for c in steps["flush"].cautions)
    assert any("under vacuum" in c for c in steps["evacuate"].cautions)
    assert any("Nitrogen only" in c for c in steps["pressure_test"].cautions)
    assert any("Mains" in c for c in steps["make_safe"].cautions)
    holds = [s for s in steps.values() if s.hold]
    assert len(holds) >= 9


@pytest.mark.parametrize(
    ("state", "behind"),
    [("charged", set()), ("recovered", {"recover"}), ("flushed", {"recover", "flush"}),
     ("open", {"recover", "flush", "cut_open"})],
)  # fmt: skip
def test_what_the_state_says_is_done_is_marked_and_not_counted(state, behind):
    there, _ = offered(job(circuit=LOOP, rest=f'[repair]\nstate = "{state}"'))
    a = there[0]
    assert {s.identifier for s in a.steps if s.done} == behind
    assert a.minutes == sum(s.minutes for s in a.steps if not s.done)


def test_a_recovered_mass_means_recovered():
    made = job(circuit=LOOP, rest='[readings]\nrecovered_mass = "20 g"')
    assert situation_of(made, 2026).state.value == "recovered"


def test_the_charge_is_the_plates_unless_the_circuit_changes():
    steps = {
        a.identifier: {s.identifier: s for s in a.steps} for a in offered(job(circuit=LOOP))[0]
    }
    assert "50 g" in steps["mend_tube"]["charge"].do[0]
    assert "not the plate's" in steps["bypass_frame_loop"]["charge"].do[0]


def test_a_measured_joint_takes_the_place_of_the_usual_one():
    rest = (
        "[[repair.joints]]\nplace = 'evaporator_joint'\nmetals = ['copper', 'copper']\n"
        "outside = ['8 mm', '9.5 mm']\n"
    )
    there = {a.identifier: a for a in offered(job(circuit=LOOP, rest=rest))[0]}
    (plan,) = [p for p in there["new_evaporator"].joints if p.joint.place == "evaporator_joint"]
    assert not plan.joint.assumed
    assert {m.identifier for m in plan.joint.metals} == {"copper"}
    assert any(p.joint.place == "evaporator_joint" for p in there["mend_tube"].joints)


def test_a_found_leak_settles_the_cause():
    rest = "[[tried]]\nplace = 'evaporator'\nmethod = 'bubble_test'\nminutes = 5\nfound = true\n"
    made = job(circuit='evaporator = "plate"', rest=rest)
    causes = causes_of(
        made, situation_of(made, 2026),
        diagnosis(FaultOdds(("undercharge",), 0.5, None, ()),
                  FaultOdds(("heat_load",), 0.5, None, ())),
    )  # fmt: skip
    assert causes[0].names == ("leak_evaporator",)
    assert causes[0].probability == pytest.approx(0.97)
    assert sum(c.probability for c in causes) == pytest.approx(1.0)


def test_leaks_are_split_by_place_and_motors_from_starting():
    made = job(circuit=LOOP)
    s = situation_of(made, 2026)
    which = (WhichOdds("relay", 0.6), WhichOdds("winding", 0.4))
    causes = causes_of(
        made, s,
        diagnosis(FaultOdds(("undercharge",), 0.6, None, ()),
                  FaultOdds(("compressor_not_running",), 0.4, None, which)),
    )  # fmt: skip
    got = {c.names[0]: c.probability for c in causes}
    assert got["motor"] == pytest.approx(0.16)
    assert got["starting"] == pytest.approx(0.24)
    shares = place_shares(s)
    assert sum(shares.values()) == pytest.approx(1.0)
    for place, share in shares.items():
        assert got[place] == pytest.approx(0.6 * share)


def test_pressures_not_level_are_no_part_to_renew():
    made = job(circuit=LOOP)
    which = (WhichOdds("pressures_not_level", 0.5), WhichOdds("relay", 0.3),
             WhichOdds("winding", 0.2))  # fmt: skip
    causes = causes_of(
        made, situation_of(made, 2026),
        diagnosis(FaultOdds(("nothing_wrong",), 0.2, None, ()),
                  FaultOdds(("compressor_not_running",), 0.8, None, which)),
    )  # fmt: skip
    got = {c.names[0]: (c.probability, c.faults[0]) for c in causes}
    assert got["nothing_wrong"] == (pytest.approx(0.2 + 0.4), "nothing_wrong")
    assert got["starting"] == (pytest.approx(0.24), "compressor_not_running")
    assert got["motor"] == (pytest.approx(0.16), "compressor_not_running")


def test_without_odds_or_finding_there_is_no_cause():
    made = job(circuit=LOOP)
    assert causes_of(made, situation_of(made, 2026), diagnosis()) == ()


def test_a_stated_cause_that_is_none_says_the_effect_of_leaving_it_out():
    made = job(rest='[repair]\ncause = "leak_in_loop"')
    with pytest.raises(BadInput, match="odds of the diagnosis are used"):
        causes_of(made, situation_of(made, 2026), diagnosis())


@pytest.mark.parametrize(
    ("place", "kind"),
    [("frame_loop", "leak_frame_loop"), ("frame_loop_joint", "leak_reachable"),
     ("evaporator", "leak_evaporator"), ("evaporator_joint", "leak_reachable"),
     ("suction_exchanger", "leak_buried"), ("drier_joint", "leak_reachable")],
)  # fmt: skip
def test_which_leak_a_place_is(place, kind):
    assert leak_at(situation_of(job(circuit=LOOP), 2026), place) == kind


def test_two_causes_at_once_are_mended_at_one_visit():
    offered = alternatives_for(situation_of(job(), 2026), (), 0.2)[0]
    both = ("leak_reachable", "condenser_air")
    causes = (Cause(both, 0.6, both), Cause(("leak_reachable",), 0.4, ("undercharge",)))
    made = with_pairs(offered, causes)
    (pair,) = [a for a in made if a not in offered]
    by_name = {a.identifier: a for a in offered}
    leak, clean = by_name["mend_tube"], by_name["clean_condenser"]
    assert pair.identifier == "mend_tube+clean_condenser"
    chance = leak.chance(("leak_reachable",)) * clean.chance(("condenser_air",))
    assert pair.chance(both) == pytest.approx(chance)
    assert leak.chance(both) == clean.chance(both) == 0.0
    assert pair.chance(("leak_reachable",)) == leak.chance(("leak_reachable",))
    names = [s.identifier for s in pair.steps]
    assert names[:2] == ["make_safe", "clean_condenser"]
    assert names.count("run_check") == 1
    assert pair.opens_circuit
    assert max(leak.minutes, clean.minutes) < pair.minutes < leak.minutes + clean.minutes
    assert pair.comeback_per_year == leak.comeback_per_year + clean.comeback_per_year
    # where one repair mends both, or the pair is far-fetched, nothing is added
    assert with_pairs(offered, (Cause(("leak_reachable", "overcharge"), 0.9, ("x",)),)) == offered
    assert with_pairs(offered, (Cause(both, 0.001, both),)) == offered


def test_a_pair_of_causes_is_named_with_both_words():
    assert label_of(("leak_reachable", "condenser_air")) == (
        "leak at a joint or tube that can be reached together with poor air over the condenser"
    )
    shares = shares_of(("undercharge", "condenser_air"), situation_of(job(), 2026))
    assert sum(shares.values()) == pytest.approx(1.0)
    assert all(cause[1:] == ("condenser_air",) for cause in shares)
    # air in a leaking circuit came in by the leak: one cause
    assert ("leak_reachable",) in shares_of(
        ("undercharge", "non_condensables"), situation_of(job(), 2026)
    )

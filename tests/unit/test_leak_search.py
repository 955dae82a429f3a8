"""Places, methods, belief and plan: what must hold whatever the numbers are."""

import dataclasses

import numpy as np
import pytest

from coldwright.catalogue.leak_methods import METHODS, USUAL_TOOLS, Reach, why_barred
from coldwright.catalogue.leak_places import PLACE_WEIGHTS
from coldwright.leak.actions import detection, hold_actions, place_actions
from coldwright.leak.belief import Problem, belief_of, throughput_under_test
from coldwright.leak.gases import GASES
from coldwright.leak.history import pace_of_loss
from coldwright.leak.places import layout_of
from coldwright.leak.plan import Bench, Planner, walk
from coldwright.leak.search import leak_search, shop_finds
from coldwright.leak.sides import Setting
from coldwright.leak.tried import after
from coldwright.readings import keys
from coldwright.readings.job import Tried
from coldwright.readings.jobfile import job_from_text

HALL = """\
[plate]
kind = "top_mount"
refrigerant = "R134a"
charge = "120 g"
[circuit]
layout = "frame_loop"
condenser = "static"
evaporator = "fan"
[history]
age = "12 year"
months_since_ok = 6
[leak]
mass_lost = "60 g"
"""
CHEST = """\
[plate]
kind = "chest_freezer"
refrigerant = "R600a"
charge = "60 g"
[history]
months_since_ok = 8
age = "9 year"
[leak]
mass_lost = "30 g"
"""


def job(text, extra=""):
    return job_from_text(text + extra, "job.toml")


def problem(refrigerant="R134a", text=HALL, **changed):
    made = Problem(
        layout=layout_of(job(text)),
        setting=Setting(GASES[refrigerant], 296.15, charge_left_kg=0.06),
        pace=pace_of_loss(0.06, 1.6e7, 0.12),
        refrigerant=refrigerant,
        flammable=refrigerant in ("R600a", "R290"),
        lost_kg=0.06,
        time_s=1.6e7,
        draught=0,
        test_gauge_pa=1e6,
        tools=USUAL_TOOLS,
        may_run=False,
    )
    return dataclasses.replace(made, **changed)


def planned(given, bench=None):
    belief = belief_of(given)
    planner = Planner.of(given, belief, place_actions(given, belief) + hold_actions(given, belief))
    return belief, planner, planner.plan(belief.weight, bench or Bench("refrigerant"))


@pytest.mark.parametrize("kind", keys.KINDS)
@pytest.mark.parametrize("layout", keys.LAYOUTS)
def test_every_circuit_has_its_places(kind, layout):
    text = f'[plate]\nkind = "{kind}"\n[circuit]\nlayout = "{layout}"\n'
    found = layout_of(job(text))
    names = [p.identifier for p in found.places]
    assert set(names) <= set(keys.PLACES)
    assert len(set(names)) == len(names)
    assert sum(p.share for p in found.places) == pytest.approx(1.0)
    assert ("frame_loop" in names) == ("frame_loop" in layout)
    assert ("oil_cooler" in names) == ("oil_cooler" in layout)
    assert all(p.share > 0.0 and p.why for p in found.places)


def test_every_weight_is_used():
    used = set()
    for condenser in keys.CONDENSERS:
        for evaporator in keys.EVAPORATORS:
            text = (
                '[plate]\nkind = "top_mount"\n[circuit]\n'
                'layout = "oil_cooler_and_frame_loop"\n'
                f'condenser = "{condenser}"\nevaporator = "{evaporator}"\n'
            )
            used |= {p.why for p in layout_of(job(text)).places}
            copper = text + '[leak]\nframe_loop_material = "copper"\n'
            used |= {p.why for p in layout_of(job(copper)).places}
    assert {row.why for row in PLACE_WEIGHTS.values()} <= used


def share(text, place, **kwargs):
    return next(p.share for p in layout_of(job(text), **kwargs).places if p.identifier == place)


@pytest.mark.parametrize(
    ("extra", "place", "up"),
    [
        ('[signs]\noil_trace = { seen = true, place = "drier_joint" }\n', "drier_joint", True),
        ('[signs]\nrust = { seen = true, place = "frame_loop" }\n', "frame_loop", True),
        ("[signs]\noil_trace = true\n", "frame_loop", False),
        ("[signs]\ndoor_frame_cold_or_sweating = true\n", "frame_loop", True),
    ],
)
def test_signs_move_the_places(extra, place, up):
    assert (share(HALL + extra, place) > share(HALL, place)) is up


def test_history_moves_the_places():
    repaired = HALL.replace('age = "12 year"', 'age = "12 year"\nearlier_repair = true')
    assert share(repaired, "drier_joint") > share(HALL, "drier_joint")
    tapped = HALL + "left_on_tap = true\n"
    assert share(tapped, "process_tube") > 3.0 * share(HALL, "process_tube")
    young = HALL.replace("12 year", "2 year")
    assert share(young, "frame_loop") < share(HALL, "frame_loop")
    copper = HALL + 'frame_loop_material = "copper"\n'
    assert share(copper, "frame_loop") < 0.5 * share(HALL, "frame_loop")


def test_the_shops_own_finds_count():
    found = (
        HALL + '[[tried]]\nplace = "frame_loop"\nmethod = "tracer_gas"\nminutes = 2\nfound = true\n'
    )
    held = (
        HALL
        + '[[tried]]\nplace = "low_side"\nmethod = "pressure_hold"\nminutes = 30\nfound = true\n'
    )
    counts = shop_finds([job(found), job(found), job(held), job(HALL)])
    assert counts == {"frame_loop": 2}
    before, now = share(HALL, "frame_loop"), share(HALL, "frame_loop", shop=counts)
    # A Dirichlet mean with 30 finds of weight.
    assert now == pytest.approx((30.0 * before + 2.0) / 32.0)


def test_air_drawn_in_points_at_a_low_side_in_vacuum():
    base = problem("R600a", CHEST)
    chances = {}
    for drawn in (None, True, False):
        given = dataclasses.replace(base, air_drawn_in=drawn)
        by_place = belief_of(given).by_place(len(given.layout.places))
        low = [p.side == "low_side" for p in given.layout.places]
        chances[drawn] = float(by_place[low].sum())
    assert chances[True] > chances[None] > chances[False]


@pytest.mark.parametrize("method", METHODS.values(), ids=lambda m: m.identifier)
def test_detection_grows_with_rate_time_and_still_air(method):
    given = problem()
    place = next(p for p in given.layout.places if p.reach is Reach.OPEN)
    foam = next(p for p in given.layout.places if p.reach is Reach.FOAM)
    q = np.geomspace(1e-9, 1e-2, 30)
    seen = detection(method, given, place, q, method.minutes)
    assert np.all((seen >= 0.0) & (seen <= method.coverage_open))
    assert np.all(np.diff(seen) >= 0.0)
    assert np.all(detection(method, given, place, q, 2.0 * method.minutes) >= seen)
    assert np.all(detection(method, given, foam, q, method.minutes) <= seen)
    draughty = dataclasses.replace(given, draught=2)
    assert np.all(detection(method, draughty, place, q, method.minutes) <= seen + 1e-12)
    assert method.source


def test_detection_at_the_published_limit_is_half_of_coverage():
    given = problem()
    place = next(p for p in given.layout.places if p.reach is Reach.OPEN)
    for name in ("tracer_gas", "ultrasonic"):
        method = METHODS[name]
        at = detection(method, given, place, np.array([method.limit_pa_m3_s]), 60.0)
        assert at[0] == pytest.approx(0.5 * method.coverage_open, rel=1e-6)


def test_a_leak_that_pushes_nothing_out_is_not_seen():
    empty = problem(setting=Setting(GASES["R134a"], 296.15, charge_left_kg=0.0))
    assert throughput_under_test(empty, belief_of(empty), "refrigerant").max() == 0.0
    assert throughput_under_test(empty, belief_of(empty), "nitrogen").max() > 0.0


@pytest.mark.parametrize(
    ("method", "refrigerant", "flammable", "word"),
    [
        ("fluorescent_dye", "R134a", False, "oil"),
        ("halide_torch", "R12", False, "flame"),
        ("halide_torch", "R600a", True, "flame"),
        ("heated_diode_detector", "R600a", True, "ignite"),
        ("corona_detector", "unknown", True, "ignite"),
        ("infrared_detector", "R290", True, "not rated"),
        ("combustible_gas_detector", "R134a", False, "does not"),
    ],
)
def test_barred_methods_say_why(method, refrigerant, flammable, word):
    assert word in why_barred(method, refrigerant, flammable)


def test_no_plan_uses_a_barred_method():
    tools = (*METHODS, "pressure_hold", "vacuum_hold")
    for refrigerant in ("R600a", "R134a"):
        given = problem(refrigerant, tools=tools)
        _, _, plan = planned(given)
        for step in plan.steps:
            assert why_barred(step.action.method, refrigerant, given.flammable) == ""
            if refrigerant == "R600a" and step.action.method == "ultrasonic":
                assert step.action.contents != "refrigerant"


def test_a_no_lowers_its_place_and_raises_the_others():
    given = problem()
    belief = belief_of(given)
    names = [p.identifier for p in given.layout.places]
    step = Tried("drier_joint", "heated_diode_detector", 2.0, False)
    moved = after(given, belief, [step], "refrigerant")
    before, now = belief.by_place(len(names)), moved.by_place(len(names))
    at = names.index("drier_joint")
    assert now[at] < before[at]
    assert np.all(np.delete(now, at) > np.delete(before, at))
    assert moved.nothing > belief.nothing
    assert now.sum() + moved.nothing == pytest.approx(1.0)
    # The same time in two sittings is the same evidence.
    halves = [dataclasses.replace(step, minutes=1.0)] * 2
    again = after(given, belief, halves, "refrigerant")
    assert again.weight == pytest.approx(moved.weight)


def test_a_yes_of_a_hold_moves_the_side():
    given = problem("R600a", CHEST)
    belief = belief_of(given)
    held = after(given, belief, [Tried("low_side", "pressure_hold", 960.0, True)], "nitrogen")
    low = [p.side == "low_side" for p in given.layout.places]
    assert held.by_place(len(low))[low].sum() > belief.by_place(len(low))[low].sum()
    elsewhere = after(given, belief, [Tried("frame_loop", "pressure_hold", 60.0, True)], "nitrogen")
    assert elsewhere.weight == pytest.approx(belief.weight)  # no such loop here


@pytest.mark.parametrize("refrigerant", ["R134a", "R600a"])
def test_the_plan_adds_up(refrigerant):
    belief, _, plan = planned(problem(refrigerant))
    assert 0.3 < plan.chance <= 1.0 - belief.nothing
    chances = [s.chance for s in plan.steps]
    assert sum(chances) == pytest.approx(plan.chance)
    spent = np.cumsum([s.minutes for s in plan.steps])
    assert plan.steps[-1].minutes_so_far == pytest.approx(spent[-1])
    assert plan.expected_minutes <= plan.longest_minutes
    # What is left and what was found make the whole.
    assert plan.left.sum() + sum(
        s.says_yes if not s.action.pinpoints else s.chance for s in plan.steps
    ) == pytest.approx(1.0)
    paid = [s for step in plan.steps for s in step.setups if not s.startswith("fill")]
    assert len(paid) == len(set(paid))  # a set-up is paid once
    contents = [s.action.contents for s in plan.steps if s.action.contents != "any"]
    opened = next((n for n, c in enumerate(contents) if c != "refrigerant"), len(contents))
    assert "refrigerant" not in contents[opened:]  # once it is out it stays out
    assert 1 <= plan.pays_until <= len(plan.steps)
    assert plan.cut(plan.pays_until).chance <= plan.chance


def test_no_given_order_has_a_better_start_than_the_plan():
    """Chance found per minute of the first block, against every single step there is."""
    belief, planner, plan = planned(problem())
    bench = Bench("refrigerant")
    best = max(s.chance_so_far / s.minutes_so_far for s in plan.steps)
    for number, action in enumerate(planner.actions):
        if action.pinpoints and np.isfinite(planner.cost(number, bench)):
            chance = float((action.positive * belief.weight).sum())
            assert chance / planner.cost(number, bench) <= best * (1.0 + 1e-9)


def test_buried_places_come_late_and_by_isolation():
    given = problem("R600a", CHEST)
    _, _, plan = planned(given)
    foam = {p.identifier for p in given.layout.places if p.reach is Reach.FOAM}
    first_hold = next(n for n, s in enumerate(plan.steps) if not s.action.pinpoints)
    assert any(s.action.target not in foam for s in plan.steps[:3])
    assert first_hold > 5
    assert plan.steps[first_hold].action.target in ("low_side", "high_side", "condenser",
                                                    "evaporator", "whole_circuit")  # fmt: skip


def test_walk_ends_where_it_points():
    _, _, plan = planned(problem())
    never = walk(plan, lambda _: False, 1e9)
    assert never.unit == plan.excluded_to
    target = plan.steps[4].action
    ended = walk(plan, lambda action: action is target, 1e9)
    assert ended.minutes == pytest.approx(plan.steps[4].minutes_so_far)
    assert ended.unit == target.target
    assert walk(plan, lambda action: action is target, 1.0).unit == ""


def test_report_follows_the_job():
    first = leak_search(job(HALL))
    assert first.steps[0].place != ""
    assert first.chance_found > 0.5
    assert {"fluorescent_dye", "halide_torch"} <= {m for m, _ in first.barred}
    said = "".join(
        f'[[tried]]\nplace = "{s.place}"\nmethod = "{s.method}"\nminutes = {s.minutes}\n'
        "found = false\n"
        for s in first.steps[:12]
    )
    second = leak_search(job(HALL, said))
    assert second.chance_found < first.chance_found
    done = {(s.place, s.method) for s in first.steps[:12]}
    first_round = [s for s in second.steps if s.circuit_holds in ("refrigerant", "any")]
    assert not done & {(s.place, s.method) for s in first_round}
    yes = '[[tried]]\nplace = "drier_joint"\nmethod = "bubble_test"\nminutes = 3\nfound = true\n'
    third = leak_search(job(HALL, yes))
    assert third.located == "drier_joint"
    assert third.steps == ()
    assert third.places[0].place == "drier_joint"
    assert third.places[0].probability > 0.9


def test_exclusion_after_a_hold():
    steps = "".join(
        f'[[tried]]\nplace = "{p}"\nmethod = "tracer_gas"\nminutes = 4\nfound = false\n'
        for p in ("process_tube", "compressor", "compressor_joint", "suction_line",
                  "suction_line_joint")
    )  # fmt: skip
    hold = '[[tried]]\nplace = "low_side"\nmethod = "pressure_hold"\nminutes = 960\nfound = true\n'
    report = leak_search(job(CHEST, 'circuit_holds = "nitrogen"\n' + steps + hold))
    assert report.by_exclusion == "low side in foam"
    assert report.steps == ()
    assert any("By exclusion" in n for n in report.notes)


def test_number_for_this_circuit_of_what_a_hold_cannot_see():
    report = leak_search(job(HALL))
    short, long = report.hold_sight
    assert short.from_g_yr[0] > 1000.0 > long.from_g_yr[1] > 5.0
    assert report.small_leak_hold_s > 5 * 86_400.0


def test_flammable_that_may_hold_air_is_not_run_and_warned():
    report = leak_search(job(CHEST))
    flat = " ".join(c for s in report.steps for c in s.cautions)
    for word in ("Never oxygen", "Never press a flammable", "rated for this gas", "No torch"):
        assert word in flat
    assert any("burns" in c for c in report.cautions)


def test_unknown_refrigerant_is_searched_as_flammable():
    text = HALL.replace('refrigerant = "R134a"\n', "")
    report = leak_search(job(text))
    assert "heated_diode_detector" in {m for m, _ in report.barred}
    assert any("treat it as flammable" in c for c in report.cautions)

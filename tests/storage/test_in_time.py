"""Computations end in time, one after the other, and are called off when nobody waits."""

import threading
import time
from dataclasses import fields, replace
from types import SimpleNamespace

import numpy as np
import pytest

from coldwright.cycle import batches, cannot_be
from coldwright.cycle.state import STATE, RunningState
from coldwright.diagnosis import so_far
from coldwright.errors import BadInput
from coldwright.stopping import CalledOff, at_most, time_is_up, until
from coldwright.web.work_queue import MOST_WAITING, Busy, WorkQueue


def test_the_nearer_of_two_ends_counts():
    assert not time_is_up()
    with at_most(3600.0):
        with at_most(-1.0), at_most(10.0):
            assert time_is_up()
        assert not time_is_up()


def test_what_nobody_waits_for_is_called_off():
    off = threading.Event()
    with until(off):
        assert not time_is_up()
        off.set()
        with pytest.raises(CalledOff):
            time_is_up()
    assert not time_is_up()


def test_one_at_a_time_in_the_order_they_came():
    queue, order, running, gate = WorkQueue(), [], [], threading.Event()

    def work(n):
        running.append(n)
        assert len(running) == 1
        gate.wait(5.0)
        order.append(n)
        running.remove(n)

    threads = []
    for n in range(5):
        one = threading.Thread(target=queue.run, args=(f"job {n}", "", lambda n=n: work(n)))
        one.start()
        threads.append(one)
        while len(queue) <= n:
            time.sleep(0.001)
    gate.set()
    for one in threads:
        one.join()
    assert order == list(range(5))
    assert len(queue) == 0


def test_a_later_one_of_the_same_job_calls_the_earlier_off():
    queue, seen, begun = WorkQueue(), [], threading.Event()

    def long():
        begun.set()
        for _ in range(5000):
            time_is_up()
            time.sleep(0.001)

    def first():
        try:
            queue.run("hall", "old", long)
        except CalledOff:
            seen.append("off")

    one = threading.Thread(target=first)
    one.start()
    begun.wait(5.0)
    assert queue.run("hall", "new", lambda: 7) == 7
    one.join()
    assert seen == ["off"]


def test_too_many_are_turned_away_at_once():
    queue, gate = WorkQueue(), threading.Event()
    threads = [
        threading.Thread(target=queue.run, args=(f"{n}", "", lambda: gate.wait(10.0)))
        for n in range(MOST_WAITING + 1)
    ]
    for one in threads:
        one.start()
    while len(queue) <= MOST_WAITING:
        time.sleep(0.001)
    with pytest.raises(Busy):
        queue.run("one more", "", lambda: 1)
    gate.set()
    for one in threads:
        one.join()


@pytest.mark.parametrize("named", ["abc", "-1", "1.5", "4096", "²"])
def test_a_number_of_threads_that_is_none_is_told(monkeypatch, named):
    monkeypatch.setenv("COLDWRIGHT_THREADS", named)
    with pytest.raises(BadInput, match="COLDWRIGHT_THREADS"):
        batches.in_batches(lambda *_: None, 10)


def _state(**values):
    zero = RunningState(**{f.name: 0.0 for f in fields(RunningState)})
    usual = {"fresh_food_k": 278.0, "freezer_k": 255.0, "shell_k": 330.0, "superheat_k": 5.0}
    return replace(zero, **{**usual, "discharge_line_k": 350.0, **values})


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("superheat_k", -20.7, "superheat"),
        ("freezer_k", 594.0, "freezer compartment"),
        ("discharge_line_k", 611.0, "discharge line"),
    ],
)
def test_states_that_cannot_be_are_named_and_carry_no_weight(field, value, said):
    (one,) = cannot_be.cannot_be(_state(**{field: value}))
    assert said in one.quantity
    assert one.value == value
    rows = np.zeros(2, STATE)
    for name in STATE.names:
        rows[name] = getattr(_state(), name, 0.0)
    rows[field][1] = value
    assert cannot_be.can_be(rows).tolist() == [True, False]


def test_a_usual_state_can_be():
    assert cannot_be.cannot_be(_state()) == ()
    assert cannot_be.cannot_be(_state(door_frame_k=float("nan"))) == ()


@pytest.mark.parametrize(("n", "wide"), [(4, True), (4000, False)])
def test_how_far_odds_may_move_follows_from_the_members_that_carry_weight(n, wide):
    groups = tuple(
        SimpleNamespace(
            population=SimpleNamespace(faults=(f,)), log_w=np.zeros(n), log_evidence=np.log(p)
        )
        for f, p in (("a", 0.7), ("b", 0.3))
    )
    told = SimpleNamespace(odds={("a",): 0.7, ("b",): 0.3}, groups=groups, stopped=True)
    low, high = so_far.may_move(told)
    assert low < 0.7 < high
    assert (high - low > 0.3) is wide
    assert "may still move" in so_far.so_far(told)[0]
    assert so_far.so_far(SimpleNamespace(stopped=False)) == ()

"""A log and typed readings of the same appliance lead to the same fault."""

import math
from dataclasses import replace

import numpy as np
import pytest

from coldwright.logged.with_log import with_log
from coldwright.readings.job import Taken
from coldwright.readings.series import Column, Series
from coldwright.usecases.demo import demo_jobs, pick_demo
from coldwright.usecases.diagnose import diagnose

MEMBERS = 1320


def noise(size, rng):
    out = rng.standard_normal(size)
    for i in range(1, size):
        out[i] = 0.8 * out[i - 1] + 0.6 * out[i]
    return out


def as_log(job, minutes=180):
    """The typed readings as a logger would have seen them: a start, lags, correlated noise."""
    rng, t = np.random.default_rng(6), np.arange(float(minutes))
    rise = 1.0 - np.exp(-np.maximum(t - 20.0, 0.0) / 12.0)
    columns = []
    for r in job.readings:
        if r.key == "appliance_power":
            x = np.where(t >= 20.0, r.value, 4.0) + 0.5 * noise(t.size, rng)
        elif r.key in ("fresh_food_temperature", "freezer_temperature"):
            x = r.value + 0.1 * noise(t.size, rng)
        else:
            x = 297.0 + (r.value - 297.0) * rise + 0.1 * noise(t.size, rng)
        columns.append(Column(r.key, x, "K" if r.key != "appliance_power" else "W"))
    return Series("invented.csv", "", 60.0 * t, tuple(columns))


@pytest.mark.parametrize("name", ["hall-refrigerator", "guesthouse-side-by-side"])
def test_same_leading_fault(name):
    typed = pick_demo(demo_jobs(), name).job
    bare = replace(typed, readings=(), taken=Taken())
    logged = with_log(bare, as_log(typed))
    assert logged.course.steady
    # it falls no more: a log says so, a visit need not
    own = {r.key for r in logged.readings} - {"freezer_cooling_rate"}
    assert own == {r.key for r in typed.readings}
    for reading in typed.readings:
        seen = logged.reading(reading.key)
        assert seen.value == pytest.approx(reading.value, abs=max(4.0 * seen.sd, 0.2))
    by_hand = diagnose(typed, members=MEMBERS)
    by_log = diagnose(logged, members=MEMBERS)
    assert by_log.faults[0].faults == by_hand.faults[0].faults
    assert by_log.log == logged.course
    assert any("come from the log invented.csv" in note for note in by_log.notes)
    said = {r.reading for r in by_log.reasons}
    assert "condenser_middle_temperature" in said


def test_the_invented_log_leads_to_the_fault_it_was_made_with():
    """`bench/make_demo_log.py`: condenser air at 0.3, simulated over hours by another model."""
    answer = diagnose(pick_demo(demo_jobs(), "laundry-upright").job, members=MEMBERS)
    first = answer.faults[0]
    assert first.faults == ("condenser_air",)
    assert first.severity is not None
    assert first.severity.low < 0.45
    assert answer.fit is not None
    assert answer.fit.explained
    assert math.isfinite(answer.effective_members)

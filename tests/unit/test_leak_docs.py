"""docs/leaks.md and the numbers in use say the same."""

import re
from pathlib import Path

import pytest

from bench.leaks import ORDERS, PLAN, WORLDS
from coldwright.catalogue import leak_places
from coldwright.catalogue.leak_methods import METHODS
from coldwright.leak import hold_reach, plan, vacuum_hold

PAGE = (Path(__file__).parents[2] / "docs" / "leaks.md").read_text(encoding="utf-8")
ROWS = {
    "soap solution": "bubble_test",
    "ultrasonic": "ultrasonic",
    "heated diode, infrared": "heated_diode_detector",
    "corona": "corona_detector",
    "flammable gas": "combustible_gas_detector",
    "5 % hydrogen in nitrogen": "tracer_gas",
    "helium": "helium_tracer",
}


@pytest.mark.parametrize(("words", "method"), ROWS.items())
def test_limits_of_the_table_are_those_in_use(words, method):
    row = re.search(rf"^\| {re.escape(words)} \| ([0-9.e-]+) (\S+) \|", PAGE, re.MULTILINE)
    known = METHODS[method]
    value = known.limit_g_yr if row[2] == "g/yr" else known.limit_pa_m3_s
    assert float(row[1]) == pytest.approx(value)


def test_numbers_in_the_text_are_those_in_use():
    for number in (
        f"×{leak_places.SIGN_FACTORS['oil_trace']:g}, rust ×{leak_places.SIGN_FACTORS['rust']:g}",
        f"count as {leak_places.SHOP_WEIGHT:g} finds",
        f"({100 * leak_places.NOTHING_THERE:g} %, {100 * leak_places.NOTHING_AFTER_REPAIR:g} %",
        f"{100 * plan.FOUND_FROM:g} % of the chance",
        f"less than {100 * plan.STOP_PER_MINUTE:g} % of what is still possible",
        f"({plan.JOB_OVERHEAD_MIN:g} min of overhead",
        f"({hold_reach.GAS_TEMPERATURE_SD_K:g} K between start and end; "
        f"{hold_reach.NO_RECORD_SD_K:g} K without a record)",
        f"Noise {vacuum_hold.READING_SD_PA:g} Pa",
        f"given from {vacuum_hold.SURE:g} on",
        ", ".join(f"{p:g}" for p in vacuum_hold.PRIOR.values()),
    ):
        assert number in PAGE


def test_results_of_the_bench_stand_in_the_page():
    kept = PAGE.partition("<!-- bench.leaks -->")[2].partition("<!-- end of bench.leaks -->")[0]
    for words, _, _ in WORLDS:
        block = kept.partition(f"leaks, {words}**")[2].partition("| chance promised")[0]
        for name in (PLAN, *ORDERS):
            assert block.count(f"| {name} |") == 1
        found = {
            row[0]: [int(n) for n in re.findall(r"\| (\d+) \(", row[1])][:4]
            for row in re.findall(r"^\| ([^|]+?) (\|.*)$", block, re.MULTILINE)
            if "/h)" in row[1]
        }
        # Nobody edits these: the plan finds at least as many as any order by every time.
        for name, counts in found.items():
            assert all(a >= b for a, b in zip(found[PLAN], counts, strict=True)), name

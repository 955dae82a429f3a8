"""docs/repair.md and docs/command-line.md say what the code does."""

import json
import re
import tomllib
from pathlib import Path

from coldwright.cli.as_json import dumped
from coldwright.cli.repair_json import reports_json
from coldwright.readings.jobfile import job_from_text
from coldwright.readings.mending import EFFECTS, LABELS, WRITTEN
from coldwright.readings.mending_section import METALS, STATES
from coldwright.readings.shop import shop_of
from coldwright.repair import fillers
from coldwright.repair.alternatives import OFFERERS
from coldwright.repair.causes import LABELS as CAUSES
from coldwright.repair.causes import UNNAMED
from coldwright.repair.rating_points import ASHRAE, CECOMAF
from coldwright.worth.lifetimes import MEAN_LIFE_YEARS, SHAPE
from coldwright.worth.world import HORIZON_YEARS

DOCS = Path(__file__).parents[2] / "docs"
PAGE = (DOCS / "repair.md").read_text(encoding="utf-8")
GLOSSARY = (DOCS / "glossary.md").read_text(encoding="utf-8")
COMMANDS = (DOCS / "command-line.md").read_text(encoding="utf-8")
SHOP, JOB = re.findall(r"```toml\n(.*?)```", PAGE, re.S)


def test_the_shop_file_of_the_page_is_one_and_names_every_price():
    table = tomllib.loads(SHOP)
    shop_of(table, "docs")
    assert set(table["prices"]) == set(WRITTEN)
    assert set(LABELS) == set(EFFECTS)


def test_the_job_tables_of_the_page_are_read():
    job = job_from_text('[plate]\nkind = "top_mount"\n' + JOB, "docs")
    assert job.mending.joints[0].wall_m is not None


def test_every_word_of_the_job_file_stands_in_the_glossary():
    words = {o.identifier for o in OFFERERS} | set(STATES) | set(METALS) | set(CAUSES) - {UNNAMED}
    named = set(re.findall(r"`([a-z_]+)`", GLOSSARY))
    assert words - named == set()


def test_every_filler_class_is_on_the_page_or_barred_in_words():
    for f in fillers.ALL:
        if f.aws.startswith("BCuP"):
            assert "BCuP-2 to -6" in PAGE
            assert f.iso.removeprefix("CuP ") in PAGE
        elif f.iso and not f.cadmium:
            assert f.aws in PAGE or f.iso.removeprefix("Ag ") in PAGE
    assert "cadmium fillers" in PAGE


def test_numbers_of_the_page_are_those_in_use():
    for life in set(MEAN_LIFE_YEARS.values()):
        assert f"{life}" in PAGE
    assert f"shape {SHAPE}" in PAGE
    assert f"({HORIZON_YEARS:.0f}, *ours*)" in PAGE
    assert f"{ASHRAE.evaporating_k - 273.15:.1f}/{ASHRAE.condensing_k - 273.15:.1f} °C" in PAGE
    assert f"{CECOMAF.evaporating_k - 273.15:.0f}/{CECOMAF.condensing_k - 273.15:.0f} °C" in PAGE


def test_the_worked_cases_are_made_and_the_quick_one_still_comes_out_so(frame_report):
    block = PAGE.partition("<!-- cases: start -->")[2].partition("<!-- cases: end -->")[0]
    best = re.findall(r"^\| \*\*(.*?)\*\*", block, re.M)
    assert len(best) == 3
    now = frame_report.of(frame_report.verdict.best).alternative.title
    assert best[0] == now


def test_the_json_keys_are_told(frame_report):
    (result,) = json.loads(dumped(reports_json([frame_report])))["results"]
    section = COMMANDS.partition("## `coldwright repair")[2].partition("\n## ")[0]
    told = set(re.findall(r"`([a-z_0-9]+)`", section))
    assert set(result) - told == set()
    assert set(result["alternatives"][0]) - told == set()

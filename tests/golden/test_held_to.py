"""What the model is held to firmly, with the source of each; the whole list is docs/checks.md.

The bounds stand here a second time, apart from the page's own judgement, so that neither can be
loosened alone. How each figure is known: abstracts unless said otherwise.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from bench.checks import row as rows_of
from bench.checks.page import PAGE, all_parts, all_rows, page
from bench.checks.row import PRACTICE, Verdict
from bench.checks.simple_cycle import Given, by_library, by_ours

ALL = 1.0  # share of the cases that agree in sign

# key, least, greatest, source as it must stand in the row
SIGNS = [
    ("overcharge-signs", "Yildiz, J. Thermal Engineering, article 886"),
    ("r12-signs", "Dmitriyev & Pisarenko 1984"),  # no accumulator; sources disagree on the size
    ("r12-asymmetry", "Dmitriyev & Pisarenko 1984"),
    ("optimum-shape", "Vjacheslav et al. 2001"),
    ("optimum-ambient", "Björk & Palm 2006"),
    ("optimum-flat", "Björk & Palm 2006"),
    ("map-region", "Boeng & Melo 2014"),
    ("sign-undercharge", "makers' charts and trade texts"),  # full text
    ("sign-restriction", "makers' charts and trade texts"),  # full text
    ("sign-weak", "makers' charts and trade texts"),  # full text
    ("sign-overcharge", "makers' charts and trade texts"),  # in part from memory
    ("sign-condenser-air", "makers' charts and trade texts"),  # in part from memory
    ("sign-evaporator-air", "makers' charts and trade texts"),  # in part from memory
    ("clog-fall", "Ko & Jeong 2024"),
    ("clog-order", "Ko & Jeong 2024"),
    ("clog-air", "Ko & Jeong 2024"),
    ("dust-signs", "makers' charts and trade texts"),  # in part from memory
    ("room-run", PRACTICE.text),
    ("healthy-evaporating", PRACTICE.text),
    ("healthy-condensing", PRACTICE.text),
    ("healthy-run", PRACTICE.text),
    ("healthy-discharge", PRACTICE.text),
    ("healthy-suction", "trade texts"),  # full text
    ("healthy-vacuum", "trade texts"),  # full text
    ("capillary-choked", "choked flow"),
    ("rice-high", "Rice 1987"),
    ("nitrogen-pressure", "IJR article, IIR record 142095"),
    ("nitrogen-subcooling", "IJR article, IIR record 142095"),
    ("air-pressure", "Kim et al. 2007"),
    ("air-subcooling", "Kim et al. 2007"),
    ("air-small-pressure", "Cecchinato et al. 2006, 2007"),
    ("frame-warm", PRACTICE.text),
    ("oil-shell", PRACTICE.text),
    ("oil-discharge", PRACTICE.text),
    ("cycling-moves", "Coulter & Bullard 1995"),
    ("metastable", "Huerta, Fiorelli & Silvares 2007"),
]
FIGURES = [
    # Volumetric capacity [kJ/m3] and heat of vaporisation [kJ/kg] within 1 %; full text
    ("capacity-R600a", 0.99 * 373.0, 1.01 * 373.0, "compressor industry guideline"),
    ("capacity-R134a", 0.99 * 658.0, 1.01 * 658.0, "compressor industry guideline"),
    ("capacity-R12", 0.99 * 727.0, 1.01 * 727.0, "compressor industry guideline"),
    ("vaporisation-R600a", 0.99 * 376.0, 1.01 * 376.0, "compressor industry guideline"),
    ("vaporisation-R134a", 0.99 * 216.0, 1.01 * 216.0, "compressor industry guideline"),
    ("vaporisation-R12", 0.99 * 163.0, 1.01 * 163.0, "compressor industry guideline"),
    # Printed as 0.0042 kg/s; a correlation's value, secondary source [kg/h]
    ("capillary-correlation", 3600.0 * 0.00415, 3600.0 * 0.00425, "worked example"),
    ("capillary-march", 0.97 * 15.12, 1.03 * 15.12, "worked example"),
    # Mean size of the deviation over the grid; secondary source
    ("capillary-mean", 0.0, 0.10, "Wolf, Bittle & Pate 1995"),
    ("capillary-mean-after", 0.0, 0.05, "Wolf, Bittle & Pate 1995"),
    ("capillary-share", 90.0, 100.0, "Hermes, Melo & Knabben 2010"),
    ("capillary-bore", 2.45, 2.75, "exponents of ASHRAE RP-762"),
    ("capillary-length", -0.55, -0.45, "exponents of ASHRAE RP-762"),
    # Ratio of optimum charges; 0.45 to 0.55 with the pump as it was
    ("swap-ratio-same-pump", 0.45, 0.55, "Rasti et al. 2013"),
    # Each sized for itself it comes out a hair below: held a little wider than the published band
    ("swap-ratio-own-pump", 0.42, 0.56, "Rasti et al. 2013"),
    ("swap-ratio-families", 0.42, 0.56, "Rasti et al. 2013"),
    ("optimum-plate", -15.0, 15.0, "judgement of ours"),
    # Isentropic cycle at rating points by another hand with CoolProp; relative
    ("ideal-cop-ASHRAE", 0.0, 0.002, "isentropic cycle"),
    ("ideal-cop-CECOMAF", 0.0, 0.002, "isentropic cycle"),
    # EER of large compressors; rating point and refrigerant taken by us [Btu/Wh]
    ("eer-1980", 0.85 * 4.0, 1.15 * 4.0, "US EPA 430-R-93-010"),
    ("eer-1993", 4.0, 5.5, "US EPA 430-R-93-010"),
    # Ten coefficients carry our own compressor; the form is the standards', the limit ours
    ("ten-coefficients-R134a", 0.0, 0.02, "EN 12900"),
    ("ten-coefficients-R600a", 0.0, 0.02, "EN 12900"),
    # Mean size in mole fraction over the published points; secondary source
    ("oil-R600a", 0.0, 0.03, "Marcelino Neto & Barbosa 2008"),
    ("oil-R134a", 0.0, 0.05, "Wahlström & Vamling 2000"),
    # Textbook's first kelvin, from memory; ours with other friction and viscosities [m]
    ("R22-first-step", 0.85 * 0.2306, 1.15 * 0.2306, "Stoecker & Jones 1982"),
    # Half the nitrogen over all of it: the abstract calls the energy near-linear
    ("nitrogen-linear", 0.35, 0.65, "IJR article"),
    # An upper figure of air at 1.46 % by mole, a third either side [%]
    ("air-energy", 16.7, 33.3, "Kim et al. 2007"),
    ("dew-point", 0.0, 0.15, "CoolProp"),
    # Reference libraries, relative
    *((f"void-{name}", 0.0, 1e-9, "fluids") for name in ("homogeneous", "Zivi", "Baroczy")),
    ("void-Rouhani", 0.0, 1e-9, "fluids"),
    ("friction-Churchill", 0.0, 1e-9, "fluids"),
    ("friction-McAdams", 0.0, 1e-9, "fluids"),
    ("inside-Shah", 0.0, 1e-9, "ht"),
    ("inside-Gnielinski", 0.0, 1e-9, "ht"),
    ("exchange", 0.0, 1e-9, "ht"),
    ("outside-plate", 0.0, 3.1e-3, "ht"),
    *((f"cycle-{name}", 0.0, 3e-4, "TESPy") for name in ("R134a", "R600a", "R12", "R290", "R22")),
]
# Published sizes we miss: told on the page, and kept here so that a change of either kind shows.
MISSED = {
    "overcharge-pressure-with", "overcharge-pressure-without", "overcharge-run-with",
    "overcharge-run-without", "r12-over", "r12-under",
    "nitrogen-evaporating", "nitrogen-energy", "nitrogen-pull-down", "air-evaporating",
    "air-small-evaporating", "cycling-power", "cycling-efficiency", "R22-tube",
}  # fmt: skip


@pytest.fixture(scope="module")
def rows():
    return {row.key: row for row in all_rows()}


@pytest.mark.parametrize(("key", "source"), SIGNS)
def test_signs(rows, key, source):
    assert rows[key].source.text.startswith(source)
    assert rows[key].value == ALL, rows[key].deviation


@pytest.mark.parametrize(("key", "low", "high", "source"), FIGURES)
def test_figures(rows, key, low, high, source):
    assert rows[key].source.text.startswith(source)
    assert low <= rows[key].value <= high


def test_sizes_of_a_wrong_charge_are_softer_than_published(rows):
    """Right in sign; Yildiz: +1.3 bar, +21 % run time; Dmitriyev & Pisarenko 1984: R12."""
    assert {key for key in MISSED if rows[key].verdict is Verdict.UNKIND} == MISSED
    assert 0.0 < rows["overcharge-pressure-with"].value < 1.3
    assert 0.3 < rows["overcharge-pressure-without"].value < 1.3
    assert 0.0 < rows["overcharge-run-with"].value < 21.0
    assert 5.0 < rows["overcharge-run-without"].value < 21.0
    assert -12.0 < rows["r12-over"].value < -3.0
    assert -6.0 < rows["r12-under"].value < -1.0


def test_gas_warms_the_evaporator_where_it_was_found_to_cool_it(rows):
    """Wrong in sign, and kept here so that a change shows; docs/physics.md section 3 says why."""
    for key in ("nitrogen-evaporating", "air-evaporating", "air-small-evaporating"):
        assert rows[key].value == 0.0
    assert 10.0 < rows["nitrogen-energy"].value < 25.9


@pytest.mark.parametrize(
    "change",
    [{"superheat_k": 12.0}, {"isentropic_fraction": 0.66}, {"condensing_k": 319.15}],
    ids=lambda c: next(iter(c)),
)
def test_the_plain_cycle_would_notice(change):
    """TESPy at one condition against ours at another must not agree."""
    given = Given()
    other = replace(given, **change)
    theirs = by_library("R134a", given)
    assert by_ours("R134a", other).power_w != pytest.approx(theirs.power_w, rel=1e-3)


def test_every_row_has_a_key_of_its_own_a_source_and_a_verdict():
    rows = all_rows()
    assert len({row.key for row in rows}) == len(rows)
    for row in rows:
        assert row.held
        assert row.source.text
        missing = row.verdict is Verdict.NOT_YET
        assert math.isnan(row.value) == missing, row.key
        assert not missing or row.note, row.key


def test_the_judges_can_say_no():
    given = ("key", "held", PRACTICE)
    assert rows_of.near(*given, 100.0, 104.9, allowed=0.05, why="ours").verdict is Verdict.KIND
    assert rows_of.near(*given, 100.0, 105.1, allowed=0.05, why="ours").verdict is Verdict.UNKIND
    assert rows_of.between(*given, 1.0, 2.0, 2.0).verdict is Verdict.KIND
    assert rows_of.between(*given, 1.0, 2.0, 2.1).verdict is Verdict.UNKIND
    assert rows_of.between(*given, 1.0, 2.0, math.nan).verdict is Verdict.UNKIND
    limit = {"allowed": 0.01, "why": "ours", "published": "-"}
    assert rows_of.most(*given, 0.009, **limit).verdict is Verdict.KIND
    assert rows_of.most(*given, math.nan, **limit).verdict is Verdict.UNKIND
    assert rows_of.counted(*given, "-", [True, True], "-").verdict is Verdict.KIND
    assert rows_of.counted(*given, "-", [True, False], "-").verdict is Verdict.UNKIND


def test_the_page_is_what_its_recipe_gives():
    """Words and verdicts to the letter, numbers to what a compiler may turn."""
    kept = PAGE.read_text(encoding="utf-8").splitlines()
    made = page(all_parts()).splitlines()
    number = re.compile(r"[+-]?\d+(?:\.\d+)?(?:e[+-]?\d+)?")
    words = [[number.sub("#", line) for line in lines] for lines in (kept, made)]
    assert words[0] == words[1], "run `make checks`"
    for old, new in zip(kept, made, strict=True):
        for a, b in zip(number.findall(old), number.findall(new), strict=True):
            assert float(a) == pytest.approx(float(b), rel=0.05, abs=0.11), new

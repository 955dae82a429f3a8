"""The capillary command and its library function: worked example, spread, trends, inverse.

No measured flow with complete inputs was at hand: the checks are a published
correlation's values, trends and conservation.
"""

import json
import math
from dataclasses import astuple, fields, replace

import pytest

from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cycle.capillary.flow import (
    capillary_flow,
    capillary_length,
    subcooled_inlet,
    two_phase_inlet,
)
from coldwright.cycle.capillary.records import CapillaryTube
from coldwright.errors import NotSolved, OutOfRange
from coldwright.refrigerant.saturation import saturation_pressure
from coldwright.refrigerant.tables import load_tables
from coldwright.usecases.capillary import correlation
from tests.golden import load_golden
from tests.golden.capillary_spread import PAGE, page, spread, spreads

(EXAMPLE,) = load_golden("rp762_example.json")
PRINTED_ROUNDING = 0.00005 / 0.0042  # printed to one ten-thousandth
MARCH_OFF_CORRELATION = 0.03  # a free roughness of 0.2 to 1 µm alone moves the march by 4 %
TABLES = load_tables("R134a")
TUBE = CapillaryTube(0.8e-3, 0.5e-6, 0.5)
INLET = subcooled_inlet(TABLES, saturation_pressure(TABLES, 318.15), 5.0)


def flow(tube=TUBE, inlet=INLET, length=2.5, evaporating=248.15):
    return capillary_flow(TABLES, inlet, tube=tube, length=length, evaporating=evaporating)


def test_worked_example_by_the_command(capsys):
    status = run(
        app,
        [
            "capillary",
            *("--refrigerant", EXAMPLE["refrigerant"], "--bore", f"{EXAMPLE['bore_mm']} mm"),
            *("--length", f"{EXAMPLE['length_m']} m"),
            *("--inlet-pressure", f"{EXAMPLE['pressure_bar_absolute']} bar absolute"),
            *("--subcooling", f"{EXAMPLE['subcooling_k']} K", "--json"),
        ],
    )
    answer = json.loads(capsys.readouterr().out)
    printed = EXAMPLE["mass_flow_kg_s"] * 3600.0
    assert status == 0
    assert answer["mass_flow_kg_h"] == pytest.approx(printed, rel=MARCH_OFF_CORRELATION)
    assert answer["choked"] is True
    whole = answer["length_liquid_m"] + answer["length_two_phase_m"]
    assert whole == pytest.approx(EXAMPLE["length_m"], rel=1e-6)
    assert "within the range" in answer["notes"][0]


def test_worked_example_by_the_correlation_on_our_own_tables():
    inlet = subcooled_inlet(TABLES, EXAMPLE["pressure_bar_absolute"] * 1e5, EXAMPLE["subcooling_k"])
    beside = correlation(TABLES, inlet, EXAMPLE["bore_mm"] / 1e3, EXAMPLE["length_m"], "R134a")
    assert beside.mass_flow_kg_s == pytest.approx(EXAMPLE["mass_flow_kg_s"], rel=PRINTED_ROUNDING)
    assert beside.outside_range == ()


@pytest.mark.parametrize("name", ["R134a", "R22"])
def test_what_it_was_made_with_stays_near_the_correlation(name):
    # Grid of PHYSICS: bore 0.66-0.9 mm, 2-4 m, 35-55 °C, 2-15 K; mean size of the deviation.
    found = spread(name, "subcooled")
    assert found.cases == 108
    assert found.mean_absolute < 10.0
    assert found.mean_absolute_after < 5.0
    assert found.largest_after < 7.0  # single corners; told on the page


def test_the_page_of_spreads_is_what_its_recipe_gives():
    rows = spreads()
    kept = PAGE.read_text(encoding="utf-8").splitlines()
    made = page(rows).splitlines()
    assert [line for line in kept if "|" not in line] == [line for line in made if "|" not in line]
    table = [line.strip("|").split("|") for line in kept if line.startswith("| R")]
    assert [cell[0].strip() for cell in table] == [row.refrigerant for row in rows]
    # Means to the printed decimal; extremes rest on one tube each and move with the march's steps.
    tolerance = [0, 0.11, 0.11, 0.11, 0.3, 0.3, 0.003, 0.11, 0.3]
    for cells, row in zip(table, rows, strict=True):
        for cell, value, allowed in zip(cells[2:], astuple(row)[2:], tolerance, strict=True):
            assert float(cell) == pytest.approx(value, abs=allowed), row


@pytest.mark.parametrize(("bore", "length"), [(0.66e-3, 2.0), (0.8e-3, 2.5), (0.9e-3, 4.0)])
def test_trends(bore, length):
    # Exponents as of the correlation (2.6 on the bore, -0.48 on the length) and of theory.
    tube = replace(TUBE, bore_m=bore)
    step = math.log(1.02) - math.log(0.98)
    wide, narrow = (flow(replace(tube, bore_m=bore * k), length=length) for k in (1.02, 0.98))
    long, short = (flow(tube, length=length * k) for k in (1.02, 0.98))
    on_bore = math.log(wide.mass_flow_kg_s / narrow.mass_flow_kg_s) / step
    on_length = math.log(long.mass_flow_kg_s / short.mass_flow_kg_s) / step
    assert on_bore == pytest.approx(2.6, abs=0.15)
    assert on_length == pytest.approx(-0.5, abs=0.05)


def test_once_choked_the_evaporator_no_longer_counts():
    cold = [flow(evaporating=t) for t in (233.15, 248.15, 258.15)]
    assert all(f.choked for f in cold)
    assert all(f.exit_pressure_pa > saturation_pressure(TABLES, 258.15) for f in cold)
    for f in cold[1:]:
        assert f.mass_flow_kg_s == pytest.approx(cold[0].mass_flow_kg_s, rel=1e-4)
    warm = flow(evaporating=293.15)
    assert not warm.choked
    assert warm.exit_pressure_pa == pytest.approx(saturation_pressure(TABLES, 293.15), rel=1e-6)
    assert warm.mass_flow_kg_s < 0.98 * cold[0].mass_flow_kg_s


def test_roughness_and_choking_agree_with_an_independent_march():
    # Computed by another hand (CoolProp 8.0.0, HEM, 0.8 mm x 2.5 m, 45 °C, 5 K), kg/h to 3 figures:
    # roughness 0.1 and 2 µm, then evaporating 0 and 10 °C at 0.5 µm.
    by_roughness = [flow(replace(TUBE, roughness_m=r)).mass_flow_kg_s for r in (1e-7, 2e-6)]
    by_end = [flow(evaporating=t).mass_flow_kg_s for t in (273.15, 283.15)]
    found = [3600.0 * m for m in (*by_roughness, *by_end)]
    assert found == pytest.approx([5.32, 4.89, 5.198, 5.163], rel=0.005)  # entrance loss not said


@pytest.mark.parametrize("evaporating", [248.15, 293.15])
@pytest.mark.parametrize("feed", [15.0, 5.0, 0.5, 0.0, -0.1])
def test_length_is_the_inverse_of_flow(feed, evaporating):
    p = saturation_pressure(TABLES, 318.15)
    inlet = subcooled_inlet(TABLES, p, feed) if feed >= 0 else two_phase_inlet(TABLES, p, -feed)
    there = flow(inlet=inlet, evaporating=evaporating)
    back = capillary_length(
        TABLES, inlet, tube=TUBE, mass_flow=there.mass_flow_kg_s, evaporating=evaporating
    )
    assert back.length_m == pytest.approx(2.5, rel=1e-6)
    assert back.length_liquid_m == pytest.approx(there.length_liquid_m, abs=1e-6)
    assert (back.choked, there.residual_fraction < 1e-7) == (there.choked, True)
    assert there.iterations < 20


def test_the_flow_falls_through_saturation_without_a_step():
    p = saturation_pressure(TABLES, 318.15)
    inlets = [subcooled_inlet(TABLES, p, dt) for dt in (2.0, 1.0, 0.1, 0.0)]
    inlets += [two_phase_inlet(TABLES, p, x) for x in (0.001, 0.01, 0.1)]
    found = [flow(inlet=inlet).mass_flow_kg_s for inlet in inlets]
    assert found == sorted(found, reverse=True)
    assert found[4] == pytest.approx(found[2], rel=0.01)


def test_liquid_all_the_way_shows_no_vapour():
    inlet = subcooled_inlet(TABLES, saturation_pressure(TABLES, 318.15), 20.0)
    wet = flow(inlet=inlet, evaporating=308.15)
    assert (wet.exit_quality_fraction, wet.choked) == (0.0, False)
    assert wet.length_liquid_m == pytest.approx(2.5, rel=1e-9)


@pytest.mark.parametrize("name", [f.name for f in fields(CapillaryTube)])
def test_every_parameter_of_the_tube_moves_the_flow(name):
    bumped = replace(TUBE, **{name: 1.05 * getattr(TUBE, name) or 1.0})
    assert flow(bumped).mass_flow_kg_s != flow().mass_flow_kg_s


@pytest.mark.parametrize("name", ["R600a", "R290", "R12", "R22"])
def test_other_refrigerants_are_solved_over_the_household_range(name):
    tables = load_tables(name)
    for t_c in (303.15, 333.15):
        p = saturation_pressure(tables, t_c)
        for inlet in (subcooled_inlet(tables, p, 10.0), two_phase_inlet(tables, p, 0.3)):
            for bore, length in ((0.5e-3, 4.0), (1.2e-3, 1.5)):
                found = capillary_flow(
                    tables,
                    inlet,
                    tube=replace(TUBE, bore_m=bore),
                    length=length,
                    evaporating=243.15,
                )
                assert found.residual_fraction < 1e-7
                assert 0.0 < found.exit_quality_fraction < 1.0


def test_what_cannot_be_is_refused():
    with pytest.raises(OutOfRange, match="bore"):
        replace(TUBE, bore_m=0.01)
    with pytest.raises(OutOfRange, match="roughness"):
        replace(TUBE, roughness_m=1e-4)
    with pytest.raises(OutOfRange, match="evaporating"):
        flow(evaporating=320.0)
    with pytest.raises(OutOfRange, match="length"):
        flow(length=math.nan)
    with pytest.raises(OutOfRange, match="subcooling"):
        subcooled_inlet(TABLES, 1e6, -1.0)
    with pytest.raises(OutOfRange, match="inlet pressure"):
        two_phase_inlet(TABLES, 9e6, 0.1)
    with pytest.raises(OutOfRange, match="flow") as caught:
        capillary_length(TABLES, INLET, tube=TUBE, mass_flow=0.05, evaporating=248.15)
    assert caught.value.high < 0.05


def test_a_march_that_gives_no_number_is_an_error(monkeypatch):
    monkeypatch.setattr(
        "coldwright.cycle.capillary.flow.march", lambda *_: (math.nan,) * 7, raising=True
    )
    with pytest.raises(NotSolved, match="capillary flow"):
        flow()

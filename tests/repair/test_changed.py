"""Changed circuits by the simulator, the dew point, and the whole report of one job."""

import json
import math
from dataclasses import replace

import numpy as np
import pytest
from CoolProp.HumidAirProp import HAPropsSI
from hypothesis import given
from hypothesis import strategies as st

from coldwright.cli.as_json import dumped
from coldwright.cli.command_repair import repair_lines
from coldwright.cli.repair_json import reports_json
from coldwright.cli.text import WIDTH
from coldwright.cycle.humid_air import dew_point
from coldwright.errors import BadInput, OutOfRange, Refused
from coldwright.readings.jobfile import job_from_text, load_job
from coldwright.repair.changes import AsBuilt, WithoutFrameLoop, loop_share
from coldwright.repair.dew import frame_dew, share_from_reading
from coldwright.repair.simulated import frame_of
from coldwright.units import System
from coldwright.usecases.repair import repair
from tests.repair.conftest import FOLDER


def changed(report, identifier):
    return report.of(identifier).simulated


def test_by_passing_the_loop_lowers_the_mass_and_raises_the_condensing_pressure(frame_report):
    built = changed(frame_report, "mend_tube")
    passed = changed(frame_report, "bypass_frame_loop")
    assert passed.moves_charge
    assert not built.moves_charge
    assert 0.75 * built.charge_kg.median < passed.charge_kg.median < 0.98 * built.charge_kg.median
    for room in ("mild", "hot"):
        a, b = getattr(built, room), getattr(passed, room)
        assert b.condensing_pressure_pa.median > a.condensing_pressure_pa.median
        assert b.discharge_k.median > a.discharge_k.median
    # The loop's heat no longer enters the cabinet, which may outweigh the higher pressure.
    assert 0.9 < passed.energy_kwh_year.mean() / built.energy_kwh_year.mean() < 1.25


def test_a_hotter_room_asks_more(frame_report):
    for name in ("mend_tube", "bypass_frame_loop", "new_compressor"):
        s = changed(frame_report, name)
        assert (s.mild.room_k, s.hot.room_k) == (298.15, 316.15)
        assert s.hot.run_fraction.median > s.mild.run_fraction.median
        assert s.hot.condensing_pressure_pa.median > s.mild.condensing_pressure_pa.median
        assert s.hot.discharge_k.median > s.mild.discharge_k.median


def test_a_new_compressor_uses_no_more(frame_report):
    old, new = changed(frame_report, "mend_tube"), changed(frame_report, "new_compressor")
    assert new.energy_kwh_year.mean() <= old.energy_kwh_year.mean()
    assert new.charge_kg == old.charge_kg


def test_the_loop_comes_off_length_volume_and_surface():
    from coldwright.circuit.vector import CIRCUIT

    circuits = np.ones(3, CIRCUIT)
    circuits["frame_loop"]["tube_length_m"] = 0.0  # lumped with the condenser
    WithoutFrameLoop(0.3).apply(circuits)
    for name in ("tube_length_m", "volume_m3", "area_m2"):
        assert circuits["condenser"][name] == pytest.approx(0.7)
    before = circuits.copy()
    AsBuilt().apply(circuits)
    assert np.array_equal(before, circuits)


def test_a_loop_the_circuit_describes_goes_itself_and_the_condenser_stays():
    loop = np.dtype([("tube_length_m", "f8"), ("room_conductance_w_k", "f8"),
                     ("cabinet_conductance_w_k", "f8")])  # fmt: skip
    condenser = np.dtype([(n, "f8") for n in ("tube_length_m", "volume_m3", "area_m2")])
    circuits = np.ones(2, np.dtype([("frame_loop", loop), ("condenser", condenser)]))
    WithoutFrameLoop(0.3).apply(circuits)
    assert np.all(circuits["frame_loop"]["tube_length_m"] == 0.0)
    assert np.all(circuits["condenser"]["area_m2"] == 1.0)
    states = np.zeros(2, [("door_frame_k", "f8"), ("fresh_food_k", "f8")])
    states["door_frame_k"], states["fresh_food_k"] = 298.15 - 6.0, 298.15 - 20.0
    frame = frame_of(circuits, states)
    assert frame.share_fraction == pytest.approx(0.3)
    assert frame.heater_w_per_k == pytest.approx(2.0)
    assert frame_of(np.zeros(1, [("condenser", condenser)]), states[:1]) is None


def test_the_loops_share_is_held_to_what_can_be():
    assert loop_share(4.0, 12.0) == pytest.approx(1.0 / 3.0)
    assert loop_share(None, 12.0) == pytest.approx(5.0 / 12.0)
    assert loop_share(0.5, 50.0) == 0.10
    assert loop_share(15.0, 10.0) == 0.45


@given(st.floats(283.15, 313.15), st.floats(0.2, 1.0))
def test_dew_point_is_that_of_the_reference_library(temperature, humidity):
    theirs = HAPropsSI("D", "T", temperature, "P", 101_325.0, "R", humidity)
    if theirs > 273.5:  # below, the reference gives the frost point
        assert dew_point(temperature, humidity) == pytest.approx(theirs, abs=0.15)


@pytest.mark.parametrize("humidity", [0.0, 1.2, math.nan])
def test_a_humidity_that_cannot_be_is_refused(humidity):
    with pytest.raises(OutOfRange, match="humidity"):
        dew_point(295.0, humidity)


def test_without_a_reading_the_frame_is_the_models(frame_report):
    dew = frame_report.dew
    assert 0.0 < dew.share_fraction < 0.5
    assert "by the model" in dew.known_from
    for row in dew.rows:
        assert row.sweats == (row.frame_k < row.dew_point_k)
        assert row.dew_point_k <= row.room_k
        assert row.frame_k < row.room_k


def test_a_frame_reading_says_when_it_sweats():
    share = share_from_reading(293.15 - 4.5, 293.15, 278.15)
    assert share == pytest.approx(0.3)
    rows = [("dry", 293.15, 0.45), ("damp", 293.15, 0.85)]
    dew = frame_dew(rows, 278.15, share, "read")
    dry, damp = dew.rows
    assert (dry.sweats, damp.sweats) == (False, True)
    assert dew.heater_w > 0.0
    assert dew.heater_kwh_year is None  # two humidities are no year
    year = frame_dew(rows * 6, 278.15, share, "read", months=True)
    # Half of the months want it, and the half that goes inside is carried out again at COP 1.3.
    wanted = 0.5 * dew.heater_w * (1.0 + 0.5 / 1.3) * 8.766
    assert year.heater_kwh_year == pytest.approx(wanted)
    # The frame may be as far towards the inside as the dew point lets it.
    edge = frame_dew(rows, 278.15, damp.most_share_fraction + 1e-6, "read").rows[1]
    assert edge.sweats
    assert not frame_dew(rows, 278.15, damp.most_share_fraction - 1e-6, "read").rows[1].sweats


def test_a_frame_reading_that_says_nothing_is_none():
    assert share_from_reading(293.0, 293.0, 290.0) is None
    assert share_from_reading(300.0, 293.0, 278.0) is None


def test_the_loops_by_pass_is_worth_it_here_and_the_flips_surround_it(frame_report):
    assert frame_report.verdict.best == "bypass_frame_loop"
    assert frame_report.settled == "leak_frame_loop"
    by_name = {f.quantity: f for f in frame_report.flips}
    price = by_name["price of a new appliance"]
    assert price.below < price.now
    assert price.below_to == "replace"
    assert by_name["age of the appliance"].above > 5.0


def test_the_layout_is_simulated_as_it_is(frame_report):
    assert not any("plain one" in note for note in frame_report.notes)


def test_old_and_new_stand_beside_the_published_rules(frame_report):
    y = frame_report.yardstick
    assert y.old_rule_kwh == 443  # class 5, 2014: 8.85 AV + 317, AV = (235 + 1.76 x 95) l
    assert 0.4 < y.old_model_kwh / y.old_rule_kwh < 1.1
    assert y.new_kwh <= y.old_model_kwh * 1.05


def test_the_json_holds_everything_and_no_number_that_is_none(frame_report):
    told = json.loads(dumped(reports_json([frame_report])))
    (result,) = told["results"]
    assert result["best"] == "bypass_frame_loop"
    assert result["sheet"]["alternative"] == result["best"]
    assert len(result["sheet"]["joints"]) == 4
    first = result["alternatives"][0]
    assert first["money"]["low"] <= first["money"]["median"] <= first["money"]["high"]
    assert first["changed"]["rooms"][1]["room_k"] == 316.15
    assert {m["price"] for m in result["missing"]} == {"new_energy_kwh_year", "embodied_kg_co2e"}
    assert all(m["effect"] for m in result["missing"])


@pytest.mark.parametrize("system", list(System))
@pytest.mark.parametrize("full", [True, False])
def test_the_text_fits_a_phone_and_says_the_answer(frame_report, system, full):
    lines = repair_lines(frame_report, system, full=full)
    assert max(len(line) for line in lines) <= WIDTH
    text = " ".join(" ".join(lines).split())
    assert "Least expected cost: By-pass and abandon the door-frame loop (cheapest in" in text
    assert "by the model" in text
    assert ("HOW EACH WAY IS DONE" in text) == full
    assert ("brittle phosphides" in text) == full


def test_a_frame_that_sweats_is_by_passed_with_its_heater(shop):
    text = (FOLDER / "jobs" / "frame-loop.toml").read_text(encoding="utf-8")
    text += '\n[readings]\ndoor_frame_temperature = "16 °C"\nambient_temperature = "22 °C"\n'
    text += 'fresh_food_temperature = "7 °C"\n'
    damp = replace(shop, room_by_month=((294.15, 0.8),) * 12)
    report = repair(job_from_text(text, "made up"), shop=damp, seed=7)
    assert all(row.sweats for row in report.dew.rows)
    passed = report.of("bypass_frame_loop")
    assert ("frame_heater", 1.0) in passed.alternative.items
    assert any("heater" in note for note in passed.alternative.notes)
    dry = repair(job_from_text(text, "made up"), seed=7,
                 shop=replace(shop, room_by_month=((294.15, 0.4),) * 12))  # fmt: skip
    assert not any(row.sweats for row in dry.dew.rows)
    assert ("frame_heater", 1.0) not in dry.of("bypass_frame_loop").alternative.items
    assert passed.worth.money.mean > dry.of("bypass_frame_loop").worth.money.mean
    lines = " ".join(" ".join(repair_lines(report, System.SI, full=False)).split())
    assert "sweats" in lines
    assert "keeps it dry" in lines


def test_an_alternative_nobody_offers_is_named(shop):
    job = load_job(FOLDER / "jobs" / "frame-loop.toml")
    with pytest.raises(BadInput, match="did you mean bypass_frame_loop"):
        repair(job, shop=shop, alternative="bypass_frameloop")


def test_without_odds_and_without_a_finding_there_is_no_answer(shop):
    text = '[plate]\nkind = "top_mount"\n[circuit]\nevaporators = "switched"\n'
    with pytest.raises(Refused, match=r"state \[repair\] cause"):
        repair(job_from_text(text, "made up"), shop=shop)


def test_what_is_not_modelled_still_gets_a_comparison_by_the_rules(shop):
    text = (
        '[plate]\nkind = "side_by_side"\nyear = 2016\nrefrigerant = "R600a"\n'
        '[circuit]\nevaporators = "switched"\n[repair]\ncause = "leak_reachable"\n'
    )
    report = repair(job_from_text(text, "made up"), shop=shop)
    assert all(c.simulated is None for c in report.considered)
    assert report.verdict.best is not None
    assert any("Not simulated" in note for note in report.notes)
    assert math.isnan(report.yardstick.old_model_kwh)


def test_without_a_shop_nothing_is_compared_in_money_and_it_says_why():
    text = (
        '[plate]\nkind = "side_by_side"\nyear = 2016\nrefrigerant = "R600a"\n'
        '[circuit]\nevaporators = "switched"\n[repair]\ncause = "leak_reachable"\n'
    )
    report = repair(job_from_text(text, "made up"))
    assert report.verdict.best is None
    assert report.flips == ()
    assert report.chosen == "mend_tube"
    lines = " ".join(" ".join(repair_lines(report, System.SI, full=False)).split())
    assert "No money can be compared: hourly rate" in lines
    assert "Hourly rate: no money can be put on any repair" in lines

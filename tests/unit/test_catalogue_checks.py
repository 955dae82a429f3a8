"""Checks and cautions: complete, readable on a phone, and never without their danger."""

import re

import pytest

from coldwright.catalogue.cautions import CAUTIONS, caution_texts, cautions_for
from coldwright.catalogue.checks import CHECKS, TOOLS, Check
from coldwright.errors import BadInput, OutOfRange
from coldwright.readings import keys
from coldwright.refrigerant.facts import REFRIGERANTS

MOST_CHARACTERS = 170  # about five lines on a phone 390 points wide, a judgement of ours
FLAMMABLE = [r.name for r in REFRIGERANTS if r.flammable]
SAFE = [r.name for r in REFRIGERANTS if not r.flammable]


def test_every_reading_and_sign_can_be_checked_and_nothing_else():
    assert set(CHECKS) == set(keys.READINGS) | set(keys.SIGNS)


@pytest.mark.parametrize("check", CHECKS.values(), ids=CHECKS)
def test_check_is_short_enough_and_complete(check):
    assert check.minutes > 0.0
    assert check.needs
    assert set(check.needs) <= set(TOOLS)
    assert set(check.cautions) <= set(CAUTIONS)
    assert len(check.how) <= MOST_CHARACTERS
    assert check.how[0].isupper()
    assert check.how[-1] in ".?"
    assert len(re.findall(r"[.?](?= [A-Z]|$)", check.how)) <= 2


def test_checks_that_open_the_circuit_are_the_registrys_and_say_so():
    opening = {name for name, check in CHECKS.items() if check.opens_circuit}
    assert opening == {name for name, key in keys.READINGS.items() if key.opens_circuit}
    assert all("opens_circuit" in CHECKS[name].cautions for name in opening)
    closed = [c for name, c in CHECKS.items() if name not in opening]
    assert not any("opens_circuit" in check.cautions for check in closed)


def test_opening_costs_more_time_than_a_clamp():
    dearest = max(
        CHECKS[name].minutes for name, check in CHECKS.items() if check.needs == ("thermometer",)
    )
    assert all(c.minutes > dearest for c in CHECKS.values() if c.opens_circuit)


@pytest.mark.parametrize(
    ("caution", "least"),
    [
        ("low_side_below_atmosphere", {"suction_pressure", "standing_pressure", "recovered_mass"}),
        ("hot_surface", {"shell_temperature", "discharge_line_temperature"}),
        ("moving_fan", {"evaporator_fan_stopped", "condenser_fan_stopped", "coil_iced_over"}),
        (
            "mains",
            {k for k in keys.READINGS if "resistance" in k or "current" in k}
            | {"supply_voltage", "compressor_power"},
        ),
    ],
)
def test_dangerous_checks_carry_their_caution(caution, least):
    carrying = {name for name, check in CHECKS.items() if caution in check.cautions}
    assert least <= carrying


def test_check_that_takes_no_time_cannot_be_built():
    with pytest.raises(OutOfRange):
        Check("rust", 0.0, ("eyes",), False, "Look.", ())


@pytest.mark.parametrize("refrigerant", FLAMMABLE)
def test_flammable_refrigerant_is_named_before_anything_is_done(refrigerant):
    assert cautions_for(refrigerant) == ("flammable_refrigerant", "licensed_practice")


@pytest.mark.parametrize("refrigerant", ["unknown", "R441A", "", "R99"])
def test_refrigerant_without_facts_counts_as_flammable(refrigerant):
    assert cautions_for(refrigerant) == ("unknown_refrigerant", "licensed_practice")


def test_flammable_caution_says_what_must_be_done_before_power():
    for name in ("flammable_refrigerant", "unknown_refrigerant"):
        text = CAUTIONS[name].text.lower()
        for word in ("before anything is energised", "floor level", "inside the cabinet",
                     "spark", "ventilate"):  # fmt: skip
            assert word in text


@pytest.mark.parametrize("refrigerant", SAFE)
def test_no_caution_without_a_danger(refrigerant):
    assert cautions_for(refrigerant) == ()
    assert cautions_for(refrigerant, [CHECKS["ambient_temperature"]]) == ()


@pytest.mark.parametrize("refrigerant", [*FLAMMABLE, "unknown"])
@pytest.mark.parametrize("name", ["suction_pressure", "standing_pressure", "recovered_mass"])
def test_low_side_of_a_flammable_circuit_may_hold_a_mixture(refrigerant, name):
    found = cautions_for(refrigerant, [CHECKS[name]])
    assert {"flammable_mixture", "low_side_below_atmosphere", "opens_circuit"} <= set(found)
    texts = " ".join(caution_texts(found))
    for word in ("stopped and purged", "inhales", "Air and moisture", "do not run it"):
        assert word in texts


@pytest.mark.parametrize("refrigerant", SAFE)
def test_low_side_of_a_safe_circuit_still_inhales(refrigerant):
    found = cautions_for(refrigerant, [CHECKS["suction_pressure"]])
    assert "low_side_below_atmosphere" in found
    assert "flammable_mixture" not in found
    assert found[-1] == "licensed_practice"


def test_mains_work_is_isolated_discharged_and_left_to_those_who_may():
    found = cautions_for("R134a", [CHECKS["winding_resistance_run"]])
    assert found == ("mains", "licensed_practice")
    text = CAUTIONS["mains"].text
    assert "Isolate" in text
    assert "Discharge capacitors" in text


def test_each_caution_once_in_the_order_of_showing():
    found = cautions_for("R600a", list(CHECKS.values()))
    assert found == tuple(name for name in CAUTIONS if name in found)
    assert set(CAUTIONS) - set(found) == {"unknown_refrigerant"}


def test_sentences_are_short():
    for caution in CAUTIONS.values():
        assert caution.title
        assert caution.sentences
        assert all(len(s) <= 100 and s.endswith(".") for s in caution.sentences)


def test_unknown_caution_is_refused():
    with pytest.raises(BadInput):
        caution_texts(["dragon"])
    with pytest.raises(BadInput):
        cautions_for("R134a", [Check("rust", 1.0, ("eyes",), False, "Look.", ("dragon",))])

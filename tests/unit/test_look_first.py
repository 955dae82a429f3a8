"""What to look at first: order, words, what is left out, and the odds behind it."""

import pytest

from coldwright.catalogue.look_first import BEYOND_THE_ODDS, LOOKS, SIGNS_FIRST
from coldwright.catalogue.pairs import prior_with_pairs
from coldwright.catalogue.priors import FAULTS
from coldwright.catalogue.signs import SIGN_MODELS
from coldwright.diagnosis.look_first import _reported, look_first
from coldwright.readings.jobfile import job_from_text
from coldwright.readings.keys import COMPLAINTS, SIGNS

ALONE = [(name,) for name in FAULTS]
FLAT = dict.fromkeys(ALONE, 1.0 / len(ALONE))
FANS = '[circuit]\nevaporator = "fan"\n'
LOW = dict.fromkeys(ALONE, 0.01)


def job(text=""):
    return job_from_text('[plate]\nkind = "compact"\n' + text, "job.toml")


def names(found):
    return [look.look for look in found]


def test_everything_without_an_instrument_is_there_until_entered():
    found = look_first(job(FANS), None)
    assert set(SIGNS_FIRST) <= set(SIGNS)
    assert set(names(found)) == {*SIGNS_FIRST, *(x.identifier for x in LOOKS if not x.after_sign)}
    seen = look_first(job(FANS + "[signs]\ncondenser_dusty = false\n"), None)
    assert "condenser_dusty" not in names(seen)
    assert {c for look in LOOKS for c in look.complaints} <= set(COMPLAINTS)


def test_order_is_information_per_minute():
    for odds in (None, FLAT):
        found = look_first(job(), odds)
        worth = [look.information_bits / look.minutes for look in found]
        assert worth == sorted(worth, reverse=True)
        assert min(worth) >= 0.0


def test_order_follows_the_present_odds():
    def place(odds, sign):
        return names(look_first(job(), odds)).index(sign)

    dusty = LOW | {("condenser_air",): 0.5, ("weak_compressor",): 0.41}
    stopped = LOW | {("compressor_not_running",): 0.5, ("undercharge",): 0.41}
    assert place(dusty, "condenser_dusty") < place(stopped, "condenser_dusty")
    assert place(stopped, "compressor_silent") < place(dusty, "compressor_silent")
    assert place(stopped, "compressor_silent") < place(stopped, "condenser_dusty")


def test_a_fan_that_is_not_there_is_not_asked_for():
    built = job('[circuit]\ncondenser = "static"\nevaporator = "plate"\n')
    assert not {"condenser_fan_stopped", "evaporator_fan_stopped"} & set(
        names(look_first(built, FLAT))
    )


def test_defrost_parts_follow_an_iced_coil_with_their_cautions():
    found = look_first(job("[signs]\ncoil_iced_over = true\n"), FLAT)
    parts = next(look for look in found if look.look == "defrost_parts")
    assert "limiter" in parts.name
    assert any("Isolate" in text for text in parts.cautions)
    assert "defrost_parts" not in names(look_first(job("[signs]\ncoil_iced_over = false\n"), FLAT))


def test_complaint_brings_its_look_forward():
    def place(complaint):
        text = f'[history]\ncomplaint = "{complaint}"\n'
        return names(look_first(job(text), FLAT)).index("air_ways")

    assert place("fresh_food_warm_freezer_good") < place("noise")


def test_what_would_change_nothing_is_not_asked_for():
    blocked = dict.fromkeys(ALONE, 1e-6) | {("capillary_blocked",): 1.0 - 1e-5}
    assert set(names(look_first(job(), blocked))) <= {look.identifier for look in LOOKS}


@pytest.mark.parametrize("sign", BEYOND_THE_ODDS)
def test_a_sign_beyond_the_odds_says_what_it_means_where_the_complaint_points(sign):
    complaints, means = BEYOND_THE_ODDS[sign]
    text = f'[history]\ncomplaint = "{complaints[0]}"\n'
    found = {x.look: x for x in look_first(job(text), FLAT)}
    assert means in found[sign].seen


def test_what_yes_and_no_say_is_bayes():
    """One sign by hand: odds times chance of the report, divided by their sum."""
    found = next(x for x in look_first(job(), FLAT) if x.look == "condenser_dusty")
    p = {f: _reported("condenser_dusty", (f,)) for f in FAULTS}
    after = p["condenser_air"] / sum(p.values())
    before = 1.0 / len(FAULTS)
    assert f"poor air over the condenser ({before:.0%} to {after:.0%})" in found.seen
    assert found.seen.startswith("for ")
    assert found.unseen.startswith("against poor air over the condenser")


@pytest.mark.parametrize("sign", [s for s in SIGNS_FIRST if s in SIGN_MODELS])
def test_chances_stay_between_false_and_hit(sign):
    model = SIGN_MODELS[sign]
    for fault in FAULTS:
        assert model.false - 1e-12 <= _reported(sign, (fault,)) <= model.hit + 1e-12


def test_a_chest_freezer_is_not_asked_about_a_fan():
    chest = job_from_text('[plate]\nkind = "chest_freezer"\n', "job.toml")
    assert not [name for name in names(look_first(chest, FLAT)) if "evaporator_fan" in name]


def test_fresh_food_warm_and_freezer_good_asks_for_fan_and_ice_first():
    text = '[plate]\nkind = "top_mount"\n[history]\ncomplaint = "fresh_food_warm_freezer_good"\n'
    top = job_from_text(text, "job.toml")
    odds = prior_with_pairs("fresh_food_warm_freezer_good")
    assert {"evaporator_fan_stopped", "coil_iced_over"} <= set(names(look_first(top, odds))[:4])


def test_priors_stand_in_where_there_are_no_odds():
    text = '[history]\ncomplaint = "does_not_start"\n'
    by_prior = look_first(job(text), prior_with_pairs("does_not_start"))
    blind = look_first(job(text), None)
    kept = names(by_prior)
    assert [name for name in names(blind) if name in kept] == kept
    assert {"restarted_too_soon", "compressor_runs"} & set(names(by_prior)[:4])
    assert "%" in by_prior[0].seen
    # no odds were given, so none are told
    assert not any("%" in look.seen + look.unseen for look in blind)

"""Tables [repair] and [worth] and the shop file: what is refused names the effect."""

import pytest

from coldwright.errors import BadInput
from coldwright.readings.jobfile import job_from_text
from coldwright.readings.mending import EFFECTS, WRITTEN, Prices
from coldwright.readings.shop import load_shop, shop_of

PLATE = '[plate]\nkind = "top_mount"\n'


def refused(text):
    with pytest.raises(BadInput) as caught:
        job_from_text(PLATE + text, "job.toml")
    return str(caught.value)


def test_a_full_table_is_read():
    job = job_from_text(
        PLATE
        + """
[repair]
state = "recovered"
alternative = "replace"
cause = "leak_frame_loop"
metals = { evaporator = "aluminum", suction_line = "copper" }
frame_loop_length = "4 m"
[[repair.joints]]
place = "evaporator_joint"
metals = ["aluminium", "copper"]
outside = ["8 mm", "5/16 in"]
[worth]
electricity_per_kwh = 0.3
discount_rate = "3 %"
""",
        "job.toml",
    )
    m = job.mending
    assert (m.state, m.alternative, m.cause) == ("recovered", "replace", "leak_frame_loop")
    assert dict(m.metals)["evaporator"] == "aluminium"
    assert m.joints[0].outside_m[1] == pytest.approx(7.9375e-3)
    assert m.prices.discount_rate_fraction == pytest.approx(0.03)
    assert m.prices.labour_per_hour is None


def test_a_job_without_them_is_as_before():
    assert job_from_text(PLATE, "job.toml").mending.prices == Prices()


@pytest.mark.parametrize(
    ("text", "needed"),
    [
        ("[worth]\nlabour_per_hour = -5\n", ("worth.labour_per_hour", "-5", "hours are shown")),
        ("[worth]\nelectricity_per_kwh = 'dear'\n", ("electricity_per_kwh", "dear", "left out")),
        ("[worth]\ndiscount_rate = '-2 %'\n", ("worth.discount_rate", "-2 %", "rate of 0 %")),
        ("[worth]\nnew_aplliance = 5\n", ("worth.new_aplliance", "new_appliance")),
        ("[repair]\nmetals = { evaporator = 'tin' }\n", ("tin", "copper", "left out")),
        ("[repair]\nstate = 'empty'\n", ("repair.state", "recovered")),
        ("[[repair.joints]]\nmetals = ['copper', 'steel']\n", ("joints[1].place", "nothing")),
        ("[[repair.joints]]\nplace = 'drier'\noutside = ['6 mm']\n", ("outside", "list of two")),
        ("[[repair.joints]]\nplace = 'drier'\nwall = ['1 mm', '60 mm']\n", ("60 mm", "3.00")),
    ],
)
def test_a_slip_is_named_with_what_is_accepted(text, needed):
    message = refused(text)
    for word in ("job.toml", *needed):
        assert word in message


def test_every_price_says_what_its_absence_does():
    assert set(EFFECTS) == set(Prices.__dataclass_fields__)
    assert set(WRITTEN.values()) == set(EFFECTS)
    assert all(len(effect) > 10 for effect in EFFECTS.values())


@pytest.mark.parametrize("key", sorted(WRITTEN))
def test_every_price_refuses_a_negative_number(key):
    with pytest.raises(BadInput, match="left out") as caught:
        shop_of({"prices": {key: "-1 %" if key == "discount_rate" else -1}}, "shop.toml")
    assert caught.value.key == f"prices.{key}"


def test_the_jobs_own_price_goes_before_the_shops():
    both = Prices(new_appliance=900.0).over(Prices(new_appliance=500.0, drier=9.0))
    assert both.new_appliance == 900.0
    assert both.drier == 9.0


def test_the_invented_shop_is_read(shop):
    assert shop.currency == "crowns"
    assert [c.refrigerant for c in shop.compressors] == ["R600a", "R134a"]
    assert shop.bores_m == tuple(sorted(shop.bores_m))


@pytest.mark.parametrize(
    ("table", "key"),
    [
        ({"prizes": {}}, "prizes"),
        ({"stock": {"bores": []}}, "stock.bores"),
        ({"stock": {"compressors": [{"name": "x"}]}}, "stock.compressors[1].refrigerant"),
        ({"room_by_month": [{"temperature": "20 °C", "humidity": "50 %"}]}, "room_by_month"),
    ],
)
def test_a_shop_file_that_cannot_be_used_is_named(table, key):
    with pytest.raises(BadInput) as caught:
        shop_of(table, "shop.toml")
    assert caught.value.key == key


def test_a_capacity_without_its_rating_point_is_worth_nothing():
    raw = {"name": "x", "refrigerant": "R600a", "displacement": "7 cm3", "voltage": "230 V",
           "frequency": "50 Hz", "capacity": "100 W"}  # fmt: skip
    with pytest.raises(BadInput, match="rating"):
        shop_of({"stock": {"compressors": [raw]}}, "shop.toml")


def test_a_missing_shop_file_is_one_message(tmp_path):
    with pytest.raises(BadInput, match="no such file"):
        load_shop(tmp_path / "none.toml")
    (tmp_path / "bad.toml").write_text("prices = [", encoding="utf-8")
    with pytest.raises(BadInput, match="TOML"):
        load_shop(tmp_path / "bad.toml")

"""A log read: stamps or elapsed time, units in the heads, every slip named."""

import math

import numpy as np
import pytest

from coldwright.errors import BadInput
from coldwright.readings.keys import READINGS
from coldwright.readings.series import LOGGED, load_series, series_from_text
from coldwright.units import Dimension as D

GOOD = (
    "time [min], freezer_temperature [°C], appliance_power [W]\n0, -18, 90\n1, , 91.5\n\n2,-17,2\n"
)


def test_every_temperature_and_the_powers_can_be_logged():
    temperatures = {k for k, known in READINGS.items() if known.dimension is D.TEMPERATURE}
    powers = {"appliance_power", "compressor_power", "appliance_current", "compressor_current"}
    assert set(LOGGED) == temperatures | powers


def test_elapsed_time_and_units_of_the_heads():
    series = series_from_text(GOOD, "x.csv")
    assert series.time_s == pytest.approx([0.0, 60.0, 120.0])
    freezer = series.column("freezer_temperature")
    assert freezer.unit == "°C"
    assert freezer.values[[0, 2]] == pytest.approx([255.15, 256.15])
    assert math.isnan(freezer.values[1])
    assert series.values("appliance_power") == pytest.approx([90.0, 91.5, 2.0])
    assert np.all(np.isnan(series.values("shell_temperature")))
    assert series.started == ""


@pytest.mark.parametrize("head", ["time", "time [iso]", "TIME [ISO 8601]"])
def test_stamps(head):
    text = f"{head},shell_temperature [°F]\n2026-05-12 14:30,104\n2026-05-12T14:35:30,113\n"
    series = series_from_text(text, "x.csv")
    assert series.time_s == pytest.approx([0.0, 330.0])
    assert series.values("shell_temperature") == pytest.approx([313.15, 318.15])
    assert series.started == "2026-05-12 14:30:00"


def test_units_in_round_brackets_and_stamps_with_slashes():
    text = "time (min),shell_temperature (°C)\n0,40\n1,41\n"
    assert series_from_text(text, "x.csv").values("shell_temperature")[1] == pytest.approx(314.15)
    text = "time,shell_temperature (°C)\n2026/05/12 14:30,40\n2026/05/12 14:31:30,41\n"
    assert series_from_text(text, "x.csv").time_s == pytest.approx([0.0, 90.0])


def test_time_zones_count():
    head = "time,shell_temperature [°C]\n"
    text = head + "2026-03-29T01:59:00+01:00,1\n2026-03-29T03:01:00+02:00,1\n"
    assert series_from_text(text, "x.csv").time_s == pytest.approx([0.0, 120.0])


@pytest.mark.parametrize("separator", [";", "\t"])
def test_semicolon_or_tab_with_decimal_comma(separator):
    text = GOOD.replace(",", separator).replace("91.5", "91,5")
    assert series_from_text(text, "x.csv").values("appliance_power")[1] == 91.5


@pytest.mark.parametrize(
    ("text", "where", "told"),
    [
        ("", "", "a head such as"),
        ("time [min]\n1\n2\n", "head", "time and a reading"),
        ("freezer_temperature [°C]\n1\n2\n", "head", "time and a reading"),
        ("time [min], frezer_temperature [°C]\n1, 2\n", "head", "freezer_temperature"),
        ("time [min], freezer_temperature\n1, 2\n", "head", "[unit]"),
        ("time [min], run_fraction [%]\n1, 2\n", "head", "[unit]"),
        ("time [min], shell_temperature [W]\n1, 2\n2, 2\n", "head, shell", "temperature"),
        ("time [kg], shell_temperature [K]\n1, 2\n", "head, time", "time"),
        ("time [min], shell_temperature [K]\n1, 300\n1, 301\n", "line 3, time", "rising"),
        ("time [min], shell_temperature [K]\n1, 300\n", "time", "two lines"),
        ("time [min], shell_temperature [K]\n1, 300\n2, warm\n", "line 3, shell", "a number"),
        ("time [min], shell_temperature [K]\n1, 300\n2, 3000\n", "line 3, shell", "can be"),
        ("time [min], shell_temperature [K]\n1, 300\n2, inf\n", "line 3, shell", "a number"),
        ("time [min], shell_temperature [K]\n1, 300, 2\n", "line 2", "2 as in the head"),
        ("time, shell_temperature [K]\n14:30, 300\nx, 301\n", "line 2, time", "2026-05-12"),
        ("time, shell_temperature [K]\n2026-05-12 10:00, 300\n2026-05-12 11:00+01:00, 301\n",
         "time", "one kind"),
        ("time [min], shell_temperature [K], shell_temperature [K]\n1, 300, 300\n", "head", "once"),
    ],
)  # fmt: skip
def test_every_slip_is_named(text, where, told):
    with pytest.raises(BadInput) as caught:
        series_from_text(text, "x.csv")
    assert caught.value.file == "x.csv"
    assert where in caught.value.key
    assert told in f"{caught.value.accepted} {caught.value.read}"


def test_files_that_are_no_text_or_not_there(tmp_path):
    with pytest.raises(BadInput, match="no such file"):
        load_series(tmp_path / "none.csv")
    with pytest.raises(BadInput):
        load_series(tmp_path)
    (tmp_path / "odd.csv").write_bytes(b"\xff\xfe\x00time")
    with pytest.raises(BadInput):
        load_series(tmp_path / "odd.csv")
    (tmp_path / "bom.csv").write_bytes(b"\xef\xbb\xbf" + GOOD.encode())
    assert load_series(tmp_path / "bom.csv").time_s.size == 3

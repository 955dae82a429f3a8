"""Logs of a hold: what is read, what is refused, what is said about gaps and clocks."""

import pytest

from coldwright.errors import BadInput
from coldwright.readings.hold_log import hold_log_from_text, load_hold_log

HEAD = "time [min], pressure [bar gauge], temperature [°C]\n"


def read(text):
    return hold_log_from_text(text, "log.csv")


def test_a_plain_log():
    log = read("# bench\n" + HEAD + "0, 10.0, 20\n30, 9.99, 20\n60, 9.98, 21\n")
    assert log.times_s == (0.0, 1800.0, 3600.0)
    assert log.pressures_pa[0] == pytest.approx(11.01325e5)
    assert log.temperatures_k[2] == pytest.approx(294.15)
    assert log.gauge
    assert log.notes == ()


def test_units_in_the_cells_and_other_separators():
    log = read("time;pressure\n0 min;500 micron\n5 min;612,5 micron\n")
    assert log.pressures_pa[1] == pytest.approx(612.5 * 0.133322, rel=1e-4)
    assert not log.gauge
    assert log.temperatures_k == ()


def test_clock_past_midnight_and_dates():
    log = read("time, pressure [psig]\n23:50, 150\n00:10, 149\n")
    assert log.times_s == (0.0, 1200.0)
    log = read("time, pressure [psig]\n2026-03-01 23:50, 150\n2026-03-02 00:10:30, 149\n")
    assert log.times_s == (0.0, 1230.0)


def test_bare_unit_counts_as_gauge_and_says_so():
    log = read("time [h], pressure [bar]\n0, 10\n1, 10\n")
    assert log.gauge
    assert "taken as gauge" in log.notes[0]


def test_reset_clock_keeps_the_longest_part():
    log = read(HEAD + "0,10,20\n10,9.9,20\n20,9.8,20\n30,9.7,20\n0,9.0,20\n10,8.9,20\n")
    assert log.times_s == (0.0, 600.0, 1200.0, 1800.0)
    assert "set back" in log.notes[0]
    assert "lines 2 to 5" in log.notes[0]


def test_gap_is_named():
    rows = "".join(f"{t},10,20\n" for t in (0, 5, 10, 15, 20, 200, 205, 210))
    log = read(HEAD + rows)
    assert log.gaps_s == ((1200.0, 12000.0),)
    assert "180 min from 20 min on" in log.notes[0]


@pytest.mark.parametrize(
    ("text", "key", "said"),
    [
        (HEAD + "0,10 psig,20\n5,10,20\n", "line 2: pressure", "a number in bar gauge"),
        ("time, pressure\n0 min,10 bar gauge\n5 min,145 psig\n", "line 3: pressure", "one unit"),
        (HEAD + "0,10,20\n5,145.0,20\n", "line 3: pressure", "this looks like another one"),
        ("time, pressure\n0 min,10 bar gauge\n5 min,10 bar absolute\n", "line 3: pressure",
         "one unit"),
        ("time [min], pressure\n0,10\n5,10\n", "line 2: pressure", "a unit in the first line"),
        (HEAD + "0,10,20\n5,9.9,\n", "line 3: temperature", "in every line, or in none"),
        (HEAD + "0,10,20\n5,9.9,400\n", "line 3: temperature", "-15 to 55 °C"),
        (HEAD + "0,10,20\n5,9.9\n", "line 3", "3 fields"),
        (HEAD + "0,10,20\n", "", "at least two readings"),
        (HEAD + "5,10,20\n5,10,20\n", "time", "order of time"),
        ("when, pressure\n0,1\n", "line 1", "names out of time, pressure, temperature"),
        ("time [min]\n0\n1\n", "line 1", "time, pressure, temperature"),
        ("time, pressure [bar gauge]\n25:00,10\n25:10,10\n", "line 2: time", "00:00 to 23:59"),
        ("time [min], pressure [bar gauge]\nnoon,10\n5,10\n", "line 2: time", "min"),
        ("# nothing\n", "", "a log"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused(text, key, said):
    with pytest.raises(BadInput) as caught:
        read(text)
    assert caught.value.file == "log.csv"
    assert caught.value.key == key
    assert said in caught.value.accepted


@pytest.mark.parametrize(
    ("data", "said"), [(b"", "empty"), (b"a\0b", "binary"), (b"\xff\xfe\xfa", "UTF-8")]
)
def test_files_that_are_no_text(tmp_path, data, said):
    path = tmp_path / "log.csv"
    path.write_bytes(data)
    with pytest.raises(BadInput, match=said):
        load_hold_log(path)
    with pytest.raises(BadInput, match="no such file"):
        load_hold_log(tmp_path / "none.csv")

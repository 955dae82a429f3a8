"""The job file: read into records, edited without losing a comment, refused with one message."""

import pytest

from coldwright.errors import BadInput
from coldwright.readings.job import Instruments, Sign, Tried
from coldwright.readings.jobfile import JobFile, job_from_text, load_job

HALL = """\
# an invented appliance
title = "Hall refrigerator"
[plate]
kind = "top_mount"
year = 2004
refrigerant = "R134a"
charge = "140 g"
voltage = "120 V"
frequency = "60 Hz"
current = "1.6 A"                 # or power = "160 W"
volume_fresh_food = "290 l"
volume_freezer = "110 l"
climate_class = "N"
[circuit]
layout = "frame_loop"
condenser = "static"
evaporator = "fan"
displacement = "6.6 cm3"
[circuit.capillary]
bore = "0.66 mm"
[room]
temperature = "24 °C"
humidity = "55 %"
[history]
complaint = "both_too_warm"
age = "9 year"
months_since_ok = 5
earlier_repair = false
[taken]                           # how the readings were taken
minutes_since_start = 45
doors_opened = 1
settled = true
also_running = ["evaporator_fan", "lamp"]
instrument = { thermometer = "clamp", meter = "plug_in" }
[readings]                        # value, or a table
appliance_power = "96 W"          # plug-in meter
discharge_line_temperature = { value = "54 °C", uncertainty = "2 °F", note = "taped" }
suction_pressure = "6 inHg vacuum"
run_fraction = 0.9
compressor_current = { value = "0.8 A", uncertainty = "5 %" }
discharge_pressure = { value = "9 bar", uncertainty = "0.2 bar" }

# signs come last
[signs]
frost_only_at_inlet = true
oil_trace = { seen = true, place = "evaporator_joint" }
[[tried]]
place = "evaporator_joint"
method = "bubble_test"
minutes = 5
found = false
"""


def test_every_table_becomes_its_record():
    job = job_from_text(HALL, "hall.toml")
    assert (job.source, job.title) == ("hall.toml", "Hall refrigerator")
    assert (job.plate.kind, job.plate.year, job.plate.refrigerant) == ("top_mount", 2004, "R134a")
    assert job.plate.charge_kg == pytest.approx(0.14)
    assert job.plate.volume_fresh_food_m3 == pytest.approx(0.29)
    assert (job.plate.voltage_v, job.plate.frequency_hz, job.plate.current_a) == (120.0, 60.0, 1.6)
    assert job.plate.power_w is None
    assert (job.circuit.layout, job.circuit.condenser) == ("frame_loop", "static")
    assert job.circuit.displacement_m3 == pytest.approx(6.6e-6)
    assert job.circuit.geometry == (("capillary.bore", pytest.approx(0.00066)),)
    assert job.room.temperature_k == pytest.approx(297.15)
    assert job.room.air_pressure_pa == 101_325.0
    assert job.history.age_s == pytest.approx(9 * 31_557_600.0)
    assert (job.history.months_since_ok, job.history.earlier_repair) == (5.0, False)
    assert (job.taken.minutes_since_start, job.taken.settled) == (45.0, True)
    assert job.taken.also_running == ("evaporator_fan", "lamp")
    assert job.taken.instrument == Instruments("clamp", None, "plug_in")
    assert job.signs == (
        Sign("frost_only_at_inlet", True),
        Sign("oil_trace", True, "evaporator_joint"),
    )
    assert job.tried == (Tried("evaporator_joint", "bubble_test", 5.0, False),)


def test_readings_keep_value_uncertainty_and_text():
    job = job_from_text(HALL, "hall.toml")
    power, line = job.reading("appliance_power"), job.reading("discharge_line_temperature")
    assert (power.value, power.sd, power.entered) == (96.0, None, "96 W")
    assert line.value == pytest.approx(327.15)
    assert line.sd == pytest.approx(2 / 1.8)
    assert line.note == "taped"
    assert job.reading("compressor_current").sd == pytest.approx(0.04)
    assert job.reading("discharge_pressure").sd == pytest.approx(2e4)
    assert job.reading("run_fraction").entered == "0.9"
    assert job.reading("shell_temperature") is None
    assert job.sign("rust") is None


def test_a_bare_pressure_is_taken_as_gauge_and_says_so():
    job = job_from_text(HALL, "hall.toml")
    assert job.reading("discharge_pressure").value == pytest.approx(1_001_325.0)
    assert job.reading("discharge_pressure").gauge_assumed
    assert not job.reading("suction_pressure").gauge_assumed


def test_stated_uncertainty_goes_before_the_instruments():
    job = job_from_text(HALL, "hall.toml")
    assert job.reading("appliance_power").measured(3.0).sd == 3.0
    assert job.reading("discharge_line_temperature").measured(3.0).sd == pytest.approx(2 / 1.8)


def test_altitude_moves_gauge_readings():
    text = HALL.replace('humidity = "55 %"', 'altitude = "2000 m"')
    job = job_from_text(text, "hall.toml")
    assert job.room.air_pressure_pa == pytest.approx(79_495.0, rel=1e-4)
    assert job.reading("suction_pressure").value == pytest.approx(79_495.0 - 6 * 3386.389, rel=1e-4)


def test_the_least_job_has_a_kind_only():
    job = job_from_text('[plate]\nkind = "compact"\n', "x.toml")
    assert (job.title, job.plate.refrigerant) == ("", "unknown")
    assert (job.readings, job.signs, job.tried) == ((), (), ())


@pytest.mark.parametrize("written", ["R134a", "r134a", "R-134a", "R 134A"])
def test_a_refrigerant_may_be_spaced_as_on_any_plate(written):
    text = f'[plate]\nkind = "compact"\nrefrigerant = "{written}"\n'
    assert job_from_text(text, "x").plate.refrigerant == "R134a"


@pytest.mark.parametrize("written", ["220-240 V", "220–240 V", "220 / 240 V~"])
def test_a_voltage_span_is_read_as_its_middle_or_refused(written):
    text = f'[plate]\nkind = "compact"\nvoltage = "{written}"\n'
    if "~" in written:
        with pytest.raises(BadInput, match=r"plate\.voltage"):
            job_from_text(text, "x")
    else:
        assert job_from_text(text, "x").plate.voltage_v == 230.0


@pytest.mark.parametrize(("written", "read"), [("n", "N"), ("SN/T", "SN-T"), ("SN-ST", "SN-ST")])
def test_climate_class(written, read):
    text = f'[plate]\nkind = "compact"\nclimate_class = "{written}"\n'
    assert job_from_text(text, "x").plate.climate_class == read


def replaced(old, new):
    assert old in HALL
    return HALL.replace(old, new)


REFUSED = [
    ("unknown key", replaced("appliance_power", "aplliance_power"), "readings.aplliance_power",
     "'aplliance_power', an unknown key", "did you mean appliance_power?"),
    ("misplaced key", replaced('humidity = "55 %"', 'suction_pressure = "2 psig"'),
     "room.suction_pressure", "an unknown key", "did you mean suction_pressure in [readings]?"),
    ("unknown table", replaced("[signs]", "[sings]"), "sings", "an unknown key",
     "did you mean signs?"),
    ("wrong dimension", replaced('"96 W"', '"96 g"'), "readings.appliance_power", "'96 g', a mass",
     "accepted: a power such as '96 W'"),
    ("no unit", replaced('"96 W"', "96"), "readings.appliance_power",
     "96, a number without a unit", "a power"),
    ("absolute zero", replaced('temperature = "24 °C"', 'temperature = "-300 °C"'),
     "room.temperature", "'-300 °C'", "above absolute zero"),
    ("too cold for any room", replaced('temperature = "24 °C"', 'temperature = "-100 °C"'),
     "room.temperature", "'-100 °C'", "-20.0 °C to 60.0 °C"),
    ("run fraction", replaced("run_fraction = 0.9", "run_fraction = 1.4"),
     "readings.run_fraction", "read 1.4;", "0 % to 100 %"),
    ("run fraction in text", replaced("run_fraction = 0.9", 'run_fraction = "140 %"'),
     "readings.run_fraction", "'140 %'", "0 % to 100 %"),
    ("not a number", replaced("run_fraction = 0.9", "run_fraction = nan"),
     "readings.run_fraction", "nan", "finite"),
    ("refrigerant", replaced('"R134a"', '"R1234ze"'), "plate.refrigerant", "'R1234ze'",
     "unknown; did you mean R1234yf?"),
    ("kind", replaced('"top_mount"', '"topmount"'), "plate.kind", "'topmount'",
     "did you mean top_mount?"),
    ("no kind", replaced('kind = "top_mount"\n', ""), "plate.kind", "nothing",
     "one of single_door"),
    ("year as text", replaced("year = 2004", 'year = "2004"'), "plate.year", "'2004'",
     "a whole number"),
    ("year as boolean", replaced("year = 2004", "year = true"), "plate.year", "true",
     "a whole number"),
    ("sign as text", replaced("frost_only_at_inlet = true", 'frost_only_at_inlet = "yes"'),
     "signs.frost_only_at_inlet", "'yes'", "true or false"),
    ("sign without seen", replaced("{ seen = true, place", "{ place"), "signs.oil_trace.seen",
     "nothing", "true or false"),
    ("place unknown", replaced('place = "evaporator_joint" }', 'place = "evaporater_joint" }'),
     "signs.oil_trace.place", "'evaporater_joint'", "did you mean evaporator_joint?"),
    ("place where none belongs",
     replaced("frost_only_at_inlet = true", 'rust = true\ndamper_stuck = {seen=true, place="x"}'),
     "signs.damper_stuck.place", "an unknown key", "one of seen"),
    ("reading without value", replaced('{ value = "54 °C", ', "{ "),
     "readings.discharge_line_temperature.value", "nothing", "'-18 °C'"),
    ("reading as list", replaced('"96 W"', '["96 W"]'), "readings.appliance_power", "a list",
     "a power"),
    ("reading as boolean", replaced('"96 W"', "true"), "readings.appliance_power", "true",
     "a power"),
    ("uncertainty zero", replaced('"2 °F"', '"0 K"'),
     "readings.discharge_line_temperature.uncertainty", "'0 K'", "above zero"),
    ("uncertainty of a temperature in percent", replaced('"2 °F"', '"2 %"'),
     "readings.discharge_line_temperature.uncertainty", "'2 %'", "a temperature difference"),
    ("title", replaced('title = "Hall refrigerator"', "title = 5"), "title", "5", "text in quotes"),
    ("plate no table", "plate = 5\n", "plate", "5", "a table [plate]"),
    ("no plate", '[readings]\nappliance_power = "96 W"\n', "plate", "nothing", "a table [plate]"),
    ("tried no list", "tried = 1\n" + replaced("[[tried]]", "[room2]").split("[room2]")[0], "tried",
     "1", "a list of { place"),
    ("tried incomplete", replaced("minutes = 5\n", ""), "tried[1].minutes", "nothing",
     "a list of { place"),
    ("circuit geometry key", replaced('bore = "0.66 mm"', 'boar = "0.66 mm"'),
     "circuit.capillary.boar", "an unknown key", "did you mean bore?"),
    ("circuit table", replaced("[circuit.capillary]", "[circuit.capilary]"),
     "circuit.capilary", "an unknown table", "did you mean capillary?"),
    ("geometry dimension", replaced('"0.66 mm"', '"0.66 g"'), "circuit.capillary.bore",
     "'0.66 g', a mass", "a length"),
    ("toml syntax", replaced('year = 2004', "year = = 2004"), "line 5, column 7", "'year = = 2004'",
     "TOML"),
    ("key twice", replaced("year = 2004", "year = 2004\nyear = 2005"), "", "already",
     "each key once"),
    ("thermometer", replaced('thermometer = "clamp"', 'thermometer = "clmp"'),
     "taken.instrument.thermometer", "'clmp'", "did you mean clamp?"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "key", "read", "accepted"), [case[1:] for case in REFUSED], ids=[c[0] for c in REFUSED]
)
def test_refused_in_one_message_naming_file_key_read_and_accepted(text, key, read, accepted):
    with pytest.raises(BadInput) as caught:
        job_from_text(text, "hall.toml")
    message = str(caught.value)
    assert message.startswith(f"hall.toml: {key}: read " if key else "hall.toml: read ")
    assert read in message
    assert accepted in message
    assert "\n" not in message


@pytest.mark.parametrize(
    ("data", "read"),
    [
        (b"", "an empty file"),
        (b"  \n\n", "an empty file"),
        (b"\x7fELF\x02\x01\x00\x00", "a binary file"),
        (b"\x89PNG\r\n\x1a\n\xff\xfe", "bytes that are no UTF-8 text"),
        (b"x" * 1_000_001, "more than 1 MB"),
        (b"a = " + b"[" * 5000, ""),
    ],
)
def test_a_file_that_is_no_job(tmp_path, data, read):
    path = tmp_path / "job.toml"
    path.write_bytes(data)
    with pytest.raises(BadInput) as caught:
        load_job(path)
    assert str(caught.value).startswith(str(path))
    assert f"read {read}" in str(caught.value)
    assert "accepted: " in str(caught.value)


def test_missing_file_and_directory(tmp_path):
    with pytest.raises(BadInput, match="no such file"):
        load_job(tmp_path / "none.toml")
    with pytest.raises(BadInput, match="a directory"):
        load_job(tmp_path)
    with pytest.raises(BadInput, match="null byte; accepted: a job file"):
        load_job("a\0b")


def test_saving_untouched_gives_the_same_bytes(tmp_path):
    for text in (HALL, HALL.replace("\n", "\r\n"), "\ufeff" + HALL):
        path = tmp_path / "job.toml"
        path.write_bytes(text.encode())
        JobFile.open(path).save()
        assert path.read_bytes() == text.encode()


def test_an_edit_keeps_every_other_line(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(HALL, encoding="utf-8")
    file = JobFile.open(path)
    file.add_reading("freezer_temperature", "-5 °C", uncertainty="1 K", note="glass of water")
    file.add_reading("appliance_power", "97 W")
    file.add_sign("rust", True, "condenser")
    file.set_value("taken", "minutes_since_start", 50)
    file.save()
    lines, before = path.read_text(encoding="utf-8").splitlines(), HALL.splitlines()
    gone = [line for line in before if line not in lines]
    assert gone == [
        "minutes_since_start = 45",
        'appliance_power = "96 W"          # plug-in meter',
    ]
    added = [line for line in lines if line not in before]
    assert added == [
        "minutes_since_start = 50",
        'appliance_power = "97 W"          # plug-in meter',
        'freezer_temperature = {value = "-5 °C", uncertainty = "1 K", note = "glass of water"}',
        'rust = {seen = true, place = "condenser"}',
    ]
    assert lines.index("# signs come last") > lines.index(added[2])
    job = load_job(path)
    assert job.reading("freezer_temperature").sd == 1.0
    assert job == file.job


def test_what_is_taken_out_is_gone():
    file = JobFile(HALL, "hall.toml")
    file.remove_reading("appliance_power")
    file.remove_sign("oil_trace")
    file.remove_sign("rust")  # was not there
    assert file.job.reading("appliance_power") is None
    assert file.job.sign("oil_trace") is None
    assert "appliance_power" not in file.text
    assert "# signs come last" in file.text


def test_tables_are_made_where_there_were_none():
    file = JobFile('[plate]\nkind = "compact"\n', "x")
    file.add_reading("run_fraction", 0.4)
    file.add_sign("rust", False)
    file.set_value("room", "temperature", "25 °C")
    assert file.job.reading("run_fraction").value == 0.4
    assert file.job.sign("rust") == Sign("rust", False)
    assert job_from_text(file.text, "x") == file.job


@pytest.mark.parametrize(
    "edit",
    [
        lambda f: f.add_reading("run_fraction", 1.4),
        lambda f: f.add_reading("runn_fraction", 0.4),
        lambda f: f.add_reading("suction_pressure", "96 g"),
        lambda f: f.add_reading("freezer_temperature", "-18 °C", uncertainty="1 bar"),
        lambda f: f.add_sign("rusty", True),
        lambda f: f.add_sign("damper_stuck", True, "drier"),
        lambda f: f.set_value("plate", "kind", "boat"),
        lambda f: f.remove("plate", "kind"),
    ],
)
def test_a_refused_edit_leaves_everything_as_it_was(edit):
    file = JobFile(HALL, "hall.toml")
    before = file.job
    with pytest.raises(BadInput):
        edit(file)
    assert file.text == HALL
    assert file.job is before


def test_saving_where_nothing_can_be_written_says_so(tmp_path):
    with pytest.raises(BadInput, match="a file that can be written"):
        JobFile(HALL, "hall.toml").save(tmp_path / "none" / "job.toml")
    assert list(tmp_path.iterdir()) == []

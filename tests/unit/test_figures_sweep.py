"""A sweep as a drawing and a table: what was found is what is shown, gaps stay gaps."""

import csv
import math
import xml.etree.ElementTree as ET

import pytest

from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.figures.sweep import Curve, Panel, Sweep, sweep_svg
from coldwright.units import Dimension as D
from coldwright.units import on_one_scale
from tests.unit.cli_fakes import FakeSimulate, circuit_toml

NAN = float("nan")
SVG = "{http://www.w3.org/2000/svg}"


def _lines(root: ET.Element) -> list[list[tuple[float, float]]]:
    return [
        [(float(x), float(y)) for x, y in (at.split(",") for at in line.get("points").split())]
        for line in root.iter(f"{SVG}polyline")
        if float(line.get("stroke-width")) > 1.0
    ]


def test_a_point_that_was_not_found_leaves_a_gap():
    shown = Sweep("x", "bore, mm", (1.0, 2.0, 3.0, 4.0, 5.0),
                  (Panel("power, W", (Curve("power", (1.0, 2.0, NAN, 4.0, 5.0)),)),))  # fmt: skip
    lines = _lines(ET.fromstring(sweep_svg(shown)))
    pieces = [p for p in lines if len({y for _, y in p}) > 1]  # not the key's sample stroke
    assert [len(p) for p in pieces] == [2, 2]
    # Equal steps of the value are equal steps on the sheet, more is higher
    (x0, y0), (x1, y1) = pieces[0]
    (x3, y3), _ = pieces[1]
    assert x3 - x1 == pytest.approx(2 * (x1 - x0), abs=0.2)
    assert y1 - y3 == pytest.approx(2 * (y0 - y1), abs=0.2)


def test_nothing_found_and_nothing_varying_are_still_drawn():
    for values in ((NAN, NAN), (3.0, 3.0)):
        shown = Sweep("x", "y", (0.0, 1.0), (Panel("p", (Curve("c", values),)),))
        assert ET.fromstring(sweep_svg(shown)).find(f"{SVG}title").text == "x"


def test_one_scale_for_all_values():
    assert on_one_scale([0.02, 1.2], D.MASS)[0] == pytest.approx((0.02, 1.2))
    assert on_one_scale([0.02, 0.5, NAN], D.MASS)[1] == "g"
    assert on_one_scale([273.15], D.TEMPERATURE) == ((0.0,), "°C")
    assert on_one_scale([5.0], D.TEMPERATURE_DIFFERENCE, "us")[0] == pytest.approx((9.0,))
    values, unit = on_one_scale([1e5], D.PRESSURE)
    assert (values, unit) == ((1.0,), "bar absolute")


@pytest.fixture
def circuit(tmp_path, monkeypatch):
    monkeypatch.setattr(
        "coldwright.cli.command_simulate.simulate_use_case", lambda: FakeSimulate(0.00075)
    )
    path = tmp_path / "circuit.toml"
    path.write_text(circuit_toml(), encoding="utf-8")
    return str(path)


def test_table_and_drawing_are_written(circuit, tmp_path, capsys):
    table, folder = tmp_path / "new" / "sweep.csv", tmp_path / "drawn"
    asked = ["--vary", "capillary.bore=0.6..0.8 mm", "--points", "5"]
    assert (
        run(app, ["simulate", circuit, *asked, "--csv", str(table), "--figures", str(folder)]) == 0
    )
    assert "written" in capsys.readouterr().err
    with table.open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert [float(r["capillary.bore"]) for r in rows] == pytest.approx(
        [0.6e-3, 0.65e-3, 0.7e-3, 0.75e-3, 0.8e-3]
    )
    assert math.isfinite(float(rows[0]["evaporating_k"]))
    assert rows[-1]["evaporating_k"] == ""  # not solved there
    drawn = (folder / "sweep.svg").read_text(encoding="utf-8")
    assert "capillary.bore, mm" in drawn


def test_a_place_that_cannot_be_written_is_named(circuit, tmp_path, capsys):
    (tmp_path / "file").write_text("", encoding="utf-8")
    table = str(tmp_path / "file" / "sweep.csv")
    assert run(app, ["simulate", circuit, "--csv", table]) == 2
    assert "--csv" in capsys.readouterr().err

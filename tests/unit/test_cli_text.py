"""Options, text and progress of the command line."""

import io
import math
import sys
from dataclasses import dataclass
from enum import Enum

import pytest

from coldwright.cli import as_json, text, words
from coldwright.cli.options import choice, pair, quantity, span
from coldwright.cli.progress import Progress
from coldwright.diagnosis.result import SeverityInterval
from coldwright.errors import BadInput
from coldwright.faults.registry import FAULTS
from coldwright.units import Dimension as D


@pytest.mark.parametrize(
    ("written", "ends"),
    [
        ("0.6..0.8mm", ("0.6 mm", "0.8mm")),
        ("0.6 .. 0.8 mm", ("0.6 mm", "0.8 mm")),
        ("600 µm..0.8 mm", ("600 µm", "0.8 mm")),
        ("-30..-20 °C", ("-30 °C", "-20 °C")),
        ("0,6..0,8", ("0,6", "0,8")),
    ],
)
def test_span(written, ends):
    assert span("--vary", written, "x") == ends


@pytest.mark.parametrize("written", ["0.6", "0.6-0.8mm", "..0.8mm", "0.6..", "0.6..mm"])
def test_what_is_no_span(written):
    with pytest.raises(BadInput, match="--vary"):
        span("--vary", written, "a=1..2")


def test_pair():
    assert pair("--fault", " undercharge = 0.6 ", "x") == ("undercharge", "0.6")
    for bad in ("undercharge", "=0.6", "undercharge="):
        with pytest.raises(BadInput, match="--fault"):
            pair("--fault", bad, "x")


def test_choice_and_quantity_name_the_option():
    assert choice("--refrigerant", " r-134A", ["R134a", "R600a"]) == "R134a"
    with pytest.raises(BadInput, match=r"--refrigerant.*did you mean R134a"):
        choice("--refrigerant", "R134", ["R134a", "R600a"])
    assert quantity("--charge", "90 g", D.MASS) == pytest.approx(0.09)
    with pytest.raises(BadInput, match="--charge"):
        quantity("--charge", "90 mm", D.MASS)


def test_lines_stay_narrow_and_nothing_is_lost():
    long = "wörter " * 60
    lines = text.wrapped(long, first="1. ")
    assert max(map(len, lines)) <= text.WIDTH
    assert " ".join(lines).split()[1:] == long.split()
    assert lines[1].startswith("   ")
    assert text.wrapped("", first="- ") == ["- "]
    assert text.wrapped("x" * 56 + " 86 % left") == ["x" * 56, "86 % left"]
    rows = text.table([("A", "1"), ("Long label", "2")])
    assert rows == ["A           1", "Long label  2"]


@pytest.mark.parametrize(
    ("probability", "shown"),
    [(0.0, "under 1 %"), (0.004, "under 1 %"), (0.52, "52 %"), (0.994, "99 %"), (1.0, "over 99 %")],
)
def test_percent_is_never_a_false_certainty(probability, shown):
    assert text.percent(probability) == shown


def test_bar_follows_the_probability_and_the_terminal(monkeypatch):
    assert len(text.bar(1.0)) == 2 * len(text.bar(0.5)) > 0
    assert text.bar(0.0) == ""
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(io.BytesIO(), encoding="ascii"))
    assert set(text.bar(1.0)) == {"#"}


def test_severity_in_plain_words():
    part = SeverityInterval(0.3, 0.45, 0.6, "fraction")
    assert words.severity("undercharge", part) == "about 45 % of the charge left (30 to 60 %)"
    watt = SeverityInterval(15.0, 30.0, 60.0, "W")
    assert words.severity("heat_load", watt) == "about 30 W more than normal (15 to 60 W)"
    point = SeverityInterval(0.5, 0.5, 0.5, "fraction")
    assert words.severity("condenser_air", point) == "about 50 % of its heat exchange left"


def test_sealed_circuit_has_three_answers():
    assert [words.sealed(p) for p in (0.0, 0.2, 0.5, 0.79, 0.8, 1.0)] == [
        *("no", "no", "undecided", "undecided", "yes", "yes")
    ]


def test_every_fault_in_scope_has_words_and_what_its_severity_is_of():
    for name, fault in FAULTS.items():
        assert "_" not in words.fault(name)
        if fault.unit == "fraction":
            interval = SeverityInterval(0.4, 0.5, 0.6, "fraction")
            assert "healthy value" not in words.severity(name, interval)
    assert words.fault(("undercharge", "heat_load")) == (
        "too little refrigerant together with too much heat getting in"
    )


class _Kind(Enum):
    GAUGE = 1


@dataclass(frozen=True)
class _Record:
    pressure_pa: float
    parts: tuple[int, ...]
    kind: _Kind


def test_records_become_json_without_what_json_lacks():
    record = _Record(math.nan, (1, 2), _Kind.GAUGE)
    assert as_json.plain({"a": record}) == {
        "a": {"pressure_pa": None, "parts": [1, 2], "kind": "gauge"}
    }
    assert "NaN" not in as_json.dumped(record)


def test_silence_is_broken_after_a_second_and_again():
    stream, waits = io.StringIO(), []

    def wait(seconds):
        waits.append(seconds)
        return len(waits) > 3

    with Progress("working", stream=stream, wait=wait) as say:
        say._thread.join()
    assert stream.getvalue().splitlines() == [
        "... working",
        "... still at it, 16 s",
        "... still at it, 31 s",
    ]
    assert waits[0] == 1.0


def test_what_is_said_is_printed_once_and_quick_work_says_nothing():
    stream = io.StringIO()
    with Progress("working", stream=stream, wait=lambda _: True) as say:
        say("making tables")
        say("making tables")
    assert stream.getvalue() == "... making tables\n"
    with Progress("working", stream=(quiet := io.StringIO()), wait=lambda _: True):
        pass
    assert quiet.getvalue() == ""

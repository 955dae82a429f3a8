"""The tree of errors: data kept, one line of message, the drawing true."""

import math

import pytest

from coldwright import errors
from coldwright.errors import (
    BadInput,
    ColdwrightError,
    NotSolved,
    OutOfRange,
    Refused,
    nearest,
    one_line,
    require,
)


def test_the_drawing_names_every_class_with_its_second_base():
    drawn = errors.__doc__
    classes = [
        c
        for c in vars(errors).values()
        if isinstance(c, type) and issubclass(c, ColdwrightError) and c is not ColdwrightError
    ]
    assert {c.__name__ for c in classes} == {"OutOfRange", "BadInput", "NotSolved", "Refused"}
    for c in classes:
        others = [b.__name__ for b in c.__bases__ if b is not ColdwrightError]
        named = f"{c.__name__}({others[0]})" if others else c.__name__
        assert f"── {named} " in drawn


def test_out_of_range_carries_its_data():
    error = OutOfRange("bore", 0.1, 0.0003, 0.002, "m")
    assert (error.quantity, error.value, error.low, error.high, error.unit) == (
        "bore",
        0.1,
        0.0003,
        0.002,
        "m",
    )
    assert str(error) == "bore is 0.1, allowed 0.0003 to 0.002 [m]"
    assert isinstance(error, ValueError)


@pytest.mark.parametrize("value", [0.0, 0.5, 1.0])
def test_require_lets_its_interval_pass_with_both_ends(value):
    require("quality", value, "-", 0.0, 1.0)


@pytest.mark.parametrize("value", [-1e-9, 1.0 + 1e-9, math.nan, math.inf])
def test_require_refuses_what_lies_outside(value):
    with pytest.raises(OutOfRange, match="quality"):
        require("quality", value, "-", 0.0, 1.0)


def test_bad_input_says_all_in_one_line():
    error = BadInput("job.toml", "plate.kind", "'fridge'\nand more", "one of a, b", "a")
    assert str(error) == (
        "job.toml: plate.kind: read 'fridge' and more; accepted: one of a, b; did you mean a?"
    )
    assert (error.file, error.key, error.suggestion) == ("job.toml", "plate.kind", "a")
    assert error.read == "'fridge'\nand more"


def test_bad_input_about_a_whole_file_has_no_key():
    assert str(BadInput("job.toml", "", "an empty file", "TOML")) == (
        "job.toml: read an empty file; accepted: TOML"
    )


def test_one_line_hides_control_characters_and_cuts_long_text():
    assert one_line("a\x1b[31m\tb\n c") == "a?[31m b c"
    assert len(one_line("x" * 500)) == 80
    assert one_line("x" * 500).endswith("…")


def test_not_solved_holds_the_last_iterate():
    error = NotSolved("running state", (101325.0, 0.5), 0.25)
    assert error.last_iterate == (101325.0, 0.5)
    assert error.residual == 0.25
    assert str(error) == "running state not solved: residual 0.25 at (101325, 0.5)"
    assert isinstance(error, ArithmeticError)


def test_refused_says_what_is_still_possible():
    error = Refused("variable-speed drive", ("oil_trace", "evaporator_fan_stopped"))
    assert error.still_possible == ("oil_trace", "evaporator_fan_stopped")
    assert str(error).endswith("still possible: oil_trace, evaporator_fan_stopped")
    assert str(Refused("no")) == "no"


@pytest.mark.parametrize(
    ("word", "found"),
    [("top_mont", "top_mount"), ("TOP_MOUNT", "top_mount"), ("zzzz", None), ("", None)],
)
def test_nearest(word, found):
    assert nearest(word, ("top_mount", "compact")) == found

"""docs/command-line.md and the commands name the same options, keys and defaults."""

import json
import re
from pathlib import Path

import pytest
from typer.main import get_command

from coldwright.cli import app
from coldwright.cli.diagnosis_json import diagnoses_json
from coldwright.words.phrases import FAULTY_FROM, SOUND_TO
from tests.unit.cli_fakes import DIAGNOSIS

PAGE = (Path(__file__).parents[2] / "docs" / "command-line.md").read_text(encoding="utf-8")


def _leaves(group, before=""):
    """Every command by its full name; a group such as `leak` gives those under it."""
    for name, command in group.commands.items():
        if hasattr(command, "commands"):
            yield from _leaves(command, f"{before}{name} ")
        else:
            yield before + name, command


COMMANDS = dict(_leaves(get_command(app)))
_HEAD = r"^## `coldwright ([a-z]+(?: [a-z]+)*)[^\n]*\n(.*?)(?=^## |\Z)"
SECTIONS = dict(re.findall(_HEAD, PAGE, re.M | re.S))


def test_every_command_has_its_section():
    assert set(SECTIONS) == set(COMMANDS)


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_every_option_is_told_and_no_other(name):
    real = {o for p in COMMANDS[name].params for o in p.opts if o.startswith("--")} - {"--help"}
    told = set(re.findall(r"`(--[a-z-]+)", SECTIONS[name]))
    assert told == real


def test_the_example_of_a_diagnosis_has_the_keys_of_one():
    (text,) = re.findall(r"```json\n(.*?)```", PAGE, re.S)
    told, real = json.loads(text), diagnoses_json([DIAGNOSIS])
    assert set(told) == set(real)
    told, real = told["results"][0], real["results"][0]
    assert set(told) == set(real)
    lists = "faults pairs reasons next_checks look_first arguments mind_changes".split()
    for key in lists:
        assert set(told[key][0]) == set(real[key][0])
    for key, inner in (("next_checks", "value"),):
        assert set(told[key][0][inner]) == set(real[key][0][inner])
    assert set(told["decision"]) == set(real["decision"])
    assert set(told["arguments"][0]["for"][0]) == set(real["arguments"][0]["for"][0])
    assert set(told["fit"]) == set(real["fit"])


def test_the_numbers_it_names_are_the_ones_in_use():
    assert f"from {FAULTY_FROM:.0%}".replace("%", " %") in PAGE
    assert f"up to {SOUND_TO:.0%}".replace("%", " %") in PAGE
    defaults = {p.name: p.default for p in COMMANDS["capillary"].params}
    for option in ("evaporating", "roughness"):
        assert f"{defaults[option]} unless given" in SECTIONS["capillary"]
    assert (
        f"`--port {next(p.default for p in COMMANDS['serve'].params if p.name == 'port')}`" in PAGE
    )

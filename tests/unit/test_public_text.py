"""The README keeps its promises: its job is read, its links, targets and commands exist."""

import re
import tomllib
from pathlib import Path

import pytest

from coldwright.readings.jobfile import job_from_text

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
MAKEFILE = (ROOT / "Makefile").read_text(encoding="utf-8")


def test_the_job_in_the_readme_is_a_job():
    (text,) = re.findall(r"```toml\n(.*?)```", README, re.DOTALL)
    job = job_from_text(text, "README.md")
    assert job.reading("freezer_temperature").sd == 1.0
    assert job.plate.charge_kg == pytest.approx(0.14)


def test_every_make_target_it_names_exists():
    named = set(re.findall(r"\bmake (run|[a-z]+)\b(?=`|\s+#|\))", README))
    assert named >= {"run", "test", "check", "bench", "serve", "accuracy"}
    assert [t for t in named if not re.search(rf"^{t}:", MAKEFILE, re.MULTILINE)] == []


def test_every_link_leads_to_a_file():
    links = re.findall(r"\]\(([^)#]+)\)", README)
    assert links
    assert [link for link in links if not (ROOT / link).exists()] == []


def test_every_command_it_shows_exists():
    from coldwright.cli import app

    known = {c.name or c.callback.__name__ for c in app.registered_commands}
    known |= {group.typer_instance.info.name for group in app.registered_groups}
    shown = set(re.findall(r"\.venv/bin/coldwright (\w+)", README))
    assert shown == known


def test_constraints_pin_every_dependency_and_name_no_host():
    lines = (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines()
    one_version = re.compile(r"([A-Za-z0-9._-]+)==[A-Za-z0-9.+!]+")
    assert [line for line in lines if not one_version.fullmatch(line)] == []
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = project["dependencies"] + project["optional-dependencies"]["dev"]
    pinned = {plain_name(line) for line in lines}
    assert [name for name in asked if plain_name(name) not in pinned] == []


def plain_name(requirement):
    """A package's normalised name (PyPA specification of core metadata, name normalisation)."""
    name = re.match(r"[A-Za-z0-9._-]+", requirement)[0]
    return re.sub(r"[-_.]+", "-", name).lower()

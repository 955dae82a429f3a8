"""Proven appliances of a family that runs longer than the catalogue thinks move its mean."""

import json
from dataclasses import replace

import numpy as np
import pytest

from coldwright.catalogue.families import Level, family_of
from coldwright.catalogue.instruments import instruments
from coldwright.catalogue.sizing import DIMENSIONS
from coldwright.cli import app
from coldwright.cli.boundary import run
from coldwright.cycle.medium import medium
from coldwright.diagnosis.ensemble import Block, surroundings_of
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.likelihood import draw_readings, setup
from coldwright.diagnosis.population import members_for, simulate
from coldwright.diagnosis.subject import subject_of
from coldwright.learning.experience import Experience
from coldwright.learning.intentions import Told
from coldwright.readings.jobfile import job_from_text
from coldwright.usecases.intentions import told_by, why_silent
from coldwright.usecases.outcomes import ProvenFiles

KEYS = ("run_fraction", "freezer_temperature", "condenser_middle_temperature",
        "evaporator_outlet_temperature", "appliance_power")  # fmt: skip
PLATE = """
title = "Invented {number}"
[plate]
kind = "upright_freezer"
year = 2010
refrigerant = "R600a"
voltage = "230 V"
frequency = "50 Hz"
[circuit]
layout = "plain"
condenser = "static"
evaporator = "plate"
[room]
temperature = "25 °C"
[history]
complaint = "noise"
[taken]
settled = true
"""
COUNT = 5


@pytest.fixture(scope="module")
def texts():
    """Job files of healthy appliances whose run fraction lies 1.6 sd above the catalogue's."""
    subject = subject_of(job_from_text(PLATE.format(number=0), "x"))
    family = family_of("upright_freezer")
    level = family.run_fraction
    longer = Level(level.mean + 1.6 * level.sd, 0.5 * level.sd, level.low, level.high)
    known = replace(subject.known, family=replace(family, run_fraction=longer))
    subject = replace(subject, known=known)
    rng, med = np.random.default_rng(21), medium("R600a")
    z = np.clip(rng.standard_normal((4 * COUNT, DIMENSIONS)), -1.5, 1.5)
    members = members_for(med, subject, z)
    true = simulate(med, subject, hypothesis_named("nothing_wrong"), z, members)
    block = Block("R600a", 1.0, med, (true,))
    truth = np.column_stack([block.column(true, key, 230.0) for key in KEYS])
    tools = tuple(instruments()[key] for key in KEYS)
    air, start = surroundings_of(true, tools, KEYS, truth)
    setting = setup(tools, np.full(len(KEYS), np.nan), float("inf"))
    made = []
    for i in np.flatnonzero(true.solved)[:COUNT]:
        read = draw_readings(setting, truth[i], air[i], start[i], rng)
        lines = [
            f'{key} = "{100 * value:.0f} %"' if key == "run_fraction"
            else f'{key} = "{value:.0f} W"' if key == "appliance_power"
            else f'{key} = "{value - 273.15:.1f} °C"'
            for key, value in zip(KEYS, read, strict=True)
        ]  # fmt: skip
        made.append(PLATE.format(number=i) + "[readings]\n" + "\n".join(lines)
                    + '\n[outcome]\nfound = "nothing_wrong"\nproven_by = "seen"\n')  # fmt: skip
    assert len(made) == COUNT
    return made


def test_one_appliance_tells_of_its_own_run_fraction(texts):
    said = told_by(job_from_text(texts[0], "x"))
    assert isinstance(said, Told)
    assert said.variance[0][0] < 1.0
    assert said.mean[0] > 0.0


def test_folder_moves_the_family_and_later_diagnoses(texts, tmp_path, monkeypatch, capsys):
    monkeypatch.setattr("coldwright.learning.told_store.cache_folder", lambda: tmp_path / "cache")
    for i, text in enumerate(texts):
        (tmp_path / f"job{i}.toml").write_text(text, encoding="utf-8")
    asked = job_from_text(PLATE.format(number="asked"), "asked")
    before = Experience(ProvenFiles([tmp_path]).read()).applied(subject_of(asked), asked)
    assert before.known.family == family_of("upright_freezer")
    assert run(app, ["outcomes", str(tmp_path), "--families", "--json"]) == 0
    (shift,) = json.loads(capsys.readouterr().out)["families"]
    assert shift["jobs"] == COUNT
    assert shift["mean"][0] > 1.0 * shift["sd"][0]
    after = Experience(ProvenFiles([tmp_path]).read()).applied(subject_of(asked), asked)
    level, plain = after.known.family.run_fraction, family_of("upright_freezer").run_fraction
    assert level.mean > plain.mean
    assert level.sd < plain.sd
    assert any(f"{COUNT} proven jobs of R600a and this kind" in note for note in after.notes)
    other = replace(asked, plate=replace(asked.plate, refrigerant="R134a"))
    kept = Experience(ProvenFiles([tmp_path]).read()).applied(subject_of(other), other)
    assert kept.known.family == family_of("upright_freezer")
    assert run(app, ["outcomes", str(tmp_path), "--families"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "INTENTIONS OF FAMILIES" in out
    assert "in standard deviations" in out


def test_who_was_chosen_by_its_intentions_says_nothing(texts):
    told = job_from_text(texts[0].replace('"noise"', '"runs_all_the_time"'), "x")
    assert "came for how it runs" in why_silent(told)
    dead = texts[0].replace('found = "nothing_wrong"', 'found = "compressor_not_running"')
    assert why_silent(job_from_text(dead, "x")) == "it did not run"
    bare = job_from_text(texts[0].split("[readings]")[0] + texts[0][texts[0].index("[outcome]"):],
                         "x")  # fmt: skip
    assert "fewer than" in str(told_by(bare))

"""Whether the doubt we carry for our own model is no smaller than what papers report of theirs."""

from __future__ import annotations

from math import erf, sqrt

from bench.checks.row import Known, Part, Row, Source, between
from coldwright.catalogue.instruments import instruments

SANTOS = Source("Santos, Ronzoni & Hermes 2019 (26 single-speed compressors)", Known.ABSTRACT)
HERMES = Source("Hermes & Melo 2008 (440 l top mount)", Known.ABSTRACT)
MODEL_BAND = 0.10  # relative, of flow and power


def parts() -> tuple[Part, ...]:
    """All of them."""
    words = (
        "The model error that the diagnosis adds to a reading (`catalogue/instruments.py`), as "
        "the share of a normal distribution inside the band of a paper. Claiming more than the "
        "paper would be too sure of ourselves: their models were made for the machine measured."
    )
    return (Part("Our own doubt", words, (*_rows(),)),)


def _inside(band: float, sd: float) -> float:
    """Share of a normal distribution within the band. [%]"""
    return 100.0 * erf(band / sd / sqrt(2.0))


def _rows() -> list[Row]:
    every = instruments()
    power, air = every["compressor_power"], every["freezer_temperature"]
    return [
        between("doubt-power", "compressor power: share we expect within 10 %", SANTOS, 0.0, 93.0,
                _inside(MODEL_BAND, power.model_relative_sd), published="93 % of points",
                why="at most theirs", unit="%",
                note="A model error of 5.5 % instead of 5 % would claim what they measured."),
        between("doubt-air", "air temperature: share we expect within 1 K", HERMES, 0.0, 99.0,
                _inside(1.0, air.model_sd), published="1 K at most", why="fewer than theirs",
                unit="%"),
    ]  # fmt: skip

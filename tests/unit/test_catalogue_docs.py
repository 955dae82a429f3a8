"""docs/catalogue.md and the catalogue say the same; the rows are made here from the code."""

import math
from pathlib import Path

import pytest

from coldwright.catalogue.checks import CHECKS, TOOLS
from coldwright.catalogue.findings import FINDINGS
from coldwright.catalogue.instruments import instruments
from coldwright.catalogue.pairs import PAIRS
from coldwright.catalogue.priors import COMPLAINT_FACTORS, FAULTS
from coldwright.catalogue.reading_errors import MODEL_SHARED
from coldwright.catalogue.sides import PARTS
from coldwright.catalogue.signs import SIGN_MODELS
from coldwright.catalogue.stopped import STOPPED
from coldwright.catalogue.ways import WAYS

PAGE = (Path(__file__).parents[2] / "docs" / "catalogue.md").read_text(encoding="utf-8")
LINES = set(PAGE.splitlines())


def row(*cells):
    return "| " + " | ".join(str(c) for c in cells) + " |"


def parts(absolute, relative):
    """ "2 + 5 %", leaving out what is nothing."""
    found = [f"{absolute:g}"] if absolute else []
    found += [f"{100 * relative:g} %"] if relative else []
    return " + ".join(found) or "0"


def instrument_rows():
    for i in instruments().values():
        yield row(
            f"`{i.identifier}`",
            parts(round(i.sd, 4), i.relative_sd),
            parts(i.bias_sd, i.bias_relative_sd),
            i.air or "no",
            parts(i.model_sd, i.model_relative_sd),
            i.model_group or "own",
            f"{i.settling_s / 60:g}",
        )


def prior_rows():
    for fault in FAULTS.values():
        s = fault.severity
        spread = "none" if s is None else f"{s.low:g} to {s.high:g} {s.unit}"
        if s is not None and s.by_ratio:
            spread += ", flat in its logarithm"
        yield row(f"`{fault.identifier}`", f"{fault.share:g}", spread, fault.why)


def complaint_rows():
    for fault in FAULTS:
        yield row(f"`{fault}`", *(f"{factors[fault]:g}" for factors in COMPLAINT_FACTORS.values()))


def stopped_rows():
    for s in STOPPED.values():
        yield row(f"`{s.which}`", f"{s.share:g}", f"{s.silent:g}", f"{s.hums_and_trips:g}", s.why)


def sign_rows():
    for s in SIGN_MODELS.values():
        yield row(f"`{s.identifier}`", f"{s.hit:g}", f"{s.false:g}", s.why)


def finding_rows():
    for f in FINDINGS.values():
        there = ", ".join(f"`{name}` {p:g}" for name, p in f.there.items())
        rates = (f"{f.hit:g}", f"{f.false:g}", f"{f.otherwise:g}")
        yield row(f"`{f.identifier}`", *rates, there, f.why)


def part_rows():
    for p in PARTS.values():
        if p.test:
            way = f"`{p.way.split(':')[1]}`" if p.way else "-"
            yield row(f"`{p.identifier}`", f"`{p.fault}`", way, f"{p.share:g}", p.test, p.mends)


def check_rows():
    for c in CHECKS.values():
        opens = "yes" if c.opens_circuit else "no"
        yield row(f"`{c.identifier}`", f"{c.minutes:g}", ", ".join(c.needs), opens)


def pair_rows():
    for pair in PAIRS:
        yield row(f"`{pair.leading}`", f"`{pair.beside}`", pair.why)


def way_rows():
    for fault, ways in WAYS.items():
        for way in ways:
            unit = way.effect.unit or "of the right volume"
            far = "-" if math.isnan(way.low) else f"{way.low:g} to {way.high:g} {unit}"
            which = f"`{way.which}`" if way.which else "-"
            yield row(f"`{fault}`", which, f"{way.share:g}", far, way.why)


ROWS = (
    instrument_rows, prior_rows, complaint_rows, stopped_rows, sign_rows, check_rows, pair_rows,
    way_rows, finding_rows, part_rows,
)  # fmt: skip


@pytest.mark.parametrize("rows", ROWS, ids=lambda r: r.__name__)
def test_page_holds_the_numbers_of_the_code(rows):
    assert [line for line in rows() if line not in LINES] == []


def test_page_names_every_tool_and_the_shared_part():
    assert [tool for tool in TOOLS if f"`{tool}`" not in PAGE] == []
    assert f"{MODEL_SHARED:g} of the model's variance" in PAGE
    heads = "| fault | " + " | ".join(f"`{c}`" for c in COMPLAINT_FACTORS) + " |"
    assert heads in LINES

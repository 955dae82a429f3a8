"""Tables of docs/catalogue.md and docs/glossary.md are those the records make."""

import pytest

from bench.tables import DOCS, TABLES, pages
from coldwright.catalogue.checks import TOOLS
from coldwright.catalogue.findings import FINDINGS
from coldwright.catalogue.priors import COMPLAINT_FACTORS
from coldwright.catalogue.reading_errors import MODEL_SHARED
from coldwright.catalogue.sides import PARTS

PAGE = (DOCS / "catalogue.md").read_text(encoding="utf-8")
LINES = set(PAGE.splitlines())


@pytest.mark.parametrize("name", sorted({name for name, _, _ in TABLES}))
def test_tables_are_current(name):
    """Else: python -m bench.tables."""
    assert pages()[name] == (DOCS / name).read_text(encoding="utf-8")


def test_page_names_every_tool_and_the_shared_part():
    assert [tool for tool in TOOLS if f"`{tool}`" not in PAGE] == []
    assert f"{MODEL_SHARED:g} of the model's variance" in PAGE
    heads = "| fault | " + " | ".join(f"`{c}`" for c in COMPLAINT_FACTORS) + " |"
    assert heads in LINES


def row(*cells):
    return "| " + " | ".join(str(c) for c in cells) + " |"


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


@pytest.mark.parametrize("line", [*finding_rows(), *part_rows()])
def test_findings_and_parts_are_told(line):
    assert line in LINES

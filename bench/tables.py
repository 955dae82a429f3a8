"""Tables of the docs made from the records they tell of, and written into the pages.

Run: python -m bench.tables
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from coldwright.catalogue.checks import CHECKS
from coldwright.catalogue.instruments import instruments
from coldwright.catalogue.pairs import PAIRS
from coldwright.catalogue.priors import COMPLAINT_FACTORS
from coldwright.catalogue.readings import READINGS
from coldwright.catalogue.signs import SIGN_MODELS
from coldwright.catalogue.stopped import STOPPED
from coldwright.faults.registry import FAULTS

DOCS = Path(__file__).parents[1] / "docs"


def row(*cells: object) -> str:
    """One line of a table."""
    return "| " + " | ".join(str(c) for c in cells) + " |"


def _parts(absolute: float, relative: float) -> str:
    """ "2 + 5 %", leaving out what is nothing."""
    found = [f"{absolute:g}"] if absolute else []
    found += [f"{100 * relative:g} %"] if relative else []
    return " + ".join(found) or "0"


def instrument_rows() -> Iterator[str]:
    """How each reading errs with the usual instruments."""
    for i in instruments().values():
        yield row(
            f"`{i.identifier}`",
            _parts(round(i.sd, 4), i.relative_sd),
            _parts(i.bias_sd, i.bias_relative_sd),
            i.air or "no",
            _parts(i.model_sd, i.model_relative_sd),
            i.model_group or "own",
            f"{i.settling_s / 60:g}",
        )


def prior_rows() -> Iterator[str]:
    """Shares and severities."""
    for fault in FAULTS.values():
        s = fault.severity
        spread = "none" if s is None else f"{s.low:g} to {s.high:g} {s.unit}"
        if s is not None and s.by_ratio:
            spread += ", flat in its logarithm"
        yield row(f"`{fault.identifier}`", f"{fault.share:g}", spread, fault.why)


def complaint_rows() -> Iterator[str]:
    """Factors of each complaint."""
    for fault in FAULTS:
        yield row(f"`{fault}`", *(f"{factors[fault]:g}" for factors in COMPLAINT_FACTORS.values()))


def stopped_rows() -> Iterator[str]:
    """Kinds of a compressor that does not run."""
    for s in STOPPED.values():
        yield row(f"`{s.which}`", f"{s.share:g}", f"{s.silent:g}", f"{s.hums_and_trips:g}", s.why)


def sign_rows() -> Iterator[str]:
    """How surely a sign is reported."""
    for s in SIGN_MODELS.values():
        yield row(f"`{s.identifier}`", f"{s.hit:g}", f"{s.false:g}", s.why)


def check_rows() -> Iterator[str]:
    """Minutes and tools."""
    for c in CHECKS.values():
        opens = "yes" if c.opens_circuit else "no"
        yield row(f"`{c.identifier}`", f"{c.minutes:g}", ", ".join(c.needs), opens)


def pair_rows() -> Iterator[str]:
    """Two faults at once."""
    for pair in PAIRS:
        yield row(f"`{pair.leading}`", f"`{pair.beside}`", pair.why)


def way_rows() -> Iterator[str]:
    """Faults that come about in several ways."""
    for fault in FAULTS.values():
        for way in fault.ways:
            unit = way.effect.unit or "of the right volume"
            far = "-" if math.isnan(way.low) else f"{way.low:g} to {way.high:g} {unit}"
            which = f"`{way.which}`" if way.which else "-"
            yield row(f"`{fault.identifier}`", which, f"{way.share:g}", far, way.why)


def fault_rows() -> Iterator[str]:
    """What each fault is, what its severity counts, what tells it."""
    for f in FAULTS.values():
        yield row(f"`{f.identifier}`", f.meaning, f.measure, f.tell_tale)


def reading_rows() -> Iterator[str]:
    """What each reading is and how it is taken."""
    for r in READINGS.values():
        opens = "tapped or opened" if r.opens_circuit else "closed"
        yield row(f"`{r.identifier}`", r.label, r.dimension.si_unit, opens)


# Page, header of the table there, rows.
TABLES: tuple[tuple[str, str, Callable[[], Iterator[str]]], ...] = (
    (
        "catalogue.md",
        "| reading | e | b | drawn to air of | model | model group | settles |",
        instrument_rows,
    ),
    ("catalogue.md", "| fault | share | severity | why |", prior_rows),
    (
        "catalogue.md",
        "| fault | " + " | ".join(f"`{name}`" for name in COMPLAINT_FACTORS) + " |",
        complaint_rows,
    ),
    ("catalogue.md", "| which | share | silent | hums and trips | why |", stopped_rows),
    ("catalogue.md", "| sign | hit | false | why |", sign_rows),
    ("catalogue.md", "| check | minutes | needs | opens the circuit |", check_rows),
    ("catalogue.md", "| leading | beside | why |", pair_rows),
    ("catalogue.md", "| fault | which | share | how far | why |", way_rows),
    ("glossary.md", "| reading | what it is | unit inside | circuit |", reading_rows),
    (
        "glossary.md",
        "| identifier | meaning | severity | what tells it, and how that is known |",
        fault_rows,
    ),
)


def pages() -> Mapping[str, str]:
    """Every page with its tables as the records have them now.

    Returns
    -------
    Mapping
        Name of the page to its text.

    Raises
    ------
    ValueError
        If a page has lost a table's header.
    """
    found: dict[str, str] = {}
    for name, head, rows in TABLES:
        text = found.get(name) or (DOCS / name).read_text(encoding="utf-8")
        lines = text.split("\n")
        first = lines.index(head) + 2  # the header and the rule below it
        last = first
        while last < len(lines) and lines[last].startswith("|"):
            last += 1
        found[name] = "\n".join([*lines[:first], *rows(), *lines[last:]])
    return found


def main() -> None:
    """Write the pages that are out of date."""
    for name, text in pages().items():
        if (DOCS / name).read_text(encoding="utf-8") != text:
            (DOCS / name).write_text(text, encoding="utf-8")
            print(f"{name}: written")


if __name__ == "__main__":
    main()

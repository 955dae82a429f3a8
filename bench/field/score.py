"""Told jobs held against what was found: first place, firm verdicts, opening, calibration.

A case counts where its truth was confirmed by the repair or judged by an expert; the
unconfirmed ones are shown beside. `accepted` lists every hypothesis that a reader of the
whole story would let pass.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from bench.accuracy.score import groups_of, present
from coldwright.diagnosis.result import Diagnosis
from coldwright.readings.job import Job
from coldwright.readings.jobfile import load_job
from coldwright.usecases.diagnose import diagnose

FIRM = (0.2, 0.8)  # sealed odds below or above which the verdict is firm
COUNTS = ("confirmed by repair", "expert's judgement")
BINS = 5


@dataclass(frozen=True, slots=True)
class Case:
    """One told job and what was found."""

    name: str
    job: Job
    accepted: tuple[str, ...]
    sealed: bool
    certainty: str

    @property
    def counts(self) -> bool:
        """Whether the truth is sure enough to be scored."""
        return self.certainty in COUNTS


@dataclass(frozen=True, slots=True)
class Answer:
    """What the command says of one case."""

    odds: tuple[tuple[str, float], ...]  # most probable first
    sealed: float
    opened: bool
    asked: tuple[str, ...]  # next checks, then first looks
    refused: str | None = None

    def as_row(self) -> dict:
        """For a file."""
        return {
            "odds": dict(self.odds[:6]),
            "sealed": self.sealed,
            "opened": self.opened,
            "asked": self.asked,
            "refused": self.refused,
        }


def cases_of(folder: Path) -> list[Case]:
    """The cases of a folder with ``truth.csv`` and ``cases/``.

    Parameters
    ----------
    folder : Path
        Columns read: case, accepted (hypotheses parted by blanks), sealed, certainty.
    """
    with (folder / "truth.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return [
        Case(
            row["case"],
            load_job(folder / "cases" / f"{row['case']}.toml"),
            tuple(row["accepted"].split()),
            row["sealed"] == "True",
            row["certainty"],
        )
        for row in rows
    ]


def answered(case: Case, members: int) -> Answer:
    """The command's own answer to a case."""
    return answer_of(diagnose(case.job, members=members))


def answer_of(found: Diagnosis) -> Answer:
    """What of a diagnosis is scored."""
    asked = [*(c.check for c in found.next_checks), *(x.look for x in found.look_first)]
    return Answer(
        tuple((f.fault, f.probability) for f in found.faults),
        found.sealed_circuit_probability,
        found.open_circuit_advised,
        tuple(asked),
        found.refused,
    )


def place(case: Case, answer: Answer) -> int:
    """Place of the first accepted group, 0 for the first; 99 where there are no odds.

    Groups as in the simulated study: a fault alone or beside another is one, and so is a
    restriction of drier or capillary.
    """
    accepted = {name for f in case.accepted for name in groups_of(f)}
    return next((n for n, (f, _) in enumerate(groups(answer)) if f in accepted), 99)


def strict_place(case: Case, answer: Answer) -> int:
    """The same by hypothesis: two faults at once are not either of them."""
    return next((n for n, (f, _) in enumerate(answer.odds) if f in case.accepted), 99)


def groups(answer: Answer) -> list[tuple[str, float]]:
    """Probability that each group is there, most probable first."""
    return sorted(present(dict(answer.odds)).items(), key=lambda pair: -pair[1])


def firm(answer: Answer) -> bool:
    """Whether the odds of a sealed fault are firm."""
    return not FIRM[0] <= answer.sealed <= FIRM[1]


def wrong(case: Case, answer: Answer) -> bool:
    """A firm verdict on the wrong side."""
    return firm(answer) and (answer.sealed > FIRM[1]) != case.sealed


def calibration(cases: Sequence[Case], answers: Sequence[Answer]) -> tuple[float, float, float]:
    """Mean odds of the first place, share right, and the gap weighted over equal bins.

    References
    ----------
    .. [1] Naeini et al. (2015), AAAI: expected calibration error.
    """
    pairs = [
        (groups(a)[0][1], float(place(c, a) == 0))
        for c, a in zip(cases, answers, strict=True)
        if a.odds
    ]
    n = max(len(pairs), 1)
    said, right = (sum(p[k] for p in pairs) / n for k in (0, 1))
    gap = 0.0
    for b in range(BINS):
        inside = [p for p in pairs if min(int(p[0] * BINS), BINS - 1) == b]
        gap += abs(sum(p for p, _ in inside) - sum(h for _, h in inside)) / n
    return said, right, gap


def figures(cases: Sequence[Case], answers: Sequence[Answer]) -> list[tuple[str, str]]:
    """The figures of the page by name."""
    both = list(zip(cases, answers, strict=True))
    places = [place(c, a) for c, a in both]
    strict = [strict_place(c, a) for c, a in both]
    n = max(len(both), 1)
    said, right, gap = calibration(cases, answers)
    needed = [a.opened for c, a in both if c.sealed]
    sound = [a.opened for c, a in both if not c.sealed]
    return [
        ("cases", str(len(both))),
        ("first place", f"{sum(p == 0 for p in places) / n:.0%}"),
        ("first two", f"{sum(p <= 1 for p in places) / n:.0%}"),
        ("first place, pairs apart", f"{sum(p == 0 for p in strict) / n:.0%}"),
        ("first two, pairs apart", f"{sum(p <= 1 for p in strict) / n:.0%}"),
        ("mean odds of the first place", f"{said:.2f}"),
        ("calibration error, of the mean", f"{abs(said - right):.2f}"),
        ("calibration error, five bins", f"{gap:.2f}"),
        ("firm on the sealed circuit", f"{sum(firm(a) for _, a in both) / n:.0%}"),
        ("of these wrong", str(sum(wrong(c, a) for c, a in both))),
        ("sound opened", f"{sum(sound)} of {len(sound)}"),
        ("opening advised where needed", f"{sum(needed)} of {len(needed)}"),
    ]


def page(cases: Sequence[Case], answers: Sequence[Answer]) -> str:
    """All figures, then by fault, then case by case."""
    both = list(zip(cases, answers, strict=True))
    sure = [(c, a) for c, a in both if c.counts]
    columns = [figures(*zip(*some, strict=True)) for some in (sure, both) if some]
    lines = [
        "| figure | confirmed or judged by an expert | with the unconfirmed |",
        "|---|---|---|",
    ]
    for row in zip(*columns, strict=True):
        lines.append("| " + " | ".join([row[0][0], *(value for _, value in row)]) + " |")
    lines += ["", *_by_fault(sure), "", *_by_case(both)]
    return "\n".join(lines)


def _by_fault(sure: Sequence[tuple[Case, Answer]]) -> list[str]:
    lines = ["| what was found | cases | first | first two | firm |", "|---|---|---|---|---|"]
    for fault in sorted({c.accepted[0] for c, _ in sure}):
        some = [(c, a) for c, a in sure if c.accepted[0] == fault]
        places = [place(c, a) for c, a in some]
        first, two = sum(p == 0 for p in places), sum(p <= 1 for p in places)
        firms = sum(firm(a) for _, a in some)
        lines.append(f"| {fault} | {len(some)} | {first} | {two} | {firms} |")
    return lines


def _by_case(both: Sequence[tuple[Case, Answer]]) -> list[str]:
    lines = ["| case | found | first | second | sealed | |", "|---|---|---|---|---|---|"]
    for c, a in both:
        told = [f"{f} {p:.2f}" for f, p in groups(a)[:2]] or [a.refused or "", ""]
        marks = ["" if place(c, a) == 0 else f"place {place(c, a) + 1}"]
        marks += ["opened"] * a.opened + ["wrong"] * wrong(c, a) + ["unconfirmed"] * (not c.counts)
        said = " ".join(m for m in marks if m)
        lines.append(
            f"| {c.name} | {c.accepted[0]} | {' | '.join(told)} | {a.sealed:.2f} | {said} |"
        )
    return lines

"""The page docs/from-outside.md: what can and cannot be told without opening, from the study."""

from __future__ import annotations

import numpy as np

from bench.accuracy import score
from coldwright.diagnosis.hypotheses import hypothesis_named

TIE = 0.08  # mean odds another group holds from which a tie is told
FEWEST = 5  # jobs a row rests on at least
Rows = list[dict]


def page(jobs: Rows, answers: Rows) -> str:
    """Markdown; foreign truth only.

    Parameters
    ----------
    jobs, answers : list of dict
        The study's, in the same order.
    """
    both = [(j, a) for j, a in zip(jobs, answers, strict=True) if j["foreign"]]
    return "\n".join(
        [
            "# What can and cannot be told from outside",
            "",
            f"Figures are of {len(both)} simulated visits of foreign truth (appliances with other"
            " closures than ours, [accuracy.md](accuracy.md)), nothing opened, made by `make"
            " accuracy`. They say what a thermometer, a plug-in meter, eyes and ears can tell by"
            " this model; no measured appliance is among them.",
            "",
            "## How often the truth is put first, and what it is taken for",
            "",
            "A faint fault has an effect under 25 % (a quarter of the charge, the flow or the air"
            " lost), a plain one 50 % or more. A control set elsewhere in a cabinet on its way, or"
            " an ice plug just melted, shows nothing at all: they stand apart, beside a machine"
            " with nothing wrong.",
            "",
            "| truth | nothing to see: first | faint: first | plain: first |"
            " most odds beside it, on average |",
            "|---|---|---|---|---|",
            *_rows(both),
            "",
            "## Two faults at once",
            "",
            "| truth | jobs | odds that the first is there | that the second is there |"
            " that both are |",
            "|---|---|---|---|---|",
            *_pairs(both),
            "",
            "## By the kind of visit",
            "",
            "| visit | jobs | first place, effect 25 % or more | sealed or not right |"
            " the same, effect 25 % or more |",
            "|---|---|---|---|---|",
            *_visits(both),
            "",
            WORDS,
        ]
    )


WORDS = """## In words

Firm from outside:

- whether the compressor runs, and whether anything flows: power, a hand, an ear;
- a plain loss of charge against a plain lack of air: the first starves the evaporator and cools \
the condenser, the second does one without the other;
- whether the sealed circuit is to blame, once the effect is a quarter or more (last column \
above).

Ties that no reading outside breaks, and what does:

- **drier or capillary**: alike until the drier's loss exceeds the subcooling; mended alike, so \
their sum is told. A drier outlet colder than its inlet settles it.
- **lost charge or restriction**: both starve the evaporator. Before opening: the last pass of \
the condenser (cool and full of liquid behind a restriction, warm to the end when charge is \
short), time to equalise, what happened before (a repair, a slow decline). After opening: \
`recovered_mass` decides.
- **air beside a lost charge**: air lifts what the loss lowers. The pair is seldom told from the \
loss alone; `standing_pressure` with the evaporator's temperature, well after the stop, shows \
the air.
- **a little too much charge**: an accumulator and a large condenser hide a tenth; only the \
recovered mass shows it.
- **control or nothing wrong**: in a cabinet on its way to its temperature a drifted thermostat \
or a stuck air flap shows nothing in the circuit. Wait until it is settled, or log it.
- **faint extra heat**: a worn seal costs run time and nothing else. Without the share of the \
time it runs, or a strip of paper at the seal, it looks sound.
- **a wrong fill or a wrong part** looks like what it causes. Without a word about an earlier \
repair it is not thought of, and rightly so: it is rare.
- **a leak's place, and how fast it leaks**: never from these readings; \
[leaks.md](leaks.md) is about that search.

Two circuits with two evaporators or a variable-speed drive are outside the model and get no odds.
"""


def _rows(both: list[tuple[dict, dict]]) -> list[str]:
    out = []
    for name in sorted({j["fault"] for j, _ in both if len(score.apart(j["fault"])) == 1}):
        group = score.labels(name)[0]
        own = [(j, a) for j, a in both if j["fault"] == name]
        if len(own) < FEWEST:
            continue
        faint = [x for x in own if x[0]["effect"] is not None and x[0]["effect"] < 0.25]
        plain = [x for x in own if (x[0]["effect"] or 0.0) >= 0.5]
        unseen = [x for x in own if x[0]["effect"] is None]
        mean: dict[str, float] = {}
        for _, a in own:
            for other, p in score.present(a["odds"]).items():
                if other != group:
                    mean[other] = mean.get(other, 0.0) + p / len(own)
        ties = sorted((k for k, p in mean.items() if p >= TIE), key=lambda k: -mean[k])[:3]
        told = ", ".join(f"{k} {mean[k]:.0%}" for k in ties) or "-"
        out.append(f"| {name} | {_first(unseen)} | {_first(faint)} | {_first(plain)} | {told} |")
    return out


def _first(some: list[tuple[dict, dict]]) -> str:
    if not some:
        return "-"
    place = score.places([j for j, _ in some], [a for _, a in some])
    return f"{np.mean(place == 0):.0%} of {len(some)}"


def _pairs(both: list[tuple[dict, dict]]) -> list[str]:
    out = []
    for name in sorted({j["fault"] for j, _ in both if len(score.apart(j["fault"])) > 1}):
        own = [a for j, a in both if j["fault"] == name]
        first, second = score.groups_of(name)
        there = [score.present(a["odds"]) for a in own]
        wanted = score.labels(name)
        pair = [
            sum(p for f, p in a["odds"].items()
                if score.labels(f) == wanted)
            for a in own
        ]  # fmt: skip
        out.append(
            f"| {name} | {len(own)} | {np.mean([t[first] for t in there]):.0%} |"
            f" {np.mean([t[second] for t in there]):.0%} | {np.mean(pair):.0%} |"
        )
    return out


def _visits(both: list[tuple[dict, dict]]) -> list[str]:
    out = []
    for settled, words in ((True, "settled, thermostat in charge"), (False, "on its way")):
        own = [(j, a) for j, a in both if j["settled"] == settled]
        if not own:
            continue
        place = score.places([j for j, _ in own], [a for _, a in own])
        strong = np.array([(j["effect"] or 0.0) >= 0.25 for j, _ in own])
        needs = np.array([hypothesis_named(*score.apart(j["fault"])).sealed for j, _ in own])
        odds = np.array(
            [sum(p for f, p in a["odds"].items() if hypothesis_named(f).sealed) for _, a in own]
        )
        out.append(
            f"| {words} | {len(own)} | {np.mean(place[strong] == 0):.0%} |"
            f" {np.mean((odds > 0.5) == needs):.0%} |"
            f" {np.mean(((odds > 0.5) == needs)[strong]):.0%} |"
        )
    return out

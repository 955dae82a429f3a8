"""The page docs/accuracy.md from jobs and answers; computes nothing that score.py does not."""

from __future__ import annotations

import numpy as np

from bench.accuracy import powers, score
from bench.accuracy.run import MEMBERS, SURE
from coldwright.cli.as_json import joined
from coldwright.diagnosis.fault_words import grams_of_air
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.posterior import EVIDENCE_POWER, INTERVAL_POWER
from coldwright.usecases.diagnose import OPEN_FROM, UNLIKELY

# effect from which, first place, first two
TARGETS = ((0.25, 0.80, 0.93), (0.50, 0.90, 0.97))
WITH_TAPS = 0.92
SEALED_RIGHT = 0.95
CALIBRATED = {False: 0.03, True: 0.04}
LEAST_FAULT = 0.60
PLAIN = 0.25  # effect from which opening and sureness are asked of a visit
LEARNED_ON = 380  # jobs below this number were looked at when the powers were chosen
WATTS = ((0.0, 15.0), (15.0, 40.0), (40.0, 150.1))
GRAMS = ((0.0, 0.2), (0.2, 0.6), (0.6, 2.0))
Rows = list[dict]


def page(
    jobs: Rows, answers: Rows, sample: Rows, large: Rows, rng: np.random.Generator, planned: int
) -> str:
    """Markdown of the whole study."""
    out = [
        "# How often the odds are right",
        "",
        f"Made by `make accuracy` from {len(jobs)} of {planned} simulated jobs frozen in"
        " `bench/accuracy/jobs.jsonl` (recipe: `bench/accuracy/recipe.py`), answered with"
        f" {MEMBERS} members each and more drawn near the evidence. Nothing is opened: eight or"
        " more readings with a thermometer and a plug-in meter, up to fifteen signs, the owner's"
        " complaint. Every fault of the glossary and every pair is drawn by the stated priors."
        " A group counts as right where it is truly there, alone or beside another fault; drier"
        " and capillary restriction are one. Brackets are 95 % bootstrap intervals.",
        "",
        "**Foreign truth**: appliances with other closures than ours (void fraction, heat transfer,"
        " capillary, compressor and oil laws: `bench/accuracy/foreign.py`), and a technician who"
        " misses and fancies more than the catalogue says. **Own truth**: our model, with the"
        " error laws the diagnosis assumes.",
        f"The likelihood between faults is taken to the power {EVIDENCE_POWER:g} ([why](decisions/"
        "0009-power-of-evidence.md)); what other powers give stands at the end.",
        "",
    ]
    for is_foreign in (True, False):
        some = [(j, a) for j, a in zip(jobs, answers, strict=True) if j["foreign"] == is_foreign]
        if some:
            name = "Foreign truth" if is_foreign else "Own truth"
            out += [f"## {name}", ""]
            out += _truth([j for j, _ in some], [a for _, a in some], rng, is_foreign)
    out += powers.section(jobs, answers, LEARNED_ON)
    if large:
        out += _compared(answers, sample, large)
    return "\n".join(out) + "\n"


def _truth(jobs: Rows, answers: Rows, rng: np.random.Generator, is_foreign: bool) -> list[str]:
    place = score.places(jobs, answers)
    effect = np.array([np.nan if j["effect"] is None else j["effect"] for j in jobs])
    first, two = (place == 0).astype(float), (place < 2).astype(float)
    out = [
        "| jobs | first place | target | first two | target |",
        "|---|---|---|---|---|",
        f"| all {len(jobs)} | {_percent(first, rng)} | - | {_percent(two, rng)} | - |",
    ]
    for limit, one, both in TARGETS:
        m = effect >= limit
        out.append(
            f"| effect {limit:.0%} or more ({m.sum()}) | {_percent(first[m], rng)} | {one:.0%} |"
            f" {_percent(two[m], rng)} | {both:.0%} |"
        )
    tapped = [(j, a) for j, a in zip(jobs, answers, strict=True) if a["tapped"]]
    if tapped:
        with_taps = score.places([j for j, _ in tapped], [a for _, a in tapped], "tapped")
        strong = np.array([(j["effect"] or 0.0) >= 0.25 for j, _ in tapped])
        out.append(
            f"| with suction and standing pressure, effect 25 % or more ({strong.sum()}) |"
            f" {_percent(with_taps[strong] == 0, rng)} | {WITH_TAPS:.0%} |"
            f" {_percent(with_taps[strong] < 2, rng)} | - |"
        )
        out += ["", _tapped([j for j, _ in tapped], [a for _, a in tapped])]
    out.append("")
    out += _figures(jobs, answers, rng, is_foreign)
    out += _by_fault(jobs, first, effect, rng)
    out += _by_class(jobs, first)
    p, hit = score.top(jobs, answers)
    out += ["| odds said | happened | jobs |", "|---|---|---|"]
    out += [f"| {a:.2f} | {b:.2f} | {n} |" for a, b, n in score.reliability(p, hit)]
    out += ["", *_confusion(jobs, answers)]
    return out


def _tapped(jobs: Rows, answers: Rows) -> str:
    """The same jobs without and with the two pressures."""
    needs = np.array([hypothesis_named(*score.apart(j["fault"])).sealed for j in jobs])
    told = []
    for key in ("odds", "tapped"):
        odds = np.array([_sealed_odds(a[key]) for a in answers])
        told.append(
            f"first place {np.mean(score.places(jobs, answers, key) == 0):.0%}, log loss"
            f" {score.log_loss(jobs, answers, key).mean():.2f} nat, calibration error"
            f" {score.calibration_error(jobs, answers, key):.3f}, sealed or not right"
            f" {np.mean((odds > 0.5) == needs):.0%}, opening advised on"
            f" {np.mean(odds[~needs] >= OPEN_FROM):.0%} of the sound and"
            f" {np.mean(odds[needs] >= OPEN_FROM):.0%} of the others"
        )
    return (
        f"The {len(jobs)} jobs with pressures, all effects: without them {told[0]}; with them"
        f" {told[1]}."
    )


def _figures(jobs: Rows, answers: Rows, rng: np.random.Generator, is_foreign: bool) -> list[str]:
    needs = np.array([hypothesis_named(*score.apart(j["fault"])).sealed for j in jobs])
    odds = np.array([_sealed_odds(a["odds"]) for a in answers])
    fits = np.array([a["surprise"] >= UNLIKELY for a in answers])
    advised = (odds >= OPEN_FROM) & fits
    p, _ = score.top(jobs, answers)
    q, there = score.every(jobs, answers)
    loss = score.log_loss(jobs, answers)
    rough = score.log_loss(jobs, answers, "rough")
    inside, sized = score.covered(jobs, answers, INTERVAL_POWER)
    plain = np.array([(j["effect"] or 0.0) >= PLAIN for j in jobs])
    sound = np.array([j["fault"] == "nothing_wrong" for j in jobs])
    later = [(j, a) for j, a in zip(jobs, answers, strict=True) if j["number"] >= LEARNED_ON]
    unseen = score.calibration_error([j for j, _ in later], [a for _, a in later])
    return [
        "| figure | ours | target |",
        "|---|---|---|",
        f"| sealed circuit or not, by the larger side, all |"
        f" {_percent((odds > 0.5) == needs, rng)} | {SEALED_RIGHT:.0%} |",
        f"| the same, effect {PLAIN:.0%} or more, or nothing wrong |"
        f" {_percent(((odds > 0.5) == needs)[plain | sound], rng)} | {SEALED_RIGHT:.0%} |",
        f"| opening advised on a sound circuit | {_percent(advised[~needs], rng)} | 1% at most |",
        f"| opening advised where it is needed, all | {_percent(advised[needs], rng)} | 90% |",
        f"| the same, effect {PLAIN:.0%} or more | {_percent(advised[needs & plain], rng)} | 90% |",
        f"| calibration error of what is put first | {score.calibration_error(jobs, answers):.3f}"
        f" (chance alone {_chance(p, rng):.3f}) | {CALIBRATED[is_foreign]} |",
        f"| the same on the {len(later)} jobs not looked at for the powers | {unseen:.3f} |"
        f" {CALIBRATED[is_foreign]} |",
        f"| calibration error of all odds of all groups | {score._ece(q, there):.4f} | - |",
        f"| log loss [nat] | {loss.mean():.3f} (before members were drawn nearer"
        f" {rough.mean():.3f}) | - |",
        f"| readings until a group holds {SURE:.0%}, median, signs apart, all |"
        f" {_steps(answers, np.ones(len(jobs), bool))} | 4 |",
        f"| the same, effect {PLAIN:.0%} or more | {_steps(answers, plain)} | 4 |",
        f"| severity inside the stated 80 % interval | {inside:.1%} of {sized} | 80% |",
        f"| unsolved members | {_unsolved(answers):.2%} | 0.2% |",
        "",
    ]


def _steps(answers: Rows, of: np.ndarray) -> str:
    """Median readings, and readings with signs, where a group becomes sure at all."""
    asked = [a["steps"] for a, here in zip(answers, of, strict=True) if here]
    if not asked:
        return "-"
    every, read = np.array([(np.inf, np.inf) if s is None else s for s in asked]).T
    reached = np.isfinite(every).mean()
    if reached <= 0.5:
        return f"not reached in half of the jobs (in {reached:.0%} of {len(asked)})"
    return (
        f"{np.median(read):.0f}; with the signs asked between them {np.median(every):.0f}"
        f" (reached in {reached:.0%} of {len(asked)})"
    )


def _by_fault(
    jobs: Rows, first: np.ndarray, effect: np.ndarray, rng: np.random.Generator
) -> list[str]:
    out = [
        f"Target: no fault under {LEAST_FAULT:.0%}. Effect: 1 - fraction; overcharge:"
        " fraction - 1;",
        "heat load: watts over the healthy cabinet's load; air: grams over 0.87 g; faults without",
        "a severity have 1, nothing wrong has none; a pair has that of its leading fault. A",
        "control set elsewhere or an ice plug just melted has none at a visit where nothing of it",
        "can be seen (a cabinet on its way; all looks well).",
        "",
        "| true fault | jobs | first, all | effect 25 % or more | effect 50 % or more |",
        "|---|---|---|---|---|",
    ]
    names = np.array([joined(score.labels(j["fault"])) for j in jobs])
    for name in sorted(set(names)):
        m = names == name
        cells = [_percent(first[m & (effect >= e)], rng) for e in (0.25, 0.5)]
        if name == "nothing_wrong":
            cells = ["-", "-"]
        out.append(f"| {name} | {m.sum()} | {_percent(first[m], rng)} | {cells[0]} | {cells[1]} |")
    return [*out, ""]


def _by_class(jobs: Rows, first: np.ndarray) -> list[str]:
    out = ["| class | jobs | first |", "|---|---|---|"]
    for name, limits, scale, unit in (
        ("heat_load", WATTS, 1.0, "W"),
        ("non_condensables", GRAMS, grams_of_air(1.0), "g"),
    ):
        for low, high in limits:
            m = np.array([j["fault"] == name and low <= scale * j["severity"] < high for j in jobs])
            if m.any():
                out.append(
                    f"| {name}, {low:g} to {high:g} {unit} | {m.sum()} | {first[m].mean():.0%} |"
                )
    return [*out, ""]


def _confusion(jobs: Rows, answers: Rows) -> list[str]:
    rows, columns, table = score.confusion(jobs, answers)
    out = ["Rows what is true, columns what was put first.", ""]
    out.append("| | " + " | ".join(columns) + " |")
    out.append("|---" * (len(columns) + 1) + "|")
    for name, row in zip(rows, table, strict=True):
        out.append(f"| {name} | " + " | ".join(str(v) for v in row) + " |")
    return [*out, ""]


def _sealed_odds(odds: dict[str, float]) -> float:
    return sum(p for f, p in odds.items() if hypothesis_named(f).sealed)


def _percent(values: np.ndarray, rng: np.random.Generator) -> str:
    mean, low, high = score.interval(np.asarray(values, float), rng)
    return "-" if mean != mean else f"{mean:.1%} [{low:.1%}, {high:.1%}]"


def _chance(p: np.ndarray, rng: np.random.Generator) -> float:
    """Calibration error that perfectly honest odds would show at this number of jobs."""
    drawn = [score._ece(p, (rng.random(p.size) < p).astype(float)) for _ in range(200)]
    return float(np.mean(drawn))


def _unsolved(answers: Rows) -> float:
    return sum(a["unsolved"] for a in answers) / max(sum(a["members"] for a in answers), 1)


def _compared(answers: Rows, sample: Rows, large: Rows) -> list[str]:
    by_number = {a["number"]: a for a in answers}
    gaps = []
    for job, row in zip(sample, large, strict=True):
        small = score.present(by_number[job["number"]]["odds"])
        big = score.present(row["odds"])
        gaps.append(max(abs(small[f] - big[f]) for f in big))
    g = np.array(gaps)
    return [
        f"Against ensembles ten times as large, on {len(g)} of the jobs: largest change of any"
        f" group's odds {100 * g.mean():.1f} points on average, median {100 * np.median(g):.1f},"
        f" within 3 points in {np.mean(g <= 0.03):.0%} (target: within 3 points).",
        "",
    ]

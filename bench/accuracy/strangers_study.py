"""Strangers diagnosed and scored: ``python -m bench.accuracy.strangers_study [COUNT [MEMBERS]]``.

Resumable; writes docs/strangers.md. The classes are those of the published evaluation of
diagnosis for vapour-compression machines (Yuill & Braun 2012, Purdue IRACC 2508; 2013, HVAC&R
Res. 19, 876; from memory): no response, correct, false alarm, missed detection, misdiagnosis,
against the fault's intensity.
"""

from __future__ import annotations

import json
import math
import os
import sys
import time
from pathlib import Path

import numpy as np

from bench.accuracy import score, strangers
from coldwright.case.background import Background, Refinement
from coldwright.case.case import Case
from coldwright.catalogue.families import family_of
from coldwright.cli.as_json import joined
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.posterior import surprise
from coldwright.errors import Refused
from coldwright.readings.job import CircuitSeen, History, Job, Plate, Reading, Room, Sign, Taken

FOLDER = Path(os.environ.get("COLDWRIGHT_ACCURACY", ".cache/accuracy"))
PAGE = Path(__file__).parents[2] / "docs" / "strangers.md"
MEMBERS = 2_000
SAYS = 0.5  # odds of the first from which it counts as said, ours
OPENS = 0.80  # sealed odds from which opening is advised, as `usecases.diagnose`
CLASSES = ("correct", "no response", "false alarm", "missed detection", "misdiagnosis")
INTENSITIES = ((0.0, 0.1), (0.1, 0.25), (0.25, 0.5), (0.5, math.inf))
SOUND = "nothing_wrong"


def job_of(row: dict) -> Job:
    """A job record from a frozen visit.

    Parameters
    ----------
    row : dict
        Of `strangers.load`.
    """
    return Job(
        source=f"stranger {row['number']}",
        title="",
        plate=Plate(
            kind=row["kind"],
            year=row["year"],
            refrigerant=row["refrigerant"],
            charge_kg=row["charge_kg"],
            voltage_v=120.0 if row["frequency_hz"] == 60.0 else 230.0,
            frequency_hz=row["frequency_hz"],
            power_w=row["plate_power_w"],
            volume_fresh_food_m3=row["fresh_food_m3"],
            volume_freezer_m3=row["freezer_m3"],
        ),
        circuit=CircuitSeen(
            layout=row["layout"], condenser=row["condenser"], evaporator=row["evaporator"]
        ),
        room=Room(temperature_k=row["room_k"]),
        history=History(complaint=row["complaint"]),
        taken=Taken(settled=row["settled"]),
        readings=tuple(Reading(k, v, None, str(v)) for k, v in row["readings"].items()),
        signs=tuple(Sign(k, seen) for k, seen in row["signs"].items()),
    )


def answer(row: dict, members: int) -> dict:
    """Odds of one visit.

    Parameters
    ----------
    row : dict
        Of `strangers.load`.
    members : int
        Simulated appliances. [-]
    """
    began = time.process_time()
    few = Refinement(particles=40, enough=25.0, again=60)
    case = Case(job_of(row), Background(members=members, refinement=few))
    try:
        posterior = case.weighed
    except Refused:
        return {"number": row["number"], "odds": {}, "surprise": None, "seconds": 0.0}
    return {
        "number": row["number"],
        "odds": {joined(faults): round(p, 5) for faults, p in posterior.odds.items()},
        "surprise": round(surprise(posterior), 5),
        "effective": round(posterior.effective_members, 1),
        "unsolved": posterior.ensemble.unsolved,
        "members": posterior.ensemble.members,
        "seconds": round(time.process_time() - began, 2),
    }


def class_of(row: dict, found: dict) -> str:
    """Which of the published classes an answer falls into.

    Parameters
    ----------
    row : dict
        The visit.
    found : dict
        Its answer.

    Returns
    -------
    str
        One of `CLASSES`.

    Examples
    --------
    >>> class_of({"fault": "undercharge"}, {"odds": {"nothing_wrong": 0.8, "undercharge": 0.2}})
    'missed detection'
    """
    if not found["odds"]:
        return "no response"
    odds = score.present(found["odds"])
    first = max(odds, key=lambda f: odds[f])
    truth = score.groups_of(row["fault"])
    if odds[first] < SAYS:
        return "no response"
    if first in truth:
        return "correct"
    if truth == (SOUND,):
        return "false alarm"
    return "missed detection" if first == SOUND else "misdiagnosis"


def distance(row: dict) -> float:
    """How far the sound machine lies from its family's middle: the furthest of four, in scores.

    Parameters
    ----------
    row : dict
        The visit.
    """
    family, healthy = family_of(row["kind"]), row["healthy"]
    rise = healthy["condensing_k"] - row["room_k"]
    usual = {"static": 13.5, "skin": 13.5, "fan": 11.0}[row["condenser"]]
    return max(
        abs(healthy["run_fraction"] - family.run_fraction.mean) / family.run_fraction.sd,
        abs(healthy["evaporating_k"] - family.evaporating_k.mean) / family.evaporating_k.sd,
        abs(rise - usual) / 3.5,
        abs(healthy["shell_k"] - row["room_k"] - 35.0) / 10.0,
    )


def figures(rows: list[dict], found: list[dict]) -> dict[str, float]:
    """First place, first two, calibration, sealed or not, false alarms, opened in vain.

    Parameters
    ----------
    rows, found : list of dict
        Visits and answers in the same order.
    """
    told = [(r, f) for r, f in zip(rows, found, strict=True) if f["odds"]]
    if not told:
        return {}
    r, f = [a for a, _ in told], [b for _, b in told]
    places = score.places(r, f)
    sealed = np.array(
        [
            sum(p for name, p in b["odds"].items() if hypothesis_named(*score.apart(name)).sealed)
            for b in f
        ]
    )
    needs = np.array([hypothesis_named(*score.apart(a["fault"])).sealed for a in r])
    sound = np.array([a["fault"] == SOUND for a in r])
    blamed = np.array(
        [max((p for n, p in score.present(b["odds"]).items() if n != SOUND)) > SAYS for b in f]
    )
    return {
        "n": len(r),
        "first": float(np.mean(places == 0)),
        "first two": float(np.mean(places <= 1)),
        "calibration": score.calibration_error(r, f),
        "sealed or not": float(np.mean((sealed > 0.5) == needs)),
        "sound blamed": float(np.mean(blamed[sound])) if sound.any() else float("nan"),
        "opened in vain": float(np.mean((sealed >= OPENS)[~needs])) if (~needs).any() else 0.0,
        "opened where needed": float(np.mean((sealed >= OPENS)[needs])) if needs.any() else 0.0,
        "log loss": float(np.mean(score.log_loss(r, f))),
    }


def plain(row: dict) -> bool:
    """Sound, or at least a quarter of the effect."""
    return row["effect"] is None or row["effect"] >= 0.25


def page(rows: list[dict], found: list[dict], members: int) -> str:
    """docs/strangers.md.

    Parameters
    ----------
    rows, found : list of dict
        Visits and answers in the same order.
    members : int
        Simulated appliances of an answer. [-]
    """
    both = list(zip(rows, found, strict=True))
    groups = {
        "all": both,
        "from outside": [x for x in both if not x[0]["tapped"]],
        "from outside, sound or effect of 25 % and more": [
            x for x in both if not x[0]["tapped"] and plain(x[0])
        ],
        "with both pressures": [x for x in both if x[0]["tapped"]],
        "family's middle (under 1)": [x for x in both if distance(x[0]) < 1.0],
        "1 to 2 from it": [x for x in both if 1.0 <= distance(x[0]) < 2.0],
        "further": [x for x in both if distance(x[0]) >= 2.0],
    }
    lines = [
        "# Strangers",
        "",
        "Appliances another hand designed (`bench/accuracy/strangers.py`: no line of our sizing),"
        f" {len(rows)} visits of {strangers.COUNT} drawn, {members} members an answer. Made by"
        " `python -m bench.accuracy.strangers_study`. Distance: run share, evaporating,"
        " condensing and shell of the sound machine against its family, the furthest, in standard"
        " deviations.",
        "",
    ]
    names = list(figures(rows, found))
    lines += ["| visits | " + " | ".join(names) + " |", "|---|" + "---|" * len(names)]
    for label, part in groups.items():
        if part:
            got = figures([a for a, _ in part], [b for _, b in part])
            cells = [f"{got.get(n, math.nan):.2f}" if n != "n" else str(got["n"]) for n in names]
            lines.append(f"| {label} | " + " | ".join(cells) + " |")
    lines += [
        "",
        "## By the published classes",
        "",
        f"Said: odds of the first {SAYS:g} and more. Intensity: the share of what the fault can"
        " take (1 - fraction; of the healthy load for added heat).",
        "",
        "| intensity | visits | " + " | ".join(CLASSES) + " |",
        "|---|---|" + "---|" * len(CLASSES),
    ]
    parts: list[tuple[str, list[tuple[dict, dict]]]] = [
        ("sound", [x for x in both if x[0]["effect"] is None])
    ]
    for low, high in INTENSITIES:
        label = f"{low:g} to {high:g}" if math.isfinite(high) else f"{low:g} and more"
        inside = [x for x in both if x[0]["effect"] is not None and low <= x[0]["effect"] < high]
        parts.append((label, inside))
    for label, part in parts:
        counts = [sum(class_of(*x) == name for x in part) for name in CLASSES]
        lines.append(f"| {label} | {len(part)} | " + " | ".join(map(str, counts)) + " |")
    return "\n".join(lines) + "\n"


def answered(rows: list[dict], members: int, path: Path) -> list[dict]:
    """Answers to the visits, those kept in `path` not worked out again.

    Parameters
    ----------
    rows : list of dict
        Visits.
    members : int
        Simulated appliances of an answer. [-]
    path : Path
        Where answers are kept, a line each.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    kept = {}
    if path.exists():
        lines = path.read_text(encoding="utf-8").splitlines()
        kept = {found["number"]: found for found in map(json.loads, lines)}
    with path.open("a", encoding="utf-8") as out:
        for row in rows:
            if row["number"] not in kept:
                kept[row["number"]] = answer(row, members)
                out.write(json.dumps(kept[row["number"]]) + "\n")
                out.flush()
    return [kept[row["number"]] for row in rows]


def main(count: int = strangers.COUNT, members: int = MEMBERS) -> None:
    """Answer the first so many visits, write the page."""
    rows = strangers.load()[:count]
    found = answered(rows, members, FOLDER / f"strangers-{members}.jsonl")
    PAGE.write_text(page(rows, found, members), encoding="utf-8")
    print(json.dumps(figures(rows, found), indent=1))


if __name__ == "__main__":
    main(*(int(a) for a in sys.argv[1:]))

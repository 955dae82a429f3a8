"""A diagnosis in words: bars, what moved, reasons, next checks."""

from __future__ import annotations

import math
from collections.abc import Mapping

from coldwright.diagnosis.money_words import decision_words
from coldwright.diagnosis.result import (
    Argument,
    Diagnosis,
    FaultOdds,
    Fit,
    LookFirst,
    MindChange,
    Reason,
)
from coldwright.faults.record import Together
from coldwright.readings.job import Job
from coldwright.web.odds.checks import check_row, entry_url
from coldwright.web.odds.context import ArgumentRow, LookRow, MindRow, OddsPage, OddsRow, ReasonRow
from coldwright.web.odds.electrical import electrical_part
from coldwright.words.report import Caution, Fact
from coldwright.words.wording import NBSP, capital, count, fault, glued, percent, plain, severities

_SHOWN_FROM = 0.01  # smaller odds share one line
_MOVED_FROM = 0.015  # a change worth a sentence: more than rounding
_MOVES_SHOWN = 4
_LOOKS_SHOWN = 6


def odds_page(
    now: Diagnosis, before: Diagnosis | None, *, job: Job, job_url: str, since: str
) -> OddsPage:
    """All that a diagnosis says; with `before`, also what moved since.

    Parameters
    ----------
    now : Diagnosis
        The diagnosis to show.
    before : Diagnosis or None
        The one that was on the screen before the last change, where it is known.
    job : Job
        Its electrical readings, and its refrigerant for the cautions at the checks.
    job_url : str
        Address of the job's page.
    since : str
        Digest of the content that `now` was worked out for.

    Returns
    -------
    OddsPage
        The part's record.
    """
    was = {odds.faults: odds.probability for odds in before.faults} if before is not None else {}
    shown = [odds for odds in now.faults if _is_shown(odds, was)]
    small = [odds for odds in now.faults if not _is_shown(odds, was)]
    refrigerant = job.plate.refrigerant
    return OddsPage(
        state=_state(now),
        since=since,
        moves=_moves(now, before),
        rows=tuple(_row(odds, was) for odds in shown),
        small=_small(small),
        restriction="" if now.refused else percent(now.restriction_probability),
        sealed="" if now.refused else percent(now.sealed_circuit_probability),
        opening=_opening(now),
        refused=now.refused or "",
        misfit=_misfit(now.fit),
        suspect=_suspect(now.fit),
        suspect_url=entry_url(job_url, now.fit.suspect) if now.fit and now.fit.suspect else "",
        reasons_state=f"{count(len(now.reasons), 'reading', 'readings')} weighed",
        reasons=tuple(_reason(reason) for reason in now.reasons),
        arguments=tuple(_argument(argument) for argument in now.arguments),
        minds=tuple(_mind(change, job_url) for change in now.mind_changes),
        looks=tuple(_look(look, job_url) for look in now.look_first[:_LOOKS_SHOWN]),
        checks=tuple(
            check_row(check, job_url, refrigerant, now.decision) for check in now.next_checks
        ),
        choice=_choice(now),
        plan=_plan(now),
        electrical=electrical_part(job, now, job_url),
        cautions=now.cautions,
        notes=now.notes,
        fine_print=_fine_print(now),
    )


def _is_shown(odds: FaultOdds, was: Mapping[Together, float]) -> bool:
    return max(odds.probability, was.get(odds.faults, 0.0)) >= _SHOWN_FROM


def _state(now: Diagnosis) -> str:
    if now.refused:
        return "No odds for this appliance"
    if not now.faults:
        return "No odds"
    first = now.faults[0]
    unsure = "" if now.fit is None or now.fit.explained else ", but nothing explains it all well"
    return f"{fault(first.faults)}, {percent(first.probability)}{unsure}"


def _row(odds: FaultOdds, was: Mapping[Together, float]) -> OddsRow:
    old = was.get(odds.faults)
    moved = old is not None and percent(old) != percent(odds.probability)
    return OddsRow(
        name=fault(odds.faults),
        percent=percent(odds.probability),
        now=_width(odds.probability),
        was=_width(old) if moved and old is not None else "",
        moved=f"was {percent(old)}" if moved and old is not None else "",
        severity=severities(odds),
        which=_which(odds),
    )


def _width(probability: float) -> str:
    return f"{100 * min(1.0, max(0.0, probability)):.1f}"


def _which(odds: FaultOdds) -> str:
    parts = (f"{plain(kind.which)} {percent(kind.probability)}" for kind in odds.which)
    return capital(", ".join(parts)) + "." if odds.which else ""


def _small(small: list[FaultOdds]) -> str:
    if not small:
        return ""
    # Pairs are many and long: a phone is told of the single faults, the pairs are counted
    single = [fault(odds.faults).split(":")[0] for odds in small if len(odds.faults) == 1]
    pairs = sum(len(odds.faults) > 1 for odds in small)
    beside = [count(pairs, "pair of faults", "pairs of faults")] if pairs else []
    return f"Each under 1{NBSP}%: {'; '.join([*single, *beside])}."


def _moves(now: Diagnosis, before: Diagnosis | None) -> tuple[str, ...]:
    if before is None or now.refused or before.refused:
        return ()
    new = {odds.faults: odds.probability for odds in now.faults}
    old = {odds.faults: odds.probability for odds in before.faults}
    change = {name: new.get(name, 0.0) - old.get(name, 0.0) for name in new | old}
    moved = sorted(change, key=lambda name: -abs(change[name]))
    told = [name for name in moved if abs(change[name]) >= _MOVED_FROM][:_MOVES_SHOWN]
    if not told:
        return ("The odds hardly moved.",)
    return tuple(
        f"{fault(name)}: {'up' if change[name] > 0 else 'down'} from "
        f"{percent(old.get(name, 0.0))} to {percent(new.get(name, 0.0))}"
        for name in told
    )


def _opening(now: Diagnosis) -> str:
    if now.refused:
        return ""
    if now.open_circuit_advised:
        return "Opening the circuit is advised now, by whoever may do that here."
    return "Do not open the circuit yet: checks from outside come first."


def _plan(now: Diagnosis) -> str:
    if len(now.plan) < 2:
        return ""
    names = ", then ".join(plain(step.check) for step in now.plan)
    minutes = sum(step.minutes for step in now.plan)
    return f"{capital(names)}: {minutes:.0f}{NBSP}minutes, until a reading changes the plan."


def _misfit(fit: Fit | None) -> str:
    return "" if fit is None or fit.explained else fit.message


def _suspect(fit: Fit | None) -> str:
    return "" if fit is None or fit.explained or fit.suspect is None else plain(fit.suspect)


def _reason(reason: Reason) -> ReasonRow:
    # Most sentences already end with whom they speak for.
    said = "Speaks for" in reason.sentence or "Says little" in reason.sentence
    favours = f"Speaks for: {fault(reason.favours)}." if reason.favours and not said else ""
    what, sentence = capital(plain(reason.reading)), reason.sentence
    # A sentence that opens with the reading's name shows it once, in bold.
    rest = sentence[len(what) :] if sentence.startswith(what) else f". {sentence}"
    return ReasonRow(what, rest, favours)


def _choice(now: Diagnosis) -> str:
    if now.refused:
        return ""
    return decision_words(now.decision) or (
        "Give the hourly rate, the price of electricity and of a new one (prices of this job, or a "
        "shop file) to see what each check is worth in money."
    )


def _argument(argument: Argument) -> ArgumentRow:
    return ArgumentRow(
        fault(argument.faults),
        percent(argument.probability),
        tuple(glued(one.sentence) for one in argument.for_it),
        tuple(glued(one.sentence) for one in argument.against_it),
    )


def _mind(change: MindChange, job_url: str) -> MindRow:
    return MindRow(
        glued(change.sentence), capital(plain(change.check)), entry_url(job_url, change.check)
    )


def _look(look: LookFirst, job_url: str) -> LookRow:
    cautions = (Caution("Caution", look.cautions),) if look.cautions else ()
    return LookRow(
        capital(look.name),
        f"about {look.minutes:.0f}{NBSP}min",
        look.how,
        look.seen,
        look.unseen,
        cautions,
        entry_url(job_url, look.look) if look.is_sign else "",
    )


def _log(value: float | None) -> str:
    return "-" if value is None or not math.isfinite(value) else f"{value:.1f}"


def _fine_print(now: Diagnosis) -> tuple[Fact, ...]:
    return (
        Fact("Model", now.model),
        Fact("Parameter set", now.parameter_set),
        Fact("Seed", str(now.seed)),
        Fact("Members simulated", f"{now.members:,}".replace(",", NBSP)),
        Fact("Members that carry weight", f"{now.effective_members:.0f}"),
        Fact("Members not solved", str(now.unsolved)),
        Fact("Evidence, natural log", _log(now.log_evidence)),
    )

"""A diagnosis as short text: what can hurt first, then odds, reasons, next checks."""

from __future__ import annotations

import math
from collections.abc import Iterable

from coldwright.catalogue.cautions import CAUTIONS, caution_texts, cautions_for
from coldwright.cli.text import bar, capital, items, percent, wrapped
from coldwright.diagnosis.money_words import decision_words, value_words
from coldwright.diagnosis.result import Decision, Diagnosis, FaultOdds, LookFirst, NextCheck
from coldwright.readings.job import Job
from coldwright.words import phrases as words

SHOWN = 6  # faults with a line of their own
SMALLEST = 0.01  # a smaller probability gets no line of its own
REASONS = 3
FOR_AND_AGAINST = (3, 2)  # sentences each way: of the leading fault, of the others
CHECKS = 3
LOOKS = 4


def diagnosis_lines(job: Job, result: Diagnosis, system: str = "si") -> list[str]:
    """Lines of at most `text.WIDTH` characters.

    Parameters
    ----------
    job : Job
        What was known; its refrigerant decides on cautions where the result has none.
    result : Diagnosis
        What came of it; its sentences are in the units it was asked for.
    system : str
        The same units, for what the log shows.

    Returns
    -------
    list of str
        Lines.
    """
    lines = wrapped(job.title or job.source)
    if job.title:
        lines += wrapped(job.source)
    cautions = result.cautions or caution_texts(cautions_for(job.plate.refrigerant))
    lines += _block("CAUTION", items(_spelled(cautions), "! "))
    if result.refused:
        lines += _block("NO ODDS FOR THIS APPLIANCE", wrapped(capital(result.refused)))
    elif result.faults:
        lines += _block("ODDS", [*_misfit(result), *_odds(result.faults), "", *_verdict(result)])
    lines += _block("WHY", _why(result))
    lines += _block("WHAT WOULD CHANGE OUR MIND", _mind(result))
    looks = [line for look in result.look_first[:LOOKS] for line in _look(look)]
    lines += _block("LOOK FIRST, NO INSTRUMENT", looks)
    if result.log is not None:
        from coldwright.words.log import course_lines

        lines += _block("FROM THE LOG", items(course_lines(result.log, system)))
    checks = [
        line
        for number, check in enumerate(result.next_checks[:CHECKS], start=1)
        for line in _check(number, check, result.decision)
    ]
    if not checks and not result.refused:
        checks = ["Nothing more from outside would tell much."]
    choice = wrapped(decision_words(result.decision)) if result.decision is not None else []
    choice += [""] if choice else []
    lines += _block("CHECK NEXT", [*choice, *checks, *_plan(result)])
    evidence = () if result.refused else (_evidence(result),)
    lines += _block("NOTES", items((*result.notes, *evidence)))
    return lines


def _why(result: Diagnosis) -> list[str]:
    """For and against each fault in question; the reasons alone where nothing is argued."""
    if not result.arguments:
        return items(reason.sentence for reason in result.reasons[:REASONS])
    lines: list[str] = []
    for n, argument in enumerate(result.arguments):
        each = FOR_AND_AGAINST[min(n, 1)]
        head = f"{capital(words.fault(argument.faults))}, {percent(argument.probability)}"
        lines += ["", *wrapped(head)] if n else wrapped(head)
        told = items((s.sentence for s in argument.for_it[:each]), "+ ")
        told += items((s.sentence for s in argument.against_it[:each]), "- ")
        lines += told or wrapped("no reading speaks for or against it by itself", first="  ")
    return lines


def _mind(result: Diagnosis) -> list[str]:
    if result.refused or not result.arguments:
        return []
    told = items(change.sentence for change in result.mind_changes)
    return told or wrapped("Hardly anything that can be checked with the circuit closed.")


def _block(title: str, lines: list[str]) -> list[str]:
    return ["", title, *lines] if lines else []


def _spelled(cautions: Iterable[str]) -> tuple[str, ...]:
    """Cautions by their sentences, whether given as such or by identifier."""
    return tuple(CAUTIONS[c].text if c in CAUTIONS else c for c in cautions)


def _misfit(result: Diagnosis) -> list[str]:
    fit = result.fit
    if fit is None or fit.explained:
        return []
    message = fit.message
    if fit.suspect is not None and words.plain(fit.suspect) not in message:
        message += f" First to check again: {words.plain(fit.suspect)}."
    return [*wrapped(message, first="!! "), ""]


def _odds(faults: tuple[FaultOdds, ...]) -> list[str]:
    shown = [odds for odds in faults if odds.probability >= SMALLEST][:SHOWN] or [faults[0]]
    lines: list[str] = []
    for odds in shown:
        head = f"{percent(odds.probability):>9} {bar(odds.probability)}"
        lines += [head.rstrip(), *wrapped(capital(words.fault(odds.faults)), first=" " * 10)]
        for how_bad in words.severities(odds):
            lines += wrapped(how_bad, first=" " * 10)
        if odds.which:
            kinds = (f"{words.plain(k.which)} {percent(k.probability)}" for k in odds.which)
            lines += wrapped(", ".join(kinds), first=" " * 10)
    rest = sum(odds.probability for odds in faults if odds not in shown)
    if len(shown) < len(faults):
        lines += wrapped(f"all others together {percent(rest)}", first=" " * 10)
    return lines


def _verdict(result: Diagnosis) -> list[str]:
    restriction = f"Restriction, drier or capillary: {percent(result.restriction_probability)}"
    decided = words.sealed(result.sealed_circuit_probability)
    sealed = f"Sealed circuit at fault: {decided} ({percent(result.sealed_circuit_probability)})"
    opening = (
        "Opening the circuit is advised now, by whoever may do that here."
        if result.open_circuit_advised
        else "Do not open the circuit yet."
    )
    return [line for text in (restriction, sealed, opening) for line in wrapped(text)]


def _check(number: int, check: NextCheck, decision: Decision | None) -> list[str]:
    opens = ", OPENS THE CIRCUIT" if check.opens_circuit else ""
    title = f"{capital(words.plain(check.check))} ({check.minutes:.0f} min{opens})"
    lines = [*wrapped(title, first=f"{number}. "), *wrapped(check.how, first="   ")]
    lines += wrapped(value_words(check, decision), first="   ")
    return lines + [line for c in _spelled(check.cautions) for line in wrapped(c, first="   ! ")]


def _plan(result: Diagnosis) -> list[str]:
    """The next few checks together, once there is more than one."""
    if len(result.plan) < 2:
        return []
    names = ", then ".join(words.plain(step.check) for step in result.plan)
    minutes = sum(step.minutes for step in result.plan)
    return ["", *wrapped(f"Planned, until a reading changes it: {names}; {minutes:.0f} min.")]


def _look(look: LookFirst) -> list[str]:
    lines = [*wrapped(f"{capital(look.name)} ({look.minutes:.0f} min)", first="- ")]
    lines += wrapped(look.how, first="  ")
    if look.unseen:
        lines += wrapped(f"Yes: {look.seen}.", first="  ")
        lines += wrapped(f"No: {look.unseen}.", first="  ")
    else:
        lines += wrapped(look.seen, first="  ")
    return lines + [line for c in _spelled(look.cautions) for line in wrapped(c, first="  ! ")]


def _log(value: float | None) -> str:
    """The evidence, where there is some."""
    return "" if value is None or not math.isfinite(value) else f", ln evidence {value:.1f}"


def _evidence(result: Diagnosis) -> str:
    return (
        f"Odds of a model, not a verdict: {result.members} simulated appliances, of which "
        f"{result.effective_members:.0f} carry weight, {result.unsolved} not solved; "
        f"seed {result.seed}, model {result.model}{_log(result.log_evidence)}."
    )

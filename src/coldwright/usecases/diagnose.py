"""Diagnose a job: the one place where a job file, the catalogue and the inference meet."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace

import numpy as np

from coldwright import __version__
from coldwright.case.background import SEED, THIS_YEAR
from coldwright.case.case import UNLIKELY, Case
from coldwright.case.notes import visit_notes
from coldwright.catalogue.cautions import caution_texts, cautions_for
from coldwright.catalogue.checks import CHECKS, TOOL_KITS
from coldwright.catalogue.families import PARAMETER_SET
from coldwright.diagnosis.arguments import arguments_of, left_out
from coldwright.diagnosis.check_value import Valued, valued
from coldwright.diagnosis.ensemble import MEMBERS
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.look_first import look_first
from coldwright.diagnosis.mind_change import mind_changes, overturns
from coldwright.diagnosis.next_check import outlook, plan, ranked
from coldwright.diagnosis.posterior import (
    Posterior,
    severity_interval,
    surprise,
    which_odds,
)
from coldwright.diagnosis.reasons import leave_one_out_suspect, reasons_of
from coldwright.diagnosis.result import (
    Diagnosis,
    FaultOdds,
    Fit,
    NextCheck,
    PlannedCheck,
    SeverityInterval,
    WhichOdds,
)
from coldwright.diagnosis.so_far import so_far
from coldwright.electrical.evidence import ELECTRICAL_READINGS, STANDING_STILL
from coldwright.electrical.from_job import electrical_of, notes_of
from coldwright.errors import Refused
from coldwright.faults.record import Together
from coldwright.faults.registry import RESTRICTIONS, fault_named
from coldwright.learning.experience import background_of
from coldwright.learning.proven import Proven
from coldwright.readings.job import Job
from coldwright.readings.keys import READINGS
from coldwright.readings.plausibility import contradictions
from coldwright.readings.shop import NO_SHOP, Shop
from coldwright.usecases.stakes import stakes_of

# Odds of a sealed fault from which opening is advised (ours): at 0.9 foreign truth was opened
# no less often in vain, and 4 in 100 more that need it were left shut (docs/accuracy.md).
OPEN_FROM = 0.80
ASK_ELECTRICS = 0.2  # odds of a stopped compressor from which its parts are worth reading, ours
STOPPED_SIGNS = ("compressor_silent", "compressor_hums_and_trips")


def diagnose(
    job: Job,
    *,
    seed: int = SEED,
    members: int = MEMBERS,
    refine: bool = True,
    system: str = "si",
    shop: Shop = NO_SHOP,
    this_year: int = THIS_YEAR,
    progress: Callable[[str], None] | None = None,
    proven: Proven | None = None,
    deadline_s: float = math.inf,
) -> Diagnosis:
    """Odds of each fault with severity, reasons and next checks.

    Parameters
    ----------
    job : Job
        Plate, readings, signs and how they were taken.
    seed : int
        Of the ensemble; the same seed gives the same answer. [-]
    members : int
        Simulated appliances. [-]
    refine : bool
        Move members closer where too few carry weight.
    system : str
        Units of the sentences, 'si' or 'us'.
    shop : Shop
        Rates and prices: what a check is worth in money. The job's own go before.
    this_year : int
        For an age where only the year of manufacture is known. [a]
    progress : callable, optional
        Told a line when something takes more than a second.
    proven : Proven, optional
        Jobs whose outcome is known; they move the odds before the readings.
    deadline_s : float
        For drawing members nearer; then the odds so far are told with how far they may move. [s]

    Returns
    -------
    Diagnosis
        A frozen record; where the appliance is not modelled it says so and what can be checked.

    Examples
    --------
    >>> from coldwright import diagnose, job_from_text
    >>> text = '[plate]\\nkind = "top_mount"\\nrefrigerant = "R134a"\\ncharge = "105 g"\\n'
    >>> job = job_from_text(text, "hall.toml")
    >>> found = diagnose(job, members=300, refine=False)
    >>> found.open_circuit_advised
    False
    """
    background = background_of(
        seed=seed,
        members=members,
        refine=refine,
        shop=shop,
        this_year=this_year,
        proven=proven,
        deadline_s=deadline_s,
    )
    return diagnosis_of(Case(job, background, progress), system)


def diagnosis_of(case: Case, system: str = "si") -> Diagnosis:
    """All that is told of a case.

    Parameters
    ----------
    case : Case
        Job and background.
    system : str
        Units of the sentences, 'si' or 'us'.

    Returns
    -------
    Diagnosis
        A frozen record; where the appliance is not modelled it says so and what can be checked.
    """
    try:
        posterior = case.posterior
    except Refused as refused:
        return _refusal(case.job, refused, case.background.seed)
    return _report(case, posterior, system)


def first_look(case: Case, system: str = "si") -> Diagnosis | None:
    """Odds by the members there are, in a fraction of a second, while `diagnosis_of` draws nearer.

    None where this appliance was not simulated yet at these conditions, or too few members
    carry weight. It never advises to open the circuit.

    Parameters
    ----------
    case : Case
        Job and background.
    system : str
        Units of the sentences, 'si' or 'us'.

    Returns
    -------
    Diagnosis or None
        As of `diagnosis_of`.
    """
    try:
        posterior = case.first_look()
    except Refused:
        return None
    if posterior is None:
        return None
    return replace(_report(case, posterior, system), open_circuit_advised=False)


def _report(case: Case, posterior: Posterior, system: str) -> Diagnosis:
    job, evidence, tools, seed = case.job, case.evidence, case.tools, case.background.seed
    rng = np.random.default_rng((seed, 1))  # apart from the draws of the posterior
    stakes = stakes_of(job, case.background.shop, case.background.this_year)
    odds = posterior.odds
    faults = tuple(
        FaultOdds(f, odds[f], _severity(posterior, f), _which(posterior, f), _second(posterior, f))
        for f in sorted(odds, key=lambda f: -odds[f])
    )
    sealed = sum(p for f, p in odds.items() if hypothesis_named(*f).sealed)
    fit = _fit(job, posterior)
    seen = outlook(posterior, tools, rng)
    kit = TOOL_KITS[job.taken.tools] if job.taken.tools else None
    bits = seen.bits
    if odds[STANDING_STILL] >= ASK_ELECTRICS:
        bits |= evidence.electrical.information(odds[STANDING_STILL])
    money = valued(seen, stakes, evidence.electrical) if stakes is not None else None

    asked = ranked(
        bits, odds, tools=kit, opening_pays=None if money is None else money.opening_pays,
        before=ELECTRICAL_READINGS if _stands_still(job, odds) else frozenset(),
    )  # fmt: skip
    checks = tuple(_check(job, k, bits[k], money) for k in asked)
    steps = tuple(
        PlannedCheck(step.check, step.added_bits, CHECKS[step.check].minutes)
        for step in plan(seen, kit)
    )
    evident = bool(evidence.keys or evidence.asked() or evidence.electrical.own)
    opens = sealed >= OPEN_FROM and fit.explained and evident
    without = left_out(posterior)
    reasons = reasons_of(job, posterior, system, without)
    return Diagnosis(
        job=job.source,
        title=job.title,
        faults=faults,
        restriction_probability=sum(p for f, p in odds.items() if set(f) & set(RESTRICTIONS)),
        sealed_circuit_probability=sealed,
        open_circuit_advised=opens,
        reasons=reasons,
        next_checks=checks,
        plan=steps,
        cautions=caution_texts(cautions_for(job.plate.refrigerant)),
        notes=(*so_far(posterior), *case.subject.notes, *visit_notes(job, evidence, case.subject)),
        fit=fit,
        refused=None,
        members=posterior.ensemble.members,
        effective_members=min(posterior.effective_members, float(posterior.ensemble.members)),
        unsolved=posterior.ensemble.unsolved,
        log_evidence=posterior.log_evidence,
        seed=seed,
        model=f"coldwright {__version__}",
        parameter_set=PARAMETER_SET,
        look_first=look_first(job, odds),
        log=job.course,
        arguments=arguments_of(job, posterior, without, reasons, system),
        decision=None if money is None else money.decision,
        mind_changes=mind_changes(overturns(job, posterior, tools, rng, kit, system)),
    )


def _severity(posterior: Posterior, fault: Together) -> SeverityInterval | None:
    unit = hypothesis_named(*fault).unit
    interval = severity_interval(posterior, fault)
    if unit is None or interval is None:
        return None
    return SeverityInterval(*interval, unit)


def _second(posterior: Posterior, fault: Together) -> SeverityInterval | None:
    """How far the second of two faults goes."""
    if len(fault) < 2:
        return None
    unit, interval = fault_named(fault[1]).unit, severity_interval(posterior, fault, second=True)
    return None if unit is None or interval is None else SeverityInterval(*interval, unit)


def _which(posterior: Posterior, fault: Together) -> tuple[WhichOdds, ...]:
    """Odds of each kind within a fault: by its parts' readings, or by the members' weights."""
    if fault == STANDING_STILL:
        odds = posterior.evidence.electrical.which()
    else:
        findings = posterior.evidence.findings
        told = findings.answers and len(fault) == 1
        odds = which_odds(posterior, fault) or (findings.parts(fault[0]) if told else {})
    return tuple(WhichOdds(k, p) for k, p in sorted(odds.items(), key=lambda kv: -kv[1]))


def _stands_still(job: Job, odds: Mapping[Together, float]) -> bool:
    """Silent or clicking, and probably not for want of a call: its electrics are read first."""
    heard = any(s.seen and s.key in STOPPED_SIGNS for s in job.signs)
    return heard and odds[STANDING_STILL] >= ASK_ELECTRICS


def _check(job: Job, key: str, bits: float, money: Valued | None) -> NextCheck:
    check = CHECKS[key]
    return NextCheck(
        key, bits, check.minutes, check.opens_circuit, check.how,
        caution_texts(cautions_for(job.plate.refrigerant, (check,))) if check.opens_circuit
        else caution_texts(check.cautions),
        None if money is None else money.by_check.get(key),
    )  # fmt: skip


def _fit(job: Job, posterior: Posterior) -> Fit:
    clashes = contradictions(job)
    chance = surprise(posterior)
    if clashes:
        return Fit(chance, False, clashes[0].keys[0], " ".join(c.sentence for c in clashes))
    if chance >= UNLIKELY or len(posterior.evidence.keys) < 2:
        return Fit(chance, True, None, "The readings fit together.")
    suspect, better = leave_one_out_suspect(posterior, surprise)
    label = READINGS[suspect].label
    return Fit(
        chance,
        False,
        suspect,
        f"No fault here explains these readings well (chance of a worse fit {chance:.1%});"
        f" check {label} first: without it the rest would fit at {better:.0%}.",
    )


def _stopped_notes(job: Job) -> tuple[str, ...]:
    """Which part, were it not to run: told where no odds of the circuit are."""
    electrical = electrical_of(job)
    heard = any(s.seen for s in job.signs if s.key in STOPPED_SIGNS)
    if not (electrical.items or heard):
        return ()
    odds = sorted(electrical.which().items(), key=lambda kv: -kv[1])
    return ("If it does not run: " + ", ".join(f"{k} {p:.0%}" for k, p in odds) + ".",)


def _refusal(job: Job, refused: Refused, seed: int) -> Diagnosis:
    still = "; ".join(refused.still_possible)
    return Diagnosis(
        job=job.source,
        title=job.title,
        faults=(),
        restriction_probability=0.0,
        sealed_circuit_probability=0.0,
        open_circuit_advised=False,
        reasons=(),
        next_checks=(),
        plan=(),
        # What is left to check is electrical: mains cautions belong here.
        cautions=caution_texts(
            cautions_for(job.plate.refrigerant, (CHECKS["winding_resistance_run"],))
        ),
        notes=(*_stopped_notes(job), *notes_of(job)),
        fit=None,
        refused=f"{refused.reason}. What can still be checked: {still}.",
        members=0,
        effective_members=0.0,
        unsolved=0,
        seed=seed,
        model=f"coldwright {__version__}",
        parameter_set=PARAMETER_SET,
        look_first=look_first(job, None),
        log=job.course,
    )

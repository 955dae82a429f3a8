"""A diagnosis as one object: subject, evidence, ensemble and posterior of one job."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from coldwright.case.background import USUAL, Background
from coldwright.case.draws import Draws, best_of, draws_of
from coldwright.case.ensembles import kept_ensemble, known_ensemble
from coldwright.case.evidence import chosen_instruments, evidence_of
from coldwright.catalogue.instruments import Instrument
from coldwright.diagnosis.ensemble import Ensemble, Evidence
from coldwright.diagnosis.posterior import Group, Posterior, sharpen, surprise, weigh
from coldwright.diagnosis.subject import Subject, subject_of
from coldwright.errors import Refused
from coldwright.faults.record import Together
from coldwright.kept import Kept
from coldwright.readings.job import Job, LeakSeen
from coldwright.readings.sections import reading_of

SOUND: Together = ("nothing_wrong",)
FEWEST = 4.0  # members that carry weight below which odds are not told, ours
UNLIKELY = 0.01  # chance of a worse fit below which no fault explains the readings, ours

_POSTERIORS: Kept[Posterior] = Kept(8)


def digest(job: Job) -> str:
    """Names what a diagnosis depends on: equal jobs have equal digests, wherever their files lie.

    The search for a leak and the outcome follow the diagnosis and do not move it.

    Parameters
    ----------
    job : Job
        As entered.

    Returns
    -------
    str
        16 hexadecimal digits.
    """
    text = repr(replace(job, source="", title="", tried=(), leak=LeakSeen(), outcome=None))
    return hashlib.sha256(text.encode()).hexdigest()[:16]


@dataclass(frozen=True)
class Case:
    """One job against one background; everything that is told of it hangs on the same posterior.

    Parameters
    ----------
    job : Job
        Plate, readings, signs and how they were taken.
    background : Background
        Seed, number of members, the shop, proven jobs, what is assumed.
    progress : callable, optional
        Told a line when something takes more than a second.

    Nothing is computed before it is asked for. What is costly is kept by what it depends on, so
    that another `Case` of the same job and background has it at once.

    Examples
    --------
    >>> from coldwright import Background, Case, job_from_text
    >>> text = '[plate]\\nkind = "top_mount"\\nrefrigerant = "R134a"\\ncharge = "105 g"\\n'
    >>> case = Case(job_from_text(text, "hall.toml"), Background(members=300, refine=False))
    >>> round(sum(case.odds.values()), 9)
    1.0
    """

    job: Job
    background: Background = USUAL
    progress: Callable[[str], None] | None = field(default=None, compare=False, repr=False)

    @cached_property
    def subject(self) -> Subject:
        """The appliance and the visit, proven jobs in its prior.

        Raises
        ------
        Refused
            If the appliance is of a kind that is not modelled.
        """
        plain = subject_of(self.job, self.background.unmeasured)
        experience = self.background.experience
        return plain if experience is None else experience.applied(plain, self.job)

    @cached_property
    def tools(self) -> dict[str, Instrument]:
        """Instruments the readings were taken with, by reading."""
        return chosen_instruments(self.job)

    @cached_property
    def evidence(self) -> Evidence:
        """Readings and signs in the form the weights need."""
        return evidence_of(self.job, self.subject, self.tools)

    @cached_property
    def ensemble(self) -> Ensemble:
        """Simulated appliances, every fault on each of them."""
        return kept_ensemble(self.subject, self.background, self.progress)

    @cached_property
    def weighed(self) -> Posterior:
        """The posterior after refinement, told or not: see `posterior`."""
        key = (digest(self.job), self.background.mark)
        return _POSTERIORS.get(key, self._refined)

    @property
    def posterior(self) -> Posterior:
        """The posterior that may be told.

        Raises
        ------
        Refused
            If the appliance is not modelled, or the odds rest on too few members although the
            readings fit one another.
        """
        found = self.weighed
        if self.background.refine and unconverged(found) and surprise(found) >= UNLIKELY:
            raise not_converged(found)
        return found

    def first_look(self) -> Posterior | None:
        """Odds by the members there are, in milliseconds; None where there are none or too few."""
        ensemble = known_ensemble(self.subject, self.background)
        if ensemble is None:
            return None
        found = weigh(ensemble, self.evidence)
        return None if unconverged(found) else found

    @property
    def odds(self) -> dict[Together, float]:
        """Probability of each hypothesis; they sum to one. [-]"""
        return self.posterior.odds

    @property
    def leading(self) -> Together:
        """The likeliest fault, whether or not nothing wrong is likelier still."""
        odds = self.odds
        return max((f for f in odds if f != SOUND), key=lambda f: odds[f])

    def draws(self, faults: Together, count: int, rng: np.random.Generator) -> Draws:
        """Simulated appliances with a fault, drawn by their posterior weight.

        Parameters
        ----------
        faults : tuple of str
            The hypothesis: one fault, or two at once.
        count : int
            Draws, with replacement. [-]
        rng : Generator
            Source of randomness.

        Returns
        -------
        Draws
            Severities, circuits and states, arrays of first length `count`.

        Raises
        ------
        NotSolved
            If no member of that fault carries weight.
        """
        return draws_of(self.posterior, faults, count, rng)

    def best(self, faults: Together) -> tuple[Group, int]:
        """The member of a fault that fits best, as its group and index.

        Parameters
        ----------
        faults : tuple of str
            The hypothesis: one fault, or two at once.

        Returns
        -------
        Group, int
            The group and the member's index in it.

        Raises
        ------
        NotSolved
            If none carries weight.
        """
        return best_of(self.posterior, faults)

    def with_reading(self, key: str, value: str | float, note: str = "") -> Case:
        """The case with one reading more, or another in its place; this one stays as it is.

        Parameters
        ----------
        key : str
            An identifier of READINGS.
        value : str or float
            As written, such as '-18 °C'.
        note : str
            Kept with it.

        Returns
        -------
        Case
            Of the same background.

        Raises
        ------
        BadInput
            If there is no such reading, or the value cannot be read.
        """
        air = self.job.room.air_pressure_pa
        read = reading_of(key, value, source=self.job.source, air_pressure_pa=air, note=note)
        others = tuple(r for r in self.job.readings if r.key != key)
        return replace(self, job=replace(self.job, readings=(*others, read)))

    def _refined(self) -> Posterior:
        found, plan = weigh(self.ensemble, self.evidence), self.background.refinement
        if not self.background.refine:
            return found
        rng = np.random.default_rng(self.background.seed)
        found = sharpen(
            found, rng, particles=plan.particles, enough=plan.enough, progress=self.progress
        )
        if unconverged(found):
            if self.progress is not None:
                self.progress("few members carry weight: drawing once more")
            found = sharpen(
                found, rng, particles=plan.again, enough=plan.enough, progress=self.progress
            )
        return found


def unconverged(posterior: Posterior) -> bool:
    """Whether the odds rest on too few members to be told.

    Parameters
    ----------
    posterior : Posterior
        Weighed.

    Returns
    -------
    bool
        True below `FEWEST` effective members, where there are readings at all.
    """
    return bool(posterior.evidence.keys) and posterior.effective_members < FEWEST


def not_converged(posterior: Posterior) -> Refused:
    """Why no odds are told, and what can still be done.

    Parameters
    ----------
    posterior : Posterior
        Weighed.

    Returns
    -------
    Refused
        To be raised or shown.
    """
    return Refused(
        f"the odds did not settle: of {posterior.ensemble.members} simulated appliances only"
        f" {posterior.effective_members:.1f} carry weight, at least {FEWEST:.0f} are needed",
        (
            "read again what you trust least, or leave it out",
            "plate and circuit: is everything entered as it is there?",
            "fans, coils, door seal, defrost and thermostat",
        ),
    )

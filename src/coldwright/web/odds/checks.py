"""A check worth doing next, and where its outcome is entered."""

from __future__ import annotations

from coldwright.diagnosis.money_words import value_words
from coldwright.diagnosis.result import Decision, NextCheck
from coldwright.readings import keys
from coldwright.web.odds.context import CheckRow
from coldwright.words.cautions import at_reading
from coldwright.words.report import Caution
from coldwright.words.wording import NBSP, capital, glued, plain


def check_row(
    check: NextCheck, job_url: str, refrigerant: str, decision: Decision | None = None
) -> CheckRow:
    """The check with its cautions and its entry.

    Parameters
    ----------
    check : NextCheck
        What to check next.
    job_url : str
        Address of the job's page.
    refrigerant : str
        Name as on the plate.
    decision : Decision or None
        The choice as it stands, where prices are known.

    Returns
    -------
    CheckRow
        The row's record.
    """
    reading = keys.READINGS.get(check.check)
    cautions: tuple[Caution, ...] = ()
    if check.cautions:
        cautions = (Caution("Caution", check.cautions),)
    elif reading is not None:
        cautions = at_reading(check.check, check.opens_circuit, refrigerant)
    worth = f"about {check.minutes:.0f}{NBSP}min"
    block = f"{job_url}/reading-form?reading={check.check}" if reading is not None else ""
    return CheckRow(
        capital(plain(check.check)),
        check.how,
        worth,
        glued(value_words(check, decision)),
        check.opens_circuit,
        cautions,
        entry_url(job_url, check.check),
        block,
    )


def entry_url(job_url: str, identifier: str) -> str:
    """Where a reading or a sign is entered.

    Parameters
    ----------
    job_url : str
        Address of the job's page.
    identifier : str
        Of a reading or a sign.

    Returns
    -------
    str
        Path on this site.
    """
    if identifier in keys.SIGNS:
        return f"{job_url}?sign={identifier}#sign-{identifier}"
    return f"{job_url}?reading={identifier}#add-reading"

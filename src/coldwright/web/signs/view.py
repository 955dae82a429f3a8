"""The signs of a job: each seen, not seen or not checked."""

from __future__ import annotations

from dataclasses import dataclass, replace

from coldwright.readings import keys
from coldwright.readings.job import Job
from coldwright.web.pieces import Choice
from coldwright.web.signs.context import SignRow, SignsPart
from coldwright.words.wording import capital, plain


@dataclass(frozen=True, slots=True)
class SignDraft:
    """Which sign was asked for, and what was wrong with what came back."""

    key: str = ""
    error: str = ""


def signs_part(job: Job, draft: SignDraft, *, keep_open: bool = False) -> SignsPart:
    """Every sign there is; open when one is asked for.

    Parameters
    ----------
    job : Job
        Whose signs.
    draft : SignDraft
        The sign that was asked for, if one was.
    keep_open : bool
        Open in any case: the technician is working in it.

    Returns
    -------
    SignsPart
        The part's record.
    """
    rows = tuple(
        replace(row, heading=capital(words) if n == 0 else "")
        for group, words in keys.SIGN_GROUPS.items()
        for n, row in enumerate(
            _row(job, key, draft) for key in keys.SIGNS.values() if key.group == group
        )
    )
    seen = sum(row.seen == "yes" for row in rows)
    absent = sum(row.seen == "no" for row in rows)
    rest = len(rows) - seen - absent
    state = f"{seen} seen, {absent} not seen, {rest} not checked"
    return SignsPart(state, keep_open or draft.key in keys.SIGNS, rows)


def _row(job: Job, key: keys.SignKey, draft: SignDraft) -> SignRow:
    sign = job.sign(key.identifier)
    seen = "" if sign is None else ("yes" if sign.seen else "no")
    place = sign.place if sign is not None else None
    said = {"": "not checked", "yes": "seen", "no": "looked for, not seen"}[seen]
    if place is not None:
        said += f", at the {plain(place)}"
    places: tuple[Choice, ...] = ()
    if key.takes_place:
        none = Choice("", "place not stated", place is None)
        places = (none, *(Choice(p, plain(p), p == place) for p in keys.PLACES))
    asked = draft.key == key.identifier
    error = draft.error if asked else ""
    return SignRow(key.identifier, capital(key.label), seen, said, asked, places, error)

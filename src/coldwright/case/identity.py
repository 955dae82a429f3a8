"""What names a job's content; imports nothing that computes, for a page that only looks up."""

from __future__ import annotations

import hashlib
from dataclasses import replace

from coldwright.readings.job import Job, LeakSeen


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

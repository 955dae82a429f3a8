"""Addresses of pages."""

from __future__ import annotations


def job_url(name: str) -> str:
    """Address of a job's page.

    Parameters
    ----------
    name : str
        Name of the job.

    Returns
    -------
    str
        Path on this site.

    Examples
    --------
    >>> job_url("hall")
    '/jobs/hall'
    """
    return f"/jobs/{name}"

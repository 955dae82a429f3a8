"""Addresses of pages."""

from __future__ import annotations


def job_url(name: str) -> str:
    """Address of a job's page."""
    return f"/jobs/{name}"

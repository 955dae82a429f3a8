"""Readings of a job."""

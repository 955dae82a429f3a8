"""A job's log."""

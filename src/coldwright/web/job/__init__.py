"""One job, one long page."""

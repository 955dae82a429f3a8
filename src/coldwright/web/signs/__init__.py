"""Signs of a job."""

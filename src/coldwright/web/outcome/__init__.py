"""What was found at a job."""

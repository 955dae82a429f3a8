"""What the job's refrigerant is."""

"""Raw text -> typed readings: registry, records, job file, plausibility."""

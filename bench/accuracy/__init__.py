"""How often the odds are right, on simulated appliances the ensemble never saw."""

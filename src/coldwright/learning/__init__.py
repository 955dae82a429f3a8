"""What proven jobs teach: shares of faults, updated by a documented Bayesian rule."""

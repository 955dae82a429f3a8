"""Is it worth it: money and climate of each alternative over the same years."""

"""The compressor: physical, by ten coefficients, and the fit of those."""

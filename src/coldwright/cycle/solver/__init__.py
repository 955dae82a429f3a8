"""The closed circuit solved: residuals, solvers, running state, sizing, stability."""

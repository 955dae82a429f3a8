"""The circuit at rest, and how it gets there after a stop."""

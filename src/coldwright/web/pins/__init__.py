"""Three pins nobody has named."""

"""The circuit inside, with the leading fault and sound."""

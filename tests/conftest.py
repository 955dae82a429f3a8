"""Settings for every test."""

from hypothesis import settings

# A deadline would make each property test a timed test, and the first call of a
# kernel compiles.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")

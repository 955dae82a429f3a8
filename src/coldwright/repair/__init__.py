"""The work itself: joints, parts, alternatives, steps. What it costs is the room `worth`."""

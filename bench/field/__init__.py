"""Jobs told by others on public pages: what was found, and what the odds say before it."""

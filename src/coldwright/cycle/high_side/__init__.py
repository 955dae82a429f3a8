"""From the shell's discharge to the drier: loops, condenser, oil cooler, door frame."""

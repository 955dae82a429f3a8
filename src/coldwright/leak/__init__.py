"""Finding a leak: rates, holds, methods, places, the plan."""

"""Property tables, loaded once."""

import pytest

from coldwright.cycle.medium import Medium, medium


@pytest.fixture(scope="session")
def r134a() -> Medium:
    """R134a with its usual oil."""
    return medium("R134a")

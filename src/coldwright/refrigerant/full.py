"""The refrigerants with full properties: those a circuit can be filled with."""

from __future__ import annotations

from coldwright.errors import Refused

FULL_REFRIGERANTS = ("R134a", "R600a", "R12", "R290", "R22")
NO_REFRIGERANT = 0  # code of a row that nobody filled


def refrigerant_code(name: str) -> int:
    """Number that stands for a refrigerant in arrays; never 0, which means none.

    Parameters
    ----------
    name : str
        One of FULL_REFRIGERANTS.

    Returns
    -------
    int
        1 for the first of FULL_REFRIGERANTS. [-]

    Raises
    ------
    Refused
        If the refrigerant has no full tables.
    """
    if name not in FULL_REFRIGERANTS:
        raise Refused(
            f"no full property tables for {name}; known: {', '.join(FULL_REFRIGERANTS)}",
            ("bubble and dew point, densities and charge work", "air side and electrics"),
        )
    return FULL_REFRIGERANTS.index(name) + 1


def refrigerant_of(code: float) -> str:
    """The refrigerant's name by its code, the inverse of `refrigerant_code`.

    Parameters
    ----------
    code : float
        From an array of circuits. [-]

    Returns
    -------
    str
        One of FULL_REFRIGERANTS.

    Raises
    ------
    Refused
        If the code stands for none of them.
    """
    if not 1.0 <= code <= len(FULL_REFRIGERANTS):
        raise Refused("a circuit that no refrigerant was filled into", ("fill it by its code",))
    return FULL_REFRIGERANTS[int(code) - 1]

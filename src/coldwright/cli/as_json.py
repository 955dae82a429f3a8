"""Records as JSON; keys are the field names, which carry their units."""

from __future__ import annotations

import dataclasses
import json
import math
from collections.abc import Sequence
from enum import Enum
from typing import Any


def plain(value: Any) -> Any:
    """Dataclasses as dicts, tuples as lists, numbers that are none (or infinite) as null.

    Parameters
    ----------
    value : Any
        A record, container or number.

    Returns
    -------
    Any
        What JSON can hold.

    Examples
    --------
    >>> plain((1.0, float("nan")))
    [1.0, None]
    """
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        hypotheses = getattr(value, "JOINED", {})
        out = {}
        for f in dataclasses.fields(value):
            held = getattr(value, f.name)
            if f.name in hypotheses:
                out[hypotheses[f.name]] = joined(held)
            else:
                out[f.name] = plain(held)
        return out
    if isinstance(value, dict):
        return {key: plain(item) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [plain(item) for item in value]
    if isinstance(value, Enum):
        return value.name.lower()
    if isinstance(value, float):
        return float(value) if math.isfinite(value) else None
    return value


def joined(names: Sequence[str]) -> str:
    """Two faults or causes at once as JSON names them: joined by '+'.

    Parameters
    ----------
    names : sequence of str
        One or two.

    Returns
    -------
    str
        Such as "undercharge+condenser_air".
    """
    return "+".join(names)


def dumped(value: Any) -> str:
    """The text of a record or of a dict of records.

    Parameters
    ----------
    value : Any
        A record, or a dict of records.

    Returns
    -------
    str
        JSON text.
    """
    return json.dumps(plain(value), indent=2, ensure_ascii=False, allow_nan=False)

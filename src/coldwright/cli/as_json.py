"""Records as JSON; keys are the field names, which carry their units."""

from __future__ import annotations

import dataclasses
import json
import math
from enum import Enum
from typing import Any


def plain(value: Any) -> Any:
    """Dataclasses as dicts, tuples as lists, numbers that are none (or infinite) as null."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: plain(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, dict):
        return {key: plain(item) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [plain(item) for item in value]
    if isinstance(value, Enum):
        return value.name.lower()
    if isinstance(value, float):
        return float(value) if math.isfinite(value) else None
    return value


def dumped(value: Any) -> str:
    """The text of a record or of a dict of records."""
    return json.dumps(plain(value), indent=2, ensure_ascii=False, allow_nan=False)

"""One raw TOML value -> one typed value, or one clear refusal."""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from coldwright.errors import BadInput, nearest, one_line
from coldwright.readings import keys
from coldwright.units import STANDARD_ATMOSPHERE_PA, Basis, parse, parse_pressure, show
from coldwright.units import Dimension as D

Table = Mapping[str, Any]
_UNITLESS = frozenset({D.FRACTION, D.NUMBER})
_SPREAD = {D.TEMPERATURE: D.TEMPERATURE_DIFFERENCE, D.PRESSURE: D.PRESSURE_DIFFERENCE}
# Every key of the file by name, to say in which table a misplaced one belongs.
_HOME = {
    "readings": tuple(keys.READINGS),
    "signs": tuple(keys.SIGNS),
    "plate": ("kind", "year", "refrigerant", "climate_class", *keys.PLATE_QUANTITIES),
    "history": ("complaint", "earlier_repair", *keys.HISTORY_QUANTITIES),
    "taken": ("settled", "instrument", "also_running", "tools", "log", *keys.TAKEN_QUANTITIES),
    "leak": ("air_drawn_in", "left_on_tap", "draught", "circuit_holds", *keys.LEAK_QUANTITIES),
    "circuit": ("layout", "condenser", "evaporator", "compressor_drive", "displacement"),
}


@dataclass(frozen=True, slots=True)
class Reader:
    """Reads values of one file; gauge pressures count from `ambient_pa` [Pa]."""

    file: str
    ambient_pa: float = STANDARD_ATMOSPHERE_PA

    def fail(
        self, key: str, read: object, accepted: str, suggestion: str | None = None
    ) -> BadInput:
        """The error to raise for a key of this file."""
        return BadInput(self.file, key, _as_read(read), accepted, suggestion)

    def table(self, key: str, raw: object) -> Table:
        """A table, as it must be one."""
        if isinstance(raw, Mapping):
            return raw
        raise self.fail(key, raw, f"a table [{key}]")

    def known(self, section: str, table: Iterable[str], allowed: Iterable[str]) -> None:
        """Refuse the first key of the table that is not allowed there."""
        allowed = tuple(allowed)
        for key in table:
            if key in allowed:
                continue
            suggestion = nearest(key, allowed)
            home = next((s for s, names in _HOME.items() if key in names and s != section), None)
            if home is not None:
                suggestion = f"{key} in [{home}]"
            path = f"{section}.{key}" if section else key
            read = f"'{one_line(key)}', an unknown key"
            raise BadInput(self.file, path, read, _listed(key, allowed, suggestion), suggestion)

    def text(self, key: str, raw: object) -> str:
        """Plain text."""
        if isinstance(raw, str):
            return raw
        raise self.fail(key, raw, "text in quotes")

    def flag(self, key: str, raw: object) -> bool:
        """True or false."""
        if isinstance(raw, bool):
            return raw
        raise self.fail(key, raw, "true or false (leave the line out if not checked)")

    def choice(self, key: str, raw: object, allowed: Iterable[str]) -> str:
        """One of the names allowed there."""
        allowed = tuple(allowed)
        if isinstance(raw, str) and raw in allowed:
            return raw
        suggestion = nearest(raw, allowed) if isinstance(raw, str) else None
        raise self.fail(key, raw, "one of " + ", ".join(allowed), suggestion)

    def refrigerant(self, key: str, raw: object) -> str:
        """A refrigerant on the list, however it is spaced: R134a, r-134a, R 134a."""
        squeezed = raw.lower().replace("-", "").replace(" ", "") if isinstance(raw, str) else None
        for name in keys.REFRIGERANTS:
            if name.lower() == squeezed:
                return name
        return self.choice(key, raw, keys.REFRIGERANTS)

    def whole_number(self, key: str, raw: object, low: int, high: int) -> int:
        """A whole number between two bounds."""
        if isinstance(raw, int) and not isinstance(raw, bool) and low <= raw <= high:
            return raw
        raise self.fail(key, raw, f"a whole number from {low} to {high}")

    def quantity(self, path: str, raw: object, key: keys.QuantityKey | keys.ReadingKey) -> float:
        """SI value of a quantity within what its key allows."""
        return self.pressure_or_quantity(path, raw, key)[0]

    def pressure_or_quantity(
        self, path: str, raw: object, key: keys.QuantityKey | keys.ReadingKey
    ) -> tuple[float, bool]:
        """SI value, and whether a pressure was taken as gauge for want of a word."""
        text = self._written(path, raw, key.dimension)
        assumed = False
        if key.dimension is D.PRESSURE:
            pressure = parse_pressure(text, ambient_pa=self.ambient_pa, file=self.file, key=path)
            value, assumed = pressure.pascal_absolute, pressure.basis is Basis.GAUGE_ASSUMED
        else:
            value = parse(text, key.dimension, file=self.file, key=path)
        if not key.low <= value <= key.high:
            raise self.fail(path, raw, self._range(key))
        return value, assumed

    def uncertainty(self, path: str, raw: object, key: keys.ReadingKey, value: float) -> float:
        """One standard deviation, in SI; a percentage is of the reading where that makes sense.

        Between a millionth of the reading and half of what the key allows: beyond either it
        is no statement on the reading.
        """
        dimension = key.dimension
        text = raw.strip() if isinstance(raw, str) else raw
        relative = isinstance(text, str) and text.endswith("%") and dimension is not D.FRACTION
        if relative and dimension not in _SPREAD:
            sd = abs(value) * parse(str(text), D.FRACTION, file=self.file, key=path)
        else:
            spread = _SPREAD.get(dimension, dimension)
            sd = parse(self._written(path, text, spread), spread, file=self.file, key=path)
        if not (math.isfinite(sd) and sd > 0.0):
            raise self.fail(path, raw, "an uncertainty above zero")
        most, least = 0.5 * (key.high - key.low), max(1e-6 * abs(value), 1e-9)
        if not least <= sd <= most:
            spread = _SPREAD.get(dimension, dimension)
            raise self.fail(
                path, raw, f"an uncertainty of {show(least, spread)} to {show(most, spread)}"
            )
        return sd

    def _written(self, path: str, raw: object, dimension: D) -> str:
        if isinstance(raw, str):
            return raw
        if isinstance(raw, int | float) and not isinstance(raw, bool) and dimension in _UNITLESS:
            if math.isfinite(raw):
                return repr(raw)
            raise self.fail(path, raw, f"a finite number, {dimension.example}")
        number = isinstance(raw, int | float) and not isinstance(raw, bool)
        read = f"{raw}, a number without a unit" if number else raw
        accepted = f"{dimension.words} such as {dimension.example}"
        raise BadInput(self.file, path, read if number else _as_read(raw), accepted)

    def _range(self, key: keys.QuantityKey | keys.ReadingKey) -> str:
        low = show(key.low, key.dimension, ambient_pa=self.ambient_pa)
        if math.isinf(key.high):
            return f"{key.label}, {low} or more"
        return f"{key.label}, {low} to {show(key.high, key.dimension, ambient_pa=self.ambient_pa)}"


def _listed(word: str, allowed: tuple[str, ...], suggestion: str | None) -> str:
    """All that is allowed; beside a suggestion a long list is cut to its nearest words."""
    if suggestion is None or len(allowed) <= 12:
        return "one of " + ", ".join(allowed)
    near = difflib.get_close_matches(word, allowed, n=3, cutoff=0.3) or allowed[:3]
    return f"one of {len(allowed)} keys such as {', '.join(near)} (docs/glossary.md has them all)"


def _as_read(raw: object) -> str:
    """A raw value as a person would recognise it."""
    if raw is None:
        return "nothing"
    if isinstance(raw, str):
        return f"'{one_line(raw)}'"
    if isinstance(raw, bool):
        return str(raw).lower()
    if isinstance(raw, Mapping):
        return "a table"
    if isinstance(raw, list):
        return "a list"
    return one_line(str(raw))

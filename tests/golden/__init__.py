"""Golden data: published or independently computed values, each with its recipe.

A JSON file holds "source", "known" (how the values are known), "recipe" (how
they were made) and "cases"; units are in the keys. A CSV file starts with `#`
lines saying the same.
"""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent


def load_golden(name: str) -> list[dict[str, Any]]:
    """The cases of a golden JSON file, refused if its provenance is missing."""
    content = json.loads((HERE / name).read_text(encoding="utf-8"))
    missing = [key for key in ("source", "known", "recipe") if not content.get(key)]
    if missing or not content["cases"]:
        raise ValueError(f"{name}: needs {missing or 'cases'}")
    return content["cases"]


def load_golden_csv(name: str) -> list[dict[str, str]]:
    """The rows of a golden CSV file as strings, comment lines left out."""
    lines = (HERE / name).read_text(encoding="utf-8").splitlines()
    rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    if not lines[0].startswith("#") or not rows:
        raise ValueError(f"{name}: needs a provenance comment and rows")
    return rows

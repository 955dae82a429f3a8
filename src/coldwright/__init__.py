"""Coldwright: a physical model of the household refrigerator in front of you.

Compiled kernels are cached on disk under a name made from their sources:
numba notices a change in a kernel's own file but not in the kernels it calls.
"""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

__version__ = "0.1.0"

_KERNEL_ROOMS = ("refrigerant", "circuit", "cycle")
_KERNEL_FILES = ("diagnosis/likelihood.py",)


def kernel_digest() -> str:
    """Short digest of every source that compiled code may come from."""
    digest = hashlib.sha256()
    here = Path(__file__).parent
    paths = [p for room in _KERNEL_ROOMS for p in sorted((here / room).rglob("*.py"))]
    for path in (*paths, *(here / name for name in _KERNEL_FILES)):
        digest.update(path.relative_to(here).as_posix().encode())
        digest.update(path.read_bytes())
    return digest.hexdigest()[:12]


def cache_folder() -> Path:
    """Folder for tables and compiled code: COLDWRIGHT_CACHE, else the user's cache folder."""
    named = os.environ.get("COLDWRIGHT_CACHE")
    if named:
        return Path(named)
    base = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "coldwright"


os.environ.setdefault("NUMBA_CACHE_DIR", str(cache_folder() / f"compiled-{kernel_digest()}"))

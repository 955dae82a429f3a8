"""Spread a compiled loop over the machine's cores with plain threads.

The kernels release the interpreter lock, so threads scale as well as numba's
own parallel loops and take nested tables, which those do not.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from coldwright.errors import BadInput

MOST_THREADS = 1024
CHUNK = 250  # members per piece: short enough to balance and to report progress


def in_batches(
    loop: Callable[[int, int], None],
    count: int,
    progress: Callable[[int, int], None] | None = None,
) -> None:
    """Run ``loop(first, last)`` over ``range(count)`` in pieces on all cores.

    Parameters
    ----------
    loop : callable
        Works on members first..last-1 and releases the lock.
    count : int
        Number of members. [-]
    progress : callable, optional
        Told (done, count) after each piece.
    """
    pieces = [(i, min(i + CHUNK, count)) for i in range(0, count, CHUNK)]
    workers = max(1, min(_threads() or os.cpu_count() or 1, len(pieces)))
    if workers == 1:
        for first, last in pieces:
            loop(first, last)
            if progress is not None:
                progress(last, count)
        return
    with ThreadPoolExecutor(workers) as pool:
        done = 0
        for (first, last), _ in zip(pieces, pool.map(lambda p: loop(*p), pieces), strict=True):
            done += last - first
            if progress is not None:
                progress(done, count)


def _threads() -> int:
    """COLDWRIGHT_THREADS; 0 where it is not set."""
    named = os.environ.get("COLDWRIGHT_THREADS", "").strip() or "0"
    if not (named.isascii() and named.isdigit() and int(named) <= MOST_THREADS):
        accepted = f"a whole number from 1 to {MOST_THREADS}, or 0 for all cores"
        raise BadInput("environment", "COLDWRIGHT_THREADS", f"'{named}'", accepted)
    return int(named)

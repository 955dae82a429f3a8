"""Spread a compiled loop over the machine's cores with plain threads.

The kernels release the interpreter lock, so threads scale as well as numba's
own parallel loops and take nested tables, which those do not.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

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
    cores = int(os.environ.get("COLDWRIGHT_THREADS", "0")) or os.cpu_count() or 1
    workers = max(1, min(cores, len(pieces)))
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

"""How every kernel is compiled.

Division by zero gives infinity, as in numpy, and the solvers refuse it. Products
and sums may be fused and divisions turned into products: last digits move, and
NaN and infinity keep their meaning.
"""

from __future__ import annotations

from numba import njit

kernel = njit(
    cache=True, nogil=True, error_model="numpy", fastmath={"contract", "arcp", "nsz"}
)  # fmt: skip

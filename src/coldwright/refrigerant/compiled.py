"""How every kernel is compiled, and where compiled code is kept.

Division by zero gives infinity, as in numpy, and the solvers refuse it. Products
and sums may be fused and divisions turned into products: last digits move, and
NaN and infinity keep their meaning.

Numba's own cache follows one setting for the whole process, believes what it
finds and lets two processes write one file. Ours has its own folder whoever
imported numba first, checks every byte, and makes again whatever cannot be read.
"""

from __future__ import annotations

import hashlib
import pickle
import platform
import secrets
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numba
from numba import njit
from numba.core.compiler import CompileResult
from numba.core.serialize import dumps

from coldwright import cache_folder, kernel_digest
from coldwright.durable import keep, kept, sweep

_compile = njit(nogil=True, error_model="numpy", fastmath={"contract", "arcp", "nsz"})
_DIGEST = kernel_digest()


def kernel(function: Callable[..., Any]) -> Any:
    """A compiled function; what is compiled is kept on disk."""
    made = _compile(function)
    made._cache = KernelCache(function)
    return made


def compiled_folder() -> Path:
    """Where compiled code of these sources lies."""
    return cache_folder() / f"compiled-{_DIGEST}"


class KernelCache:
    """Compiled code of one kernel, one file for each signature.

    Any error in here means: compile again. Loading is by pickle, so the folder must be
    the user's own, as numba's is.
    """

    def __init__(self, function: Callable[..., Any]) -> None:
        self._function = function
        line = function.__code__.co_firstlineno
        self._stem = f"{function.__module__.removeprefix('coldwright.')}.{function.__name__}-{line}"
        self._enabled = True

    @property
    def cache_path(self) -> str:
        """Folder of the files."""
        return str(compiled_folder())

    def enable(self) -> None:
        """Keep and look up."""
        self._enabled = True

    def disable(self) -> None:
        """Neither keep nor look up."""
        self._enabled = False

    def flush(self) -> None:
        """Forget what was kept of this kernel."""
        for path in self._files():
            path.unlink(missing_ok=True)

    def load_overload(self, sig: Any, target_context: Any) -> Any:
        """The compiled function of a signature; None where it has to be compiled."""
        if not self._enabled:
            return None
        try:
            target_context.refresh()
            key = self._key(sig, target_context.codegen())
            for path in self._files():
                payload = kept(path)
                if payload is None:
                    continue
                found, reduced = pickle.loads(payload)
                if found == key:
                    return CompileResult._rebuild(target_context, *pickle.loads(reduced))
        except Exception:
            return None  # of another version, or stranger: compile again
        return None

    def save_overload(self, sig: Any, data: Any) -> None:
        """Keep a compiled function if it can be kept."""
        if not self._enabled:
            return
        try:
            if data.library.has_dynamic_globals or any(not x.can_cache for x in data.lifted):
                return
            key = self._key(sig, data.codegen)
            payload = dumps((key, dumps(data._reduce())))
        except Exception:
            return  # works all the same, from memory
        folder = compiled_folder()
        sweep(folder)
        for path in self._files():
            if kept(path) is None:  # torn: nobody will miss it
                path.unlink(missing_ok=True)
        keep(folder / f"{self._stem}.{secrets.token_hex(4)}.{_PLATFORM}", payload)

    def _files(self) -> list[Path]:
        return sorted(compiled_folder().glob(f"{self._stem}.*.{_PLATFORM}"))

    def _key(self, sig: Any, codegen: Any) -> Any:
        """All that compiled code depends on beside the sources, which name the folder."""
        code = hashlib.sha256(self._function.__code__.co_code).hexdigest()
        return sig, codegen.magic_tuple(), code


_PLATFORM = f"py{sys.version_info[0]}{sys.version_info[1]}-{platform.machine()}-{numba.__version__}"

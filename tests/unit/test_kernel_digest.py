"""The name of the cache of compiled code changes with every source of a kernel."""

from pathlib import Path

import coldwright


def test_every_file_with_a_kernel_is_in_the_digest():
    here = Path(coldwright.__file__).parent
    with_kernels = {
        p.relative_to(here).as_posix()
        for p in here.rglob("*.py")
        if "@njit" in p.read_text(encoding="utf-8")
    }
    inside = {f for f in with_kernels if f.split("/")[0] in coldwright._KERNEL_ROOMS} | set(
        coldwright._KERNEL_FILES
    )
    assert with_kernels <= inside

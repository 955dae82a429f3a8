"""Files that are whole or not there: written beside the target, forced to disk, then renamed.

A machine may lose power between any two lines here: the target then holds its
old bytes or its new ones. What can be made again (tables, compiled kernels)
carries a checksum and is not believed without it.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import re
import secrets
import time
from pathlib import Path

STRAY_S = 3600.0  # age from which a half-written neighbour has no writer any more [s], ours
_HALF = re.compile(r"\..+\.[0-9a-f]{12}\.half")
_MARK = b"coldwright kept 1 "  # then the SHA-256 of the rest in hexadecimal and a line's end
_HEAD = len(_MARK) + 64 + 1


def write_whole(target: Path, data: bytes) -> None:
    """Write a file so that a crash leaves the old one or the new one.

    A link is followed, so that it stays a link. A new file gets the mode the umask
    allows, an old one keeps its own.

    Parameters
    ----------
    target : Path
        File to make or replace.
    data : bytes
        All of it.

    Raises
    ------
    OSError
        If it cannot be written; the target is then as it was.
    """
    target = Path(os.path.realpath(target))
    half = target.with_name(f".{target.name[:80]}.{secrets.token_hex(6)}.half")
    try:
        # Made with open, not with tempfile, so that the umask has its say.
        handle = os.open(half, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _BINARY, 0o666)
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        with contextlib.suppress(FileNotFoundError):
            os.chmod(half, target.stat().st_mode & 0o777)
        os.replace(half, target)
    except BaseException:
        with contextlib.suppress(OSError):
            half.unlink()
        raise
    _settle(target.parent)


_BINARY = getattr(os, "O_BINARY", 0)  # Windows translates line ends without it


def _settle(folder: Path) -> None:
    """Force the new name to disk; not every system lets a folder be opened."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def sweep(folder: Path, older_s: float = STRAY_S) -> int:
    """Remove what writers that were killed left behind; how many files that were.

    Parameters
    ----------
    folder : Path
        Where `write_whole` wrote.
    older_s : float
        Age from which a half-written file is stray. [s]
    """
    gone = 0
    with contextlib.suppress(OSError):
        for path in folder.iterdir():
            if _HALF.fullmatch(path.name):
                with contextlib.suppress(OSError):
                    if time.time() - path.lstat().st_mtime >= older_s:
                        path.unlink()
                        gone += 1
    return gone


def keep(path: Path, payload: bytes) -> bool:
    """Keep bytes that can be made again, under a checksum; False where the disk refuses.

    Parameters
    ----------
    path : Path
        Where; its folder is made.
    payload : bytes
        What.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        digest = hashlib.sha256(payload).hexdigest().encode()
        write_whole(path, _MARK + digest + b"\n" + payload)
    except (OSError, ValueError):
        return False  # a read-only home only costs making it again
    return True


def kept(path: Path) -> bytes | None:
    """Bytes kept before; None where they are absent, cut short or altered.

    Parameters
    ----------
    path : Path
        As given to `keep`.
    """
    try:
        data = path.read_bytes()
    except (OSError, ValueError):
        return None
    payload = data[_HEAD:]
    head = _MARK + hashlib.sha256(payload).hexdigest().encode() + b"\n"
    return payload if data[:_HEAD] == head else None

"""What proven jobs told of their families, kept on disk: a diagnosis reads it, nothing more."""

from __future__ import annotations

import contextlib
import hashlib
import json
from pathlib import Path

from coldwright import __version__, cache_folder
from coldwright.catalogue.families import PARAMETER_SET
from coldwright.durable import keep, kept
from coldwright.learning.intentions import Told
from coldwright.learning.proven import content_of
from coldwright.readings.job import Job

MEMBERS = 800
SEED = 20260102


class ToldStore:
    """What jobs told, kept under all that it depends on."""

    def __init__(self, folder: Path | None = None) -> None:
        self._folder = (folder or cache_folder()) / "told"

    def known(self, job: Job) -> Told | str | None:
        """What was worked out for that job; None where it was not yet."""
        with contextlib.suppress(OSError, ValueError, KeyError, TypeError):
            told = json.loads(kept(self._path(job)) or b"null")
            if "silent" in told:
                return str(told["silent"])
            (a, b), (c, d) = told["variance"]
            first, second = told["mean"]
            return Told(
                content_of(job), job.plate.refrigerant, job.plate.kind,
                (float(first), float(second)),
                ((float(a), float(b)), (float(c), float(d))),
            )  # fmt: skip
        return None

    def keep(self, job: Job, found: Told | str) -> None:
        """Keep it; nothing happens if it cannot be written."""
        told = (
            {"mean": found.mean, "variance": found.variance}
            if isinstance(found, Told)
            else {"silent": found}
        )
        keep(self._path(job), json.dumps(told).encode())

    def _path(self, job: Job) -> Path:
        depends = (__version__, PARAMETER_SET, MEMBERS, SEED, repr(job))
        return self._folder / f"{hashlib.sha256(repr(depends).encode()).hexdigest()[:24]}.json"

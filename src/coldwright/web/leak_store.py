"""Leak plans kept by what the job says, as `odds_store` keeps diagnoses."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from threading import Lock
from typing import TYPE_CHECKING

from coldwright.readings.job import Job

if TYPE_CHECKING:
    from coldwright.leak.search import SearchReport

_KEPT = 64


class LeakStore:
    """Calls `leak_search` once for each content of a job."""

    def __init__(self, search: Callable[[Job, Mapping[str, int]], SearchReport]) -> None:
        self._search = search
        self._kept: OrderedDict[str, SearchReport] = OrderedDict()
        self._guard = Lock()

    def known(self, job: Job) -> SearchReport | None:
        """The plan of that job if it was worked out and is still kept."""
        with self._guard:
            return self._kept.get(_key(job))

    def work_out(self, job: Job, others: Iterable[Job]) -> SearchReport:
        """The plan of a job, the finds in the shop's other jobs counted in."""
        from coldwright.usecases.leak import shop_finds

        found = self._search(job, shop_finds(others))
        with self._guard:
            self._kept[_key(job)] = found
            while len(self._kept) > _KEPT:
                self._kept.popitem(last=False)
        return found


def _key(job: Job) -> str:
    return repr(replace(job, source="", title=""))

"""Running jobs on this machine: one after another, or on all cores."""

import multiprocessing
import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from typing import Final, TypeVar

from ropewright.errors import OutputError

Work = TypeVar("Work")
Result = TypeVar("Result")

MOST_DEATHS: Final = 5
"""Dying workers that are put up with; a job that kills its worker every time ends the run."""


@dataclass(frozen=True, slots=True)
class OneByOne:
    """Does one job after another in this process."""

    def run(
        self, work: Callable[[Work], Result], jobs: Sequence[Work], /
    ) -> Iterator[tuple[int, Result]]:
        """Number and result of each job, in order."""
        for number, job in enumerate(jobs):
            yield number, work(job)


@dataclass(frozen=True, slots=True)
class AllCores:
    """Does jobs in several processes, each started fresh.

    ``workers`` is their number; without one, as many as there are cores.
    """

    workers: int | None = None

    def run(
        self, work: Callable[[Work], Result], jobs: Sequence[Work], /
    ) -> Iterator[tuple[int, Result]]:
        """Number and result of each job as it is done.

        Raises
        ------
        OutputError
            If workers die again and again.
        """
        left = dict(enumerate(jobs))
        for _ in range(MOST_DEATHS):
            try:
                for number, result in self._round(work, left):
                    del left[number]
                    yield number, result
            except BrokenProcessPool:
                continue
            return
        raise OutputError(
            f"worker processes died {MOST_DEATHS} times; {len(left)} of {len(jobs)} files are left",
            hint="memory may be short: try fewer --workers; what was counted is kept",
        )

    def _round(
        self, work: Callable[[Work], Result], left: dict[int, Work]
    ) -> Iterator[tuple[int, Result]]:
        context = multiprocessing.get_context("spawn")
        count = min(self.workers or os.cpu_count() or 1, max(len(left), 1))
        with ProcessPoolExecutor(count, mp_context=context) as pool:
            waiting = {pool.submit(work, job): number for number, job in left.items()}
            try:
                for done in as_completed(waiting):
                    yield waiting[done], done.result()
            finally:
                pool.shutdown(wait=False, cancel_futures=True)

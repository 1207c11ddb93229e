"""Running jobs on a Dask cluster that is already there, or on one started for the occasion."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, TypeVar

from ropewright.errors import InputError, OutputError

Work = TypeVar("Work")
Result = TypeVar("Result")

TRIES: Final = 5
"""How often a job that failed is given out again; one that kills workers ends sooner."""
WAIT_S: Final = 30


@dataclass(frozen=True, slots=True)
class Cluster:
    """Does jobs on the workers of a scheduler at an address such as ``tcp://host:8786``."""

    scheduler: str

    def run(
        self, work: Callable[[Work], Result], jobs: Sequence[Work], /
    ) -> Iterator[tuple[int, Result]]:
        """Number and result of each job as it is done.

        Raises
        ------
        InputError
            If the extra for clusters is not installed, or nobody answers at the address.
        OutputError
            If a job's workers die again and again.
        """
        try:
            from distributed import Client, KilledWorker, as_completed
        except ImportError:
            raise InputError(
                field="--scheduler",
                expected="the extra 'fleet': pip install 'ropewright[fleet]'",
                given="it is not installed",
            ) from None
        try:
            client = Client(  # type: ignore[no-untyped-call]
                self.scheduler, timeout=WAIT_S, set_as_default=False
            )
        except (OSError, ValueError) as problem:
            raise InputError(
                field="--scheduler",
                expected="the address of a running scheduler, like tcp://host:8786",
                given=self.scheduler,
            ) from problem
        with client, client.as_current():
            waiting = {
                client.submit(_do, work, job, pure=False, retries=TRIES): number
                for number, job in enumerate(jobs)
            }
            for done in as_completed(list(waiting)):  # type: ignore[no-untyped-call]
                number = waiting[done]
                try:
                    result = done.result()
                except KilledWorker as problem:
                    raise OutputError(
                        f"{problem.allowed_failures + 1} workers died over job {number + 1} of "
                        f"{len(jobs)}",
                        hint="what was counted is kept: run it again",
                    ) from problem
                yield number, result
                done.release()


def _do(work: Callable[[Work], Result], job: Work) -> Result:
    return work(job)

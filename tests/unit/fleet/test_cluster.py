"""A cluster that loses a worker midway gives the same result as one process alone."""

import contextlib
import os
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest
from distributed import Client, LocalCluster

from ropewright.desk.fleet import FileCount, FleetJob, fleet_rows, run_fleet
from ropewright.desk.wear_data import fleet_as_data
from ropewright.fleet import Cluster, OneByOne, fleet_jobs
from tests.unit.fleet.test_fleet import make_fleet
from tests.unit.fleet.workers import TODAY, read_case_at, work


@contextlib.contextmanager
def two_workers() -> Iterator[LocalCluster]:
    """Start a scheduler and two worker processes, each looked after by a nanny."""
    cluster = LocalCluster(  # type: ignore[no-untyped-call]
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None,
        silence_logs=50,
    )  # fmt: skip
    try:
        yield cluster
    finally:
        cluster.close(timeout=20)


def run_and_kill(
    cluster: LocalCluster, jobs: tuple[FleetJob, ...], keep: Path, *, after: int
) -> tuple[tuple[FileCount, ...], int]:
    """Run a fleet; kill one worker process once so many results are in."""
    with Client(cluster) as client:  # type: ignore[no-untyped-call]
        first = sorted(client.run(os.getpid).values())[0]
    seen: list[FileCount] = []

    def told(done: FileCount) -> None:
        seen.append(done)
        if len(seen) == after:
            os.kill(first, signal.SIGKILL)

    done = run_fleet(jobs, work(str(keep)), Cluster(cluster.scheduler_address), told=told)
    assert len(seen) == len(jobs)
    return done, first


def same_result(jobs: tuple[FleetJob, ...], *both: tuple[FileCount, ...]) -> bool:
    """Tell whether two runs come to the same rows, to the last digit."""
    cases = {name: read_case_at(name) for name in {job.case for job in jobs}}
    one, other = (fleet_as_data(fleet_rows(done, cases, TODAY), TODAY) for done in both)
    return one == other


def _check(folder: Path, ropes: int, months: int, *, days: int, lifts: int) -> None:
    jobs = fleet_jobs(make_fleet(folder, ropes, months, days=days, lifts=lifts))
    alone = run_fleet(jobs, work(str(folder / "alone")), OneByOne())
    assert not [done.problem for done in alone if done.problem]
    with two_workers() as cluster:
        done, killed = run_and_kill(cluster, jobs, folder / "cluster", after=len(jobs) // 3)
        with Client(cluster) as client:  # type: ignore[no-untyped-call]
            assert killed not in client.run(os.getpid).values()
    assert not any(one.kept for one in done)
    assert same_result(jobs, alone, done)


def test_a_worker_killed_midway_changes_nothing(tmp_path: Path) -> None:
    _check(tmp_path, 3, 4, days=2, lifts=3)


@pytest.mark.proof
def test_two_hundred_crane_years_with_a_worker_killed_midway(tmp_path: Path) -> None:
    """200 cranes, a log for each of 12 months."""
    _check(tmp_path, 200, 12, days=12, lifts=6)

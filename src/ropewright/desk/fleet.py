"""Wear of many ropes from many logs: one small job per file, run by whoever has hands free.

Every job gives whole numbers, and they are added up in one fixed order, so that the result is
the same however and by whom the jobs were run.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Protocol, TypeVar

from ropewright.desk.duty_counting import count_log
from ropewright.desk.duty_pieces import GroupCount, duty_of_counts
from ropewright.desk.wearing import ALL_MODELS, WearResult, result_of
from ropewright.errors import RopewrightError
from ropewright.inspection import Dossier
from ropewright.wear.model import DutyChunk
from ropewright.wear.models import ModelName
from ropewright.wear.settings import Counting

Work = TypeVar("Work")
Result = TypeVar("Result")


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class FleetJob:
    """One log file of one rope: addresses only, so that it travels lightly."""

    case: str
    log: str
    mapping: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FileCount:
    """What one log file came to: counts by set-up, or why it could not be counted.

    ``key`` is the hash of everything the result depends on; ``kept`` says that it was there
    from an earlier run.
    """

    job: FleetJob
    key: str = ""
    groups: tuple[GroupCount, ...] = ()
    before: int = 0
    after: int = 0
    problem: str = ""
    kept: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class FleetRow:
    """One rope of a fleet: its wear, and the files that could not be counted."""

    case: str
    result: WearResult | None
    files: int
    problems: tuple[str, ...] = ()


class LogOpener(Protocol):
    """Opens a log for counting."""

    def __call__(self, log: str, mapping: str, /) -> tuple[Iterable[DutyChunk], Counting]:
        """The log piece by piece and how to count it, or an input error naming the file."""


class Keeper(Protocol):
    """Keeps results of files beside them."""

    def key_of(self, job: FleetJob, /) -> str:
        """Hash of case, log, mapping and software."""

    def load(self, job: FleetJob, key: str, /) -> FileCount | None:
        """The kept result of that very hash, none if there is none."""

    def save(self, done: FileCount, /) -> None:
        """Keep a result."""


class Crew(Protocol):
    """Runs jobs: in this process, on all cores, on a cluster."""

    def run(
        self, work: Callable[[Work], Result], jobs: Sequence[Work], /
    ) -> Iterator[tuple[int, Result]]:
        """Number and result of each job as it is done, every job exactly once."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FileWork:
    """The work on one file; it can be sent to another process.

    ``today`` is the day of the question; later samples do not count.
    """

    read_case: Callable[[str], Dossier]
    open_log: LogOpener
    keeper: Keeper
    today: date

    def __call__(self, job: FleetJob) -> FileCount:
        """Count one file, or take the kept result of the same bytes."""
        try:
            return self._done(job)
        except RopewrightError as problem:
            return FileCount(job=job, problem=str(problem))

    def _done(self, job: FleetJob) -> FileCount:
        key = self.keeper.key_of(job)
        kept = self.keeper.load(job, key)
        if kept is not None:
            return kept
        chunks, counting = self.open_log(job.log, job.mapping)
        duty = count_log(self.read_case(job.case), chunks, counting, self.today, models=())
        done = FileCount(job=job, key=key, groups=duty.groups, before=duty.before, after=duty.after)
        self.keeper.save(done)
        return done


def run_fleet(
    jobs: Sequence[FleetJob],
    work: Callable[[FleetJob], FileCount],
    crew: Crew,
    *,
    told: Callable[[FileCount], None] = lambda _: None,
) -> tuple[FileCount, ...]:
    """Run all jobs and give their results in the order of the jobs.

    Parameters
    ----------
    jobs
        One per file.
    work
        What to do with one.
    crew
        Who runs them.
    told
        Called with each result as it comes in.
    """
    found: dict[int, FileCount] = {}
    for number, done in crew.run(work, jobs):
        found[number] = done
        told(done)
    return tuple(found[number] for number in range(len(jobs)))


def fleet_rows(
    done: Sequence[FileCount],
    cases: Mapping[str, Dossier],
    today: date,
    *,
    model: ModelName | None = None,
) -> tuple[FleetRow, ...]:
    """Put the files of each rope together; the most worn rope first is the reader's business.

    Parameters
    ----------
    done
        Results of all files.
    cases
        The ropes by the address of their case file.
    today
        The day of the question.
    model
        The model, as for one rope.
    """
    rows = []
    for case in sorted({one.job.case for one in done}):
        ours = sorted((one for one in done if one.job.case == case), key=lambda one: one.job)
        problems = [one.problem for one in ours if one.problem]
        groups, overlaps = _one_after_another(ours)
        problems += overlaps
        result = None
        if groups:
            try:
                duty = duty_of_counts(cases[case], groups, models=ALL_MODELS)
                names = [one.job.log for one in ours if not one.problem]
                result = result_of(cases[case], duty, today, model=model, log=names)
            except RopewrightError as problem:
                problems.append(str(problem))
        rows.append(FleetRow(case=case, result=result, files=len(ours), problems=tuple(problems)))
    return tuple(rows)


def _one_after_another(ours: Sequence[FileCount]) -> tuple[list[GroupCount], list[str]]:
    """Counts in order of time; a file whose time was counted already is left out, by name."""
    parts = [(group, one.job.log) for one in ours for group in one.groups]
    parts.sort(key=lambda part: (part[0].count.first_ms or 0, part[1]))
    groups: list[GroupCount] = []
    problems: list[str] = []
    until = None
    for group, log in parts:
        first, last = group.count.first_ms, group.count.last_ms
        if until is not None and first is not None and first <= until:
            problems.append(f"{log}: its time overlaps with another log; left out")
            continue
        groups.append(group)
        until = last if last is not None else until
    return groups, problems

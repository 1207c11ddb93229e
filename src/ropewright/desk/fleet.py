"""Wear of many ropes from many logs: one small job per file, run by whoever has hands free.

Every job gives whole numbers, and they are added up in one fixed order, so that the result is
the same however and by whom the jobs were run.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final, Protocol, TypeVar

from ropewright.desk.duty_counting import OpenedDuty, count_lifts, count_log
from ropewright.desk.duty_pieces import GroupCount, duty_of_counts
from ropewright.desk.wearing import result_of
from ropewright.errors import RopewrightError
from ropewright.inspection import Dossier
from ropewright.wear.agreement import Agreement
from ropewright.wear.models import ModelName
from ropewright.wear.packed import pack_counts, unpack_counts
from ropewright.wear.rows import wear_rows
from ropewright.wear.top_sections import WornSection

STEP_M: Final = 0.5
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

    ``key`` is the hash of everything the result depends on; ``packed`` are the counts, in a few
    bytes; ``kept`` says that they were there from an earlier run.
    """

    job: FleetJob
    key: str = ""
    packed: bytes = b""
    before: int = 0
    after: int = 0
    problem: str = ""
    kept: bool = False

    def groups(self) -> tuple[GroupCount, ...]:
        """The counts, unpacked."""
        if not self.packed:
            return ()
        return tuple(
            GroupCount(
                first=date.fromisoformat(about["first"]),
                last=date.fromisoformat(about["last"]),
                days=float(about["days"]),
                count=count,
            )
            for about, count in unpack_counts(self.packed)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class FleetRow:
    """One rope of a fleet in short: its wear, and the files that could not be counted.

    ``full_bends`` [-] is the damage in even steps whose edges are ``edges_m``; without a model
    nothing could be counted.  ``clock`` [-] are days and the damage added up until then.
    """

    case: str
    files: int
    problems: tuple[str, ...] = ()
    rope_id: str = ""
    model: str = ""
    days: float = 0.0
    lifts: int = 0
    bent_m: float = 0.0
    edges_m: tuple[float, ...] = ()
    full_bends: tuple[float, ...] = ()
    top: tuple[WornSection, ...] = ()
    agreement: Agreement | None = None
    clock: tuple[tuple[date, float], ...] = ()


class LogOpener(Protocol):
    """Opens a log for counting."""

    def __call__(self, log: str, mapping: str, /) -> OpenedDuty:
        """The log and how to count it, or an input error naming the file."""


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
        opened, rope = self.open_log(job.log, job.mapping), self.read_case(job.case)
        if opened.records:
            duty = count_lifts(rope, opened.records, opened.counting, self.today, models=())
        else:
            duty = count_log(rope, opened.chunks, opened.counting, self.today, models=())
        parts = [
            ({"first": str(one.first), "last": str(one.last), "days": one.days}, one.count)
            for one in duty.groups
        ]
        done = FileCount(
            job=job, key=key, packed=pack_counts(parts), before=duty.before, after=duty.after
        )
        if not opened.records:  # a list without days stands for all the time up to today
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
    return tuple(
        _row(case, [one for one in done if one.job.case == case], cases[case], today, model)
        for case in sorted({one.job.case for one in done})
    )


def _row(
    case: str, ours: Sequence[FileCount], rope: Dossier, today: date, model: ModelName | None
) -> FleetRow:
    ours = sorted(ours, key=lambda one: one.job)
    problems = [one.problem for one in ours if one.problem]
    try:
        groups, overlaps = _one_after_another(ours)
        problems += overlaps
        if not groups:
            return FleetRow(case=case, files=len(ours), problems=tuple(problems))
        duty = duty_of_counts(rope, groups, models=[model] if model else ["cubic", "bends"])
        found = result_of(rope, duty, today, model=model)
    except RopewrightError as problem:
        return FleetRow(case=case, files=len(ours), problems=(*problems, str(problem)))
    edges, by_cause = wear_rows(found.wear, STEP_M)
    return FleetRow(
        case=case,
        files=len(ours),
        problems=tuple(problems),
        rope_id=found.rope_id,
        model=found.card.name,
        days=found.days,
        lifts=found.duty.lifts,
        bent_m=found.wear.bent_m,
        edges_m=tuple(edges),
        full_bends=tuple(sum(cells) for cells in zip(*by_cause, strict=True)),
        top=found.top,
        agreement=found.agreement,
        clock=() if found.clock is None else found.clock.readings,
    )


def _one_after_another(ours: Sequence[FileCount]) -> tuple[list[GroupCount], list[str]]:
    """Counts in order of time; a file whose time was counted already is left out, by name."""
    parts = [(group, one.job.log) for one in ours for group in one.groups()]
    parts.sort(key=lambda part: (part[0].first, part[0].count.first_ms or 0, part[1]))
    groups: list[GroupCount] = []
    problems: list[str] = []
    for group, log in parts:
        if groups and _overlap(groups[-1], group):
            problems.append(f"{log}: its time overlaps with another log; left out")
            continue
        groups.append(group)
    return groups, problems


def _overlap(before: GroupCount, after: GroupCount) -> bool:
    """Whether two counts share time: by moments, or by days where lifts were only listed."""
    until, since = before.count.last_ms, after.count.first_ms
    if until is None or since is None:
        return after.first <= before.last
    return since <= until

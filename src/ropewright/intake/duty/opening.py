"""Opens one or several logs for counting: in order of time, with the settings that fit them."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import chain, pairwise
from pathlib import Path
from typing import Final

import numpy as np

from ropewright.errors import DutyLogError
from ropewright.intake.duty.counting import counting_of
from ropewright.intake.duty.lift_list import LiftRecord, kind_of_file, read_lifts
from ropewright.intake.duty.mapping import LogMapping, read_mapping
from ropewright.intake.duty.reading import duty_log
from ropewright.wear import Counting, DutyChunk

ODD_SAMPLES: Final = 5
LONG_LOG: Final = 1000
"""So many samples above all others are faults in a log longer than this; own assumption."""
NO_LOAD_T: Final = 1.0
"""Greatest class for a log without loads; every bend is then of unknown load."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenedLogs:
    """Logs ready for counting: their pieces in order of time, how to count, their names.

    ``records`` are there instead of pieces where lifts were listed or described and nothing
    logged; none begins before the one before it has ended.
    """

    chunks: Iterable[DutyChunk]
    counting: Counting
    names: tuple[str, ...]
    records: tuple[LiftRecord, ...] = ()


def open_logs(logs: Sequence[Path], mapping: Path | LogMapping | None = None) -> OpenedLogs:
    """Open logs of one crane, or lists of its lifts, in whatever order they are named.

    Several lists or descriptions stand each for its own days.  Where the mapping does not state
    the greatest load, logs are read twice: once for it.

    Parameters
    ----------
    logs
        The files.
    mapping
        Which column is what, if the logs' own headings do not say it.

    Raises
    ------
    InputError
        If a log cannot be read, two cover the same time, logs and lists are mixed, or one of
        several lists has no dates; names file and row.
    """
    read = mapping if mapping is None or isinstance(mapping, LogMapping) else read_mapping(mapping)
    kinds = {kind_of_file(log) for log in logs}
    if kinds != {"log"}:
        return _lifts(logs, read)
    known = None if read is None or read.counting is None else read.counting.greatest_load
    greatest = float(known) / 1000 if known is not None else None
    starts: list[tuple[int, Path]] = []
    for log in logs:
        first = next((piece for piece in duty_log(log, read) if len(piece)), None)
        if first is None:
            raise DutyLogError(file=log, expected="at least one sample", given=0)
        starts.append((int(first.time_ms[0]), log))
    order = [log for _, log in sorted(starts)]
    if greatest is None:
        greatest = _greatest_load_t(chain.from_iterable(duty_log(log, read) for log in order))
    return OpenedLogs(
        chunks=_one_after_another(order, read),
        counting=counting_of(read, greatest_load_t=greatest),
        names=tuple(log.name for log in order),
    )


def _one_after_another(logs: Sequence[Path], mapping: LogMapping | None) -> Iterator[DutyChunk]:
    until, before = None, ""
    for log in logs:
        for number, piece in enumerate(duty_log(log, mapping)):
            if not number and until is not None and len(piece) and piece.time_ms[0] <= until:
                raise DutyLogError(
                    file=log,
                    expected="logs that follow each other in time",
                    given=f"one that begins before {before} ends",
                )
            yield piece
            if len(piece):
                until = max(until or 0, int(piece.time_ms.max()))
        before = log.name


def _greatest_load_t(pieces: Iterable[DutyChunk]) -> float:
    """Greatest load of a log, one tonne where it has none; a few odd samples do not make it [t]."""
    top = np.zeros(ODD_SAMPLES + 1)
    samples = 0
    for piece in pieces:
        if piece.load_t is not None and len(piece):
            known = piece.load_t[np.isfinite(piece.load_t)].astype(np.float64)
            samples += known.size
            top = np.partition(np.concatenate([top, known]), -top.size)[-top.size :]
    most = float(top.min() if samples > LONG_LOG else top.max())
    return most if most > 0 else NO_LOAD_T


def _lifts(logs: Sequence[Path], mapping: LogMapping | None) -> OpenedLogs:
    """Lists of lifts and descriptions of a duty, each for its own days."""
    for log in logs:
        if kind_of_file(log) == "log":
            raise DutyLogError(
                file=log,
                field="log",
                expected="logs only, or only lists of lifts and descriptions of a duty",
                given="a log among lists of lifts",
            )
    records = _in_order([(log, read_lifts(log)) for log in logs])
    greatest = max(lift.load_t for record in records for lift in record.lifts) or NO_LOAD_T
    settings = counting_of(mapping, greatest_load_t=greatest)
    if settings.block_t is not None and (mapping is None or not _states_greatest(mapping)):
        settings = counting_of(mapping, greatest_load_t=greatest + settings.block_t)
    return OpenedLogs(
        chunks=(),
        counting=settings,
        names=tuple(record.name for record in records),
        records=records,
    )


def _in_order(read: Sequence[tuple[Path, LiftRecord]]) -> tuple[LiftRecord, ...]:
    """Records in order of their days; one alone may leave them open, several may not share one."""
    if len(read) == 1:
        return (read[0][1],)
    dated: list[tuple[date, date, Path, LiftRecord]] = []
    for log, record in read:
        if record.first is None or record.last is None:
            raise DutyLogError(
                file=log,
                field="date",
                expected="the day of the lifts, where several lists are given together",
                given=None,
            )
        dated.append((record.first, record.last, log, record))
    dated.sort(key=lambda one: one[:2])
    for (_, until, before, _), (first, _, log, _) in pairwise(dated):
        if first <= until:
            raise DutyLogError(
                file=log,
                field="date",
                expected=f"lists that follow each other, no day in two of them; {before} goes "
                f"on to {until.isoformat()}",
                given=f"first day {first.isoformat()}",
            )
    return tuple(record for *_, record in dated)


def _states_greatest(mapping: LogMapping) -> bool:
    return mapping.counting is not None and mapping.counting.greatest_load is not None

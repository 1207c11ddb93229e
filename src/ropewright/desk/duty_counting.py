"""Counting logs and lists of lifts on the rope's own set-ups, day by day as it was rigged."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import Final, Protocol

from ropewright.desk.duty_pieces import (
    Duty,
    GroupCount,
    Tally,
    days_between,
    duty_of_counts,
    weighed,
)
from ropewright.desk.duty_spans import Span, spans_between, zone_of
from ropewright.errors import InputError
from ropewright.geometry import Hoist
from ropewright.inspection import Dossier, hoist_on
from ropewright.wear.counting import LogCounter
from ropewright.wear.lifts import Lift, bends_of_lifts
from ropewright.wear.model import BendCount, DutyChunk
from ropewright.wear.models import ModelName
from ropewright.wear.quality import Origin
from ropewright.wear.remarks import refuse_unbelievable
from ropewright.wear.settings import Counting
from ropewright.wear.splitting import paid_out_least_m, parted

REST_MS: Final = 4 * 86_400_000
"""A log that pauses no longer than this over the end of a month went on; own choice."""


def count_log(
    dossier: Dossier,
    chunks: Iterable[DutyChunk],
    counting: Counting,
    today: date,
    *,
    models: Sequence[ModelName],
) -> Duty:
    """Count a log on the rope's own set-ups.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    chunks
        The log, in order of time.
    counting
        How to count.
    today
        The day of the question; later samples are left out.
    models
        The models by which bends are weighed.

    Raises
    ------
    InputError
        If no sample belongs to the rope, or the path of a set-up is not known well enough.
    """
    run = _Run(dossier, counting, today, models)
    for chunk in chunks:
        run.take(chunk)
    duty = run.done()
    refuse_unbelievable(duty.quality)
    return duty


class _Run:
    """One pass over a log."""

    def __init__(
        self, dossier: Dossier, counting: Counting, today: date, models: Sequence[ModelName]
    ) -> None:
        self._dossier, self._counting, self._today = dossier, counting, today
        self._models, self._zone = models, zone_of(dossier)
        self._counts: dict[int, BendCount] = {}
        self._spans: tuple[Span, ...] = ()
        self._at = -1
        self._counter: LogCounter | None = None
        self._hoist: Hoist | None = None
        self._tallies: list[Tally] = []
        self._before = self._after = 0

    def take(self, chunk: DutyChunk) -> None:
        if not len(chunk):
            return
        if not self._spans:
            self._lay_out(int(chunk.time_ms[0]))
        starts = [one.start_ms for one in self._spans]
        for number, part in parted(chunk, starts, self._spans[-1].end_ms, least=self._at):
            if number < 0:
                self._before += len(part)
            elif number == len(starts):
                self._after += len(part)
            else:
                self._go_to(number).take(part)

    def _lay_out(self, first_ms: int) -> None:
        first = datetime.fromtimestamp(first_ms / 1000, self._zone).date()
        fitted = self._dossier.installation.fitted_on
        start = first if fitted is None else max(first, fitted)
        if start > self._today:
            raise InputError(
                field="log",
                expected=f"work before {self._today.isoformat()}, the day of the question",
                given=f"a log that begins on {first.isoformat()}",
            )
        self._spans = spans_between(self._dossier, start, self._today)

    def _go_to(self, number: int) -> LogCounter:
        if number == self._at and self._counter is not None:
            return self._counter
        self._close()
        span = self._spans[number]
        if self._counter is None or self._spans[self._at].group != span.group:
            self._hoist = hoist_on(self._dossier, span.first).hoist
            self._counter = LogCounter(self._hoist, self._counting)
        self._at = number
        return self._counter

    def _close(self) -> None:
        if self._counter is None or self._hoist is None or self._at < 0:
            return
        span, count = self._spans[self._at], self._counter.count()
        if count.first_ms is None or count.last_ms is None:
            return
        before = self._counts.get(span.group)
        since = count.first_ms if before is None or before.last_ms is None else before.last_ms
        self._counts[span.group] = count
        self._tallies.append(
            Tally(
                first=span.first,
                last=datetime.fromtimestamp(count.last_ms / 1000, self._zone).date(),
                group=span.group,
                running=True,
                days=days_between(
                    since if span.start_ms - since < REST_MS else span.start_ms, count.last_ms
                ),
                damage=weighed(self._dossier, count, self._hoist, self._models),
                paid_out_least_m=paid_out_least_m(count),
                hoist=self._hoist,
                path=self._dossier.history.at(span.first),
            )
        )

    def _group(self, group: int) -> GroupCount:
        ours = [one for one in self._tallies if one.group == group]
        return GroupCount(
            first=ours[0].first,
            last=ours[-1].last,
            days=sum(one.days for one in ours),
            count=self._counts[group],
        )

    def done(self) -> Duty:
        self._close()
        if not self._tallies:
            raise InputError(
                field="log",
                expected="work of this rope, from its fitting to the day of the question",
                given=f"{self._before} samples before, {self._after} after",
            )
        return Duty(
            tallies=tuple(self._tallies),
            groups=tuple(self._group(group) for group in self._counts),
            before=self._before,
            after=self._after,
        )


class LiftsRecord(Protocol):
    """Lifts that were listed or described, and the days they stand for if it is known."""

    @property
    def name(self) -> str:
        """Name of the list."""

    @property
    def lifts(self) -> Sequence[Lift]:
        """The lifts."""

    @property
    def origin(self) -> Origin:
        """What was recorded."""

    @property
    def days(self) -> float | None:
        """Days that they stand for [days]."""

    @property
    def first(self) -> date | None:
        """The first day."""

    @property
    def last(self) -> date | None:
        """The last day."""


class OpenedDuty(Protocol):
    """Logs that were opened: pieces in order of time, or lifts where nothing was logged."""

    @property
    def chunks(self) -> Iterable[DutyChunk]:
        """Pieces of the logs."""

    @property
    def counting(self) -> Counting:
        """How to count them."""

    @property
    def records(self) -> Sequence[LiftsRecord]:
        """Lifts that were listed or described, in order of their days; none for a log."""

    @property
    def names(self) -> Sequence[str]:
        """Names of the logs."""


def count_lifts(
    dossier: Dossier,
    records: Sequence[LiftsRecord],
    counting: Counting,
    today: date,
    *,
    models: Sequence[ModelName],
) -> Duty:
    """Count lifts that were listed or described, each record on the set-up of its days.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    records
        The lifts, in order of their days, no day in two of them; without days one record stands
        for all the time since the rope was fitted.
    counting
        How to count.
    today
        The day of the question.
    models
        The models by which bends are weighed.

    Raises
    ------
    InputError
        If the days of a record are not known or before the rope was fitted, or set-up or rope
        changed between its first and its last day.
    """
    groups = [_counted(dossier, record, counting, today) for record in records]
    return duty_of_counts(dossier, groups, models=models)


def _counted(dossier: Dossier, record: LiftsRecord, counting: Counting, today: date) -> GroupCount:
    fitted = dossier.installation.fitted_on
    first = record.first or fitted
    last = record.last or today
    if first is None or not first <= last <= today:
        raise InputError(
            field="log",
            expected="days of the lifts (a column 'date'), or the day on which the rope was "
            f"fitted, none after {today.isoformat()}",
            given=None if first is None else _days(record, first, last),
        )
    if fitted is not None and first < fitted:
        raise InputError(
            field="log",
            expected=f"lifts of this rope, which was fitted on {fitted.isoformat()}",
            given=_days(record, first, last),
        )
    groups = {span.group for span in spans_between(dossier, first, last)}
    if len(groups) > 1:
        raise InputError(
            field="log",
            expected="lifts of one set-up and one length of rope",
            given=f"{_days(record, first, last)}, when it changed",
            hint="make one list for each and give them together",
        )
    hoist = hoist_on(dossier, first).hoist
    try:
        count = bends_of_lifts(record.lifts, hoist, counting, origin=record.origin)
    except InputError as error:
        raise error.within(record.name) from None
    days = record.days or float((last - first).days + 1)
    return GroupCount(first=first, last=last, days=days, count=count)


def _days(record: LiftsRecord, first: date, last: date) -> str:
    return f"{record.name} {first.isoformat()} to {last.isoformat()}".strip()

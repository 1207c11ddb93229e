"""Turns raw pieces of a log into series that can be counted, and keeps book of what was odd.

Dropped: samples whose moment was there before or goes back, samples without a needed reading,
samples beyond what limits and a metre more allow, samples with slack rope.  A long time between
two samples, and a spell of slack rope, is bridged by one direct move of unknown load.  Where a
reading jumps, the series ends and begins anew: nothing is counted across.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from ropewright.geometry import AXES, Axis, Hoist
from ropewright.wear.believed import bounds_of, out_of_reach
from ropewright.wear.contacts import check_axes
from ropewright.wear.from_turns import hook_from_turns
from ropewright.wear.model import DutyChunk, Ints, Mask, Readings
from ropewright.wear.quality import RESETS_KEPT, QualityReport, Reset
from ropewright.wear.settings import Counting
from ropewright.wear.slack import SlackWatch

MOST_LOADS: Final = 3.0
"""A load is not believed if it is so many times the greatest stated one; own assumption."""
JUMP_M: Final = 0.5
"""How much farther than at the greatest speed a reading must go to be a jump; own assumption."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Series:
    """Samples in order without a jump among them.

    ``time_ms`` and ``readings`` [-], metres or degrees, have one value per sample, ``load_t`` [t]
    too if loads are known.  ``fresh`` tells that the series does not continue the one before.
    ``bridged`` holds the numbers of samples that lie behind a gap.
    """

    time_ms: Ints
    readings: dict[Axis, Readings]
    load_t: Readings | None
    fresh: bool
    bridged: Ints


class Cleaner:
    """Cleans piece after piece; what it has seen of a log's end decides about the next piece."""

    def __init__(self, hoist: Hoist, counting: Counting) -> None:
        """Start before the first sample."""
        self._hoist = hoist
        self._counting = counting
        self._axes = hoist.reeving.axes
        self._most_load_t = MOST_LOADS * counting.classes.upper_t[-1]
        self._seen_ms: int | None = None  # latest moment of all
        self._good_ms: int | None = None  # latest moment with a position
        self._last_ms = 0  # latest moment handed on, with its hook height
        self._last_hook = 0.0
        self._fresh = True
        self._bridging = False
        self._slack = SlackWatch(counting)
        self._sums: dict[str, int] = {}
        self._resets: list[Reset] = []
        self._unlike_ms: tuple[int, int] | None = None  # first and last moment on other falls
        self._loads_seen = False

    def report(self, moving_ms: int) -> QualityReport:
        """What was odd so far.

        Parameters
        ----------
        moving_ms
            Time in which rope moved [ms].
        """
        return QualityReport(
            **self._sums,
            moving_ms=moving_ms,
            slack_spells=self._slack.spells,
            unlike_first_ms=None if self._unlike_ms is None else self._unlike_ms[0],
            unlike_last_ms=None if self._unlike_ms is None else self._unlike_ms[1],
            reset_list=tuple(self._resets),
            small_moves_m=self._counting.jitter_m,
            slack_known=self._slack.can_tell and self._loads_seen,
        )

    def _add(self, **counts: int | np.signedinteger[Any]) -> None:
        for name, count in counts.items():
            self._sums[name] = self._sums.get(name, 0) + int(count)

    def clean(self, chunk: DutyChunk) -> Iterator[Series]:
        """Series that can be counted.

        Parameters
        ----------
        chunk
            The next piece of the log.
        """
        self._add(samples=len(chunk))
        if self._other_falls(chunk.falls):
            self._skip(chunk)
            return
        axes = _axes_of(chunk)
        check_axes(self._axes, set(axes) | _turns(chunk))
        kept = self._in_order(chunk.time_ms)
        if kept is not None:
            chunk = chunk.part(kept)
            axes = _axes_of(chunk)
        if not len(chunk):
            return
        if chunk.drum_turns is not None and "hook_m" in self._axes:
            axes["hook_m"] = hook_from_turns(self._hoist, chunk.drum_turns, axes)
        needed = self._needed(axes)
        good = self._believed(needed)
        yield from self._series(chunk, needed, good)

    def _other_falls(self, falls: int | None) -> bool:
        """Tell whether a log's number of falls is not the path's; a twin drum has two sides."""
        path = self._hoist.reeving.falls
        if falls is None or not path:
            return False
        sides = (1, 2) if self._hoist.reeving.end_a == "drum" else (1,)
        return falls not in [path * side for side in sides]

    def _skip(self, chunk: DutyChunk) -> None:
        """Leave a piece with other falls uncounted; what comes next begins anew."""
        self._add(falls_unlike=len(chunk))
        if not len(chunk):
            return
        first, last = int(chunk.time_ms.min()), int(chunk.time_ms.max())
        before = self._unlike_ms or (first, last)
        self._unlike_ms = min(before[0], first), max(before[1], last)
        since = int(chunk.time_ms[0]) if self._seen_ms is None else self._seen_ms
        self._add(invalid_ms=max(0, last - since))
        self._seen_ms = max(since, last)
        self._good_ms = self._seen_ms
        self._fresh, self._bridging = True, False

    def _in_order(self, time_ms: Ints) -> Mask | None:
        """Tell which samples come after all before them; none if all do."""
        if not time_ms.size:
            return None
        first = int(time_ms[0]) - 1 if self._seen_ms is None else self._seen_ms
        self._seen_ms = max(first, int(time_ms[-1]))
        if time_ms[0] > first and bool((time_ms[1:] > time_ms[:-1]).all()):
            return None
        self._seen_ms = max(first, int(time_ms.max()))
        latest = np.maximum.accumulate(np.concatenate([[first], time_ms]))[:-1]
        self._add(
            repeated=np.count_nonzero(time_ms == latest),
            backward=np.count_nonzero(time_ms < latest),
        )
        later: Mask = time_ms > latest
        return later

    def _needed(self, axes: dict[Axis, Readings]) -> dict[Axis, Readings]:
        wanted = list(self._axes)
        for angle in ("jib_deg", "boom_deg"):
            if angle in wanted and angle not in axes:
                wanted[wanted.index(angle)] = "radius_m"
        if "hook_m" in axes and "hook_m" not in wanted:
            wanted.insert(0, "hook_m")
        return {axis: axes[axis] for axis in wanted}

    def _believed(self, readings: dict[Axis, Readings]) -> Mask | None:
        """Tell which samples have all readings, within the limits; none if all do."""
        good: Mask | None = None
        for axis, values in readings.items():
            low, high = bounds_of(self._hoist, axis)
            if low <= values.min() and values.max() <= high:  # false for not-a-number
                continue
            if good is None:
                good = np.ones(values.size, dtype=np.bool_)
            blank = np.isnan(values)
            beyond = (values < low) | (values > high)
            self._add(
                blank=np.count_nonzero(blank & good), beyond_travel=np.count_nonzero(beyond & good)
            )
            good &= ~(blank | beyond)
        far = out_of_reach(self._hoist, readings)
        if far is None or not far.any():
            return good
        good = np.ones(far.size, dtype=np.bool_) if good is None else good
        self._add(beyond_travel=np.count_nonzero(far & good))
        return good & ~far

    def _series(
        self, chunk: DutyChunk, readings: dict[Axis, Readings], good: Mask | None
    ) -> Iterator[Series]:
        """Take out bad samples and slack rope, mark what is bridged, cut at jumps."""
        time_ms, load = chunk.time_ms, chunk.load_t
        if good is not None:
            time_ms, readings, load = _only(good, time_ms, readings, load)
            if not time_ms.size:
                return
        self._loads_seen |= load is not None
        load = None if load is None else self._believed_load(load)
        self._add(load_unknown=time_ms.size if load is None else _unknown(load))
        since = np.empty_like(time_ms)
        np.subtract(time_ms[1:], time_ms[:-1], out=since[1:])
        since[0] = 0 if self._good_ms is None else time_ms[0] - self._good_ms
        self._good_ms = int(time_ms[-1])
        gaps = _longer(since, self._counting.gap_s * 1000)
        hook = readings.get("hook_m")
        slack = None if load is None or hook is None else self._slack.slack(hook, load)
        gap_ms = int(since[gaps].sum())
        whole_ms = int(time_ms[-1]) - int(time_ms[0]) + int(since[0])
        slack_ms = 0
        if slack is not None:
            slack_ms = int(since[slack].sum()) - int(since[gaps[slack[gaps]]].sum())
        self._add(
            gaps=gaps.size,
            gap_ms=gap_ms,
            slack_ms=slack_ms,
            covered_ms=whole_ms - gap_ms - slack_ms,
        )
        if slack is None and not self._bridging:
            yield from self._cut_at_jumps(time_ms, readings, load, gaps)
            return
        odd = np.zeros(time_ms.size, dtype=np.bool_) if slack is None else slack.copy()
        odd[gaps] = True
        tight = np.ones(odd.size, dtype=np.bool_) if slack is None else ~slack
        so_far = np.cumsum(odd) + int(self._bridging)
        bridged = np.flatnonzero(np.diff(so_far[tight], prepend=0) > 0)
        kept = np.flatnonzero(tight)
        self._bridging = bool(odd[kept[-1] + 1 :].any()) if kept.size else True
        if kept.size:
            time_ms, readings, load = _only(tight, time_ms, readings, load)
            yield from self._cut_at_jumps(time_ms, readings, load, bridged)

    def _believed_load(self, load: Readings) -> Readings:
        """Return the loads, not-a-number in place of those that no crane lifts."""
        most = self._most_load_t
        if load.max() <= most:  # false for not-a-number
            return load
        believed: Readings = np.where(load <= most, load, load.dtype.type(np.nan))
        return believed

    def _cut_at_jumps(
        self,
        time_ms: Ints,
        readings: dict[Axis, Readings],
        load: Readings | None,
        bridged: Ints,
    ) -> Iterator[Series]:
        jumps = self._jumps(time_ms, readings.get("hook_m"))
        edges = [0, *jumps, time_ms.size]
        for number, (first, last) in enumerate(pairwise(edges)):
            if first == last:
                continue
            part = slice(first, last)
            yield Series(
                time_ms=time_ms[part],
                readings={axis: values[part] for axis, values in readings.items()},
                load_t=None if load is None else load[part],
                fresh=self._fresh or number > 0,
                bridged=bridged[(bridged >= first) & (bridged < last)] - first,
            )
            self._fresh = False

    def _jumps(self, time_ms: Ints, hook: Readings | None) -> list[int]:
        """Return the numbers of the samples to which the hook's reading has jumped."""
        if hook is None:
            return []
        before = hook[0] if self._fresh else self._last_hook
        before_ms = time_ms[0] if self._fresh else self._last_ms
        self._last_hook, self._last_ms = float(hook[-1]), int(time_ms[-1])
        by = np.empty_like(hook)
        np.subtract(hook[1:], hook[:-1], out=by[1:])
        by[0] = hook[0] - hook.dtype.type(before)
        if max(-by.min(), by.max()) <= JUMP_M:
            return []
        since = np.diff(time_ms, prepend=before_ms)
        farthest = JUMP_M + self._counting.hook_speed_m_per_s / 1000 * since
        jumps: list[int] = np.flatnonzero(np.abs(by) > farthest).tolist()
        self._add(resets=len(jumps))
        for index in jumps[: RESETS_KEPT - len(self._resets)]:
            self._resets.append(Reset(at_ms=int(time_ms[index]), by_m=round(float(by[index]), 3)))
        return jumps


def _longer(since: Ints, limit_ms: float) -> npt.NDArray[np.intp]:
    """Return the numbers of the steps that are longer than a limit."""
    if since.max() <= limit_ms:
        return np.zeros(0, dtype=np.intp)
    return np.flatnonzero(since > limit_ms)


def _unknown(load: Readings) -> int:
    return int(np.count_nonzero(np.isnan(load))) if np.isnan(load.min()) else 0


def _turns(chunk: DutyChunk) -> set[str]:
    return set() if chunk.drum_turns is None else {"drum_turns"}


def _only(
    kept: Mask, time_ms: Ints, readings: dict[Axis, Readings], load: Readings | None
) -> tuple[Ints, dict[Axis, Readings], Readings | None]:
    """Return some of the samples."""
    some = {axis: values[kept] for axis, values in readings.items()}
    return time_ms[kept], some, None if load is None else load[kept]


def _axes_of(chunk: DutyChunk) -> dict[Axis, Readings]:
    return {axis: values for axis in AXES if (values := getattr(chunk, axis)) is not None}

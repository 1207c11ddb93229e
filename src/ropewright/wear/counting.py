"""Counts bends over a log, piece by piece; where the pieces are cut changes nothing."""

from collections import deque
from collections.abc import Callable
from concurrent.futures import Executor, Future
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from ropewright.geometry import Axis, CranePositions, Hoist
from ropewright.wear.cleaning import Cleaner, Series
from ropewright.wear.contacts import path_contacts, zones_of_bins
from ropewright.wear.lift_watch import Lifts, LiftWatch
from ropewright.wear.loads import LOADED, Bytes, Kilograms, LoadTables
from ropewright.wear.model import BendCount, DutyChunk, Ints, Mask, Places
from ropewright.wear.movement import Movement, Mover
from ropewright.wear.quality import Origin
from ropewright.wear.settings import TENTHS_PER_M, Counting
from ropewright.wear.tallies import Tallies

PIECE: Final = 262_144
"""Samples worked on at a time: small enough for the processor's cache."""

_WAITING: Final = 8
"""Jobs that may wait for the helper."""

Numbers = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Before:
    """The last sample before a piece: its moment and load, and the readings followed."""

    time_ms: int
    kilograms: int
    loaded: bool
    followed: dict[Axis, int]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Piece:
    """Samples that follow one another, with what is worked out for them."""

    time_ms: Ints
    kilograms: Kilograms
    states: Bytes
    bridged: Numbers
    at: Numbers  # samples that end a movement; -1 first of all stands for the sample before
    followed: dict[Axis, Places]


class LogCounter:
    """Counts a log of one hoist, piece by piece.

    Pieces go in with `take`, in order; `count` gives the count so far.  With a helper of one
    thread, adding up goes on beside the reading of the next piece; the count is the same.
    """

    def __init__(self, hoist: Hoist, counting: Counting, helper: Executor | None = None) -> None:
        """Start with no sample; ``helper`` runs one job after the other, in order."""
        self._helper = helper
        self._jobs: deque[Future[None]] = deque()
        self._hoist = hoist
        self._counting = counting
        self._cleaner = Cleaner(hoist, counting)
        self._contacts = path_contacts(hoist)
        self._tables = LoadTables(counting)
        self._tallies = Tallies(self._contacts, counting)
        self._lifts = LiftWatch(self._tables)
        self._mover = Mover(hoist, counting)
        self._before: _Before | None = None
        self._moving_ms = 0
        self._first_ms: int | None = None
        self._last_ms: int | None = None

    def take(self, chunk: DutyChunk) -> None:
        """Count a piece of the log; it must follow the one before in time.

        Parameters
        ----------
        chunk
            The next piece.
        """
        for first in range(0, len(chunk), PIECE):
            for series in self._cleaner.clean(chunk.part(slice(first, first + PIECE))):
                if series.fresh:
                    self._before = None
                    self._mover.fresh()
                    self._later(self._tallies.fresh)
                self._count(series)

    def _later(self, job: Callable[..., None], *given: object) -> None:
        """Do a job at once, or hand it to the helper; a few may wait."""
        if self._helper is None:
            job(*given)
            return
        self._jobs.append(self._helper.submit(job, *given))
        while len(self._jobs) > _WAITING:
            self._jobs.popleft().result()

    def _settle(self) -> None:
        while self._jobs:
            self._jobs.popleft().result()

    def _count(self, series: Series) -> None:
        """Count samples that follow one another."""
        time_ms, bridged = series.time_ms, series.bridged
        kilograms, states = self._tables.read(series.load_t, time_ms.size)
        movement = self._mover.take(series.readings)
        classes = self._classes(movement, kilograms, bridged)
        piece = self._piece(time_ms, kilograms, states, bridged, movement)
        self._later(self._moves, piece.followed, classes)
        self._time(piece)
        self._at_rest(piece)
        self._lifted(piece)
        self._before = _Before(
            time_ms=int(time_ms[-1]),
            kilograms=int(kilograms[-1]),
            loaded=bool(states[-1] == LOADED),
            followed=dict(self._mover.last),
        )
        self._first_ms = int(time_ms[0]) if self._first_ms is None else self._first_ms
        self._last_ms = int(time_ms[-1])

    def _classes(self, movement: Movement, kilograms: Kilograms, bridged: Numbers) -> Bytes:
        """Load class of each movement: the heavier of the loads before and after it."""
        at, before = movement.at, self._before
        # The entry for an unknown load is the greatest of all, so it decides where it occurs.
        heavier = np.maximum(kilograms[at], kilograms[np.maximum(at - 1, 0)])
        if before is not None and at.size and at[0] == 0:
            heavier[0] = max(int(kilograms[0]), before.kilograms)
        classes = self._tables.classes[heavier]
        if bridged.size:
            classes[np.isin(at, bridged)] = self._counting.classes.unknown
        return classes if before is not None else classes[1:]

    def _piece(
        self,
        time_ms: Ints,
        kilograms: Kilograms,
        states: Bytes,
        bridged: Numbers,
        movement: Movement,
    ) -> _Piece:
        """Put the place before the first movement in front."""
        at, followed, before = movement.at, movement.followed, self._before
        if before is not None:
            at = np.concatenate([[-1], at])
            followed = {
                axis: np.concatenate([np.array([before.followed[axis]], dtype=np.int32), values])
                for axis, values in followed.items()
            }
        return _Piece(
            time_ms=time_ms,
            kilograms=kilograms,
            states=states,
            bridged=bridged,
            at=at,
            followed=followed,
        )

    def _places(self, followed: dict[Axis, Places], some: Numbers | Mask | slice) -> Places:
        """Moving parts of the tangent points at some of the places."""
        at = {axis: values[some] / TENTHS_PER_M for axis, values in followed.items()}
        return self._contacts.moved(CranePositions(**at))

    def _moves(self, followed: dict[Axis, Places], classes: Bytes) -> None:
        corners = self._mover.corners(followed, classes)
        if not isinstance(corners, slice):
            classes = classes[corners[1:] - 1]
        self._tallies.moves(self._places(followed, corners), classes)

    def _time(self, piece: _Piece) -> None:
        """Add up the time in which the crane moved."""
        steps, time_ms, before = piece.at[1:], piece.time_ms, self._before
        if piece.bridged.size:
            steps = steps[~np.isin(steps, piece.bridged)]
        if steps.size and steps[0] == 0 and before is not None:
            self._moving_ms += int(time_ms[0]) - before.time_ms
            steps = steps[1:]
        if not steps.size:
            return
        ends = np.flatnonzero(np.diff(steps) != 1)
        first = np.concatenate([steps[:1], steps[ends + 1]])
        last = np.concatenate([steps[ends], steps[-1:]])
        self._moving_ms += int((time_ms[last] - time_ms[first - 1]).sum())

    def _at_rest(self, piece: _Piece) -> None:
        """Add up time at rest with a load on the hook, place by place."""
        loaded = piece.states == LOADED
        still = np.empty(loaded.size, dtype=np.bool_)
        np.logical_and(loaded[1:], loaded[:-1], out=still[1:])
        before = self._before
        still[0] = before is not None and before.loaded and bool(loaded[0])
        still[piece.at if before is None else piece.at[1:]] = False
        still[piece.bridged] = False
        edges = np.flatnonzero(still[1:] != still[:-1]) + 1
        if still[0]:
            edges = np.concatenate([[0], edges])
        if still[-1]:
            edges = np.append(edges, still.size)
        if not edges.size:
            return
        begins, ends = edges[::2], edges[1::2]
        since = piece.time_ms[np.maximum(begins - 1, 0)]
        if begins[0] == 0 and before is not None:
            since[0] = before.time_ms
        some = np.searchsorted(piece.at, begins, "right") - 1
        self._later(self._add_rests, piece.followed, some, piece.time_ms[ends - 1] - since)

    def _add_rests(self, followed: dict[Axis, Places], some: Numbers, times_ms: Ints) -> None:
        self._tallies.held.rests(self._places(followed, some), times_ms)

    def _lifted(self, piece: _Piece) -> None:
        ended = self._lifts.take(piece.states, piece.kilograms, piece.at, piece.followed)
        if ended is not None:
            self._later(self._add_lifts, ended)

    def _add_lifts(self, lifts: Lifts) -> None:
        self._tallies.held.lifts(
            self._places(lifts.followed, slice(None)),
            lifts.hook_m,
            self._tables.classes[lifts.peak_kg],
        )

    def count(self, *, origin: Origin = "log") -> BendCount:
        """The count so far; a lift still under way is counted as it is.

        Parameters
        ----------
        origin
            What the pieces were made from.
        """
        self._settle()
        kept = self._tallies.held
        last = self._lifts.last()
        if last is not None:
            self._tallies.held = kept.copy()
            self._add_lifts(last)
        try:
            return self._tallies.count(
                zones=zones_of_bins(self._hoist, self._counting.bin_m),
                load_most_t=self._tables.most_t,
                origin=origin,
                first_ms=self._first_ms,
                last_ms=self._last_ms,
                quality=self._cleaner.report(self._moving_ms),
            )
        finally:
            self._tallies.held = kept

"""The sums of a count: half-bends, reverse bends and winding on, bin by bin."""

from typing import Final

import numpy as np

from ropewright.wear.binning import Bins, Sums
from ropewright.wear.contacts import DrumZones, PathContacts, Tangent, path_bins, places_of
from ropewright.wear.held import HeldRope
from ropewright.wear.loads import Bytes
from ropewright.wear.model import BendCount, Places
from ropewright.wear.quality import Origin, QualityReport
from ropewright.wear.settings import TENTHS_PER_M, Counting
from ropewright.wear.strokes import Strokes, strokes_of
from ropewright.wear.sweep import swept

_FULL: Final = 200_000
"""Strokes that are gathered before they are put into bins."""


class _PairSums:
    """Reverse bends between two neighbouring contacts."""

    def __init__(self, before: Tangent, after: Tangent, sums: Sums) -> None:
        self.before = before
        self.after = after
        self.sums = sums
        self.point: int | None = None
        self.shortest = -1

    def moves(self, moved: Places, classes: Bytes, bins: Bins, *, fresh: bool) -> None:
        """Count the elements that ran from one contact to the other."""
        low = places_of(self.before, moved)
        high = np.maximum(places_of(self.after, moved), low)
        nearest = int((high - low).min())
        self.shortest = nearest if self.shortest < 0 else min(self.shortest, nearest)
        if self.point is None:
            self.point = int(low[0])
        if fresh:
            self.point = min(max(self.point, int(low[0])), int(high[0]))
        if not classes.size:
            return
        way = 3 * np.sign(np.diff(low)) + np.sign(np.diff(high))
        last = np.append(
            np.flatnonzero((way[1:] != way[:-1]) | (classes[1:] != classes[:-1])), way.size - 1
        )
        points = swept(low[last + 1], high[last + 1], self.point)
        from_points = np.concatenate([np.array([self.point], dtype=np.int32), points[:-1]])
        ran = np.flatnonzero(points != from_points)
        self.sums.passed(
            bins.before(from_points[ran]), bins.before(points[ran]), classes[last][ran]
        )
        self.point = int(points[-1])


class Tallies:
    """All sums of one count."""

    def __init__(self, contacts: PathContacts, counting: Counting) -> None:
        """Start with nothing counted."""
        self._contacts = contacts
        self._counting = counting
        hoist = contacts.hoist
        self._bins = Bins(path_bins(hoist, counting.bin_m), counting.bin_m)
        classes = counting.classes.count
        self._half = [Sums(classes, self._bins) for _ in contacts.contacts]
        self.held = HeldRope(contacts, counting, self._bins)
        self._wound = {
            number: Sums(1, self._bins)
            for number, one in enumerate(contacts.contacts)
            if one.start is None or one.end is None
        }
        self._pairs = [
            (first, second, _PairSums(end, start, Sums(classes, self._bins)))
            for first, second in contacts.pairs
            if (end := contacts.contacts[first].end) is not None
            and (start := contacts.contacts[second].start) is not None
        ]
        self._strokes: list[list[Strokes]] = [[] for _ in contacts.rows]
        self._gathered = 0
        self._fresh = True

    def fresh(self) -> None:
        """The next movement does not continue the one before."""
        self._fresh = True

    def moves(self, moved: Places, classes: Bytes) -> None:
        """Count a series of movements.

        Parameters
        ----------
        moved
            (moving parts, n) where the moving parts were, first of all before the first
            movement, in tenths of a millimetre [-].
        classes
            (n - 1,) load class of each movement [-].
        """
        if not moved.shape[1]:
            return
        for _, _, pair in self._pairs:
            pair.moves(moved, classes, self._bins, fresh=self._fresh)
        self._fresh = False
        for part, gathered in zip(moved, self._strokes, strict=True):
            strokes = strokes_of(part, classes)
            gathered.append(strokes)
            self._gathered += strokes.classes.size
        if self._gathered > _FULL:
            self._empty()

    def _empty(self) -> None:
        """Put the strokes gathered so far into bins."""
        self._gathered = 0
        joined = [Strokes.joined(gathered) for gathered in self._strokes]
        self._strokes = [[] for _ in self._strokes]
        for number, contact in enumerate(self._contacts.contacts):
            for tangent in (contact.start, contact.end):
                if tangent is None or tangent.moving < 0:
                    continue
                strokes = joined[tangent.moving]
                first = self._bins.before(strokes.first + tangent.constant)
                last = self._bins.before(strokes.last + tangent.constant)
                self._half[number].passed(first, last, strokes.classes)
                if number in self._wound:
                    # At end B rope lies on the drum behind the point, at end A before it.
                    on = (last, first) if contact.end is None else (first, last)
                    self._wound[number].cover(*on, np.zeros(first.size, dtype=np.int64))

    def count(
        self,
        *,
        zones: DrumZones,
        load_most_t: float,
        origin: Origin,
        first_ms: int | None,
        last_ms: int | None,
        quality: QualityReport,
    ) -> BendCount:
        """All sums as one count.

        Parameters
        ----------
        zones
            Layer and zone of every bin.
        load_most_t
            The greatest load met [t].
        origin
            What was counted.
        first_ms, last_ms
            First and last moment [ms].
        quality
            How good the log was.
        """
        self._empty()
        names = tuple(one.name for one in self._contacts.contacts)
        classes, bins = self._counting.classes, self._bins.count
        none = np.zeros((0, classes.count, bins), dtype=np.int64)
        return BendCount(
            contacts=names,
            bin_m=self._counting.bin_m,
            classes=classes,
            load_most_t=load_most_t,
            half_bends=np.stack([sums.total() for sums in self._half]),
            pairs=tuple(
                (names[first], names[second], max(pair.shortest, 0) / TENTHS_PER_M)
                for first, second, pair in self._pairs
            ),
            reverse_bends=np.stack([pair.sums.total() for _, _, pair in self._pairs])
            if self._pairs
            else none,
            wound_on=np.concatenate([sums.total() for sums in self._wound.values()]),
            drum_layer=zones.layer,
            crossover=zones.crossover,
            layer_change=zones.layer_change,
            pick_ups=self.held.pick_ups(),
            origin=origin,
            first_ms=first_ms,
            last_ms=last_ms,
            quality=quality,
        )

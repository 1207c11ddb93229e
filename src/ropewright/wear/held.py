"""Rope that lies on a contact while a load is picked up, or at rest under a load."""

from typing import Final

import numpy as np

from ropewright.wear.binning import Bins, Sums
from ropewright.wear.contacts import BendingContact, PathContacts, places_of
from ropewright.wear.drum_wear import layer_of
from ropewright.wear.loads import Bytes
from ropewright.wear.model import Floats, Ints, PickUps, Places
from ropewright.wear.settings import TENTHS_PER_M, Counting

HALF_TURN: Final = 0.5
"""Turns of rope on the drum, behind its tangent point, that a pick-up loads; own assumption."""


class HeldRope:
    """Sums of pick-ups and of rest under load, contact by contact."""

    def __init__(self, contacts: PathContacts, counting: Counting, bins: Bins) -> None:
        """Start with nothing counted."""
        self._contacts = contacts
        self._counting = counting
        self._bins = bins
        self._picked = [Sums(counting.classes.count, bins) for _ in contacts.contacts]
        self._rest = [Sums(1, bins) for _ in contacts.contacts]
        self._hook_counts: dict[int, int] = {}
        self._lift_count = 0

    def _covered(self, contact: BendingContact, moved: Places) -> tuple[Places, Places]:
        """Return first bin on a contact and first bin behind it, at places of moving parts."""
        start = None if contact.start is None else places_of(contact.start, moved)
        end = None if contact.end is None else places_of(contact.end, moved)
        if start is None and end is not None:
            start = end - self._half_turn(end, at_end_a=True)
        if end is None and start is not None:
            end = start + self._half_turn(start, at_end_a=False)
        if start is None or end is None:
            raise ValueError("a contact has at least one tangent point")
        return self._bins.before(start), self._bins.before(end)

    def _half_turn(self, places: Places, *, at_end_a: bool) -> Places:
        """Return half a turn of rope on the drum, or one bin if the drum is not known."""
        hoist = self._contacts.hoist
        if hoist.drum is None or hoist.rope_m is None:
            return np.full(places.size, round(self._counting.bin_m * TENTHS_PER_M), dtype=np.int32)
        drum = hoist.wound_drum()
        wound: Floats = places / TENTHS_PER_M
        if not at_end_a:
            wound = hoist.rope_length_m() - wound
        turns = np.array(drum.turn_m)[layer_of(drum, wound)]
        return np.rint(turns * HALF_TURN * TENTHS_PER_M).astype(np.int32)

    def rests(self, moved: Places, times_ms: Ints) -> None:
        """Add time at rest with a load on the hook.

        Parameters
        ----------
        moved
            (moving parts, n) where the moving parts were [-].
        times_ms
            (n,) how long [ms].
        """
        rows = np.zeros(times_ms.size, dtype=np.int64)
        for contact, sums in zip(self._contacts.contacts, self._rest, strict=True):
            sums.cover(*self._covered(contact, moved), rows, times_ms)

    def copy(self) -> "HeldRope":
        """The same sums, to go on with elsewhere."""
        twin = HeldRope(self._contacts, self._counting, self._bins)
        twin._picked = [sums.copy() for sums in self._picked]
        twin._rest = [sums.copy() for sums in self._rest]
        twin._hook_counts = dict(self._hook_counts)
        twin._lift_count = self._lift_count
        return twin

    def lifts(self, moved: Places, hook_m: Floats, classes: Bytes) -> None:
        """Add lifts that have ended.

        Parameters
        ----------
        moved
            (moving parts, n) where the moving parts were at the pick-ups [-].
        hook_m
            (n,) hook heights at the pick-ups; empty if not known [m].
        classes
            (n,) class of each lift's greatest load [-].
        """
        if not classes.size:
            return
        for contact, sums in zip(self._contacts.contacts, self._picked, strict=True):
            sums.cover(*self._covered(contact, moved), classes)
        self._lift_count += classes.size
        metres, counts = np.unique(np.floor(hook_m).astype(np.int64), return_counts=True)
        for metre, count in zip(metres.tolist(), counts.tolist(), strict=True):
            self._hook_counts[metre] = self._hook_counts.get(metre, 0) + count

    def pick_ups(self) -> PickUps:
        """The sums so far."""
        low = min(self._hook_counts, default=0)
        high = max(self._hook_counts, default=-1)
        hook = np.zeros(high + 1 - low, dtype=np.int64)
        for metre, count in self._hook_counts.items():
            hook[metre - low] = count
        return PickUps(
            counts=np.stack([sums.total() for sums in self._picked]),
            rest_ms=np.concatenate([sums.total() for sums in self._rest]),
            hook_counts=hook,
            hook_from_m=float(low),
            lifts=self._lift_count,
        )

"""What goes into counting bends and what comes out: log pieces, load classes, counts per place.

Places are path positions: metres from end A's fitting along the path of one rigging.  Bin number
``k`` covers ``k`` to ``k + 1`` times the bin's width; it is met when a tangent point passes its
middle.  All counts are whole numbers, so that sums come out alike in any order.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Final, TypeAlias

import numpy as np
import numpy.typing as npt

from ropewright.errors import InputError
from ropewright.wear.quality import Origin, QualityReport
from ropewright.wear.settings import LoadClasses

Ints: TypeAlias = npt.NDArray[np.int64]
Floats: TypeAlias = npt.NDArray[np.float64]
Places: TypeAlias = npt.NDArray[np.int32]
Mask: TypeAlias = npt.NDArray[np.bool_]
Readings: TypeAlias = npt.NDArray[np.float64] | npt.NDArray[np.float32]

DRUM_A: Final = "drum A"
"""Name of the drum at end A, on a twin drum."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DutyChunk:
    """A piece of a duty log: readings at moments in order, one array per axis that is known.

    ``time_ms`` counts from 1970, UTC.  ``load_t`` [t] is what hangs on the falls, hook block
    included, not-a-number where it is not known.  ``drum_turns`` [turns] counts from the clamp
    and stands for the hook height.  ``falls`` is what the log says of the reeving, if it does;
    a reader begins a new piece where it changes.  ``first_row`` is the number of the first
    sample in the file, for messages.
    """

    time_ms: Ints
    hook_m: Readings | None = None
    radius_m: Readings | None = None
    jib_deg: Readings | None = None
    boom_m: Readings | None = None
    boom_deg: Readings | None = None
    load_t: Readings | None = None
    drum_turns: Readings | None = None
    falls: int | None = None
    first_row: int = 1

    def __post_init__(self) -> None:
        """Refuse columns of unlike length, and a piece without any position."""
        for name in (*COLUMNS, "load_t"):
            column = getattr(self, name)
            if column is not None and column.shape != self.time_ms.shape:
                raise InputError(
                    field=name,
                    expected=f"as many readings as there are moments, {self.time_ms.size}",
                    given=column.size,
                )
        if all(getattr(self, name) is None for name in COLUMNS):
            raise InputError(
                field="hook_m", expected="the crane's position, at least one reading", given=None
            )

    def __len__(self) -> int:
        return self.time_ms.size

    def part(self, some: slice | Mask) -> "DutyChunk":
        """Some of the samples; for a slice a view, so that nothing is copied."""
        if isinstance(some, slice) and some.start == 0 and some.stop >= len(self):
            return self
        columns = {
            name: column[some]
            for name in (*COLUMNS, "load_t")
            if (column := getattr(self, name)) is not None
        }
        first = self.first_row + (some.start or 0 if isinstance(some, slice) else 0)
        return DutyChunk(time_ms=self.time_ms[some], falls=self.falls, first_row=first, **columns)


COLUMNS: Final = ("hook_m", "radius_m", "jib_deg", "boom_m", "boom_deg", "drum_turns")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PickUps:
    """How often rope lay on each contact when a load was picked up, and how long it rested there.

    ``counts`` [-] is (contacts, load classes, bins) by the greatest load of the lift; on the drum
    the half turn behind the tangent point counts.  ``rest_ms`` is (contacts, bins): time at rest
    on the contact with a load on the hook.  ``hook_counts`` [-] counts pick-ups per metre of hook
    height, the first of them beginning at ``hook_from_m``.  ``lifts`` is their number.
    """

    counts: Ints
    rest_ms: Ints
    hook_counts: Ints
    hook_from_m: float
    lifts: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BendCount:
    """Bends along the rope, per contact and load class, in path positions from end A.

    A half-bend is one change from straight to bent or back: an element that passes one of a
    contact's two tangent points.  Two of them are one bend (straight, bent, straight); winding
    onto the drum is one half-bend, off it another.

    Parameters
    ----------
    contacts
        Names of sheaves in order from end A, 'drum' last, on a twin drum 'drum A' first.
    bin_m
        Width of the bins [m].
    classes
        The load classes.
    load_most_t
        Greatest load met, hook block included; what the class above the last bound counts
        as [t].
    half_bends
        (contacts, load classes, bins) half-bends [-].
    pairs
        Neighbouring contacts that bend the rope in opposite senses, with the shortest free
        rope between the two that was met [m].
    reverse_bends
        (pairs, load classes, bins): how often an element ran from one contact of a pair straight
        on to the other [-].
    wound_on
        (drums, bins): how often an element was wound onto a drum [-]; drums in their order in
        ``contacts``.
    drum_layer
        (bins,) layer in which the element lies when wound on, 0: never on the drum [-].
    crossover, layer_change
        (bins,) whether it then crosses the layer below, or climbs at a flange.
    pick_ups
        Pick-ups and rest under load.
    origin
        What the count was made from.
    first_ms, last_ms
        First and last moment, from 1970, UTC [ms]; none for a count without dates.
    quality
        How good the log was.
    """

    contacts: tuple[str, ...]
    bin_m: float
    classes: LoadClasses
    load_most_t: float
    half_bends: Ints
    pairs: tuple[tuple[str, str, float], ...]
    reverse_bends: Ints
    wound_on: Ints
    drum_layer: Ints
    crossover: npt.NDArray[np.bool_]
    layer_change: npt.NDArray[np.bool_]
    pick_ups: PickUps
    origin: Origin = "log"
    first_ms: int | None = None
    last_ms: int | None = None
    quality: QualityReport = field(default_factory=QualityReport)

    @property
    def bins(self) -> int:
        """How many bins there are."""
        return int(self.half_bends.shape[2])

    @property
    def places_m(self) -> Floats:
        """Path positions of the bins' middles [m]."""
        middles: Floats = (np.arange(self.bins, dtype=np.float64) + 0.5) * self.bin_m
        return middles

    @property
    def bends(self) -> Floats:
        """Bends per contact and bin, (contacts, bins) [bends]."""
        bends: Floats = self.half_bends.sum(axis=1) / 2
        return bends

    @property
    def all_bends(self) -> Floats:
        """Bends per bin over all contacts, (bins,) [bends]."""
        bends: Floats = self.half_bends.sum(axis=(0, 1)) / 2
        return bends

    @property
    def class_loads_t(self) -> Floats:
        """Load that each class counts as, not-a-number for the last, unknown one [t]."""
        above = max(self.load_most_t, self.classes.upper_t[-1])
        return np.array([*self.classes.upper_t, above, np.nan])

    def weighted(self, exponent: float, *, unknown_t: float) -> Floats:
        """Bends weighted by load to a power, (contacts, bins).

        Parameters
        ----------
        exponent
            Power of the load; 1 gives tonne-bends [-].
        unknown_t
            What bends of unknown load count as [t].

        Returns
        -------
        array
            Sum of load to that power over the bends, loads in tonnes [-].
        """
        loads = self.class_loads_t
        loads[self.classes.unknown] = unknown_t
        weighed: Floats = np.tensordot(self.half_bends / 2, loads**exponent, axes=([1], [0]))
        return weighed

    def of_contact(self, name: str) -> int:
        """Number of a contact.

        Raises
        ------
        InputError
            If there is none of that name.
        """
        if name not in self.contacts:
            raise InputError(field="contact", expected=f"one of {self.contacts}", given=name)
        return self.contacts.index(name)

    def __add__(self, other: "BendCount") -> "BendCount":
        """Counts of two logs of one rigging, one after the other or in any order."""
        unlike = [
            name
            for name, mine, yours in (
                ("contacts", self.contacts, other.contacts),
                ("bin_m", self.bin_m, other.bin_m),
                ("classes", self.classes, other.classes),
                ("bins", self.bins, other.bins),
                ("pairs", _names(self), _names(other)),
                ("drum_layer", self.drum_layer.tolist(), other.drum_layer.tolist()),
            )
            if mine != yours
        ]
        if unlike:
            raise InputError(
                "only counts of one rigging, counted alike, can be added",
                field=unlike[0],
                expected=getattr(self, unlike[0]),
                given=getattr(other, unlike[0]),
            )
        return replace(
            self,
            load_most_t=max(self.load_most_t, other.load_most_t),
            half_bends=self.half_bends + other.half_bends,
            pairs=tuple(
                (first, second, min(near, also))
                for (first, second, near), (_, _, also) in zip(self.pairs, other.pairs, strict=True)
            ),
            reverse_bends=self.reverse_bends + other.reverse_bends,
            wound_on=self.wound_on + other.wound_on,
            pick_ups=_sum_of_pick_ups(self.pick_ups, other.pick_ups),
            origin=self.origin if self.origin == other.origin else "several",
            first_ms=_either(min, self.first_ms, other.first_ms),
            last_ms=_either(max, self.last_ms, other.last_ms),
            quality=self.quality + other.quality,
        )


def _names(count: BendCount) -> list[tuple[str, str]]:
    return [(first, second) for first, second, _ in count.pairs]


def _either(choose: Callable[[list[int]], int], mine: int | None, yours: int | None) -> int | None:
    known = [one for one in (mine, yours) if one is not None]
    return choose(known) if known else None


def _sum_of_pick_ups(mine: PickUps, yours: PickUps) -> PickUps:
    low = min(mine.hook_from_m, yours.hook_from_m)
    high = max(one.hook_from_m + one.hook_counts.size for one in (mine, yours))
    hook = np.zeros(round(high - low), dtype=np.int64)
    for one in (mine, yours):
        first = round(one.hook_from_m - low)
        hook[first : first + one.hook_counts.size] += one.hook_counts
    return PickUps(
        counts=mine.counts + yours.counts,
        rest_ms=mine.rest_ms + yours.rest_ms,
        hook_counts=hook,
        hook_from_m=low,
        lifts=mine.lifts + yours.lifts,
    )

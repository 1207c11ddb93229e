"""Counts bends the slow way: sample by sample, bin by bin, in plain whole numbers.

It follows the written rules of counting and shares no code with the tool's counter; where the
rope's contacts are at a crane position it asks the path kernel, which has its own simulator.
"""

import math
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from ropewright.geometry import CranePositions, Hoist, trace

TENTHS = 10_000  # tenths of a millimetre in a metre


@dataclass
class Sample:
    """One line of a log; none where a reading is missing."""

    time_ms: int
    readings: dict[str, float | None]
    load_t: float | None


@dataclass
class Rules:
    """How to count."""

    bin_m: float
    upper_t: list[float]
    jitter_m: float
    jitter_deg: float
    gap_s: float
    speed: float
    block_t: float
    slack_share: float
    loaded_above_t: float


@dataclass
class Sums:
    """What was counted, by (name, class, bin)."""

    half_bends: dict[tuple[str, int, int], int] = field(default_factory=dict)
    reverse: dict[tuple[str, str, int, int], int] = field(default_factory=dict)
    wound_on: dict[tuple[str, int], int] = field(default_factory=dict)
    picked: dict[tuple[str, int, int], int] = field(default_factory=dict)
    rest_ms: dict[tuple[str, int], int] = field(default_factory=dict)
    odd: dict[str, int] = field(default_factory=dict)
    lifts: int = 0


def add(sums: dict[Any, int], key: Any, much: int = 1) -> None:
    if much:
        sums[key] = sums.get(key, 0) + much


class Follower:
    """A reading that moves only when it has gone on, or come back by more than a dead band."""

    def __init__(self, band: int) -> None:
        self.half = band // 2
        self.middle: int | None = None
        self.way = 0

    def follow(self, reading: int) -> int:
        if self.middle is None or self.half == 0:
            self.middle = reading
            return reading
        if reading > self.middle + self.half:
            self.middle, self.way = reading - self.half, 1
        elif reading < self.middle - self.half:
            self.middle, self.way = reading + self.half, -1
        return self.middle + self.way * self.half


@dataclass
class Contact:
    """A contact's tangent points at one moment, in tenths of a mm; none on a drum's far side."""

    name: str
    sense: int
    start: int | None
    end: int | None

    def behind(self, middle: int) -> int:
        """Return how many of the tangent points a place lies at or behind."""
        return sum(middle >= point for point in (self.start, self.end) if point is not None)

    def holds(self, middle: int, half_turn: int) -> bool:
        """Tell whether a place lies on the contact; on a drum, within half a turn."""
        start = self.start if self.start is not None else (self.end or 0) - half_turn
        end = self.end if self.end is not None else start + half_turn
        return start <= middle < end


def contacts_at(hoist: Hoist, readings: dict[str, float]) -> list[Contact]:
    rows = hoist.rows()
    path = trace(hoist, CranePositions.of(**readings))

    def place(value: float, constant: float) -> int:
        return round(constant * TENTHS) + round((value - constant) * TENTHS)

    found = [
        Contact(
            name,
            sense,
            place(float(path.start_m[number, 0]), float(rows.start[number, 0])),
            place(float(path.end_m[number, 0]), float(rows.end[number, 0])),
        )
        for number, (name, sense) in enumerate(zip(path.contacts, path.senses, strict=True))
    ]
    sense = hoist.reeving.drum_sense
    if hoist.reeving.end_a == "drum":
        base = place(float(path.base_m[0]), float(rows.base[0]))
        found.insert(0, Contact("drum A", sense, None, base))
    out = place(float(path.out_m[0]), float(rows.out[0]))
    return [*found, Contact("drum", sense, out, None)]


class Simulator:
    """Goes through a log once."""

    def __init__(self, hoist: Hoist, rules: Rules) -> None:
        assert hoist.rope_m is not None
        self.hoist, self.rules, self.sums = hoist, rules, Sums()
        width = round(rules.bin_m * TENTHS)
        bins = math.ceil(round(hoist.rope_m / rules.bin_m, 6))
        self.middles = [number * width + width // 2 for number in range(bins)]
        self.side: dict[tuple[str, str], list[int]] = {}
        self.followers: dict[str, Follower] = {}
        self.seen_ms: int | None = None
        self.good: Sample | None = None
        self.last: Sample | None = None
        self.contacts: list[Contact] = []
        self.bridging = False
        self.slack = False
        self.tight_hook: float | None = None
        self.lifting = False
        self.peak = 0
        self.picked_at: list[Contact] = []

    def run(self, log: list[Sample]) -> Sums:
        for sample in log:
            self.take(sample)
        if self.lifting:
            self.lift_ends()
        return self.sums

    # --- Is the sample any good? --------------------------------------------------------------

    def take(self, sample: Sample) -> None:
        odd = self.sums.odd
        if self.seen_ms is not None and sample.time_ms <= self.seen_ms:
            add(odd, "repeated" if sample.time_ms == self.seen_ms else "backward")
            return
        self.seen_ms = sample.time_ms
        for axis, value in sample.readings.items():
            if value is None:
                add(odd, "blank")
                return
            low, high = self.hoist.travel.range_of(axis) or (-math.inf, math.inf)  # type: ignore[arg-type]
            if axis == "hook_m":
                low = min(low, self.hoist.travel.ground_m)
            if not low - 1 <= value <= high + 1:
                add(odd, "beyond_travel")
                return
        if sample.load_t is None:
            add(odd, "load_unknown")
        since = 0 if self.good is None else sample.time_ms - self.good.time_ms
        gap = since > self.rules.gap_s * 1000
        self.good = sample
        self.watch_slack(sample)
        if gap:
            add(odd, "gaps")
            add(odd, "gap_ms", since)
            self.bridging = True
        elif self.slack:
            add(odd, "slack_ms", since)
        else:
            add(odd, "covered_ms", since)
        if self.slack:
            self.bridging = True
            return
        self.count(sample)
        self.bridging = False

    def watch_slack(self, sample: Sample) -> None:
        hook, load = sample.readings.get("hook_m"), sample.load_t
        if hook is None:
            return
        below = self.rules.slack_share * self.rules.block_t
        if self.tight_hook is None:
            self.tight_hook = hook
        if load is not None and load >= below:
            self.slack, self.tight_hook = False, hook
        elif load is not None and hook < self.tight_hook - self.rules.jitter_m and not self.slack:
            self.slack = True
            add(self.sums.odd, "slack_spells")

    # --- What moved? --------------------------------------------------------------------------

    def count(self, sample: Sample) -> None:
        last = self.last
        fresh = last is None
        hook = sample.readings.get("hook_m")
        if last is not None and hook is not None:
            before = last.readings["hook_m"]
            assert before is not None
            since_s = (sample.time_ms - last.time_ms) / 1000
            if abs(hook - before) > 0.5 + self.rules.speed * since_s:
                add(self.sums.odd, "resets")
                fresh = True
        if fresh:
            self.followers = {}
        readings = {}
        for axis, value in sample.readings.items():
            assert value is not None
            band = self.rules.jitter_deg if axis.endswith("deg") else self.rules.jitter_m
            follower = self.followers.setdefault(axis, Follower(round(band * TENTHS)))
            readings[axis] = follower.follow(round(value * TENTHS)) / TENTHS
        now = contacts_at(self.hoist, readings)
        self.note_sides(now, count=False) if not self.side else None
        if not fresh and last is not None:
            self.step(last, sample, now)
        else:
            self.note_sides(now, count=False)
        self.contacts = now
        self.watch_lift(sample, now)
        self.last = sample

    def step(self, last: Sample, sample: Sample, now: list[Contact]) -> None:
        unknown = len(self.rules.upper_t) + 1
        loads = [last.load_t, sample.load_t]
        number = unknown
        if not self.bridging and None not in loads:
            number = max(self.load_class(load) for load in loads if load is not None)
        for before, after in zip(self.contacts, now, strict=True):
            self.crossings(before, after, number)
        self.note_sides(now, count=True, number=number)
        still = [(one.start, one.end) for one in self.contacts] == [
            (one.start, one.end) for one in now
        ]
        if still and not self.bridging and all(self.is_loaded(load) for load in loads):
            self.rest(now, sample.time_ms - last.time_ms)

    def crossings(self, before: Contact, after: Contact, number: int) -> None:
        """Count the elements that passed a tangent point of one contact."""
        for index, middle in enumerate(self.middles):
            was, now = before.behind(middle), after.behind(middle)
            add(self.sums.half_bends, (after.name, number, index), abs(now - was))
            if after.name == "drum" and now > was:
                add(self.sums.wound_on, ("drum", index))
            if after.name == "drum A" and now < was:
                add(self.sums.wound_on, ("drum A", index))

    def rest(self, now: list[Contact], time_ms: int) -> None:
        for contact in now:
            for index, middle in enumerate(self.middles):
                if contact.holds(middle, self.half_turn(contact)):
                    add(self.sums.rest_ms, (contact.name, index), time_ms)

    def note_sides(self, now: list[Contact], *, count: bool, number: int = 0) -> None:
        """Follow on which of two neighbours each element was last."""
        for first, second in pairwise(now):
            if first.sense == second.sense:
                continue
            assert first.end is not None
            assert second.start is not None
            # Elements on the free rope at first are taken to have come from the drum's side.
            sides = self.side.setdefault((first.name, second.name), [1] * len(self.middles))
            for index, middle in enumerate(self.middles):
                new = -1 if middle < first.end else 1 if middle >= second.start else sides[index]
                if new != sides[index] and count:
                    add(self.sums.reverse, (first.name, second.name, number, index))
                sides[index] = new

    # --- Loads --------------------------------------------------------------------------------

    def load_class(self, load: float) -> int:
        whole = round(load * 1000)
        return sum(whole > round(bound * 1000) for bound in self.rules.upper_t)

    def is_loaded(self, load: float | None) -> bool:
        return load is not None and round(load * 1000) > round(self.rules.loaded_above_t * 1000)

    def watch_lift(self, sample: Sample, now: list[Contact]) -> None:
        if sample.load_t is None:
            return
        whole = round(sample.load_t * 1000)
        begins, block = self.rules.loaded_above_t * 1000, self.rules.block_t * 1000
        if not self.lifting and self.is_loaded(sample.load_t):
            self.lifting, self.peak, self.picked_at = True, 0, now
        elif self.lifting and whole < block + 0.8 * (begins - block):
            self.lift_ends()
        self.peak = max(self.peak, whole)

    def lift_ends(self) -> None:
        self.lifting = False
        self.sums.lifts += 1
        number = self.load_class(self.peak / 1000)
        for contact in self.picked_at:
            for index, middle in enumerate(self.middles):
                if contact.holds(middle, self.half_turn(contact)):
                    add(self.sums.picked, (contact.name, number, index))

    def half_turn(self, contact: Contact) -> int:
        """Return half a turn of rope on the layer that the rope runs onto."""
        point = contact.end if contact.start is None else contact.start
        if contact.start is not None and contact.end is not None:
            return 0
        drum = self.hoist.wound_drum()
        assert point is not None
        wound = point / TENTHS
        if contact.start is not None:
            wound = self.hoist.rope_length_m() - wound
        turn = 0.0
        for ends, metres in zip((0.0, *drum.layer_ends_m), drum.turn_m, strict=False):
            if wound >= ends:
                turn = metres
        return round(turn / 2 * TENTHS)

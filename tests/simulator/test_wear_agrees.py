"""The fast count of bends against the slow one, on random cranes and random logs: exactly.

Every expected figure is of the kind 'by a slow program of our own' (wear_simulator.py).
"""

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from ropewright.geometry import Axis, Hoist
from ropewright.wear.counting import LogCounter
from ropewright.wear.model import BendCount, DutyChunk
from ropewright.wear.settings import Counting, LoadClasses
from tests.simulator.riggings import (
    luffing_jibs,
    luffing_ropes,
    telescopics,
    trolley_jibs,
    twin_drums,
)
from tests.simulator.wear_simulator import Rules, Sample, Simulator, Sums

ANY = st.one_of(trolley_jibs(), luffing_jibs(), luffing_ropes(), telescopics(), twin_drums()).map(
    lambda rigging: rigging.hoist
)

BLOCK_T = 0.4
UPPER_T = [0.5, 1.0, 2.5, 5.0]


class Invented:
    """A crane that moves about; if odd, its log has everything that goes wrong."""

    def __init__(self, hoist: Hoist, seed: int, *, odd: bool) -> None:
        self.chance, self.odd = np.random.default_rng(seed), odd
        self.axes = list(hoist.reeving.axes)
        self.bounds = {axis: hoist.travel.range_of(axis) or (0.0, 0.0) for axis in self.axes}
        self.here = {axis: float(self.chance.uniform(*self.bounds[axis])) for axis in self.axes}
        self.aim = dict(self.here)
        self.time_ms, self.load_t, self.shift = 1_700_000_000_000, BLOCK_T, 0.0

    def log(self, samples: int) -> list[Sample]:
        return [self.sample() for _ in range(samples)]

    def sample(self) -> Sample:
        chance = self.chance
        self.time_ms += 1000
        for axis in self.axes:
            self.move(axis)
        if chance.random() < 0.1:
            self.load_t = float(chance.choice([BLOCK_T, 0.47, 0.6, 1.3, 4.0, 6.5]))
        noise = 0.03 if self.odd else 0.0
        readings: dict[str, float | None] = {
            axis: round(self.here[axis] + noise * float(chance.normal()), 2) for axis in self.axes
        }
        sample = Sample(self.time_ms, readings, round(self.load_t, 2))
        if self.odd:
            self.spoil(sample)
        return sample

    def move(self, axis: Axis) -> None:
        low, high = self.bounds[axis]
        fastest = 1.5 if axis == "hook_m" else 0.05 * (high - low)
        if abs(self.aim[axis] - self.here[axis]) < 0.01 and self.chance.random() < 0.2:
            self.aim[axis] = float(self.chance.uniform(low, high))
        far = self.aim[axis] - self.here[axis]
        self.here[axis] += math.copysign(min(abs(far), fastest * self.chance.random()), far)

    def spoil(self, sample: Sample) -> None:
        kind = int(self.chance.integers(0, 100))
        self.time_ms += {0: 90_000, 1: -1000, 2: -5000, 3: 40_000}.get(kind, 0)
        sample.time_ms = self.time_ms
        if kind == 4:
            sample.readings[str(self.chance.choice(self.axes))] = None
        if kind == 5:
            sample.readings[self.axes[0]] = self.bounds[self.axes[0]][1] + 30
        if kind == 7:
            self.shift = float(self.chance.choice([0.0, 12.0]))
        if kind < 20 and self.chance.random() < 0.5:
            sample.load_t = 0.1
        if kind == 6:
            sample.load_t = None
        hook = sample.readings.get("hook_m")
        if hook is not None:
            sample.readings["hook_m"] = round(hook + self.shift, 2)


def as_chunks(log: list[Sample], cuts: int) -> list[DutyChunk]:
    def column(name: str) -> Any:
        values = [sample.readings[name] for sample in log]
        return np.array([math.nan if value is None else value for value in values])

    loads = np.array([math.nan if one.load_t is None else one.load_t for one in log])
    times = np.array([one.time_ms for one in log], dtype=np.int64)
    columns = {name: column(name) for name in log[0].readings}
    return [
        DutyChunk(
            time_ms=times[part],
            load_t=loads[part],
            **{name: values[part] for name, values in columns.items()},
        )
        for part in np.array_split(np.arange(times.size), cuts)
    ]


def as_sums(count: BendCount) -> Sums:
    """Return a count of the tool in the simulator's form."""
    sums = Sums(lifts=count.pick_ups.lifts)
    for contact, number, index in np.argwhere(count.half_bends).tolist():
        key = (count.contacts[contact], number, index)
        sums.half_bends[key] = int(count.half_bends[contact, number, index])
    for pair, number, index in np.argwhere(count.reverse_bends).tolist():
        first, second, _ = count.pairs[pair]
        sums.reverse[first, second, number, index] = int(count.reverse_bends[pair, number, index])
    drums = [name for name in count.contacts if name in ("drum A", "drum")]
    for drum, index in np.argwhere(count.wound_on).tolist():
        sums.wound_on[drums[drum], index] = int(count.wound_on[drum, index])
    for contact, number, index in np.argwhere(count.pick_ups.counts).tolist():
        key = (count.contacts[contact], number, index)
        sums.picked[key] = int(count.pick_ups.counts[contact, number, index])
    for contact, index in np.argwhere(count.pick_ups.rest_ms).tolist():
        time_ms = int(count.pick_ups.rest_ms[contact, index])
        sums.rest_ms[count.contacts[contact], index] = time_ms
    for name in (
        "repeated", "backward", "blank", "beyond_travel", "load_unknown", "gaps", "gap_ms",
        "slack_ms", "covered_ms", "slack_spells", "resets",
    ):  # fmt: skip
        if value := getattr(count.quality, name):
            sums.odd[name] = value
    return sums


CHOICES: dict[str, st.SearchStrategy[Any]] = {
    "hoist": ANY,
    "seed": st.integers(0, 10**6),
    "cuts": st.integers(1, 40),
    "jitter": st.sampled_from([0.0, 0.02, 0.3]),
    "bin_m": st.sampled_from([0.5, 1.0]),
}
PLENTY = list(HealthCheck)


@dataclass(frozen=True)
class Log:
    """What kind of log to invent."""

    odd: bool
    samples: int


def check(hoist: Hoist, seed: int, cuts: int, jitter: float, bin_m: float, *, log: Log) -> None:
    """Count a log both ways."""
    counting = Counting(
        classes=LoadClasses(upper_t=tuple(UPPER_T)),
        bin_m=bin_m,
        jitter_m=jitter,
        jitter_deg=jitter,
        block_t=BLOCK_T,
        lifted_from_t=0.5,
    )
    rules = Rules(
        bin_m=bin_m, upper_t=UPPER_T, jitter_m=jitter, jitter_deg=jitter, gap_s=60.0, speed=5.0,
        block_t=BLOCK_T, slack_share=0.5, loaded_above_t=0.5,
    )  # fmt: skip
    samples = Invented(hoist, seed, odd=log.odd).log(log.samples)
    slow = Simulator(hoist, rules).run(samples)
    with ThreadPoolExecutor(max_workers=1) as helper:
        # Not by `bends`, which refuses logs as odd as some of these.
        counter = LogCounter(hoist, counting, helper if seed % 2 else None)
        for chunk in as_chunks(samples, cuts):
            counter.take(chunk)
        fast = as_sums(counter.count())
    for name in Sums.__dataclass_fields__:
        assert getattr(fast, name) == getattr(slow, name), name


@pytest.mark.parametrize("odd", [False, True], ids=["plain", "odd"])
@settings(max_examples=12, deadline=None, suppress_health_check=PLENTY)
@given(**CHOICES)
def test_fast_count_agrees_with_slow_one(odd: bool, **chosen: Any) -> None:
    check(**chosen, log=Log(odd=odd, samples=120))


@pytest.mark.proof
@pytest.mark.parametrize("odd", [False, True], ids=["plain", "odd"])
@settings(max_examples=150, deadline=None, suppress_health_check=PLENTY)
@given(**CHOICES)
def test_fast_count_agrees_on_many_logs(odd: bool, **chosen: Any) -> None:
    check(**chosen, log=Log(odd=odd, samples=300))

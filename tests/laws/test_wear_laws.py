"""Laws of counting bends: what must hold for any log, whatever the figures."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ropewright.wear import BendCount, Counting, DutyChunk, LoadClasses, bends
from tests.unit.geometry_path.reference import reference_hoist

HOIST = reference_hoist()
COUNTING = Counting(
    classes=LoadClasses.even(8.0, classes=4), bin_m=0.5, jitter_m=0.0, jitter_deg=0.0, block_t=0.4,
    gap_s=1e6,
)  # fmt: skip
SAMPLE = st.tuples(st.integers(0, 6000), st.integers(200, 5800), st.integers(40, 900))
LOGS = st.lists(SAMPLE, min_size=2, max_size=40)

Log = list[tuple[int, int, int]]


def chunk(log: Log) -> DutyChunk:
    """Return a log of hook heights, radii and loads in hundredths; steps are slow."""
    hook, radius, load = (np.array(column) / 100 for column in zip(*log, strict=True))
    return DutyChunk(
        time_ms=np.arange(len(log)) * 100_000, hook_m=hook, radius_m=radius, load_t=load
    )


def count_of(log: Log, counting: Counting = COUNTING) -> BendCount:
    return bends([chunk(log)], HOIST, counting)


@settings(max_examples=60, deadline=None)
@given(log=LOGS, more=LOGS)
def test_more_work_never_takes_bends_away(log: Log, more: Log) -> None:
    before, after = count_of(log), count_of(log + more)
    assert (after.half_bends >= before.half_bends).all()
    assert (after.reverse_bends >= before.reverse_bends).all()
    assert (after.wound_on >= before.wound_on).all()


@settings(max_examples=60, deadline=None)
@given(log=LOGS)
def test_backwards_in_time_bends_as_often(log: Log) -> None:
    there, back = count_of(log), count_of(log[::-1])
    assert (there.half_bends == back.half_bends).all()


@settings(max_examples=60, deadline=None)
@given(log=LOGS)
def test_there_and_back_leaves_whole_bends(log: Log) -> None:
    # Every element is again where it was: it has passed each contact's tangent points in pairs.
    both = count_of(log + log[::-1])
    assert (both.half_bends.sum(axis=1) % 2 == 0).all()


@settings(max_examples=60, deadline=None)
@given(log=LOGS, heavier=st.integers(0, 400))
def test_heavier_loads_never_weigh_less(log: Log, heavier: int) -> None:
    light = count_of(log).weighted(3, unknown_t=8.0)
    heavy = count_of([(hook, radius, load + heavier) for hook, radius, load in log])
    assert (heavy.weighted(3, unknown_t=8.0) >= light - 1e-9).all()


@settings(max_examples=40, deadline=None)
@given(log=LOGS, width=st.sampled_from([0.1, 0.25, 1.0]))
def test_width_of_bins_keeps_the_metres_bent(log: Log, width: float) -> None:
    # Bent metres differ by at most a bin at each of the two ends of each stroke and contact.
    fine, wide = (
        count_of(log, replace(COUNTING, bin_m=0.05)),
        count_of(log, replace(COUNTING, bin_m=width)),
    )
    metres = [one.half_bends.sum() * one.bin_m for one in (fine, wide)]
    points = 2 * len(fine.contacts) * len(log)
    assert abs(metres[0] - metres[1]) <= points * (width + 0.05)


@settings(max_examples=40, deadline=None)
@given(log=LOGS, jitter=st.sampled_from([0.02, 0.1, 0.5]))
def test_a_dead_band_never_adds_bends(log: Log, jitter: float) -> None:
    # Of one axis: with two at once, leaving one out can lengthen a stroke of their sum.
    still = [(hook, 2000, load) for hook, _, load in log]
    strict, quiet = count_of(still), count_of(still, replace(COUNTING, jitter_m=jitter))
    assert (quiet.half_bends.sum(axis=1) <= strict.half_bends.sum(axis=1)).all()


@pytest.mark.parametrize("width", [0.05, 0.1, 0.2])
def test_every_bin_passed_once_by_one_stroke(width: float) -> None:
    # By hand: a drop of 60 m takes the drum's tangent point over 120 m of rope.
    count = count_of([(6000, 2000, 40), (0, 2000, 40)], replace(COUNTING, bin_m=width))
    drum = count.half_bends[-1].sum(axis=0)
    assert set(np.unique(drum)) == {0, 1}
    assert drum.sum() * width == pytest.approx(120, abs=width)

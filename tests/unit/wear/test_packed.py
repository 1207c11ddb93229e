"""Counts packed and unpacked: the same to the last number, and damage is noticed."""

import numpy as np
import pytest

from ropewright.errors import InputError
from ropewright.wear import BendCount, Counting, DutyChunk, LoadClasses, bends
from ropewright.wear.packed import pack_counts, unpack_counts
from tests.unit.geometry_path.reference import reference_hoist

COUNTING = Counting(classes=LoadClasses(upper_t=(1.0, 4.0)), block_t=0.4, gap_s=1e6)


def _count(seed: int) -> BendCount:
    rng = np.random.default_rng(seed)
    log = DutyChunk(
        time_ms=1_760_000_000_000 + np.arange(30) * 100_000,
        hook_m=rng.uniform(0, 50, 30),
        radius_m=rng.uniform(10, 50, 30),
        load_t=rng.uniform(0.4, 4, 30),
    )
    return bends([log], reference_hoist(), COUNTING)


def test_there_and_back() -> None:
    counts = [_count(1), _count(2)]
    packed = pack_counts([({"days": 1.5, "name": "ä"}, counts[0]), ({}, counts[1])])
    assert len(packed) < counts[0].half_bends.nbytes / 10
    found = unpack_counts(packed)
    assert [about for about, _ in found] == [{"days": 1.5, "name": "ä"}, {}]
    for (_, count), before in zip(found, counts, strict=True):
        assert (count.half_bends == before.half_bends).all()
        assert (count.pick_ups.counts == before.pick_ups.counts).all()
        assert count.quality == before.quality
        assert count.pairs == before.pairs
    assert unpack_counts(pack_counts([])) == []


def test_damage_is_noticed() -> None:
    packed = pack_counts([({}, _count(1))])
    for broken in (b"", b"nonsense", packed[:-200], packed[:300]):
        with pytest.raises(InputError, match="packed"):
            unpack_counts(broken)

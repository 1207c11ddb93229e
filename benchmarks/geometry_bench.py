"""How fast the geometry kernel is: crane positions per second and core, and its working set.

Run with `python -m benchmarks.geometry_bench`.  Each position is traced to every contact's
beginning and end and to layer, wrap and part of turn on the drum.  Positions come in long series
as from a duty log and are worked on in chunks; processor time of all threads is counted, so the
figure is per core whatever the linear algebra library does.
"""

import os
import time
import tracemalloc
from collections.abc import Callable

import numpy as np

from ropewright.geometry import (
    BlockSheaves,
    CranePositions,
    Hoist,
    Lead,
    LevelTrack,
    LuffingJib,
    TelescopicBoom,
    Travel,
    bridge_hoist_twin,
    drum_from,
    drum_wraps,
    luffing_jib_hoist,
    telescopic_hoist,
    trace_in_chunks,
    trolley_jib_hoist,
)

POSITIONS = 3_000_000
TARGET_PER_S = 3e6
TARGET_MB = 64
SHEAVES = BlockSheaves(block_mm=500, upper_mm=500)


def trolley_jib(falls: int) -> Hoist:
    """A trolley-jib tower crane."""
    reeving = trolley_jib_hoist(
        falls=falls,
        frame=LevelTrack(sheave_height_m=62, hook_below_m=1.2),
        sheaves=SHEAVES,
        lead=Lead(to_drum_m=13.6, sheave_mm=500),
        root_m=1.5,
        anchor_m=60,
    )
    travel = Travel(hook_low_m=0, hook_high_m=58, radius_min_m=3, radius_max_m=58)
    rope_m = 205 if falls == 2 else 330
    drum = drum_from(barrel_mm=480, rope_mm=20.4, wraps=28, pitch_mm=20.9, layers=7)
    return Hoist(reeving=reeving, travel=travel, rope_m=rope_m, drum=drum)


def luffing_jib() -> Hoist:
    """A luffing-jib tower crane on 2 falls."""
    reeving = luffing_jib_hoist(
        falls=2,
        frame=LuffingJib(
            jib_m=50, foot_height_m=40, a_frame_back_m=7, a_frame_up_m=12, hook_below_m=1.5
        ),
        sheaves=SHEAVES,
        a_frame_sheave_mm=500,
        lead_deg=270,
        lead=Lead(to_drum_m=12),
    )
    travel = Travel(hook_low_m=0, hook_high_m=45, jib_min_deg=20, jib_max_deg=80)
    drum = drum_from(barrel_mm=480, rope_mm=20.4, wraps=28, pitch_mm=20.9, layers=7)
    return Hoist(reeving=reeving, travel=travel, rope_m=280, drum=drum)


def telescopic() -> Hoist:
    """A telescopic crane on 4 falls."""
    reeving = telescopic_hoist(
        falls=4,
        frame=TelescopicBoom(foot_height_m=2, hook_below_m=1.0),
        sheaves=SHEAVES,
        lead=Lead(to_drum_m=3),
    )
    travel = Travel(
        hook_low_m=0, hook_high_m=5, boom_min_m=12, boom_max_m=35,
        boom_min_deg=40, boom_max_deg=80,
    )  # fmt: skip
    drum = drum_from(barrel_mm=400, rope_mm=19.4, wraps=28, pitch_mm=20, layers=7)
    return Hoist(reeving=reeving, travel=travel, rope_m=200, drum=drum)


def bridge() -> Hoist:
    """A bridge crane with twin drum and equaliser."""
    reeving = bridge_hoist_twin(
        falls=4,
        frame=LevelTrack(sheave_height_m=12, hook_below_m=0.6),
        sheaves=BlockSheaves(block_mm=300, upper_mm=300),
        equaliser_mm=240,
    )
    drum = drum_from(barrel_mm=300, rope_mm=13.3, wraps=32, layers=1)
    travel = Travel(hook_low_m=0, hook_high_m=10)
    return Hoist(reeving=reeving, travel=travel, rope_m=56, drum=drum)


def positions(hoist: Hoist, count: int) -> CranePositions:
    """A long series of crane positions within the limits; only needed axes."""
    chance = np.random.default_rng(20_260_401)
    axes = {}
    for axis in hoist.reeving.axes:
        bounds = hoist.travel.range_of(axis)
        if bounds is not None:
            axes[axis] = chance.uniform(*bounds, count)
    return CranePositions.of(**axes)


def work(hoist: Hoist, at: CranePositions) -> float:
    """Trace all positions, down to the place on the drum; return a checksum [m]."""
    drum = hoist.wound_drum()
    total = 0.0
    for _, path in trace_in_chunks(hoist, at):
        if path.on_drum_m is not None:
            places = drum_wraps(drum, path.on_drum_m)
            total += float(places.part[0]) + float(path.end_m[0, 0])
    return total


def measure(hoist: Hoist) -> tuple[float, float, float]:
    """Positions per second of processor time and of wall time, and peak memory [MB]."""
    at = positions(hoist, POSITIONS)
    work(hoist, at.part(slice(0, 100_000)))
    wall, processor = time.perf_counter(), time.process_time()
    work(hoist, at)
    wall, processor = time.perf_counter() - wall, time.process_time() - processor
    tracemalloc.start()
    work(hoist, at.part(slice(0, 500_000)))
    peak = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()
    return POSITIONS / processor, POSITIONS / wall, peak


HOISTS: dict[str, Callable[[], Hoist]] = {
    "trolley jib, 2 falls": lambda: trolley_jib(2),
    "trolley jib, 4 falls": lambda: trolley_jib(4),
    "luffing jib, 2 falls": luffing_jib,
    "telescopic, 4 falls": telescopic,
    "bridge, twin drum, 4 falls": bridge,
}


def main() -> None:
    """Print one line per hoist; end with a failure if a target is missed."""
    missed = []
    print(f"{POSITIONS:,} positions each, {os.cpu_count()} cores, NumPy {np.__version__}")
    for name, make in HOISTS.items():
        per_core, per_wall, peak = measure(make())
        print(
            f"{name:<28} {per_core / 1e6:6.2f} million/s and core"
            f"  ({per_wall / 1e6:.2f} million/s by the wall clock), working set {peak:.1f} MB"
        )
        if per_core < TARGET_PER_S or peak > TARGET_MB:
            missed.append(name)
    if missed:
        raise SystemExit(f"slower than 3 million/s, or more than 64 MB: {', '.join(missed)}")


if __name__ == "__main__":
    main()

"""How fast the geometry kernel is: crane positions per second and core, and its working set.

Run with `python -m benchmarks.geometry_bench`.  Each position is traced to every contact's
beginning and end and to layer, wrap and part of turn on the drum.  Positions come in long series
as from a duty log and are worked on in chunks; processor time of all threads is counted, so the
figure is per core whatever the linear algebra library does.
"""

import os
import time
import tracemalloc
from collections.abc import Callable, Iterator
from datetime import date

import numpy as np

from benchmarks.measuring import Figure
from ropewright.demo import demo_case
from ropewright.desk import AtPoint, plan_for, where_is
from ropewright.geometry import (
    BlockSheaves,
    CranePosition,
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
from ropewright.intake import PackageShelf, read_case

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


def measure(hoist: Hoist, count: int = POSITIONS) -> tuple[float, float, float]:
    """Positions per second of processor time and of wall time, and peak memory [MB]."""
    at = positions(hoist, count)
    work(hoist, at.part(slice(0, min(count, 100_000))))
    wall, processor = time.perf_counter(), time.process_time()
    work(hoist, at)
    wall, processor = time.perf_counter() - wall, time.process_time() - processor
    tracemalloc.start()
    work(hoist, at.part(slice(0, min(count, 500_000))))
    peak = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()
    return count / processor, count / wall, peak


HOISTS: dict[str, Callable[[], Hoist]] = {
    "trolley jib, 2 falls": lambda: trolley_jib(2),
    "trolley jib, 4 falls": lambda: trolley_jib(4),
    "luffing jib, 2 falls": luffing_jib,
    "telescopic, 4 falls": telescopic,
    "bridge, twin drum, 4 falls": bridge,
}


def figures(count: int = POSITIONS) -> Iterator[Figure]:
    """Speed and working set of each hoist, with their targets."""
    for name, make in HOISTS.items():
        per_core, per_wall, peak = measure(make(), count)
        yield Figure(
            what=f"{name}, positions per core",
            found=f"{per_core / 1e6:.2f} million/s",
            target=f">= {TARGET_PER_S / 1e6:g}",
            good=per_core >= TARGET_PER_S,
        )
        yield Figure(what="  by the wall clock", found=f"{per_wall / 1e6:.2f} million/s")
        yield Figure(
            what="  working set", found=f"{peak:.1f} MB", target=f"<= {TARGET_MB} MB",
            good=peak <= TARGET_MB,
        )  # fmt: skip


def planning() -> Iterator[Figure]:
    """Locating a place, calibrating on three readings, and planning a whole inspection."""
    dossier = read_case(demo_case("KQ-1"), file="KQ-1.toml").dossier
    on = date(2026, 11, 10)
    shelf = PackageShelf()
    for what, job, most_ms in (
        ("where is it: one place", lambda: where_is(dossier, _ASKED, on), 100.0),
        ("plan of an inspection",
         lambda: plan_for(dossier, shelf, on, software="benchmark"), 1000.0),
    ):  # fmt: skip
        spent = []
        for _ in range(5):
            start = time.process_time()
            job()
            spent.append(1000 * (time.process_time() - start))
        best = min(spent)
        yield Figure(
            what=what, found=f"{best:.0f} ms", target=f"<= {most_ms:g} ms", good=best <= most_ms
        )


_ASKED = AtPoint(point="tower head platform", position=CranePosition(hook_m=23.4, radius_m=30.0))


def main() -> None:
    """Print one line per figure; end with a failure if a target is missed."""
    missed = []
    print(f"{POSITIONS:,} positions each, {os.cpu_count()} cores, NumPy {np.__version__}")
    for figure in (*figures(), *planning()):
        print(f"{figure.what:<48} {figure.found:>18}   {figure.target}")
        if figure.good is False:
            missed.append(figure.what)
    if missed:
        raise SystemExit(f"targets missed: {', '.join(missed)}")


if __name__ == "__main__":
    main()

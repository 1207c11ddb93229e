"""How fast bends are counted: one crane-year at 1 Hz, five sheaves and drum, bins of 0.1 m.

Run with `python -m benchmarks.wear_bench`.  An invented year is made piece by piece and written
to a temporary folder, as NumPy columns and as twelve Parquet files.  Each measurement runs in a
process of its own, so that its greatest memory can be told; wall time and processor time of all
threads are both shown, since other work on the machine lengthens the one and not the other.
The plain programs count half-bends only: no load classes, no reverse bends, no pick-ups, no rest,
no check of the log.
"""

import argparse
import json
import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from itertools import chain
from pathlib import Path
from time import perf_counter, process_time
from typing import Any

import numpy as np
import numpy.typing as npt

from benchmarks.crane_year import BLOCK_T, SAMPLES, START_MS, crane_year
from ropewright.geometry import (
    BlockSheaves,
    Contact,
    Drum,
    Hoist,
    Lead,
    LevelTrack,
    Span,
    Travel,
    bridge_hoist_single,
    trolley_jib_hoist,
)
from ropewright.wear import BendCount, Counting, DutyChunk, LoadClasses, bends

SEED = 20260301
BIN_M = 0.1
PIECE = 1 << 20
COUNTING = Counting(classes=LoadClasses.even(8.0), bin_m=BIN_M, block_t=BLOCK_T)
SHEAVES = BlockSheaves(block_mm=500, upper_mm=500, block_sense=-1)
LEAD = Lead(
    to_drum_m=12.0,
    sheave_mm=500,
    more=(
        Span(name="to the deflection sheave", fixed_m=3.0),
        Contact(name="deflection sheave", pitch_diameter_mm=500, wrap_deg=60),
    ),
)
DRUM = Drum(
    barrel_mm=480, rope_mm=20.4, wraps=(30.0,) * 8, rise_mm=18.4, pitch_mm=20.9, grooving="parallel"
)

Floats = npt.NDArray[np.float32]


def bridge() -> Hoist:
    """A bridge crane of four falls; its path depends on the hook only."""
    reeving = bridge_hoist_single(
        falls=4, frame=LevelTrack(sheave_height_m=70.0), sheaves=SHEAVES, lead=LEAD
    )
    travel = Travel(hook_low_m=0.0, hook_high_m=65.0)
    return Hoist(reeving=reeving, travel=travel, rope_m=310.0, drum=DRUM)


def tower() -> Hoist:
    """A trolley-jib crane of two falls; its path depends on hook and radius."""
    reeving = trolley_jib_hoist(
        falls=2, frame=LevelTrack(sheave_height_m=70.0), sheaves=SHEAVES, lead=LEAD,
        root_m=1.5, anchor_m=60.0,
    )  # fmt: skip
    travel = Travel(hook_low_m=0.0, hook_high_m=65.0, radius_min_m=2.0, radius_max_m=58.0)
    return Hoist(reeving=reeving, travel=travel, rope_m=230.0, drum=DRUM)


# --- Making the year ------------------------------------------------------------------------------


def make(folder: Path, samples: int) -> None:
    """Write the year as columns and as Parquet, piece by piece."""
    import polars

    names = ("hook_m", "radius_m", "load_t")
    columns = {
        name: np.lib.format.open_memmap(
            folder / f"{name}.npy", mode="w+", dtype=np.float32, shape=(samples,)
        )
        for name in names
    }
    at, part, gathered = 0, 1, []
    for chunk in crane_year(seed=SEED, samples=samples):
        for name, column in columns.items():
            column[at : at + len(chunk)] = getattr(chunk, name)
        at += len(chunk)
        gathered.append(chunk)
        if at >= samples * part / 12:
            _month(polars, folder / f"{part:02}.parquet", gathered)
            part, gathered = part + 1, []
    for column in columns.values():
        column.flush()


def _month(polars: Any, path: Path, chunks: list[DutyChunk]) -> None:  # noqa: ANN401
    def joined(name: str) -> npt.NDArray[Any]:
        return np.concatenate([getattr(chunk, name) for chunk in chunks])

    moments = polars.Series(joined("time_ms")).cast(polars.Datetime("ms"))
    polars.DataFrame(
        {
            "time": moments.dt.replace_time_zone("UTC"),
            "hook [m]": joined("hook_m"),
            "radius [m]": joined("radius_m"),
            "load [t]": joined("load_t"),
        }
    ).write_parquet(path)


# --- What is measured -----------------------------------------------------------------------------


def _pieces(**columns: Floats) -> Iterator[DutyChunk]:
    size = len(next(iter(columns.values())))
    seconds = START_MS + 1000 * np.arange(min(PIECE, size))
    for first in range(0, size, PIECE):
        some = {name: column[first : first + PIECE] for name, column in columns.items()}
        count = len(next(iter(some.values())))
        yield DutyChunk(time_ms=seconds[:count] + 1000 * first, **some)  # type: ignore[arg-type]


def _load(folder: Path, *names: str) -> dict[str, Floats]:
    return {name: np.load(folder / f"{name}.npy") for name in names}


def memory_hook(folder: Path) -> Callable[[], BendCount]:
    """Bridge crane, hook heights in memory."""
    columns = _load(folder, "hook_m")
    return lambda: bends(_pieces(**columns), bridge(), COUNTING)


def memory_all(folder: Path) -> Callable[[], BendCount]:
    """Tower crane, hook, radius and load in memory."""
    columns = _load(folder, "hook_m", "radius_m", "load_t")
    return lambda: bends(_pieces(**columns), tower(), COUNTING)


def parquet_hook(folder: Path) -> Callable[[], BendCount]:
    """Bridge crane, hook heights from Parquet."""
    return lambda: _from_parquet(folder, bridge(), ("hook_m",))


def parquet_all(folder: Path) -> Callable[[], BendCount]:
    """Tower crane, hook, radius and load from Parquet."""
    return lambda: _from_parquet(folder, tower(), ("hook_m", "radius_m", "load_t"))


def _from_parquet(folder: Path, hoist: Hoist, readings: tuple[str, ...]) -> BendCount:
    from ropewright.intake.duty import LogMapping, duty_log
    from ropewright.intake.duty.mapping import Column

    headings = {"hook_m": "hook [m]", "radius_m": "radius [m]", "load_t": "load [t]"}
    columns: Any = {one: Column(heading=headings[one]) for one in readings}
    mapping = LogMapping(time="time", columns=columns)
    files = sorted(folder.glob("*.parquet"))
    return bends(chain.from_iterable(duty_log(file, mapping) for file in files), hoist, COUNTING)


def _tangents() -> list[tuple[int, float]]:
    """Every tangent point of the bridge crane: its constant place, and metres per metre of drop."""
    rows = bridge().rows()
    every = np.vstack([rows.start, rows.end, rows.out[np.newaxis]])
    return [(round(float(row[0]) * 10_000), float(row[1])) for row in every if row[1]]


def plain_numpy(folder: Path) -> Callable[[], npt.NDArray[np.int64]]:
    """The plain way: bin of every sample, and np.add.at for every step; bridge crane."""
    hook = _load(folder, "hook_m")["hook_m"]

    def count() -> npt.NDArray[np.int64]:
        steps = np.zeros(3101, dtype=np.int64)
        for place, slope in _tangents():
            drop = 70.0 - hook.astype(np.float64)
            bins = (np.rint(slope * drop * 10_000).astype(np.int64) + (place + 499)) // 1000
            np.clip(bins, 0, 3100, out=bins)
            np.add.at(steps, np.minimum(bins[1:], bins[:-1]), 1)
            np.subtract.at(steps, np.maximum(bins[1:], bins[:-1]), 1)
        return np.cumsum(steps)[:-1]

    return count


def plain_pandas(folder: Path) -> Callable[[], npt.NDArray[np.int64]]:
    """The same with a data frame: shift, lower and upper bin, value counts; bridge crane."""
    import pandas  # type: ignore[import-untyped]

    frame = pandas.DataFrame(_load(folder, "hook_m"))

    def count() -> npt.NDArray[np.int64]:
        steps = pandas.Series(0, index=range(3101))
        for place, slope in _tangents():
            drop = 70.0 - frame["hook_m"].astype("float64")
            bins = ((slope * drop * 10_000).round() + (place + 499)) // 1000
            pair = pandas.DataFrame({"now": bins, "before": bins.shift()}).dropna().clip(0, 3100)
            begun = pair.min(axis=1).astype("int64").value_counts()
            ended = pair.max(axis=1).astype("int64").value_counts()
            steps = steps.add(begun, fill_value=0).sub(ended, fill_value=0)
        total: npt.NDArray[np.int64] = steps.cumsum().to_numpy(dtype=np.int64)[:-1]
        return total

    return count


def column_sum(folder: Path) -> Callable[[], float]:
    """The plain sum of the hook's column in memory."""
    hook = _load(folder, "hook_m")["hook_m"]
    return lambda: float(hook.sum(dtype=np.float64))


JOBS: dict[str, tuple[Callable[[Path], Callable[[], Any]], float | None, bool]] = {
    # what: how, target in seconds, whether the memory target holds
    "bridge, hook from memory": (memory_hook, 1.0, True),
    "tower, hook, radius, load from memory": (memory_all, 1.0, False),
    "bridge, hook from Parquet": (parquet_hook, 2.0, True),
    "tower, hook, radius, load from Parquet": (parquet_all, 2.0, True),
    "plain NumPy, sample by sample": (plain_numpy, None, False),
    "plain pandas": (plain_pandas, None, False),
    "plain sum of the column": (column_sum, None, False),
}
MOST_MB = 300


def measure(name: str, folder: Path, times: int) -> dict[str, Any]:
    """Run one job in this process; the best of some runs."""
    job = JOBS[name][0](folder)
    walls, processors = [], []
    for _ in range(times):
        wall, processor = perf_counter(), process_time()
        result = job()
        walls.append(perf_counter() - wall)
        processors.append(process_time() - processor)
    peak_mb = _peak_mb()
    best = int(np.argmin(walls))
    return {
        "wall": walls[best],
        "processor": processors[best],
        "peak_mb": peak_mb,
        "half_bends": _half_bends(result),
    }


def _peak_mb() -> float:
    """Greatest memory of this process; the kernel's other figure would count the parent's too."""
    try:
        for line in Path("/proc/self/status").read_text(encoding="ascii").splitlines():
            if line.startswith("VmHWM:"):
                return int(line.split()[1]) / 1024
    except OSError:
        pass
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def _half_bends(result: object) -> int | None:
    if isinstance(result, BendCount):
        return int(result.half_bends.sum())
    return int(result.sum()) if isinstance(result, np.ndarray) else None


def main(arguments: list[str]) -> int:
    """Make the year, run every job in a process of its own, print a table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--samples", type=int, default=SAMPLES, help="length of the log")
    parser.add_argument("--times", type=int, default=3, help="runs of each job; the best counts")
    parser.add_argument("--only", choices=sorted(JOBS), help=argparse.SUPPRESS)
    parser.add_argument("--folder", type=Path, help=argparse.SUPPRESS)
    given = parser.parse_args(arguments)
    if given.only:
        print(json.dumps(measure(given.only, given.folder, given.times)))
        return 0
    with tempfile.TemporaryDirectory() as folder:
        make(Path(folder), given.samples)
        return _table(Path(folder), given.samples, given.times)


def _table(folder: Path, samples: int, times: int) -> int:
    whole = samples == SAMPLES
    print(f"{samples:,} samples, bins of {BIN_M:g} m, {os.cpu_count()} cores", end="")
    print(f", load of the machine {os.getloadavg()[0]:.1f}")
    print(f"{'':<42} {'wall':>8} {'all cores':>10} {'memory':>8}", flush=True)
    found: dict[str, dict[str, Any]] = {}
    missed = 0
    for name, (_, target_s, lean) in JOBS.items():
        command = [sys.executable, "-m", "benchmarks.wear_bench", "--only", name]
        command += ["--folder", str(folder), "--times", str(times if target_s else 1)]
        out = subprocess.run(command, check=True, capture_output=True, text=True).stdout
        one = found[name] = json.loads(out)
        good = target_s is None or (
            one["wall"] <= target_s and (not lean or one["peak_mb"] <= MOST_MB)
        )
        missed += whole and not good
        words = "" if target_s is None else f"<= {target_s:g} s" + f", {MOST_MB} MB" * lean
        words += "" if target_s is None or not whole else "  pass" if good else "  FAIL"
        print(
            f"{name:<42} {one['wall']:>6.2f} s {one['processor']:>8.2f} s {one['peak_mb']:>5.0f} MB"
            f"  {words}".rstrip(),
            flush=True,
        )
    _ratios(found)
    same = len({one["half_bends"] for name, one in found.items() if _comparable(name)}) == 1
    print("half-bends of the bridge crane are the same in all programs:", "yes" if same else "NO")
    if whole:
        print(f"{missed} of the targets missed" if missed else "all targets met")
    return 1 if missed or not same else 0


def _comparable(name: str) -> bool:
    return name.startswith(("bridge", "plain NumPy", "plain pandas"))


def _ratios(found: dict[str, dict[str, Any]]) -> None:
    """Print how the plain programs compare, by processor time."""
    ours = found["bridge, hook from memory"]["processor"]
    for name, one in found.items():
        if name.startswith("plain"):
            print(f"{name}: {one['processor'] / ours:.3g} times the processor time of ours")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

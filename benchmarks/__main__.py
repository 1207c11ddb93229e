"""Measure all rooms, print a table, end with code 1 if a target is missed.

The logbook is measured here on fewer entries than its own program takes by default.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # one core is measured

import argparse
import platform
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from benchmarks import field_bench, forecast_bench, geometry_bench, logbook_bench
from benchmarks.measuring import Figure, assessing, reading, windows
from ropewright.logbook import create_book

SEED = 4309


def main(arguments: list[str]) -> int:
    """Run all measurements; fewer of everything for a quick look."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks", description=__doc__)
    parser.add_argument("--ropes", type=_above_zero, help="ropes to assess (10 000)")
    parser.add_argument(
        "--quick", action="store_true", help="fewer of everything: under a minute, rougher"
    )
    said = parser.parse_args(arguments)
    quick: bool = said.quick
    ropes: int = said.ropes or (200 if quick else 10_000)
    print(_machine())
    missed = 0
    for heading, figures in _rooms(ropes, quick=quick):
        print(f"\n{heading}", flush=True)
        for figure in figures:
            print(_line(figure), flush=True)
            missed += figure.good is False
    _logbook(quick=quick)
    print(f"\n{missed} of the targets missed" if missed else "\nall targets met")
    return 1 if missed else 0


def _above_zero(text: str) -> int:
    number = int(text)
    if number < 1:
        raise argparse.ArgumentTypeError("a whole number of at least 1 is expected")
    return number


def _rooms(ropes: int, *, quick: bool) -> Iterator[tuple[str, Iterator[Figure]]]:
    yield "Case files", reading()
    yield "Judging", assessing(ropes, seed=SEED)
    if not quick:
        yield "Counting windows", windows(seed=SEED)
    count = 300_000 if quick else geometry_bench.POSITIONS
    yield "Geometry", geometry_bench.figures(count)
    yield "Places and plan", geometry_bench.planning()
    yield "Forecast and matching", iter(forecast_bench.measure(20 if quick else 300))
    yield "Field app on a slow phone", field_bench.figures(3 if quick else 15)


def _logbook(*, quick: bool) -> None:
    """Print what the logbook takes; it prints as it goes, since its parts build on each other."""
    print("\nLogbook")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        book = create_book(folder / "bench.book", photo_folder=folder / "photos")
        ropes, entries = (10, 4_000) if quick else (100, 100_000)
        logbook_bench.run(book, ropes, entries, folder)
        book.close()


def _line(figure: Figure) -> str:
    word = {True: "pass", False: "FAIL", None: ""}[figure.good]
    return f"{figure.what:<58} {figure.found:>22}   {figure.target:<11} {word}".rstrip()


def _machine() -> str:
    return (
        f"{_processor()}, {os.cpu_count()} cores (one is used), {platform.system()}, "
        f"Python {platform.python_version()}, NumPy {np.__version__}"
    )


def _processor() -> str:
    try:
        lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    except OSError:
        lines = []
    names = [line.split(":", 1)[1].strip() for line in lines if line.startswith("model name")]
    return names[0] if names else platform.processor() or platform.machine()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""Measure, print a table, end with code 1 if a target is missed."""

import argparse
import os
import platform
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from benchmarks.measuring import Figure, assessing, reading, windows

SEED = 4309


def main(arguments: list[str]) -> int:
    """Run all measurements; the number of ropes may be lowered for a quick look."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks", description=__doc__)
    parser.add_argument("--ropes", type=_above_zero, default=10_000, help="ropes to assess")
    ropes = parser.parse_args(arguments).ropes
    print(_machine())
    missed = 0
    for figure in _all(ropes):
        print(_line(figure), flush=True)
        missed += figure.good is False
    print(f"{missed} of the targets missed" if missed else "all targets met")
    return 1 if missed else 0


def _above_zero(text: str) -> int:
    number = int(text)
    if number < 1:
        raise argparse.ArgumentTypeError("a whole number of at least 1 is expected")
    return number


def _all(ropes: int) -> Iterator[Figure]:
    yield from reading()
    yield from assessing(ropes, seed=SEED)
    yield from windows(seed=SEED)


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

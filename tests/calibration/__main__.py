"""Writes the calibration report: ``python -m tests.calibration --ropes 5000 --lives 150``.

Seeds are fixed beforehand and no rope is replaced.  Page and picture go to ``docs/``.
"""

import argparse
from pathlib import Path

import click

from tests.calibration.report import write_report

if __name__ == "__main__":
    parser = argparse.ArgumentParser(prog="python -m tests.calibration", description=__doc__)
    parser.add_argument("--ropes", type=int, default=200, help="ropes for coverage and PIT")
    parser.add_argument("--lives", type=int, default=20, help="whole lives for each way")
    parser.add_argument("--pairs", type=int, default=20, help="ropes for the matching table")
    parser.add_argument("--into", type=Path, default=Path("docs"), help="folder to write into")
    asked = parser.parse_args()
    write_report(
        asked.into,
        ropes=asked.ropes,
        lives=asked.lives,
        pairs=asked.pairs,
        say=lambda line: click.echo(line, err=True),
    )

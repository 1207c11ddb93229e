"""Bends per cycle of the reference crane, counted on the drawn rope and on the kernel's path.

One bend is straight-bent-straight; running onto the drum is half a bend, off it the other half.
"""

import itertools

import numpy as np
import pytest

from ropewright.geometry import CranePositions, trace
from tests.simulator.drawn_cranes import TrolleyJib
from tests.unit.geometry_path.reference import reference_hoist

# By hand (script): bends of one cycle (x, h) (20, 58) - (20, 30) - (45, 30) - (45, 50) and the
# same way back, by place from the jib tip; seams where a piece stops on an arc are left out.
CYCLE = [
    (0.0, 15.00, 0), (15.39, 40.00, 2), (40.39, 45.39, 0), (46.18, 65.39, 4), (66.18, 76.18, 2),
    (76.57, 98.39, 6), (99.18, 116.18, 4), (116.57, 120.07, 2), (120.46, 134.07, 6),
    (134.07, 157.18, 8), (157.57, 160.07, 6), (160.46, 174.07, 4), (176.46, 190.07, 1),
    (190.07, 205.0, 0),
]  # fmt: skip
# By hand: trolley from 20 to 45 m and back at h = 30 only.
TROLLEY = [
    (0.0, 15.00, 0), (15.39, 40.00, 2), (40.39, 45.39, 0), (46.18, 70.39, 2), (71.18, 76.18, 0),
    (76.57, 101.18, 2), (101.57, 119.6, 0), (120.07, 120.46, 0), (120.46, 134.07, 0),
    (134.07, 205.0, 0),
]  # fmt: skip

STEP_M = 0.1


def _line(start: tuple[float, float], end: tuple[float, float]) -> list[tuple[float, float]]:
    steps = round(max(abs(end[0] - start[0]), abs(end[1] - start[1])) / STEP_M)
    return [
        (start[0] + (end[0] - start[0]) * n / steps, start[1] + (end[1] - start[1]) * n / steps)
        for n in range(steps + 1)
    ]


def _there_and_back(corners: list[tuple[float, float]]) -> list[tuple[float, float]]:
    way = []
    for start, end in itertools.pairwise(corners):
        way += _line(start, end)
    return way + way[::-1]


PATHS = {
    "cycle": (_there_and_back([(20, 58), (20, 30), (45, 30), (45, 50)]), CYCLE),
    "trolley only": (_there_and_back([(20, 30), (45, 30)]), TROLLEY),
}


def _pieces(table: list[tuple[float, float, int]]) -> list[tuple[float, int]]:
    """Return pieces of rope to watch, well inside each row, with the bends printed for it."""
    watched = []
    for start, end, bends in table:
        for share in (0.06, 0.35, 0.65, 0.94):
            watched.append((start + share * (end - start), bends))
    return watched


def _count(bent: list[bool]) -> float:
    return sum(now != before for before, now in itertools.pairwise(bent)) / 2


@pytest.mark.parametrize("name", PATHS)
def test_bends_on_the_drawn_rope(name: str) -> None:
    # Wheels side by side: anchor and root lie half a trolley farther out and in than the
    # reference has them, so that the level runs come out as long.
    half = 0.5
    crane = TrolleyJib(
        falls=2, anchor="jib tip", pinned=False, sheave_height=62.0, hook_below=1.2,
        anchor_x=60 + half, root_x=1.5 - half, trolley_r=0.25, block_r=0.25, upper_r=0.25,
        root_r=0.25, to_drum=14 - np.pi * 0.25 / 2,
    )  # fmt: skip
    way, table = PATHS[name]
    watched = _pieces(table)
    bent: list[list[bool]] = [[] for _ in watched]
    for radius, drop in way:
        chain = crane.draw(62 - 1.2 - drop, radius, coarse=8.0)
        arcs = [chain.borders(wheel) for wheel in ("outer", "block", "inner", "root")]
        for states, (metres, _) in zip(bent, watched, strict=True):
            on_wheel = any(start <= metres <= end for start, end in arcs)
            states.append(on_wheel or metres >= chain.length)
    for states, (metres, bends) in zip(bent, watched, strict=True):
        assert _count(states) == bends, metres


@pytest.mark.parametrize("name", PATHS)
def test_bends_on_the_kernels_path(name: str) -> None:
    way, table = PATHS[name]
    radius, drop = np.array(way).T
    path = trace(reference_hoist(), CranePositions.of(hook_m=60.8 - drop, radius_m=radius))
    for metres, bends in _pieces(table):
        bent = np.any((path.start_m <= metres) & (metres <= path.end_m), axis=0)
        bent |= metres >= path.out_m
        assert _count(bent.tolist()) == bends, metres

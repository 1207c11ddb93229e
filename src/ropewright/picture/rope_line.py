"""The drawn rope: sheaves as circles, tangents between, and a point for every metre of path."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

Point = tuple[float, float]
_STEPS: Final = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """Something the drawn rope goes round, or ends at: ``r`` [-] at ``x`` [-], ``y`` [-].

    ``turn`` is 1 where the rope turns left on its way from end A, -1 where it turns right, seen
    with y upwards.  An end has no radius.
    """

    name: str
    x: float
    y: float
    r: float = 0.0
    turn: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A part of the drawn rope: drawn ``points`` [-] and the path positions of its two ends."""

    points: tuple[Point, ...]
    from_m: float
    to_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RopeLine:
    """The whole drawn rope in pieces, from end A to the drum."""

    pieces: tuple[Piece, ...] = field(default=())

    def at(self, path_m: float) -> Point:
        """The drawn point [-] of ``path_m`` [m]; beyond the drum's tangent: that point."""
        for piece in self.pieces:
            if path_m <= piece.to_m + 1e-9:
                length = piece.to_m - piece.from_m
                share = (path_m - piece.from_m) / length if length > 0 else 0.0
                return _along(piece.points, min(max(share, 0.0), 1.0))
        return self.pieces[-1].points[-1]

    def heading(self, path_m: float) -> Point:
        """The direction [-] in which the drawn rope runs on from end A at ``path_m`` [m]."""
        length = self.pieces[-1].to_m or 1.0
        step = length / 2000
        first, last = self.at(max(path_m - step, 0.0)), self.at(path_m + step)
        across, down = last[0] - first[0], last[1] - first[1]
        size = math.hypot(across, down) or 1.0
        return across / size, down / size

    def between(self, from_m: float, to_m: float) -> tuple[Point, ...]:
        """The drawn points [-] of a section of the path, from ``from_m`` [m] to ``to_m`` [m]."""
        found: list[Point] = []
        for piece in self.pieces:
            low, high = max(from_m, piece.from_m), min(to_m, piece.to_m)
            if high <= low or piece.to_m <= piece.from_m:
                continue
            length = piece.to_m - piece.from_m
            first, last = (low - piece.from_m) / length, (high - piece.from_m) / length
            count = 1 if len(piece.points) == 2 else _STEPS
            for number in range(count + 1):
                found.append(_along(piece.points, first + (last - first) * number / count))
        return tuple(found)


def _along(points: Sequence[Point], share: float) -> Point:
    lengths = [math.dist(one, other) for one, other in itertools.pairwise(points)]
    left = share * math.fsum(lengths)
    for (one, other), length in zip(itertools.pairwise(points), lengths, strict=True):
        if left <= length and length > 0:
            part = left / length
            return (one[0] + part * (other[0] - one[0]), one[1] + part * (other[1] - one[1]))
        left -= length
    return points[-1]


def tangent(one: Round, other: Round) -> tuple[Point, Point]:
    """Where the rope leaves one circle and meets the next [-]; drawn with y downwards."""
    across, up = other.x - one.x, -(other.y - one.y)
    size = math.hypot(across, up) or 1.0
    lean = max(-1.0, min(1.0, (one.turn * one.r - other.turn * other.r) / size))
    # The normal to the right of the rope; a circle on which it turns left lies to its left.
    angle = math.atan2(up, across) - math.acos(lean)
    normal = (math.cos(angle), math.sin(angle))
    return (
        (one.x + normal[0] * one.turn * one.r, one.y - normal[1] * one.turn * one.r),
        (other.x + normal[0] * other.turn * other.r, other.y - normal[1] * other.turn * other.r),
    )


def arc(circle: Round, start: Point, end: Point) -> tuple[Point, ...]:
    """Points [-] on a circle from ``start`` [-] to ``end`` [-], the way the rope turns."""
    first = math.atan2(-(start[1] - circle.y), start[0] - circle.x)
    last = math.atan2(-(end[1] - circle.y), end[0] - circle.x)
    sweep = (last - first) % (2 * math.pi)
    if circle.turn < 0:
        sweep -= 2 * math.pi
    if abs(sweep) > 2 * math.pi - 1e-6:
        sweep = 0.0
    return tuple(
        (
            circle.x + circle.r * math.cos(first + sweep * step / _STEPS),
            circle.y - circle.r * math.sin(first + sweep * step / _STEPS),
        )
        for step in range(_STEPS + 1)
    )


def rope_line(rounds: Sequence[Round], places_m: Sequence[tuple[float, float]]) -> RopeLine:
    """The drawn rope over circles, the first and the last of them its two ends.

    Parameters
    ----------
    rounds
        What the rope goes round, from end A to the drum.
    places_m
        Path position at which the rope meets and leaves each of them [m].
    """
    pieces: list[Piece] = []
    met: Point | None = None
    for number in range(len(rounds) - 1):
        left, meets = tangent(rounds[number], rounds[number + 1])
        if met is not None:
            turned = arc(rounds[number], met, left)
            pieces.append(
                Piece(points=turned, from_m=places_m[number][0], to_m=places_m[number][1])
            )
        pieces.append(
            Piece(points=(left, meets), from_m=places_m[number][1], to_m=places_m[number + 1][0])
        )
        met = meets
    return RopeLine(pieces=tuple(pieces))

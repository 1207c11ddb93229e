"""Flags over a line: which row each takes so that no words and no staffs cross."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from ropewright.picture.symbols import HALF

#: Clear room kept between two flags, in user units.
GAP: Final = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Flag:
    """A sign on a staff at ``x`` [-], with ``room`` [-] for its words beside the sign."""

    x: float
    room: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Flown:
    """Where a flag flies: its row from below, and whether its words stand left of the staff.

    ``x`` [-] is the staff, ``left`` [-] and ``right`` [-] what sign and words take together.
    """

    row: int
    to_left: bool
    x: float
    left: float
    right: float


def fly(flags: Sequence[Flag], *, left: float, right: float, rows: int) -> list[Flown] | None:
    """Give each flag a row, or ``None`` if they do not fit into that many rows.

    Parameters
    ----------
    flags
        In any order.
    left, right
        What they must stay within, in user units [-].
    rows
        How many rows there are.
    """
    best: list[Flown] | None = None
    for order in _orders(flags, right):
        for left_first in (False, True):
            flown = _fly_in(order, flags, left, right, rows, left_first=left_first)
            if flown is not None and (best is None or _height(flown) < _height(best)):
                best = flown
    return best


def _height(flown: Sequence[Flown]) -> int:
    return sum(one.row for one in flown)


def _orders(flags: Sequence[Flag], right: float) -> list[list[int]]:
    """From the right; from the left; and those without room to their right last."""
    rising = sorted(range(len(flags)), key=lambda at: flags[at].x)
    cramped = [at for at in rising if flags[at].x + HALF + flags[at].room > right + HALF]
    others = [at for at in reversed(rising) if at not in set(cramped)]
    return [rising[::-1], rising, others + cramped, others + cramped[::-1]]


def _fly_in(
    order: list[int],
    flags: Sequence[Flag],
    left: float,
    right: float,
    rows: int,
    *,
    left_first: bool,
) -> list[Flown] | None:
    flown: dict[int, Flown] = {}
    for at in order:
        place = _first_free(flags[at], list(flown.values()), left, right, rows, left_first)
        if place is None:
            return None
        flown[at] = place
    return [flown[at] for at in range(len(flags))]


def _first_free(
    flag: Flag, flown: list[Flown], left: float, right: float, rows: int, left_first: bool
) -> Flown | None:
    for row in range(rows):
        for to_left in (left_first, not left_first):
            start = flag.x - HALF - (flag.room if to_left else 0)
            end = flag.x + HALF + (0 if to_left else flag.room)
            inside = start >= left - HALF - 1 and end <= right + HALF + 1
            one = Flown(row=row, to_left=to_left, x=flag.x, left=start, right=end)
            if inside and not any(_clash(one, other) for other in flown):
                return one
    return None


def _clash(one: Flown, other: Flown) -> bool:
    if one.row == other.row:
        return one.left < other.right + GAP and other.left < one.right + GAP
    low, high = (one, other) if one.row < other.row else (other, one)
    if abs(low.x - high.x) <= HALF:
        return False  # signs of one place stand on one staff
    # the higher flag's staff goes down past the lower one
    return low.left - 2 < high.x < low.right + 2

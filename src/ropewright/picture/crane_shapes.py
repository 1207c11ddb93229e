"""Where sheaves, drum and steel of a crane stand in its schematic: shapes of our own."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from ropewright.geometry import (
    LISTED,
    Contact,
    CranePosition,
    Hoist,
    LuffingJib,
    TelescopicBoom,
)
from ropewright.picture.listed_shape import NOTE, listed_rounds
from ropewright.picture.rope_line import Point, Round

R: Final = 7.0
"""Radius of a drawn sheave, in user units."""
DRUM_R: Final = 15.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A drawn crane: steel as lines and boxes, what the rope goes round, its hook.

    ``rounds`` begins with end A and ends with the drum; ``steel`` [-], ``hook`` [-],
    ``notes`` [-] and ``ground_y`` [-] are drawn coordinates; ``hook_scale`` [-] maps hook
    heights to them: lowest and highest height with their drawn heights.
    """

    rounds: tuple[Round, ...]
    steel: tuple[tuple[Point, ...], ...]
    ground_y: float
    hook: Point | None = None
    hook_scale: tuple[tuple[float, float], tuple[float, float]] | None = None
    notes: tuple[tuple[Point, str], ...] = field(default=())


def shape_of(hoist: Hoist, position: CranePosition, *, width: float, height: float) -> Shape:
    """The shape that fits the kind of path.

    Parameters
    ----------
    hoist
        The hoist as rigged.
    position
        Where the crane stands.
    width, height
        The room there is, in user units [-].
    """
    frame = hoist.reeving.frame
    has_falls = any(span.per_drop for span in hoist.reeving.spans)
    if not has_falls or not hoist.reeving.all_sheaves:
        return _in_a_row(hoist, width)
    if hoist.reeving.name == LISTED:
        return _listed(hoist, position, width, height)
    if isinstance(frame, LuffingJib):
        return _luffing(hoist, position, width, height)
    if isinstance(frame, TelescopicBoom):
        return _boom(hoist, position, width, height)
    if "radius_m" in hoist.reeving.axes:
        return _trolley(hoist, position, width, height)
    return _bridge(hoist, position, width, height)


def _hook_y(
    hoist: Hoist, hook_m: float | None, top: float, bottom: float
) -> tuple[float, tuple[tuple[float, float], tuple[float, float]] | None]:
    """Drawn height of the hook, and the scale; a place in the middle if it is not known."""
    bounds = hoist.travel.range_of("hook_m")
    if bounds is None or hook_m is None or bounds[0] == bounds[1]:
        return (top + bottom) / 2, None
    share = (hook_m - bounds[0]) / (bounds[1] - bounds[0])
    share = min(max(share, 0.0), 1.0)
    return bottom - share * (bottom - top), ((bounds[0], bottom), (bounds[1], top))


def _falls(
    contacts: Sequence[Contact], right_x: float, upper_y: float, block_y: float
) -> list[Round]:
    """Sheaves side by side from the right to the left, upper ones and block ones by turns."""
    found = []
    for number, contact in enumerate(contacts):
        low = contact.on == "block"
        found.append(
            Round(
                name=contact.name,
                x=right_x - 2 * R * number,
                y=block_y if low else upper_y,
                r=R,
                turn=-1 if low else 1,
            )
        )
    return found


def _trolley(hoist: Hoist, position: CranePosition, width: float, height: float) -> Shape:
    contacts = hoist.reeving.contacts
    ground, jib_y = height - 22.0, 78.0
    base = jib_y + 34.0
    mast, tip, back = width * 0.27, width - 26.0, 34.0
    bounds = hoist.travel.range_of("radius_m") or (0.0, 1.0)
    radius = position.radius_m if position.radius_m is not None else sum(bounds) / 2
    spread = (bounds[1] - bounds[0]) or 1.0
    near, far = mast + 78.0, tip - 26.0
    trolley = near + (radius - bounds[0]) / spread * (far - near)
    hook_y, scale = _hook_y(hoist, position.hook_m, jib_y + 78.0, ground - 14.0)
    upper_y, block_y = jib_y + 6.0, hook_y - 18.0
    moving = [one for one in contacts if one.on in ("trolley", "block")]
    fixed = [one for one in contacts if one.on not in ("trolley", "block")]
    middle = R * (len(moving) - 1)
    rounds = [Round(name="end A", x=tip, y=upper_y - R)]
    if hoist.reeving.end_a_on == "trolley":
        rounds = [Round(name="end A", x=trolley + middle + R, y=upper_y)]
    rounds += _falls(moving, trolley + middle, upper_y, block_y)
    for number, contact in enumerate(fixed):
        rounds.append(
            Round(name=contact.name, x=mast + 24.0 - 40.0 * number, y=upper_y, r=R, turn=1)
        )
    rounds.append(Round(name="drum", x=back + 30.0, y=base - DRUM_R, r=DRUM_R, turn=1))
    steel = (
        ((mast - 11, ground), (mast - 11, base)),
        ((mast + 11, ground), (mast + 11, base)),
        *_lattice(mast, ground, base),
        ((back, base), (tip + 8, base)),
        ((mast, base), (mast, 30.0)),
        ((back + 8, base), (mast, 30.0), (width * 0.72, base)),
        ((trolley - 20, base), (trolley + 20, base)),
        ((tip, base), (tip, upper_y - R)),
        *_under(rounds[-1], base),
    )
    return Shape(
        rounds=tuple(rounds),
        steel=steel,
        ground_y=ground,
        hook=(trolley, block_y + R),
        hook_scale=scale,
    )


def _lattice(x: float, bottom: float, top: float) -> tuple[tuple[Point, ...], ...]:
    points: list[Point] = []
    y, side = bottom, -1
    while y > top:
        points.append((x + 11 * side, y))
        y -= 20
        side = -side
    points.append((x + 11 * side, top))
    return (tuple(points),)


def _under(drum: Round, base: float) -> tuple[tuple[Point, ...], ...]:
    return (((drum.x - 9, base), (drum.x, drum.y), (drum.x + 9, base)),)


def _luffing(hoist: Hoist, position: CranePosition, width: float, height: float) -> Shape:
    angle = _angle(hoist, "jib_deg", position.jib_deg)
    ground = height - 22.0
    foot = (width * 0.38, height * 0.62)
    length = min(width * 0.46, height * 0.5)
    head = (foot[0] + length * math.cos(angle), foot[1] - length * math.sin(angle))
    frame_top = (foot[0] - 70.0, foot[1] - 104.0)
    rounds, hook, scale = _hanging(hoist, position, head, ground)
    contacts = [one for one in hoist.reeving.contacts if one.on not in ("block", "jib")]
    drum = Round(name="drum", x=foot[0] - 92.0, y=foot[1] - 14.0, r=DRUM_R, turn=1)
    for number, contact in enumerate(contacts):
        down = 44.0 * number
        rounds.append(Round(name=contact.name, x=frame_top[0], y=frame_top[1] + down, r=R, turn=1))
    rounds.append(drum)
    steel = (
        (foot, head),
        (foot, frame_top, (foot[0] - 112.0, foot[1])),
        ((foot[0] - 124.0, foot[1]), (foot[0] + 12.0, foot[1])),
        ((foot[0] - 40, ground), (foot[0] - 40, foot[1])),
        ((foot[0] - 18, ground), (foot[0] - 18, foot[1])),
        *_lattice(foot[0] - 29, ground, foot[1]),
    )
    return Shape(rounds=tuple(rounds), steel=steel, ground_y=ground, hook=hook, hook_scale=scale)


def _angle(hoist: Hoist, axis: str, value: float | None) -> float:
    """The drawn angle of jib or boom in radians."""
    bounds = hoist.travel.range_of("jib_deg" if axis == "jib_deg" else "boom_deg")
    middle = 55.0 if bounds is None else sum(bounds) / 2
    return math.radians(middle if value is None else value)


def _hanging(
    hoist: Hoist, position: CranePosition, head: Point, ground: float
) -> tuple[list[Round], Point, tuple[tuple[float, float], tuple[float, float]] | None]:
    """End A, the falls and the head sheave, hanging from the head of a jib or boom."""
    moving = [one for one in hoist.reeving.contacts if one.on in ("block", "jib")]
    hook_y, _ = _hook_y(hoist, position.hook_m, head[1] + 58.0, ground - 14.0)
    block_y = hook_y - 18.0
    right = head[0] + 2 * R * (len(moving) - 1)
    at_block = hoist.reeving.end_a_on == "block"
    first = Round(name="end A", x=right + R, y=block_y if at_block else head[1] - R / 2)
    rounds = [first, *_falls(moving, right, head[1], block_y)]
    middle = (rounds[1].x + rounds[-1].x) / 2 if len(moving) > 1 else right + R
    return rounds, (middle, block_y + R), None


def _boom(hoist: Hoist, position: CranePosition, width: float, height: float) -> Shape:
    angle = _angle(hoist, "boom_deg", position.boom_deg)
    ground = height - 22.0
    foot = (width * 0.3, ground - 62.0)
    bounds = hoist.travel.range_of("boom_m") or (10.0, 40.0)
    reach = position.boom_m if position.boom_m is not None else sum(bounds) / 2
    length = min(width * 0.56, height * 0.7) * (0.55 + 0.45 * reach / bounds[1])
    head = (foot[0] + length * math.cos(angle), max(foot[1] - length * math.sin(angle), 34.0))
    rounds, hook, scale = _hanging(hoist, position, head, ground)
    contacts = [one for one in hoist.reeving.contacts if one.on not in ("block", "jib")]
    for number, contact in enumerate(contacts):
        rounds.append(
            Round(name=contact.name, x=foot[0] - 6 - 30.0 * number, y=foot[1] - 30, r=R, turn=1)
        )
    rounds.append(Round(name="drum", x=foot[0] - 40.0, y=foot[1] - 6.0, r=DRUM_R, turn=1))
    part = [
        (foot[0] + share * (head[0] - foot[0]), foot[1] + share * (head[1] - foot[1]))
        for share in (0.0, 0.45, 0.75, 1.0)
    ]
    steel = (
        (part[0], part[3]),
        *(((one[0] - 5, one[1] - 5), (one[0] + 5, one[1] + 5)) for one in part[1:3]),
        ((foot[0] - 100, foot[1] + 12), (foot[0] + 46, foot[1] + 12)),
        ((foot[0] - 100, foot[1] + 12), (foot[0] - 100, ground)),
        ((foot[0] + 46, foot[1] + 12), (foot[0] + 46, ground)),
        (foot, (foot[0], foot[1] + 12)),
    )
    return Shape(rounds=tuple(rounds), steel=steel, ground_y=ground, hook=hook, hook_scale=scale)


def _bridge(hoist: Hoist, position: CranePosition, width: float, height: float) -> Shape:
    contacts = hoist.reeving.contacts
    ground, rail = height - 22.0, 66.0
    upper_y = rail + 34.0
    middle = width / 2
    hook_y, scale = _hook_y(hoist, position.hook_m, upper_y + 58.0, ground - 14.0)
    block_y = hook_y - 18.0
    right = middle + R * (len(contacts) - 1)
    twin = hoist.reeving.end_a == "drum"
    rounds = [
        Round(name="drum A", x=right + 62.0, y=rail - 8.0, r=DRUM_R, turn=1)
        if twin
        else Round(name="end A", x=right + R, y=upper_y)
    ]
    rounds += _falls(contacts, right, upper_y, block_y)
    rounds.append(
        Round(name="drum", x=middle - R * len(contacts) - 54.0, y=rail - 8.0, r=DRUM_R, turn=1)
    )
    steel: tuple[tuple[Point, ...], ...] = (
        ((72.0, rail + 10), (width - 40.0, rail + 10)),
        ((72.0, rail + 22), (width - 40.0, rail + 22)),
        ((84.0, rail + 22), (84.0, ground)),
        ((width - 52.0, rail + 22), (width - 52.0, ground)),
    )
    return Shape(
        rounds=tuple(rounds),
        steel=steel,
        ground_y=ground,
        hook=(middle, block_y + R),
        hook_scale=scale,
    )


def _listed(hoist: Hoist, position: CranePosition, width: float, height: float) -> Shape:
    ground, upper_y = height - 22.0, 84.0
    hook_y, scale = _hook_y(hoist, position.hook_m, upper_y + 64.0, ground - 14.0)
    block_y = hook_y - 18.0
    rounds = listed_rounds(
        hoist, r=R, drum_r=DRUM_R, left=120.0, right=width - 70.0, upper_y=upper_y, block_y=block_y
    )
    blocks = [one.x for one in rounds if one.y == block_y]
    middle = sum(blocks) / len(blocks) if blocks else width / 2
    return Shape(
        rounds=rounds,
        steel=(),
        ground_y=ground,
        hook=(middle, block_y + R) if blocks else None,
        hook_scale=scale,
        notes=(((120.0, ground - 8.0), NOTE),),
    )


def _in_a_row(hoist: Hoist, width: float) -> Shape:
    """The path laid out flat, where no crane can be drawn from what is known."""
    contacts = hoist.reeving.contacts
    y = 90.0
    left, right = 70.0, width - 60.0
    step = (right - left) / (len(contacts) + 1)
    rounds = [Round(name="end A", x=right, y=y)]
    for number, contact in enumerate(contacts, 1):
        rounds.append(Round(name=contact.name, x=right - step * number, y=y + R, r=R, turn=1))
    rounds.append(Round(name="drum", x=left, y=y + DRUM_R, r=DRUM_R, turn=1))
    note = "path laid out flat: no more of the crane is known"
    if hoist.reeving.all_sheaves:
        note = "path laid out flat, sheaves in their order along the rope"
    return Shape(
        rounds=tuple(rounds), steel=(), ground_y=y + 74.0, notes=(((left, y + 60.0), note),)
    )

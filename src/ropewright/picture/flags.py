"""Lanes made of flags: signs on staffs over the place they belong to, with their words."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from ropewright.desk.chart_places import ChartKind, chart_key
from ropewright.picture.canvas import SMALL, Canvas
from ropewright.picture.frame import ROW, Frame
from ropewright.picture.lettering import shortened, text_width
from ropewright.picture.packing import Flag, Flown, fly
from ropewright.picture.symbols import HALF, draw_sign

#: Room under the flags for the ticks and whiskers that show the true places.
FOOT: Final = 11.0
MOST_ROWS: Final = 5
LONGEST_WORDS: Final = 280.0
#: Words may take this part of the axis, so that there is room left or right of any staff.
_PARTS: Final = (0.47, 0.3, 0.2, 0.12, 0.06)
_KINDS: Final[Mapping[str, ChartKind]] = {"mark": "mark", "ruling": "ruling"}
_MOST_FLAGS: Final = 40
#: How near signs of one kind come before they share a flag, tried one after the other.
_NEARNESS: Final = (0.0, 14.0, 30.0, 60.0, 120.0, 240.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One thing in a lane: its sign, its place and error [m], its words, how heavy it weighs.

    ``from_m`` [m] and ``to_m`` [m] are the section it lies on, ``err_m`` [m] the error of that.
    ``count`` is what a flag for several adds up.
    """

    sign: str
    from_m: float
    to_m: float
    err_m: float
    words: str
    title: str
    name: str
    kind: str = "finding"
    count: int = 1
    strong: bool = False

    @property
    def key(self) -> str:
        """The name under which it is chosen on the chart."""
        return chart_key(_KINDS.get(self.kind, "finding"), self.name)

    @property
    def middle_m(self) -> float:
        """Where the staff stands [m]."""
        return (self.from_m + self.to_m) / 2


Together = Callable[[Sequence[Item]], str]


@dataclass(frozen=True, slots=True, kw_only=True)
class FlagLane:
    """A lane of flags, laid out: which items share a flag and where each flag flies."""

    key: str
    label: str
    items: tuple[Item, ...]
    groups: tuple[tuple[Item, ...], ...]
    words: tuple[str, ...]
    flown: tuple[Flown, ...]
    remark: str = ""
    bold: bool = False

    @property
    def rows(self) -> int:
        """How many rows of flags there are."""
        return max((one.row + 1 for one in self.flown), default=0)

    @property
    def height(self) -> float:
        """Height of the lane in user units [-]."""
        return max(self.rows, 1) * ROW + FOOT if self.items else 14.0


def lay_out(
    key: str,
    label: str,
    items: Sequence[Item],
    frame: Frame,
    *,
    together: Together,
    remark: str = "",
    least_nearness: float = 0.0,
    most_nearness: float = 240.0,
    may_shorten: bool = True,
) -> FlagLane | None:
    """Give every item a flag, and let near ones of a kind share one until all fit.

    Nothing comes back if they do not fit within the nearness allowed and words may not be cut.

    Parameters
    ----------
    key, label
        Name of the lane, and its words.
    items
        What has a place in it.
    frame
        The axis.
    together
        Words for several items under one flag.
    remark
        Words for an empty lane.
    least_nearness
        Items of a kind nearer than this share a flag in any case, in user units [-].
    most_nearness
        Items farther apart than this never share one, in user units [-].
    may_shorten
        Whether words may be cut very short before nothing comes back.
    """
    ordered = sorted(items, key=lambda one: (one.middle_m, one.name))
    for nearness in _NEARNESS:
        if not least_nearness <= nearness <= most_nearness:
            continue
        groups = _near(ordered, frame, nearness)
        laid = _lay(key, label, ordered, groups, frame, together, remark)
        if laid is not None:
            return laid
    if not may_shorten:
        return None
    for mixed in (False, True):
        whole = _near(ordered, frame, most_nearness, mixed=mixed)
        for part in _PARTS[1:]:
            laid = _lay(key, label, ordered, whole, frame, together, remark, rows=9, part=part)
            if laid is not None:
                return laid
    many = f"{len(ordered)} of them, too near each other to be named here"
    return FlagLane(key=key, label=label, items=tuple(ordered), groups=(), words=(), flown=(),
                    remark=many)  # fmt: skip


def _near(
    items: Sequence[Item], frame: Frame, nearness: float, *, mixed: bool = False
) -> list[tuple[Item, ...]]:
    groups: list[list[Item]] = []
    for item in items:
        for group in groups:
            same = mixed or group[0].sign == item.sign
            if (
                same
                and nearness
                and frame.x(item.middle_m) - frame.x(group[0].middle_m) <= nearness
            ):
                group.append(item)
                break
        else:
            groups.append([item])
    return [tuple(group) for group in groups]


def _lay(
    key: str,
    label: str,
    items: Sequence[Item],
    groups: list[tuple[Item, ...]],
    frame: Frame,
    together: Together,
    remark: str,
    *,
    rows: int = MOST_ROWS,
    part: float = _PARTS[0],
) -> FlagLane | None:
    if len(groups) > _MOST_FLAGS and rows == MOST_ROWS:
        return None
    most = min(LONGEST_WORDS, (frame.right - frame.left) * part - 4) / 1.06
    words = [
        shortened(group[0].words if len(group) == 1 else together(group), SMALL, most)
        for group in groups
    ]
    flags = [
        Flag(x=_middle(group, frame), room=text_width(said, SMALL, bold=True) + 4 if said else 0)
        for group, said in zip(groups, words, strict=True)
    ]
    flown = fly(flags, left=frame.left, right=frame.right, rows=rows)
    if flown is None:
        return None
    return FlagLane(
        key=key, label=label, items=tuple(items), groups=tuple(groups), words=tuple(words),
        flown=tuple(flown), remark=remark,
    )  # fmt: skip


def _middle(group: tuple[Item, ...], frame: Frame) -> float:
    places = [frame.x(item.middle_m) for item in group]
    return (min(places) + max(places)) / 2


def draw_flags(canvas: Canvas, frame: Frame, lane: FlagLane, y: float) -> set[str]:
    """Draw a lane whose top is at ``y`` [-]; the signs that were used come back."""
    ink = canvas.ink
    base = y + lane.height - 5
    if not lane.items:
        canvas.text(frame.left, y + 11, lane.remark or "none", size=SMALL, colour=ink.soft)
        return set()
    canvas.line(frame.left, base, frame.right, base, ink.hair)
    if not lane.flown:
        canvas.text(frame.left, y + 11, lane.remark, size=SMALL, colour=ink.soft)
    heights = [y + (lane.rows - 1 - one.row) * ROW + ROW / 2 for one in lane.flown]
    for one, middle in zip(lane.flown, heights, strict=True):
        canvas.line(one.x, middle + HALF, one.x, base, ink.line)
    for group, words, one, middle in zip(lane.groups, lane.words, lane.flown, heights, strict=True):
        _flag(canvas, group, words, one, middle)
    for item in lane.items:
        _foot(canvas, frame, item, base)
    return {_sign(group) for group in lane.groups}


def _flag(canvas: Canvas, group: tuple[Item, ...], words: str, one: Flown, middle: float) -> None:
    strong = any(item.strong for item in group)
    colour = canvas.ink.grave if strong else canvas.ink.ink
    keys = {"data-keys": " ".join(item.key for item in group)}
    title = "; ".join(item.title for item in group[:12])
    if len(group) > 12:
        title += f"; and {len(group) - 12} more"
    low = min(item.from_m for item in group)
    high = max(item.to_m for item in group)
    with canvas.mark(f"flag {group[0].kind}", title, low, high, **keys):
        draw_sign(canvas, _sign(group), one.x, middle, colour)
        if words:
            x = one.x - HALF - 3 if one.to_left else one.x + HALF + 3
            anchor = "end" if one.to_left else "start"
            canvas.text(x, middle + 4, words, size=SMALL, anchor=anchor, bold=strong, colour=colour)


def _sign(group: Sequence[Item]) -> str:
    """The sign of a flag: that of its kind, or one that stands for several kinds."""
    signs = {item.sign for item in group}
    return group[0].sign if len(signs) == 1 else "several"


def _foot(canvas: Canvas, frame: Frame, item: Item, base: float) -> None:
    """The true place: a tick or a bar, with its whisker for the ±."""
    ink = canvas.ink
    colour = ink.grave if item.strong else ink.ink
    with canvas.mark(
        item.kind, item.title, item.from_m, item.to_m, data_name=item.name, data_keys=item.key
    ):
        if item.err_m:
            low, high = frame.x(item.from_m - item.err_m), frame.x(item.to_m + item.err_m)
            canvas.line(low, base, high, base, colour)
            canvas.path(f"M{low:.2f} {base - 2}v4M{high:.2f} {base - 2}v4", stroke=colour)
        start, end = frame.x(item.from_m), frame.x(item.to_m)
        if end - start >= 3:
            canvas.rect(start, base - 2, end - start, 4, fill=colour)
        else:
            middle = (start + end) / 2
            canvas.line(middle, base - 5, middle, base + 4, colour, stroke_width="1.6")

"""A lane made of sections: its bands, what stands inside them and under them."""

from dataclasses import dataclass

from ropewright.geometry import Section


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A section in a lane: its fill, its words inside, under it, and on pointing.

    ``short`` stands inside where ``words`` find no room, ``note_short`` under it in place of
    ``note``.  ``age_d`` [d] is how old what the note says is; none where it never was.
    """

    section: Section
    fill: str
    kind: str
    words: str = ""
    short: str = ""
    note: str = ""
    note_short: str = ""
    age_d: int | None = 0
    title: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BandLane:
    """A lane of sections with its label."""

    key: str
    label: str
    bands: tuple[Band, ...]
    remark: str = ""

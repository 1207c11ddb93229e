"""Photos of the book where they belong: beside their finding, or with their inspection."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from ropewright.desk.open_book import Line


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """One photo: where its copy without location is, and what it shows in words."""

    path: str
    finding_id: str
    inspection_id: str
    caption: str
    with_scale: bool

    @property
    def shows(self) -> str:
        """What it is called for somebody who does not see it."""
        of = f"finding {self.finding_id}" if self.finding_id else "the inspection"
        scale = ", with a scale in it" if self.with_scale else ""
        return f"Photo of {of}{scale}" + (f": {self.caption}" if self.caption else "")


def pictures_of(lines: Sequence[Line]) -> tuple[Picture, ...]:
    """Photos of a rope, the oldest first, each once.

    Parameters
    ----------
    lines
        Entries of a rope; what is no photo is passed over.
    """
    found: dict[tuple[str, str, str], Picture] = {}
    for line in sorted(lines, key=lambda one: one.sequence):
        if line.kind != "photo":
            continue
        said = {name: str(line.payload.get(name) or "") for name in (
            "sha256", "finding_id", "inspection_id", "caption"
        )}  # fmt: skip
        found[said["sha256"], said["finding_id"], said["inspection_id"]] = Picture(
            path=f"/api/v1/photos/{said['sha256']}", finding_id=said["finding_id"],
            inspection_id=said["inspection_id"], caption=said["caption"],
            with_scale=bool(line.payload.get("scale_in_frame")),
        )  # fmt: skip
    return tuple(found.values())


def by_finding(pictures: Sequence[Picture]) -> Mapping[str, tuple[Picture, ...]]:
    """Photos by the finding that they show."""
    names = dict.fromkeys(one.finding_id for one in pictures if one.finding_id)
    return {name: tuple(one for one in pictures if one.finding_id == name) for name in names}


def of_inspection(
    pictures: Sequence[Picture], inspection_id: str, findings: Collection[str]
) -> tuple[Picture, ...]:
    """Photos that belong to an inspection and to none of its findings.

    Parameters
    ----------
    pictures
        Photos of the rope.
    inspection_id
        The inspection.
    findings
        Its findings, beside which their own photos stand.
    """
    return tuple(
        one
        for one in pictures
        if one.inspection_id == inspection_id and one.finding_id not in findings
    )

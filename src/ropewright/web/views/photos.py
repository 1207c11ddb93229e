"""Photos of the book where they belong: beside their finding, or with their inspection."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from ropewright.desk.open_book import Line
from ropewright.web.catalogue import Catalogue


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """One photo: where its copy without location is; ``shows`` is it in words."""

    path: str
    finding_id: str
    inspection_id: str
    caption: str
    with_scale: bool
    shows: str


def pictures_of(lines: Sequence[Line], texts: Catalogue) -> tuple[Picture, ...]:
    """Photos of a rope, the oldest first, each once.

    Parameters
    ----------
    lines
        Entries of a rope; what is no photo is passed over.
    texts
        The words.
    """
    found: dict[tuple[str, str, str], Picture] = {}
    for line in sorted(lines, key=lambda one: one.sequence):
        if line.kind != "photo":
            continue
        said = {name: str(line.payload.get(name) or "") for name in (
            "sha256", "finding_id", "inspection_id", "caption"
        )}  # fmt: skip
        with_scale = bool(line.payload.get("scale_in_frame"))
        found[said["sha256"], said["finding_id"], said["inspection_id"]] = Picture(
            path=f"/api/v1/photos/{said['sha256']}", finding_id=said["finding_id"],
            inspection_id=said["inspection_id"], caption=said["caption"],
            with_scale=with_scale, shows=_shows(said, with_scale=with_scale, texts=texts),
        )  # fmt: skip
    return tuple(found.values())


def _shows(said: Mapping[str, str], *, with_scale: bool, texts: Catalogue) -> str:
    """What a photo is called for somebody who does not see it."""
    of_finding = texts.t("photo.finding", id=said["finding_id"])
    words = of_finding if said["finding_id"] else texts.t("photo.inspection")
    if with_scale:
        words = texts.t("photo.scale", photo=words)
    caption = said["caption"]
    return texts.t("photo.caption", photo=words, caption=caption) if caption else words


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

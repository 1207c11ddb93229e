"""Photos of last time on a field card: they are entries of the book and stand in no dossier."""

from collections.abc import Mapping, Sequence
from typing import Any

from ropewright.desk.open_book import Line


def with_photos(card: Mapping[str, Any], photos: Sequence[Line]) -> dict[str, Any]:
    """The card with the hashes of the photos that belong to each finding on it.

    Parameters
    ----------
    card
        The card as plain data.
    photos
        The rope's entries of kind photo.
    """
    of: dict[str, list[str]] = {}
    for line in photos:
        of.setdefault(str(line.payload.get("finding_id", "")), []).append(
            str(line.payload.get("sha256", ""))
        )
    findings = [
        {**one, "photos": list(dict.fromkeys([*one["photos"], *of.get(one["id"], ())]))}
        for one in card["findings"]
    ]
    return {**card, "findings": findings}

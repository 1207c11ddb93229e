"""Headings of columns: a word, and a unit in brackets."""

import re
from typing import Final

_HEADING: Final = re.compile(r"\s*([^\[\]()]+?)\s*(?:[\[(]\s*([^\[\]()]+?)\s*[\])])?\s*")


def heading_parts(heading: str) -> tuple[str, str | None]:
    """Word and unit of a heading such as ``Pick radius [m]``; the word small and joined by _.

    Parameters
    ----------
    heading
        As the file has it.

    Examples
    --------
    >>> heading_parts("Pick radius [m]")
    ('pick_radius', 'm')
    """
    match = _HEADING.fullmatch(heading)
    if match is None:
        return heading.strip().casefold(), None
    return match[1].casefold().replace(" ", "_"), match[2]

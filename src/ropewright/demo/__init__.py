"""The invented crane site 'Kestrel Quay': case files to try the tool with, and no real data.

This room makes the case files of the site's seven ropes, the same for the same seed, with small
pictures of what was found.  It has its own idea of how wires break, and knows neither rules nor
forecast nor wear: what they say of its ropes is for them to find out.  It refuses to know what a
case file means: no reader, no verdict.  Every one of its files says ``invented = true``, and so
does every page and report that is made from it.
"""

import re
from collections.abc import Mapping
from functools import lru_cache

from ropewright.demo.lifts import lift_lists
from ropewright.demo.notes import DemoNote, notes_for
from ropewright.demo.photos import DemoPhoto, photos_of
from ropewright.demo.stories import DEMO_DAY, SITE, USUAL_SEED, DemoRope, case_text
from ropewright.errors import UnknownNameError

__all__ = [
    "DEMO_DAY",
    "DemoNote",
    "DemoPhoto",
    "DemoRope",
    "SITE",
    "USUAL_SEED",
    "demo_case",
    "demo_lifts",
    "demo_names",
    "demo_notes",
    "demo_photos",
    "demo_rope",
]


def demo_names() -> tuple[str, ...]:
    """Names of the invented case files, sorted.

    Examples
    --------
    >>> demo_names()[:3]
    ('KQ-1', 'KQ-1-trolley', 'KQ-2')
    """
    return tuple(rope.name for rope in SITE)


def demo_rope(name: str) -> DemoRope:
    """The rope of the site with a name.

    Parameters
    ----------
    name
        One of `demo_names()`, such as ``KQ-1``; upper and lower case do not matter.

    Raises
    ------
    UnknownNameError
        If there is no such rope.
    """
    plain = re.sub(r"\s+", "-", name.strip()).casefold()
    for rope in SITE:
        if plain in (rope.name.casefold(), rope.rope_id.replace(" ", "-").casefold()):
            return rope
    raise UnknownNameError(what="an invented case file", given=name, known=demo_names())


def demo_case(name: str, seed: int = USUAL_SEED) -> str:
    """Return the text of an invented case file.

    Parameters
    ----------
    name
        As for `demo_rope`.
    seed
        Another seed tells the same story with other figures.

    Raises
    ------
    UnknownNameError
        If there is no such case file.
    """
    return _text(demo_rope(name).name, seed)


@lru_cache(maxsize=64)
def _text(name: str, seed: int) -> str:
    return case_text(demo_rope(name), seed)


def demo_photos(name: str, seed: int = USUAL_SEED) -> tuple[DemoPhoto, ...]:
    """Generated pictures of what was found on a rope, each labelled 'invented data'.

    Parameters
    ----------
    name, seed
        As for `demo_case`.

    Raises
    ------
    UnknownNameError
        If there is no such rope.
    """
    rope = demo_rope(name)
    return photos_of(rope.name, demo_case(rope.name, seed))


def demo_notes(name: str) -> tuple[DemoNote, ...]:
    """What the site's logbook holds of a rope besides its case file.

    Parameters
    ----------
    name
        As for `demo_rope`.

    Raises
    ------
    UnknownNameError
        If there is no such rope.
    """
    return notes_for(demo_rope(name).rope_id)


def demo_lifts(name: str, seed: int = USUAL_SEED) -> Mapping[str, str]:
    """Lists of lifts of a rope's crane by file name, as CSV; none for ropes that have none.

    Parameters
    ----------
    name, seed
        As for `demo_case`.

    Raises
    ------
    UnknownNameError
        If there is no such rope.
    """
    return lift_lists(demo_rope(name).name, seed)

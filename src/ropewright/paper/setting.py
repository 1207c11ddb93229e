"""Setting a page: a template, its data as text, and pictures, to PDF; same input, same bytes."""

import json
import warnings
from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime
from importlib.resources import files
from typing import Any, Final, Literal, TypeAlias, cast
from xml.etree import ElementTree

import typst

from ropewright.errors import RenderError
from ropewright.paper.letters import FOLDER, written
from ropewright.paper.words import cut

#: No single text on a page is longer.
LONGEST_TEXT: Final = 1500
_SVG: Final = "{http://www.w3.org/2000/svg}"

Standard: TypeAlias = Literal["ua-1", "a-3a"]


def described(svg: str) -> dict[str, str]:
    """Title and description of a picture, which say aloud what it shows."""
    root = ElementTree.fromstring(svg)
    title, desc = (root.findtext(f"{_SVG}{tag}") or "" for tag in ("title", "desc"))
    return {"title": title, "words": f"{title}. {desc}"}


def lettered(data: object) -> object:
    """The same data with every text in letters that the typeface has."""
    if isinstance(data, str):
        return written(cut(data, LONGEST_TEXT))
    if isinstance(data, dict):
        return {key: lettered(value) for key, value in data.items()}
    if isinstance(data, list):
        return [lettered(value) for value in data]
    return data


def set_page(
    template: str,
    data: Mapping[str, object],
    pictures: Mapping[str, bytes],
    *,
    made_on: date,
    standards: Sequence[Standard] = ("ua-1",),
) -> bytes:
    """A tagged PDF from a template of this room.

    Parameters
    ----------
    template
        File name of the template.
    data
        What it says; only ever text there.
    pictures
        Virtual files that it shows or attaches.
    made_on
        The date in the document.
    standards
        What the PDF must conform to.

    Raises
    ------
    RenderError
        If the page cannot be set.
    """
    main = files("ropewright.paper").joinpath(template).read_bytes()
    inputs: dict[str, bytes] = {"main": main, **pictures}
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            pdf = typst.compile(
                cast(Any, inputs),  # a mapping of virtual files, which its types do not name
                format="pdf",
                pdf_standards=list(standards),
                timestamp=datetime(made_on.year, made_on.month, made_on.day, tzinfo=UTC),
                font_paths=[str(FOLDER)],
                ignore_system_fonts=True,
                sys_inputs={"data": json.dumps(lettered(dict(data)), ensure_ascii=False)},
            )
    except (typst.TypstError, RuntimeError, ValueError, OSError) as error:
        raise RenderError(f"the page cannot be set: {error}", field=template) from error
    if not isinstance(pdf, bytes):
        raise RenderError("the page cannot be set: no document came back", field=template)
    return pdf

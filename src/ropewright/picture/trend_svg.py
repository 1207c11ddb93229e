"""The trend figure as SVG, made offline, the same bytes every time."""

import json
import re
import xml.etree.ElementTree as ET
from typing import Any, Final

from ropewright.errors import RenderError
from ropewright.forecast import TrendFigure
from ropewright.picture.canvas import brief
from ropewright.picture.trend import USUAL_WIDTH, trend_spec
from ropewright.picture.trend_words import description

_SVG: Final = "http://www.w3.org/2000/svg"
_COUNTED: Final = re.compile(r"\b(clip|gradient|pattern)([0-9]+)\b")


def trend_picture(
    figure: TrendFigure,
    *,
    width_px: int = USUAL_WIDTH,
    print_grey: bool = False,
    headline: bool = True,
) -> str:
    """The trend figure as SVG.

    Parameters
    ----------
    figure
        What to show.
    width_px
        Width in user units.
    print_grey
        Whether to draw in greys only.
    headline
        Whether rope, date, outcome and reason stand over the figure.

    Returns
    -------
    str
        The SVG, with title and description; same input, same bytes.

    Raises
    ------
    RenderError
        If the figure cannot be drawn.
    """
    import vl_convert

    spec = trend_spec(figure, width_px=width_px, print_grey=print_grey, headline=headline)
    try:
        drawn = str(vl_convert.vegalite_to_svg(json.dumps(spec)))
    except ValueError as error:
        raise RenderError(f"the trend figure cannot be drawn: {error}", field="picture") from error
    title = brief(f"How fast it grows: rope {figure.rope_id} on {figure.as_of}", 200)
    return _named(_renumbered(drawn), title, description(figure))


def trend_spec_json(figure: TrendFigure, **wishes: Any) -> str:  # noqa: ANN401 - as trend_spec
    """The specification as JSON text, for a page that draws it itself."""
    return json.dumps(trend_spec(figure, **wishes), ensure_ascii=False, sort_keys=True)


def _renumbered(svg: str) -> str:
    """Ids count up within a process: number them anew, in the order in which they turn up."""
    known: dict[str, str] = {}

    def anew(found: re.Match[str]) -> str:
        return known.setdefault(found[0], f"trend-{found[1]}-{len(known) + 1}")

    return _COUNTED.sub(anew, svg)


def _named(svg: str, title: str, desc: str) -> str:
    ET.register_namespace("", _SVG)
    ET.register_namespace("xlink", "http://www.w3.org/1999/xlink")
    root = ET.fromstring(svg)
    for number, (tag, words) in enumerate((("title", title), ("desc", desc))):
        said = ET.Element(f"{{{_SVG}}}{tag}")
        said.text = words
        root.insert(number, said)
    root.set("role", "img")
    return ET.tostring(root, encoding="unicode")

"""Pictures of a rope as SVG: the whole rope on one axis, a strip of it, one cluster close up.

This room knows how to place what was found, seen, hidden and ruled on paper or screen, in
shapes and words that need no colour.  Whatever has a place on the rope carries it as
``data-rope-m``.  It refuses to judge: it draws what the assessment says, and what the dossier
holds; it writes no file, and what a person typed is only ever text in the picture.
"""

from ropewright.picture.chart import rope_chart
from ropewright.picture.closeup import close_up
from ropewright.picture.strip import rope_strip

__all__ = [
    "close_up",
    "rope_chart",
    "rope_strip",
]

"""Pictures of a rope as SVG: whole, a strip, one cluster, the crane it runs on, its drum.

This room knows how to place what was found, seen, hidden and ruled on paper or screen, in
shapes and words that need no colour.  Whatever has a place on the rope carries it as
``data-rope-m``.  It refuses to judge: it draws what the assessment says, and what the dossier
holds; it writes no file, and what a person typed is only ever text in the picture.
"""

from ropewright.picture.chart import rope_chart
from ropewright.picture.closeup import close_up
from ropewright.picture.drum_section import drum_section
from ropewright.picture.elevation import crane_elevation
from ropewright.picture.plan_picture import plan_picture
from ropewright.picture.strip import rope_strip
from ropewright.picture.trend import trend_spec
from ropewright.picture.trend_svg import trend_picture, trend_spec_json

__all__ = [
    "close_up",
    "crane_elevation",
    "drum_section",
    "plan_picture",
    "rope_chart",
    "rope_strip",
    "trend_picture",
    "trend_spec",
    "trend_spec_json",
]

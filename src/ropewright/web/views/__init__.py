"""What a page shows, worked out before any template sees it: plain functions, no requests.

This part knows how things are ordered and said on a page.  It refuses to judge, and to know
how a page looks.
"""

from ropewright.web.views.rope import rope_view

__all__ = ["rope_view"]

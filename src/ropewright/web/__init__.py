"""The face for browsers and phones: pages, a small JSON API, and who may come in.

This room knows requests, sessions, roles, pages and how they look.  It refuses to decide
anything about a rope and to know where anything is kept: the wiring hands it an open book,
the shelf of rules and the makers of pictures and paper.  Whoever may do what stands in one
table, `ropewright.web.gate`; what that table does not name is refused.
"""

from ropewright.web.app import create_app
from ropewright.web.settings import Settings
from ropewright.web.tools import WebTools

__all__ = ["Settings", "WebTools", "create_app"]

"""The command line: translates words typed into use cases and results into words printed.

It knows options, exit codes and how to lay out text.  It refuses to know rules and geometry,
and decides nothing.
"""

from ropewright.cli.app import build_cli
from ropewright.cli.tools import Tools

__all__ = ["Tools", "build_cli"]

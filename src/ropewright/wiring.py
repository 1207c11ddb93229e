"""Puts the parts together: the only module that sees everything."""

from datetime import date

from ropewright import __version__
from ropewright.cli import Tools, build_cli
from ropewright.demo import demo_case, demo_names
from ropewright.intake import PackageShelf, case_schema, load_case, read_case
from ropewright.paper import report_pdf
from ropewright.picture import rope_chart

__all__ = ["main"]

SOFTWARE = f"ropewright {__version__}"


def tools() -> Tools:
    """Everything the command line needs, wired to the real thing."""
    return Tools(
        software=SOFTWARE,
        today=date.today,
        shelf=PackageShelf(),
        load_case=load_case,
        read_case=read_case,
        demo_case=demo_case,
        demo_names=demo_names,
        case_schema=case_schema,
        report_pdf=report_pdf,
        rope_chart=rope_chart,
    )


def main() -> None:
    """Entry point of the command ``ropewright``."""
    build_cli(tools())()

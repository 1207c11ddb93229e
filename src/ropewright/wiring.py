"""Puts the parts together: the only module that sees everything."""

from datetime import UTC, date, datetime
from typing import cast

from ropewright import __version__
from ropewright.cli import Tools, build_cli
from ropewright.cli.logbook_tools import BookedCase, LogbookTools
from ropewright.demo import demo_case, demo_names
from ropewright.desk import split_address
from ropewright.intake import PackageShelf, case_schema, load_case, read_case
from ropewright.paper import report_pdf
from ropewright.picture import rope_chart

__all__ = ["main"]

SOFTWARE = f"ropewright {__version__}"


def _now() -> datetime:
    return datetime.now(UTC)


class _LateLogbook:
    """The logbook, brought in when a command first asks for it: it takes half a second to load."""

    def __getattr__(self, name: str) -> object:
        from ropewright.logbook import LogbookDesk

        return getattr(LogbookDesk(SOFTWARE, now=_now), name)


_LOGBOOK = cast(LogbookTools, _LateLogbook())


def _load_from_book(address: str, rope_id: str) -> BookedCase:
    return _LOGBOOK.load(address, rope_id)


def tools() -> Tools:
    """Everything the command line needs, wired to the real thing."""
    return Tools(
        software=SOFTWARE,
        today=date.today,
        shelf=PackageShelf(),
        load_case=load_case,
        read_case=read_case,
        load_from_book=_load_from_book,
        book_and_rope=split_address,
        logbook=_LOGBOOK,
        demo_case=demo_case,
        demo_names=demo_names,
        case_schema=case_schema,
        report_pdf=report_pdf,
        rope_chart=rope_chart,
    )


def main() -> None:
    """Entry point of the command ``ropewright``."""
    build_cli(tools())()

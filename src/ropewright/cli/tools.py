"""What the command line is given to work with; the wiring fills it in."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, Protocol

from ropewright.cli.logbook_tools import LogbookTools
from ropewright.desk import RuleShelf
from ropewright.inspection import Dossier
from ropewright.rules import Assessment


class Case(Protocol):
    """A case file that was read."""

    @property
    def dossier(self) -> Dossier:
        """Everything known of the rope."""

    @property
    def sha256(self) -> str:
        """Hash of the file's bytes, as hex digits."""

    @property
    def warnings(self) -> Sequence[str]:
        """What looks odd but could be read."""


class CaseLoader(Protocol):
    """Reads a case file from a path."""

    def __call__(self, path: Path, /, *, known_rules: Sequence[str] | None = None) -> Case:
        """Read the file or raise an input error that names file and field."""


class CaseReader(Protocol):
    """Reads a case file from its text."""

    def __call__(
        self, text: str | bytes, /, *, file: str, known_rules: Sequence[str] | None = None
    ) -> Case:
        """Read the text or raise an input error that names file and field."""


class ReportMaker(Protocol):
    """Makes the report."""

    def __call__(
        self,
        dossier: Dossier,
        assessment: Assessment,
        /,
        *,
        json_record: bytes,
        file_note: str,
        seal: str | None,
        made_on: date,
    ) -> bytes:
        """A PDF."""


class ChartMaker(Protocol):
    """Draws the rope chart."""

    def __call__(self, dossier: Dossier, assessment: Assessment, /) -> str:
        """An SVG."""


class BookLoader(Protocol):
    """Reads a rope out of a logbook."""

    def __call__(self, address: str, rope_id: str, /) -> Case:
        """The rope as a case, or an input error that names book and rope."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tools:
    """Everything the commands call, so that the faces import no rim."""

    software: str
    today: Callable[[], date]
    shelf: RuleShelf
    load_case: CaseLoader
    read_case: CaseReader
    load_from_book: BookLoader
    book_and_rope: Callable[[str], tuple[str, str] | None]
    logbook: LogbookTools
    demo_case: Callable[[str], str]
    demo_names: Callable[[], tuple[str, ...]]
    case_schema: Callable[[], dict[str, Any]]
    report_pdf: ReportMaker
    rope_chart: ChartMaker

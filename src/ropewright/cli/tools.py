"""What the command line is given to work with; the wiring fills it in."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, Protocol

from ropewright.card import FieldCard
from ropewright.cli.demo_tools import DemoTools
from ropewright.cli.logbook_tools import BookTools, LogbookTools
from ropewright.cli.order_tools import RopeChangeTools
from ropewright.cli.server_tools import ServerTools
from ropewright.cli.wear_tools import WearTools
from ropewright.desk import RuleShelf
from ropewright.forecast import RopeForecast, TrendFigure
from ropewright.inspection import Dossier
from ropewright.plan import InspectionPlan, TroubleSpot
from ropewright.rules import Assessment
from ropewright.wear.top_sections import WornSection


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
        growth: RopeForecast | str = "",
    ) -> bytes:
        """A PDF."""


class ChartMaker(Protocol):
    """Draws the rope chart."""

    def __call__(
        self,
        dossier: Dossier,
        assessment: Assessment,
        /,
        *,
        worn: Sequence[WornSection] = (),
        trouble: Sequence[TroubleSpot] | str = (),
    ) -> str:
        """An SVG, with lanes for the most worn sections and the trouble spots that are given."""


class PlanDrawer(Protocol):
    """Draws crane and drum of a plan."""

    def __call__(self, dossier: Dossier, plan: InspectionPlan, /) -> str:
        """An SVG."""


class PlanSheetMaker(Protocol):
    """Makes the sheet of a plan that a person takes along."""

    def __call__(self, dossier: Dossier, plan: InspectionPlan, assessment: Assessment, /) -> bytes:
        """A PDF."""


class TrendMaker(Protocol):
    """Draws the trend figure."""

    def __call__(self, figure: TrendFigure, /) -> str:
        """An SVG, or its specification as JSON."""


class BookLoader(Protocol):
    """Reads a rope out of a logbook."""

    def __call__(self, address: str, rope_id: str, /) -> Case:
        """The rope as a case, or an input error that names book and rope."""


class FieldCardMaker(Protocol):
    """Makes the page of a field card."""

    def __call__(self, card: FieldCard, /) -> bytes:
        """A PDF."""


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
    book_tools: BookTools
    rope_change: RopeChangeTools
    server: ServerTools
    demo: DemoTools
    demo_case: Callable[[str], str]
    demo_names: Callable[[], tuple[str, ...]]
    case_schema: Callable[[], dict[str, Any]]
    report_pdf: ReportMaker
    field_card_pdf: FieldCardMaker
    rope_chart: ChartMaker
    plan_picture: PlanDrawer
    plan_pdf: PlanSheetMaker
    trend_picture: TrendMaker
    trend_spec: TrendMaker
    wear: WearTools

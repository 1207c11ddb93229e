"""What the server is given to work with; the wiring fills it in."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, BinaryIO, Protocol

from ropewright.desk.access import AccessBook
from ropewright.desk.cards_read import CardsRead
from ropewright.desk.cutting import CutAdvice
from ropewright.desk.duty_counting import OpenedDuty
from ropewright.desk.handing_out import HandsOut
from ropewright.desk.judging import RuleShelf
from ropewright.desk.open_book import OpenBook
from ropewright.desk.rope_life import RopeLife
from ropewright.desk.wearing import WearResult
from ropewright.forecast import RopeForecast
from ropewright.geometry import CranePosition
from ropewright.inspection import CalibrationReading, Dossier
from ropewright.plan import InspectionPlan, TroubleSpot
from ropewright.rules import Assessment


class Case(Protocol):
    """A case file that was read."""

    @property
    def dossier(self) -> Dossier:
        """Everything known of the rope."""

    @property
    def warnings(self) -> Sequence[str]:
        """What looks odd but could be read."""


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
        growth: RopeForecast | str,
    ) -> bytes:
        """A PDF."""


class ChartMaker(Protocol):
    """Draws the whole rope."""

    def __call__(
        self,
        dossier: Dossier,
        assessment: Assessment,
        /,
        *,
        width_px: int,
        headline: bool,
        feet: bool,
        trouble: Sequence[TroubleSpot] | str,
    ) -> str:
        """An SVG; with ``feet`` its scale counts feet."""


class TrendMaker(Protocol):
    """Draws how breaks grew and what is expected."""

    def __call__(self, dossier: Dossier, growth: RopeForecast, /, *, width_px: int) -> str:
        """An SVG."""


class ElevationMaker(Protocol):
    """Draws the crane from the side."""

    def __call__(
        self, dossier: Dossier, on: date, /, *, position: CranePosition | None, width_px: int
    ) -> str:
        """An SVG."""


class LabelMaker(Protocol):
    """Makes the label that hangs at the crane."""

    def __call__(
        self,
        *,
        title: str,
        lines: Sequence[str],
        address: str,
        note: str,
        invented: bool,
        made_on: date,
    ) -> bytes:
        """A PDF."""


class PlanMaker(Protocol):
    """Makes the sheet of a plan, to take along."""

    def __call__(self, dossier: Dossier, plan: InspectionPlan, assessment: Assessment, /) -> bytes:
        """A PDF."""


class LogReader(Protocol):
    """Opens duty logs that came with a form."""

    def __call__(
        self, logs: Sequence[tuple[str, bytes]], said: Mapping[str, str], /
    ) -> AbstractContextManager[OpenedDuty]:
        """Name and content of each log, and what was said of its columns."""


class CardsReader(Protocol):
    """Reads a list of old cards that came with a form."""

    def __call__(
        self,
        name: str,
        data: bytes,
        dossier: Dossier,
        /,
        *,
        place_err: str | None,
        leave_out: bool,
    ) -> CardsRead:
        """The inspections, or an error that names row and column."""


class ReadingReader(Protocol):
    """Reads a calibration reading that was typed, field by field."""

    def __call__(
        self,
        typed: Mapping[str, str],
        /,
        *,
        taken_names: Collection[str],
        valid_from: date,
        fitted_on: date | None,
    ) -> CalibrationReading:
        """The reading, or an error that names the field."""


class WearDrawer(Protocol):
    """Draws where the rope is worn."""

    def __call__(
        self,
        dossier: Dossier,
        found: WearResult,
        advice: CutAdvice | None,
        /,
        *,
        width_px: int,
        feet: bool,
    ) -> str:
        """An SVG; with ``feet`` its scale counts feet."""


class CaseWriter(Protocol):
    """Writes a rope as a case file."""

    def __call__(self, dossier: Dossier, /, *, heading: str) -> str:
        """The text, or an error that names what a case file cannot hold."""


class WorkbookWriter(Protocol):
    """Writes tables as one workbook for a spreadsheet."""

    def __call__(
        self,
        file: BinaryIO,
        columns: Mapping[str, Sequence[str]],
        rows: Iterable[tuple[str, Mapping[str, object]]],
        /,
        *,
        note: str,
    ) -> None:
        """Row after row into an open file."""


#: Makes the field card of a rope: dossier, head of the rope's chain, moment, what stands open.
CardMaker = Callable[[Dossier, str, datetime, Sequence[str]], Mapping[str, Any]]
#: The same card as a page to print (PDF).
CardPrinter = Callable[[Dossier, str, datetime, Sequence[str]], bytes]


@dataclass(frozen=True, slots=True, kw_only=True)
class WebTools:
    """Everything the pages call, so that the faces import no rim."""

    software: str
    today: Callable[[], date]
    now: Callable[[], datetime]
    shelf: RuleShelf
    book: OpenBook
    access: AccessBook
    read_case: CaseReader
    report_pdf: ReportMaker
    rope_chart: ChartMaker
    crane_elevation: ElevationMaker
    trend: TrendMaker
    label_pdf: LabelMaker
    plan_pdf: PlanMaker
    read_logs: LogReader
    wear_chart: WearDrawer
    typed_reading: ReadingReader
    read_cards: CardsReader
    hands_out: HandsOut
    write_case: CaseWriter
    write_workbook: WorkbookWriter
    rope_card_pdf: Callable[[RopeLife], bytes]
    field_card_pdf: CardPrinter
    field_card: CardMaker | None = None

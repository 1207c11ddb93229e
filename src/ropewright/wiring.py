"""Puts the parts together: the only module that sees everything."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import UTC, date, datetime, tzinfo
from functools import lru_cache, partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from ropewright import __version__
from ropewright.cli import Tools, build_cli
from ropewright.cli.demo_tools import DemoTools
from ropewright.cli.logbook_tools import BookedCase, BookTools, LogbookTools
from ropewright.cli.order_tools import FittingBook, OrderBook, RopeChangeTools
from ropewright.cli.server_tools import PeopleTools, ServeWish
from ropewright.cli.wear_tools import WearTools
from ropewright.demo import (
    DEMO_DAY,
    SITE,
    USUAL_SEED,
    demo_case,
    demo_lifts,
    demo_names,
    demo_notes,
    demo_photos,
)
from ropewright.desk import split_address
from ropewright.forecast import RopeForecast, trend_of
from ropewright.inspection import Dossier
from ropewright.intake import (
    PackageShelf,
    case_schema,
    inspection_of_list,
    load_case,
    read_case,
    read_old_cards,
    sheets_xlsx,
    write_case,
    write_workbook,
)
from ropewright.paper import order_pdf, plan_pdf, report_pdf, rope_card_pdf
from ropewright.picture import plan_picture, rope_chart, trend_picture, trend_spec_json

if TYPE_CHECKING:
    from ropewright.card import FieldCard
    from ropewright.desk.cutting import CutAdvice
    from ropewright.desk.fleet import Crew, FileWork, FleetJob
    from ropewright.desk.wearing import WearResult
    from ropewright.intake.duty.opening import OpenedLogs
    from ropewright.logbook import Book
    from ropewright.logbook.served import ServedBook
    from ropewright.web import WebTools

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


def _trend(dossier: Dossier, growth: RopeForecast, /, *, width_px: int) -> str:
    return trend_picture(trend_of(dossier, growth), width_px=width_px, headline=False)


def _field_card_pdf(card: "FieldCard", /) -> bytes:
    from ropewright.paper.field_card import field_card_pdf

    return field_card_pdf(card)


def _field_card(
    dossier: Dossier, head: str, now: datetime, told: Sequence[str]
) -> Mapping[str, Any]:
    from ropewright.card import card_as_data

    return card_as_data(_card_at(dossier, head, now, told))


def _printed_card(dossier: Dossier, head: str, now: datetime, told: Sequence[str]) -> bytes:
    return _field_card_pdf(_card_at(dossier, head, now, told))


def _card_at(dossier: Dossier, head: str, now: datetime, told: Sequence[str]) -> "FieldCard":
    from ropewright.desk.carding import card_for

    try:
        zone: tzinfo | None = ZoneInfo(dossier.crane.zone) if dossier.crane.zone else None
    except (ZoneInfoNotFoundError, ValueError):
        zone = None  # a name nobody knows: the zone of this machine
    return card_for(
        dossier, PackageShelf(), now.astimezone(zone).date(), software=SOFTWARE, book_head=head,
        told=told,
    )  # fmt: skip


def web_tools(book: "Book") -> "WebTools":
    """Everything the pages need, wired to the real thing and one open book."""
    from ropewright.intake.duty.uploaded import uploaded_logs
    from ropewright.intake.typed_reading import typed_reading
    from ropewright.intake.uploaded_cards import uploaded_cards
    from ropewright.logbook.access import AccessTables
    from ropewright.logbook.handing_out import BookHandsOut
    from ropewright.logbook.served import ServedBook
    from ropewright.paper.label import label_pdf
    from ropewright.picture import crane_elevation
    from ropewright.picture.wear_chart import wear_chart
    from ropewright.web import WebTools

    return WebTools(
        software=SOFTWARE,
        today=date.today,
        now=_now,
        shelf=PackageShelf(),
        book=ServedBook(book),
        access=AccessTables(book),
        read_case=read_case,
        report_pdf=report_pdf,
        rope_chart=rope_chart,
        crane_elevation=crane_elevation,
        trend=_trend,
        label_pdf=label_pdf,
        plan_pdf=plan_pdf,
        read_logs=uploaded_logs,
        wear_chart=wear_chart,
        typed_reading=typed_reading,
        read_cards=uploaded_cards,
        field_card=_field_card,
        hands_out=BookHandsOut(book, software=SOFTWARE),
        write_case=write_case,
        write_workbook=write_workbook,
        rope_card_pdf=rope_card_pdf,
        field_card_pdf=_printed_card,
    )


class _Server:
    """The server, brought in when it is asked for."""

    def serve(self, wish: ServeWish, tell: Callable[[str], None], /) -> None:
        """Serve a book until stopped."""
        from ropewright.logbook import open_book
        from ropewright.web.running import check_tls, run_server, warnings_for
        from ropewright.web.settings import Settings

        settings = Settings(
            host=wish.host, port=wish.port, single_user=wish.single_user,
            tls=check_tls(wish.cert, wish.key), names=wish.names,
        )  # fmt: skip
        book = open_book(wish.address, now=_now)
        try:
            made = web_tools(book)
            for warning in warnings_for(made, settings):
                tell(warning)
            run_server(made, settings, cert=wish.cert, key=wish.key)
        finally:
            book.close()

    @contextmanager
    def people(self, address: str, /) -> Iterator[PeopleTools]:
        """People of a book."""
        from ropewright.logbook import open_book
        from ropewright.web.admin import PeopleDesk

        book = open_book(address, now=_now)
        try:
            made = web_tools(book)
            yield cast(PeopleTools, PeopleDesk(made.book, made.access, _now))
        finally:
            book.close()


def _book_tools() -> BookTools:
    return BookTools(
        write_case=write_case,
        read_old_cards=read_old_cards,
        inspection_of_list=inspection_of_list,
        sheets_xlsx=sheets_xlsx,
        rope_card_pdf=rope_card_pdf,
    )


@contextmanager
def _new_book(address: str) -> Iterator["ServedBook"]:
    """A new, empty book that is open."""
    from ropewright.logbook import create_book
    from ropewright.logbook.served import ServedBook

    book = create_book(address, now=_now)
    try:
        yield ServedBook(book)
    finally:
        book.close()


def _demo_tools() -> DemoTools:
    return DemoTools(
        usual_seed=USUAL_SEED,
        day=DEMO_DAY,
        site=SITE,
        case=demo_case,
        photos=demo_photos,
        notes=demo_notes,
        lifts=demo_lifts,
        new_book=_new_book,
    )


class _FleetTools:
    """Wear of many ropes: everything that is heavy comes in when it is asked for."""

    def open_logs(self, logs: Sequence[Path], mapping: Path | None, /) -> "OpenedLogs":
        """Logs of one rope."""
        from ropewright.intake.duty.opening import open_logs

        return open_logs(logs, mapping)

    def picture(self, dossier: Dossier, found: "WearResult", advice: "CutAdvice | None", /) -> str:
        """The figure."""
        from ropewright.picture.wear_chart import wear_chart

        return wear_chart(dossier, found, advice)

    def jobs(self, pattern: str, /) -> "Sequence[FleetJob]":
        """One per log file."""
        from ropewright.fleet import fleet_jobs

        return fleet_jobs(pattern)

    def work(self, today: date, keep: str, /) -> "FileWork":
        """What is to be done with one file."""
        from ropewright.desk.fleet import FileWork
        from ropewright.fleet import KeptBeside

        keeper = KeptBeside(SOFTWARE, today, keep)
        return FileWork(read_case=_dossier_at, open_log=_log_at, keeper=keeper, today=today)

    def crew(self, scheduler: str | None, workers: int | None, /) -> "Crew":
        """Who does it."""
        from ropewright.fleet import AllCores, Cluster, OneByOne

        if scheduler is not None:
            return Cluster(scheduler)
        return OneByOne() if workers == 1 else AllCores(workers)


def _dossier_at(address: str) -> Dossier:
    """A case file as it is now; read once for all logs of its rope."""
    return _dossier_of(address, Path(address).read_bytes())


@lru_cache(maxsize=4)
def _dossier_of(address: str, _content: bytes) -> Dossier:
    return load_case(Path(address), known_rules=PackageShelf().names()).dossier


def _log_at(log: str, mapping: str) -> "OpenedLogs":
    from ropewright.intake.duty.opening import open_logs

    return open_logs([Path(log)], Path(mapping) if mapping else None)


def _wear_tools() -> WearTools:
    fleet = _FleetTools()
    return WearTools(
        open_logs=fleet.open_logs,
        picture=fleet.picture,
        fleet_jobs=fleet.jobs,
        fleet_work=fleet.work,
        crew=fleet.crew,
    )


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
        book_tools=_book_tools(),
        rope_change=RopeChangeTools(
            orders=cast(OrderBook, _LOGBOOK),
            fitting=cast(FittingBook, _LOGBOOK),
            order_pdf=order_pdf,
        ),
        server=_Server(),
        demo=_demo_tools(),
        demo_case=demo_case,
        demo_names=demo_names,
        case_schema=case_schema,
        report_pdf=report_pdf,
        field_card_pdf=_field_card_pdf,
        rope_chart=partial(rope_chart, crane=True),
        plan_picture=plan_picture,
        plan_pdf=plan_pdf,
        trend_picture=trend_picture,
        trend_spec=trend_spec_json,
        wear=_wear_tools(),
    )


def main() -> None:
    """Entry point of the command ``ropewright``."""
    build_cli(tools())()

"""What the wear command is given to work with; the wiring fills it in."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Protocol

from ropewright.desk.cutting import CutAdvice
from ropewright.desk.duty_counting import OpenedDuty
from ropewright.desk.fleet import Crew, FileCount, FleetJob
from ropewright.desk.wearing import WearResult
from ropewright.inspection import Dossier


class DutyOpener(Protocol):
    """Opens logs for counting."""

    def __call__(self, logs: Sequence[Path], mapping: Path | None, /) -> OpenedDuty:
        """The logs, or an input error that names file and row."""


class WearDrawer(Protocol):
    """Draws the wear figure."""

    def __call__(self, dossier: Dossier, found: WearResult, advice: CutAdvice | None, /) -> str:
        """An SVG."""


class WorkMaker(Protocol):
    """Makes the work on one log file of a fleet."""

    def __call__(self, today: date, keep: str, /) -> Callable[[FleetJob], FileCount]:
        """The work, which can be sent to another process."""


class CrewMaker(Protocol):
    """Makes those who run the work."""

    def __call__(self, scheduler: str | None, workers: int | None, /) -> Crew:
        """One process, all cores, or a cluster."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WearTools:
    """Everything the wear command calls."""

    open_logs: DutyOpener
    picture: WearDrawer
    fleet_jobs: Callable[[str], Sequence[FleetJob]]
    fleet_work: WorkMaker
    crew: CrewMaker

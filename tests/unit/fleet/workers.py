"""Jobs for the crews, in a module that other processes can import."""

from datetime import date
from pathlib import Path

from ropewright.desk.fleet import FileCount, FileWork, FleetJob
from ropewright.fleet import KeptBeside
from ropewright.inspection import Dossier
from ropewright.intake import load_case
from ropewright.intake.duty.opening import OpenedLogs, open_logs

TODAY = date(2026, 12, 31)


def read_case_at(address: str) -> Dossier:
    """Read a case file."""
    return load_case(Path(address)).dossier


def open_log(log: str, mapping: str) -> OpenedLogs:
    """Open one log."""
    return open_logs([Path(log)], Path(mapping) if mapping else None)


def work(keep: str = "", *, today: date = TODAY, software: str = "test 1") -> FileWork:
    """Return the real work, keeping results in a folder."""
    return FileWork(
        read_case=read_case_at,
        open_log=open_log,
        keeper=KeptBeside(software, today, keep),
        today=today,
    )


def fails(job: FleetJob) -> FileCount:
    """Do nothing but say so."""
    return FileCount(job=job, problem="made to fail")

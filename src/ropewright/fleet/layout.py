"""Where the logs of a fleet lie: each case file's logs in a folder of its name beside it."""

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from ropewright.desk.fleet import FleetJob
from ropewright.errors import InputError

LOG_FOLDER: Final = ".logs"
MAPPING: Final = "map.toml"
ENDINGS: Final = (".csv", ".tsv", ".gz", ".parquet", ".pq")


def fleet_jobs(pattern: str) -> tuple[FleetJob, ...]:
    """One job per log file of all case files that a pattern names.

    The logs of ``ropes/KQ-1.toml`` lie in ``ropes/KQ-1.logs``, with ``map.toml`` for their
    columns.

    Parameters
    ----------
    pattern
        Names of case files, such as ``ropes/*.toml``.

    Raises
    ------
    InputError
        If no case file is there, or one has no logs.
    """
    cases = [path for path in _named(pattern) if path.is_file()]
    if not cases:
        raise InputError(field="--fleet", expected="case files, like 'ropes/*.toml'", given=pattern)
    jobs: list[FleetJob] = []
    bare: list[Path] = []
    for case in cases:
        logs = logs_of(case)
        if not logs:
            bare.append(case)
        mapping = case.with_suffix(LOG_FOLDER) / MAPPING
        jobs += [
            FleetJob(
                case=str(case), log=str(log), mapping=str(mapping) if mapping.is_file() else ""
            )
            for log in logs
        ]
    if bare:
        raise InputError(
            field="--fleet",
            expected="logs of every case file in a folder of its name, like "
            f"{bare[0].with_suffix(LOG_FOLDER).name}/",
            given="none for " + ", ".join(case.name for case in bare[:5]),
        )
    return tuple(sorted(jobs))


def logs_of(case: Path) -> Sequence[Path]:
    """Log files of a case file, by name."""
    folder = case.with_suffix(LOG_FOLDER)
    if not folder.is_dir():
        return []
    return sorted(one for one in folder.iterdir() if one.suffix.lower() in ENDINGS)


def _named(pattern: str) -> Sequence[Path]:
    path = Path(pattern)
    parts = list(path.parts)
    wild = next((number for number, part in enumerate(parts) if set(part) & set("*?[")), None)
    if wild is None:
        return sorted(path.glob("*.toml")) if path.is_dir() else [path]
    return sorted(Path(*parts[:wild]).glob(str(Path(*parts[wild:]))))

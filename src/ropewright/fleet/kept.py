"""Results of log files kept beside them, under the hash of all they depend on."""

import hashlib
import json
import os
import zipfile
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, Final

import numpy as np

from ropewright.desk.duty_pieces import GroupCount
from ropewright.desk.fleet import FileCount, FleetJob
from ropewright.errors import InputError, RopewrightError
from ropewright.wear.stored import count_from_arrays, count_to_arrays

ENDING: Final = ".bends.npz"
_FORM: Final = "1"
_PIECE: Final = 1 << 20


@dataclass(frozen=True, slots=True)
class KeptBeside:
    """Keeps ``KQ-1.logs/2026-10.csv`` as ``2026-10.csv.bends.npz``, or in another folder.

    ``software`` belongs to the hash: another version counts anew.  So does a day of the question
    ``today`` that could leave other samples out.
    """

    software: str
    today: date
    folder: str = ""

    def key_of(self, job: FleetJob, /) -> str:
        """Hash of case, log, mapping and software.

        Raises
        ------
        InputError
            If a file cannot be read.
        """
        found = hashlib.sha256(f"{_FORM}\n{self.software}\n".encode())
        for name in (job.case, job.log, job.mapping):
            found.update(_hash_of(name).encode() if name else b"none")
        return found.hexdigest()

    def load(self, job: FleetJob, key: str, /) -> FileCount | None:
        """The kept result of that very hash; what cannot be read counts as not there."""
        path = self._place(job)
        try:
            with path.open("rb") as file, np.load(file, allow_pickle=False) as arrays:
                held = dict(arrays)
            about = json.loads(str(held["about"]))
            if about["key"] != key or not self._still_holds(about):
                return None
            groups = tuple(_group(held, number, one) for number, one in enumerate(about["groups"]))
        except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile, RopewrightError):
            return None
        return FileCount(
            job=job, key=key, groups=groups, before=about["before"], after=about["after"],
            kept=True,
        )  # fmt: skip

    def save(self, done: FileCount, /) -> None:
        """Keep a result; where nothing can be written it is not kept, and nothing is lost."""
        about = {
            "key": done.key,
            "today": self.today.isoformat(),
            "before": done.before,
            "after": done.after,
            "groups": [
                {"first": one.first.isoformat(), "last": one.last.isoformat(), "days": one.days}
                for one in done.groups
            ],
        }
        arrays: dict[str, np.ndarray[Any, Any]] = {"about": np.array(json.dumps(about))}
        for number, one in enumerate(done.groups):
            held = count_to_arrays(one.count)
            arrays |= {f"{number}.{name}": array for name, array in held.items()}
        path = self._place(done.job)
        half = path.with_name(f"{path.name}.{os.getpid()}.part")
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            with half.open("wb") as file:
                np.savez_compressed(file, **arrays)  # type: ignore[arg-type]
            half.replace(path)
        except OSError:
            half.unlink(missing_ok=True)

    def _still_holds(self, about: dict[str, Any]) -> bool:
        """Whether the day of the question leaves out the same samples as then."""
        then = date.fromisoformat(about["today"])
        return then == self.today or (then < self.today and not about["after"])

    def _place(self, job: FleetJob) -> Path:
        log = Path(job.log)
        if not self.folder:
            return log.with_name(log.name + ENDING)
        name = hashlib.sha256(str(log.resolve()).encode()).hexdigest()[:16]
        return Path(self.folder) / f"{log.name}.{name}{ENDING}"


def _group(held: dict[str, np.ndarray[Any, Any]], number: int, one: dict[str, Any]) -> GroupCount:
    mark = f"{number}."
    arrays = {
        name.removeprefix(mark): array for name, array in held.items() if name.startswith(mark)
    }
    return GroupCount(
        first=date.fromisoformat(one["first"]),
        last=date.fromisoformat(one["last"]),
        days=float(one["days"]),
        count=count_from_arrays(arrays),
    )


def _hash_of(name: str) -> str:
    found = hashlib.sha256()
    try:
        with Path(name).open("rb") as file:
            while piece := file.read(_PIECE):
                found.update(piece)
    except OSError as problem:
        raise InputError(
            f"cannot be read: {problem.strerror}", file=name, hint="check the name of the file"
        ) from problem
    return found.hexdigest()

"""Results of log files kept beside them, under the hash of all they depend on."""

import hashlib
import json
import os
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, Final

from ropewright.desk.fleet import FileCount, FleetJob
from ropewright.errors import InputError

ENDING: Final = ".bends"
_FORM: Final = "2"
_PIECE: Final = 1 << 20


@dataclass(frozen=True, slots=True)
class KeptBeside:
    """Keeps ``KQ-1.logs/2026-10.csv`` as ``2026-10.csv.bends``, or in another folder.

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
        try:
            head, _, packed = self._place(job).read_bytes().partition(b"\n")
            about = json.loads(head)
            if about["key"] != key or not self._still_holds(about):
                return None
            if about["packed"] != hashlib.sha256(packed).hexdigest():
                return None
            before, after = int(about["before"]), int(about["after"])
        except (OSError, ValueError, KeyError, TypeError):
            return None
        return FileCount(job=job, key=key, packed=packed, before=before, after=after, kept=True)

    def save(self, done: FileCount, /) -> None:
        """Keep a result; where nothing can be written it is not kept, and nothing is lost."""
        about = {
            "key": done.key,
            "today": self.today.isoformat(),
            "before": done.before,
            "after": done.after,
            "packed": hashlib.sha256(done.packed).hexdigest(),
        }
        path = self._place(done.job)
        half = path.with_name(f"{path.name}.{os.getpid()}.part")
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            half.write_bytes(json.dumps(about).encode() + b"\n" + done.packed)
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

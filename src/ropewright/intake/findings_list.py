"""Findings from a CSV or XLSX list, by themselves or named in an inspection of a case file."""

import hashlib
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Final

from pydantic import ValidationError

from ropewright.errors import (
    FindingsFileError,
    InputError,
    InputErrors,
    raise_if_any,
)
from ropewright.inspection import RopeFinding
from ropewright.intake.bench import Bench
from ropewright.intake.beside import file_beside
from ropewright.intake.build_findings import rope_finding
from ropewright.intake.columns import COLUMNS, Draft, drafts_of, headings_of
from ropewright.intake.inspection_models import FindingModel
from ropewright.intake.models import Strict
from ropewright.intake.places import Findings, Ground
from ropewright.intake.problems import problems_of
from ropewright.intake.sheets import rows_of
from ropewright.rope import Rope, RopeHistory

_NUMBERED: Final = re.compile(r"finding\[(\d+)\]\.?(.*)")


class FindingList(Strict):
    """The findings of a list, as the ``[[inspection.finding]]`` tables of a case file."""

    finding: list[FindingModel]


def read_findings(
    path: str | Path,
    rope: Rope,
    *,
    history: RopeHistory | None = None,
    on: date | None = None,
    instruments: Sequence[str] = (),
    id_prefix: str = "",
) -> list[RopeFinding]:
    """Read a list of findings.

    Parameters
    ----------
    path
        A ``.csv`` or ``.xlsx`` file whose first row names its columns.
    rope
        The rope they were found on.
    history
        What was cut off or turned; without it the rope is as first installed.
    on
        The day of the inspection, for path positions; the latest day without it.
    instruments
        Names that the column ``instrument`` may hold.
    id_prefix
        Put before the row number of findings that have no id.

    Raises
    ------
    FindingsFileError
        With row and column; `InputErrors` if there are several.
    """
    whole = history if history is not None else RopeHistory(original_length_m=rope.length_m)
    bench = Bench(
        rope=rope,
        ground=Ground.of(whole, on or date.max),
        found=Findings(),
        instruments=frozenset(instruments),
    )
    return findings_of(Path(path), file=str(path), bench=bench, id_prefix=id_prefix)


def findings_of(path: Path, *, file: str, bench: Bench, id_prefix: str) -> list[RopeFinding]:
    """Read a list of findings for one inspection; `read_findings` says how."""
    rows = rows_of(path, file=file, known=list(COLUMNS))
    headings = headings_of(rows[0], file=file)
    drafts, errors = drafts_of(headings, rows[1:], file=file)
    models: dict[int, FindingModel] = {}
    for number, draft in enumerate(drafts):
        try:
            read = FindingList.model_validate({"finding": [draft.data]})
            models[number] = read.finding[0]
        except ValidationError as error:
            errors += [
                _at_its_cell(one, draft, file)
                for one in problems_of(error, FindingList, {"finding": [draft.data]})
            ]
    own = Findings()
    made: list[RopeFinding] = []
    inner = Bench(rope=bench.rope, ground=bench.ground, found=own, instruments=bench.instruments)
    used: dict[str, int] = {}
    for number, model in models.items():
        draft = drafts[number]
        finding_id = model.id or f"{id_prefix}row {draft.row}"
        first = used.setdefault(finding_id, draft.row)
        if first != draft.row:
            errors.append(
                FindingsFileError(
                    file=file,
                    field=f"row {draft.row}, column id",
                    expected="an id that is not used in another row",
                    given=finding_id,
                    hint=f"it stands in row {first}; a further break of one cluster has no kind",
                )
            )
            continue
        before = len(own.errors), len(own.loose), len(own.warnings)
        one = rope_finding(model, finding_id=finding_id, where="finding[1]", bench=inner)
        for problem in (*own.errors[before[0] :], *own.loose[before[1] :]):
            errors.append(_at_its_cell(problem, draft, file))
        for words in own.warnings[before[2] :]:
            bench.found.warnings.append(f"{file}: row {draft.row}: {words.partition(': ')[2]}")
        if one is not None:
            made.append(one)
    raise_if_any(sorted(errors, key=_row_of))
    return made


def _at_its_cell(error: InputError, draft: Draft, file: str) -> FindingsFileError:
    """A complaint about a finding, said of the row and column that it came from."""
    match = _NUMBERED.fullmatch(error.field or "")
    row, column = draft.place_of(match[2] if match else "")
    where = f"row {row}, column {column}" if column else f"row {row}"
    made = FindingsFileError(
        error.message, file=file, field=where, expected=error.expected, hint=error.hint
    )
    made.given = error.given
    return made


def _row_of(error: InputError) -> int:
    match = re.match(r"row (\d+)", error.field or "")
    return int(match[1]) if match else 0


@dataclass(slots=True)
class Lists:
    """The lists of findings that a case file names, found beside it and nowhere else."""

    folder: Path | None
    case_file: str
    hashes: dict[str, str] = field(default_factory=dict)

    def read(self, name: str, where: str, bench: Bench, own_id: str) -> list[RopeFinding]:
        """Read the list of an inspection; what is wrong goes to the bench.

        Parameters
        ----------
        name
            As the case file names it.
        where
            The field that names it.
        bench
            What making findings needs to know.
        own_id
            Id of the inspection.
        """
        try:
            path, shown = self._beside(name, where)
            found = findings_of(path, file=shown, bench=bench, id_prefix=f"{own_id}/")
            self.hashes[name] = hashlib.sha256(path.read_bytes()).hexdigest()
        except InputErrors as several:
            bench.found.errors.extend(several.errors)
        except InputError as error:
            bench.found.errors.append(error)
        else:
            return found
        return []

    def _beside(self, name: str, where: str) -> tuple[Path, str]:
        path = file_beside(
            self.folder, name, where=where, what="a CSV or XLSX file", such_as="findings.csv"
        )
        return path, str(Path(self.case_file).parent / path.relative_to(self.folder or ""))

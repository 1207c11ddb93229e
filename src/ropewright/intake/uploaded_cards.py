"""A list of old cards that comes as bytes with a form: laid in a folder while it is read."""

import tempfile
from pathlib import Path
from typing import Final

from ropewright.errors import FindingsFileError
from ropewright.inspection import Dossier
from ropewright.intake.old_cards import OldCards, read_old_cards

_ENDINGS: Final = (".csv", ".xlsx")


def uploaded_cards(
    name: str, data: bytes, dossier: Dossier, *, place_err: str | None, leave_out: bool
) -> OldCards:
    """Read old cards as `read_old_cards` does.

    Parameters
    ----------
    name
        What the file was called.
    data
        Its content.
    dossier
        The rope the cards are of.
    place_err
        How far off a place may be where a line does not say.
    leave_out
        Take the lines that can be read and account for the others, instead of refusing all.

    Raises
    ------
    InputError
        If it is no such list, or a line cannot be read: row and column.
    """
    ending = Path(name.lower()).suffix
    if ending not in _ENDINGS:
        raise FindingsFileError(
            field="file", expected="a list of old cards, .csv or .xlsx", given=name
        )
    if not data:
        raise FindingsFileError(field="file", expected="a list of old cards", given="an empty file")
    with tempfile.TemporaryDirectory(prefix="ropewright-cards-") as folder:
        path = Path(folder, f"cards{ending}")
        path.write_bytes(data)
        return read_old_cards(path, dossier, place_err=place_err, leave_out=leave_out, file=name)

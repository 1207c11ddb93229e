"""Files that a case file names: they lie beside it or in folders beside it, nowhere else."""

from pathlib import Path, PurePosixPath, PureWindowsPath

from ropewright.errors import CaseFileError


def file_beside(folder: Path | None, name: str, *, where: str, what: str, such_as: str) -> Path:
    """Return the path of a file that a case file names.

    Parameters
    ----------
    folder
        The folder of the case file; none if it was not read from a file.
    name
        As written, with slashes between folders.
    where
        The field that names it.
    what, such_as
        What the file is, and an example of its name, for errors.

    Raises
    ------
    CaseFileError
        If it lies elsewhere, or is not there.
    """
    expected = f"the name of {what} beside the case file, such as {such_as}"
    if folder is None:
        raise CaseFileError(
            field=where,
            expected="no name of a file, as this case was not read from a file",
            given=name,
        )
    parts = PurePosixPath(name.replace("\\", "/")).parts
    outside = name.startswith(("/", "\\")) or PureWindowsPath(name).drive or ".." in parts
    try:
        path = folder.joinpath(*parts)
        if outside or not path.resolve().is_relative_to(folder.resolve()):
            raise CaseFileError(field=where, expected=expected, given=name)
        if not path.exists():
            raise CaseFileError(
                field=where, expected=expected, given=name, hint="there is no such file"
            )
    except (OSError, RuntimeError, ValueError):  # a name that no file can have
        raise CaseFileError(field=where, expected=expected, given=name) from None
    return path

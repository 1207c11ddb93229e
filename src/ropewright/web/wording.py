"""An error in words for somebody who need not know where the book lies on this machine."""

from ropewright.errors import InputErrors, RopewrightError


def said_by(error: RopewrightError) -> str:
    """What an error says, without the file it happened in.

    Examples
    --------
    >>> said_by(RopewrightError("is not there", file="/srv/site.book", field="rope"))
    'rope: is not there'
    """
    if isinstance(error, InputErrors):
        return "; ".join(said_by(one) for one in error.errors)
    text = str(error)
    return text.removeprefix(f"{error.file}: ") if error.file else text

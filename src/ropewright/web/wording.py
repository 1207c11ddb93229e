"""Words cut down to what the reader of a page needs: errors, and sentences under a heading."""

from ropewright.errors import InputErrors, RopewrightError
from ropewright.rules import LEVEL_WORDS, Level


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


def without_level(level: Level, sentence: str) -> str:
    """The sentence of a verdict for a place where its level stands already.

    Examples
    --------
    >>> without_level("remove", "Remove from service: birdcage at 265.81 m.")
    'Birdcage at 265.81 m.'
    """
    words = LEVEL_WORDS[level]
    rest = sentence.removeprefix(f"{words[0].upper()}{words[1:]}: ")
    return rest[:1].upper() + rest[1:]

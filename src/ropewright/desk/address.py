"""Where a rope is named: a case file, or a rope in a logbook."""


def split_address(text: str) -> tuple[str, str] | None:
    """Book and rope of ``BOOK#ROPE``; ``None`` if there is no rope in it.

    Examples
    --------
    >>> split_address("site.book#KQ-1 hoist")
    ('site.book', 'KQ-1 hoist')
    """
    book, mark, rope = text.partition("#")
    return (book, rope) if mark and book and rope else None

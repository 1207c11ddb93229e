"""A seal: the last hash of a book, short enough to print on a report."""

import re
from dataclasses import dataclass
from typing import Self

from ropewright.errors import InputError


@dataclass(frozen=True, slots=True)
class Seal:
    """The hash of the whole book after an entry; whoever wrote it down can tell any change."""

    book_id: str
    sequence: int
    book_hash: str

    def __str__(self) -> str:
        return f"{self.book_id}/{self.sequence}/{self.book_hash}"

    @classmethod
    def parse(cls, text: str) -> Self:
        """A seal from its text.

        Raises
        ------
        InputError
            If it is none.
        """
        match = re.fullmatch(r"([0-9a-f-]{36})/([0-9]{1,18})/([0-9a-fA-F]{64})", text.strip())
        if match is None:
            raise InputError(
                field="seal", expected="a seal as printed: BOOK-ID/NUMBER/HASH", given=text
            )
        return cls(match[1], int(match[2]), match[3].lower())

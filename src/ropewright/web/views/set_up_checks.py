"""Checks of a set-up, fact by fact: what is there, and what each source asks for."""

from collections.abc import Sequence
from dataclasses import dataclass

from ropewright.rules import Ruling


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """What one source asks of a fact: the ruling, and its words without the fact."""

    ruling: Ruling
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FactChecked:
    """One fact of the set-up with everything that is asked of it, the worst first."""

    fact: str
    asks: tuple[Ask, ...]

    @property
    def worst(self) -> Ruling:
        """The ruling that says most against it."""
        return self.asks[0].ruling


def facts_checked(rulings: Sequence[Ruling]) -> tuple[FactChecked, ...]:
    """Put the rulings on one fact together.

    Parameters
    ----------
    rulings
        Rulings of the set-up, the worst first.

    Returns
    -------
    tuple of FactChecked
        In the order of their worst rulings.
    """
    found: dict[str, list[Ask]] = {}
    for ruling in rulings:
        fact, _, asked = ruling.words.partition("; ")
        found.setdefault(fact, []).append(Ask(ruling=ruling, words=asked))
    return tuple(FactChecked(fact=fact, asks=tuple(asks)) for fact, asks in found.items())

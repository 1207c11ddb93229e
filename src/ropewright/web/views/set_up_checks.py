"""Checks of a set-up, fact by fact: what is there, and what each source asks for."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from ropewright.rules import Ruling
from ropewright.web.readable import short_figures


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """What one source asks of a fact: the ruling, and its words without the fact."""

    ruling: Ruling
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FactChecked:
    """One fact of the set-up with what is asked of it.

    ``asks`` is what a reader needs: whatever is not met or not known, and the strictest that is
    met; ``milder`` is met as well and asks for less.
    """

    fact: str
    asks: tuple[Ask, ...]
    milder: tuple[Ask, ...] = ()

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
    found: dict[str, list[tuple[Ruling, str]]] = {}
    for ruling in rulings:
        fact, _, asked = ruling.words.partition("; ")
        found.setdefault(fact, []).append((ruling, asked))
    return tuple(_checked(fact, said) for fact, said in found.items())


def _checked(fact: str, said: Sequence[tuple[Ruling, str]]) -> FactChecked:
    asks = [Ask(ruling=ruling, words=short_figures(asked, [fact])) for ruling, asked in said]
    shown = [one for one in asks if one.ruling.status != "below"]
    milder: list[Ask] = []
    ways: set[str | None] = set()
    met = (one for one in asks if one.ruling.status == "below")
    for one in sorted(met, key=_strictest_first):
        (milder if one.ruling.compare in ways else shown).append(one)
        ways.add(one.ruling.compare)
    return FactChecked(
        fact=short_figures(fact, [asked for _, asked in said]),
        asks=tuple(shown),
        milder=tuple(milder),
    )


def _strictest_first(one: Ask) -> Fraction:
    """A least figure is the stricter the larger it is, a greatest one the smaller."""
    limit = one.ruling.limit or Fraction(0)
    return -limit if one.ruling.compare == "less than" else limit

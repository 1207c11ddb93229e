"""The papers of one rope: certificate, signed reports, orders, fitting, choices, photos."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Any, Final

from ropewright.desk.installing import FittingGuide
from ropewright.desk.open_book import Line
from ropewright.inspection import Confirmation, Dossier, Permission
from ropewright.rope import Derived
from ropewright.units import exact_decimal, fixed_decimal
from ropewright.web.addresses import in_address, rope_path
from ropewright.web.catalogue import Catalogue

#: Entries that the papers are read from.
READ: Final = frozenset({"inspection signed", "order", "order checked", "correction"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure of the maker's: key of its name, value with unit, where it comes from.

    ``value`` is empty where it is not known.
    """

    key: str
    value: str
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SignedReport:
    """One signature: of which inspection, when, who; ``pdf`` is empty if no report is kept."""

    inspection_id: str
    kind: str
    path: str
    on: date | None
    who: str
    pdf: str
    withdrawn: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderPaper:
    """One order in its newest wording, and what the second person said of it."""

    order_id: str
    path: str
    on: date | None
    who: str
    checked_by: str = ""
    checked_on: date | None = None
    agrees: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingPaper:
    """The newest fitting: steps [-] that are done of all, and who released the rope."""

    begun_on: date | None
    begun_by: str
    done: int
    whole: int
    not_right: tuple[str, ...]
    released_by: str
    released_on: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoCount:
    """Photos [-] of one inspection, and where they are looked at."""

    words: str
    path: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Documents:
    """Everything on paper that belongs to a rope.  ``number`` is its certificate's."""

    number: str | None
    issued_on: date | None
    figures: tuple[Figure, ...]
    signed: tuple[SignedReport, ...]
    orders: tuple[OrderPaper, ...]
    fitting: FittingPaper | None
    photos: tuple[PhotoCount, ...]
    permissions: tuple[Permission, ...]
    confirmed: tuple[Confirmation, ...]


@dataclass(frozen=True, slots=True)
class _Word:
    """An entry as it counts now: its content after corrections, and why it was withdrawn."""

    line: Line
    said: Mapping[str, Any]
    withdrawn: str = ""


def documents_of(
    dossier: Dossier,
    lines: Sequence[Line],
    photos: Iterable[Line],
    guide: FittingGuide | None,
    names: Mapping[str, str],
    texts: Catalogue,
) -> Documents:
    """Put a rope's papers together.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    lines
        Entries of the kinds in `READ`, in the order of the book.
    photos
        Entries of photos.
    guide
        What the book has of its fitting; ``None`` if it has nothing.
    names
        Known persons by id.
    texts
        The words.
    """
    rope, path = dossier.rope, rope_path(dossier.rope.rope_id)
    paper, fitted = rope.certificate, dossier.installation
    words = _as_they_count(lines)
    people = _People(names, texts)
    return Documents(
        number=None if paper is None else paper.number,
        issued_on=None if paper is None else paper.issued_on,
        figures=tuple(_figures(dossier)),
        signed=tuple(_signed(dossier, words, people, path)),
        orders=tuple(_orders(words, people, path)),
        fitting=_fitting(guide),
        photos=tuple(_photos(dossier, photos, path, texts)),
        permissions=fitted.permissions,
        confirmed=fitted.confirmed,
    )


@dataclass(frozen=True, slots=True)
class _People:
    names: Mapping[str, str]
    texts: Catalogue

    def who(self, word: _Word) -> str:
        """Who said it: named in the content, else whose hand it was."""
        by = word.said.get("by")
        ids = [by["person"]] if isinstance(by, dict) and "person" in by else []
        ids = ids or [person for person, _ in word.line.by]
        return ", ".join(self.names.get(one) or self.texts.t("word.somebody") for one in ids)


def _as_they_count(lines: Sequence[Line]) -> list[_Word]:
    held: dict[str, _Word] = {}
    for one in lines:
        corrected = held.get(str(one.payload.get("corrects", "")))
        if one.kind != "correction":
            held[one.entry_id] = _Word(one, one.payload)
        elif corrected is not None:
            said = one.payload.get("payload")
            reason = str(one.payload.get("reason", ""))
            held[corrected.line.entry_id] = (
                _Word(corrected.line, corrected.said, withdrawn=reason)
                if said is None
                else _Word(corrected.line, said)
            )
    return list(held.values())


def _of(words: Iterable[_Word], *kinds: str, withdrawn: bool = False) -> Iterator[_Word]:
    for one in words:
        if one.line.kind in kinds and (withdrawn or not one.withdrawn):
            yield one


def _figures(dossier: Dossier) -> Iterator[Figure]:
    rope = dossier.rope
    yield _derived("documents.breaking-force", rope.breaking_force(), "kN", 1)
    grade = "" if rope.grade is None else f"{exact_decimal(rope.grade)} N/mm²"
    yield Figure(key="documents.grade", value=grade)
    yield _derived("documents.mass", rope.length_mass(), "kg/m", 3)
    yield _derived("documents.area", rope.metallic_area(), "mm²", 1)


def _derived(key: str, found: Derived | None, unit: str, digits: int) -> Figure:
    if found is None:
        return Figure(key=key, value="")
    return Figure(
        key=key, value=f"{_number(found.value, found.origin, digits)} {unit}", source=found.source
    )


def _number(value: Fraction, origin: str, digits: int) -> str:
    return fixed_decimal(value, digits) if origin == "table" else exact_decimal(value)


def _signed(
    dossier: Dossier, words: Sequence[_Word], people: _People, path: str
) -> Iterator[SignedReport]:
    kinds = {one.inspection_id: one.kind for one in dossier.inspections}
    for one in reversed(list(_of(words, "inspection signed", withdrawn=True))):
        name = str(one.said.get("inspection_id", ""))
        place = f"{path}/inspections/{in_address(name)}"
        yield SignedReport(
            inspection_id=name, kind=kinds.get(name, ""), path=place,
            on=one.line.happened_on, who=people.who(one), withdrawn=one.withdrawn,
            pdf=f"{place}/signed.pdf" if one.said.get("report_sha256") else "",
        )  # fmt: skip


def _orders(words: Sequence[_Word], people: _People, path: str) -> Iterator[OrderPaper]:
    found: dict[str, OrderPaper] = {}
    for one in _of(words, "order", "order checked"):
        name = str(one.said.get("order_id", ""))
        if one.line.kind == "order":  # a newer wording has to be checked anew
            found.pop(name, None)
            found[name] = OrderPaper(
                order_id=name, path=f"{path}/entries/{one.line.entry_id}",
                on=one.line.happened_on, who=people.who(one),
            )  # fmt: skip
        elif name in found:
            made = found[name]
            found[name] = OrderPaper(
                order_id=name, path=made.path, on=made.on, who=made.who,
                checked_by=people.who(one), checked_on=one.line.happened_on,
                agrees=bool(one.said.get("agrees")),
            )  # fmt: skip
    yield from reversed(found.values())


def _fitting(guide: FittingGuide | None) -> FittingPaper | None:
    if guide is None or guide.said.begun_on is None:
        return None
    said = guide.said
    return FittingPaper(
        begun_on=said.begun_on, begun_by=said.begun_by,
        done=sum(one.state == "done" for one in guide.steps), whole=len(guide.steps),
        not_right=tuple(one.step.title for one in guide.steps if one.state == "not right"),
        released_by=said.released_by, released_on=said.released_on,
    )  # fmt: skip


def _photos(
    dossier: Dossier, photos: Iterable[Line], path: str, texts: Catalogue
) -> Iterator[PhotoCount]:
    known = {one.inspection_id for one in dossier.inspections}
    of_finding = {
        found.finding_id: one.inspection_id
        for one in dossier.inspections
        for found in (*one.findings, *one.part_findings)
    }
    counted: dict[str, set[str]] = {}
    for line in photos:
        said = line.payload
        name = str(said.get("inspection_id") or of_finding.get(str(said.get("finding_id")), ""))
        counted.setdefault(name if name in known else "", set()).add(str(said.get("sha256")))
    for name, hashes in counted.items():
        yield PhotoCount(
            words=texts.t("documents.photos-of", inspection=name) if name
            else texts.t("documents.photos-other"),
            path=f"{path}/inspections/{in_address(name)}" if name else f"{path}/history",
            count=len(hashes),
        )  # fmt: skip

"""What an entry says in one line, kind by kind, in the words of the catalogue."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Any, Final

from ropewright.inspection import HiddenSection
from ropewright.inspection.experience import FATE_WORDS, Comparison
from ropewright.units import exact_decimal
from ropewright.web.catalogue import Catalogue
from ropewright.web.readable import day_words

_Data = Mapping[str, Any]
_GREASE: Final = HiddenSection.__dataclass_fields__["cause"].default


@dataclass(frozen=True, slots=True)
class Said:
    """How persons, days, places and yes or no are said."""

    names: Mapping[str, str]
    texts: Catalogue

    def person(self, person_id: str) -> str:
        """The name of a person, or that it is one."""
        return self.names.get(person_id) or self.texts.t("word.somebody")

    def flag(self, value: bool) -> str:
        """Yes or no."""
        return self.texts.t("yes" if value else "no")

    def day(self, value: object) -> str:
        """A day as 9 Nov 2026; what is no day stays."""
        try:
            on = date.fromisoformat(str(value))
        except ValueError:
            return str(value or "")
        return day_words(on)

    def by(self, value: object) -> str:
        """A person that an entry holds by id."""
        return self.person(str(value.get("person", ""))) if isinstance(value, Mapping) else ""

    def section(self, value: object) -> str:
        """From where to where."""
        if not isinstance(value, Mapping):
            return ""
        low, high = (f"{value.get(end)} m" for end in ("from_m", "to_m"))
        return self.texts.t("word.from-to", low=low, high=high)

    def at(self, data: _Data) -> str:
        """Where a finding or a mark is."""
        place = data.get("place")
        if not isinstance(place, Mapping) or "at_m" not in place:
            return ""
        return self.texts.t("said.at", place=f"{place['at_m']} m")

    def how(self, data: _Data) -> str:
        """By which method."""
        method = data.get("method")
        return self.texts.word("method", str(method)) if method else ""

    def named(self, data: _Data, *words: object) -> str:
        """Words behind the id of a finding."""
        rest = _joined(*words, data.get("remark"))
        return self.texts.t("said.named", name=data.get("finding_id", ""), what=rest)


def line_words(kind: str, data: _Data, said: Said) -> str | None:
    """What an entry of a kind says, in a line; ``None`` for a kind without words of its own.

    Parameters
    ----------
    kind
        The kind of entry.
    data
        What it holds; of an entry of an inspection its ``what``, with the ``inspection_id``.
    said
        How persons and days are said.
    """
    words = _WORDS.get(kind)
    return None if words is None else words(data, said)


def _joined(*words: object) -> str:
    return ", ".join(str(one) for one in words if one not in (None, "", [], {}))


def _because(words: str, reason: object, said: Said) -> str:
    return said.texts.t("said.named", name=words, what=reason) if reason else words


# --- An inspection ----------------------------------------------------------------------------


def _begun(data: _Data, said: Said) -> str:
    name = said.texts.t("said.inspection", kind=data.get("kind"), name=data.get("inspection_id"))
    return _joined(name, data.get("remark"))


def _finished(data: _Data, said: Said) -> str:
    by = data.get("next_by")
    return _joined(
        data.get("inspection_id"),
        said.texts.t("said.next-by", day=said.day(by)) if by else "",
        data.get("remark"),
    )


def _signed(data: _Data, said: Said) -> str:
    return _joined(data.get("inspection_id"), said.by(data.get("by")))


def _pass(data: _Data, said: Said) -> str:
    return _joined(
        said.how(data), said.section(data.get("section")), data.get("point"), data.get("remark")
    )


def _hidden(data: _Data, said: Said) -> str:
    return _joined(said.section(data.get("section")), data.get("cause") or _GREASE)


def _unseen(data: _Data, said: Said) -> str:
    return said.texts.t(
        "rope.accepted", who=said.by(data.get("by")), day=said.day(data.get("until")),
        section=said.section(data.get("section")), why=data.get("reason"),
    )  # fmt: skip


def _examined(data: _Data, said: Said) -> str:
    return said.texts.t("said.named", name=data.get("item"), what=data.get("state"))


def _instrument(data: _Data, said: Said) -> str:
    due = data.get("calibration_due")
    words = said.texts.t("said.calibration", day=said.day(due)) if due else ""
    return _joined(data.get("name"), data.get("kind"), words)


def _finding(data: _Data, said: Said) -> str:
    texts, is_a = said.texts, data.get("is")
    if is_a == "waviness":
        what = texts.t("finding.waviness", gap=f"{data.get('gap_mm')} mm")
    elif is_a == "metallic loss":
        what = texts.t("finding.lost", share=f"{data.get('percent')} %", of=data.get("of"))
    else:
        kind = texts.word("kind", str(data.get("damage") or is_a or ""))
        what = _joined(kind, data.get("form"), data.get("grade"))
    return said.named(data, what, said.at(data), said.how(data))


def _cluster(data: _Data, said: Said) -> str:
    groups = [one for one in data.get("groups") or () if isinstance(one, Mapping)]
    count = sum(int(one.get("count", 0)) for one in groups)
    ends = [Fraction(str(one.get(end, "0"))) for one in groups for end in ("from_mm", "to_mm")]
    over = max(ends) - min(ends) if ends else Fraction(0)
    if over:
        what = said.texts.tn("finding.breaks-over", count, length=f"{exact_decimal(over)} mm")
    else:
        what = said.texts.tn("finding.breaks", count)
    return said.named(data, what, said.at(data), said.how(data))


def _reading(data: _Data, said: Said) -> str:
    values = [str(one) for one in data.get("readings_mm") or ()]
    if values:
        both = said.texts.t("finding.and").join(values)
        what = said.texts.t("finding.diameter", size=f"{both} mm")
    else:
        what = said.texts.t("finding.no-diameter")
    return said.named(data, what, said.at(data), data.get("instrument"))


def _part(data: _Data, said: Said) -> str:
    measured = data.get("measured")
    sizes = [f"{name} {value} mm" for name, value in (measured or {}).items()]
    part = f"{data.get('part')} {data.get('which')}"
    state = said.texts.t("said.named", name=part, what=data.get("state"))
    return said.named(data, state, *sizes)


def _photo(data: _Data, said: Said) -> str:
    texts, finding = said.texts, data.get("finding_id")
    words = texts.t("photo.finding", id=finding) if finding else texts.t("photo.inspection")
    caption = data.get("caption")
    return texts.t("photo.caption", photo=words, caption=caption) if caption else words


def _comparison(data: _Data, said: Said) -> str:
    texts, earlier, later = said.texts, data.get("earlier"), data.get("later")
    if earlier and later:
        key = "said.not-same" if data.get("same") is False else "said.same"
        words = texts.t(key, later=later, earlier=earlier)
    elif later:
        words = texts.t("said.new", later=later)
    else:
        fate = data.get("fate")
        told = FATE_WORDS[fate] if fate in FATE_WORDS and fate != "other" else ""
        words = _because(texts.t("said.not-found-again", earlier=earlier), told, said)
    return _because(words, data.get("reason"), said)


def answer_words(one: Comparison, texts: Catalogue) -> str:
    """What a person answered about two findings, with the reason that was typed."""
    data = {
        "earlier": one.earlier, "later": one.later, "same": one.same, "fate": one.fate,
        "reason": one.reason,
    }  # fmt: skip
    return _comparison(data, Said({}, texts))


# --- The rope and its life --------------------------------------------------------------------


def _mark(data: _Data, said: Said) -> str:
    name = said.texts.t("chart.mark", name=data.get("name"))
    of = data.get("made_of")
    return _joined(name, said.texts.t("chart.mark-of", what=of) if of else "", said.at(data))


def _cut(data: _Data, said: Said) -> str:
    words = said.texts.t("said.cut", length=f"{data.get('length_m')} m", end=data.get("end"))
    return _because(words, data.get("reason"), said)


def _turned(data: _Data, said: Said) -> str:
    return _because(said.texts.t("chart.turned"), data.get("reason"), said)


def _re_terminated(data: _Data, said: Said) -> str:
    end = said.texts.t("said.end", end=data.get("end"))
    rest = _joined(data.get("fitting"), data.get("remark"))
    return said.texts.t("said.named", name=end, what=rest)


def _rigging(data: _Data, said: Said) -> str:
    texts, low, high = said.texts, data.get("hook_low_m"), data.get("hook_high_m")
    falls = data.get("falls")
    hook = ""
    if low is not None or high is not None:
        ends = texts.t(
            "word.from-to", low="–" if low is None else f"{low} m",
            high="–" if high is None else f"{high} m",
        )  # fmt: skip
        hook = texts.t("said.hook", ends=ends)
    return _joined(texts.tn("said.falls", int(falls)) if falls else "", hook, data.get("remark"))


def _installation(data: _Data, said: Said) -> str:
    on = data.get("fitted_on")
    return _joined(
        data.get("hoist"),
        said.texts.t("rope.fitted", day=said.day(on)) if on else "",
        said.texts.t("said.rules", names="; ".join(data.get("rules") or ()) or "–"),
    )


def _rope(data: _Data, _: Said) -> str:
    rope = data.get("rope")
    rope = rope if isinstance(rope, Mapping) else {}
    made = rope.get("construction")
    size, length = rope.get("nominal_diameter_mm"), rope.get("length_m")
    return _joined(
        made.get("name") if isinstance(made, Mapping) else "",
        f"{size} mm" if size else "",
        f"{length or data.get('first_length_m')} m",
    )


def _reference(data: _Data, said: Said) -> str:
    places = len(data.get("readings") or ())
    return _joined(said.texts.tn("said.places", places) if places else "", data.get("tension"))


def _release(data: _Data, _: Said) -> str:
    release = data.get("release")
    evidence = release.get("evidence") if isinstance(release, Mapping) else ""
    return str(evidence or data.get("of") or "")


def _limit_reset(data: _Data, said: Said) -> str:
    tried = said.texts.t("said.tried") if data.get("tried") else ""
    return _joined(tried, data.get("remark"))


def _handover(data: _Data, said: Said) -> str:
    told = "; ".join(str(one) for one in data.get("told") or ())
    return _joined(said.texts.t("said.told", what=told) if told else "", data.get("remark"))


# --- The book ---------------------------------------------------------------------------------


def _person(data: _Data, said: Said) -> str:
    return said.texts.t("said.person", who=said.person(str(data.get("person", ""))))


def _erased(data: _Data, said: Said) -> str:
    key = "said.erased.photo" if data.get("what") == "photo" else "said.erased.person"
    return _because(said.texts.t(key), data.get("reason"), said)


def _taken_in(data: _Data, said: Said) -> str:
    return said.texts.t("said.taken-in", n=data.get("entries"))


_WORDS: Final[Mapping[str, Callable[[_Data, Said], str]]] = {
    "inspection begun": _begun, "inspection finished": _finished, "inspection signed": _signed,
    "pass": _pass, "hidden section": _hidden, "unseen accepted": _unseen, "examined": _examined,
    "instrument": _instrument, "finding": _finding, "cluster": _cluster, "reading": _reading,
    "part finding": _part, "photo": _photo, "comparison": _comparison, "mark": _mark,
    "cut": _cut, "end for end": _turned, "re-termination": _re_terminated, "rigging": _rigging,
    "installation": _installation, "rope": _rope, "reference measurement": _reference,
    "release": _release, "limit reset": _limit_reset, "handover taken": _handover,
    "person": _person, "erased": _erased, "book taken in": _taken_in,
}  # fmt: skip

"""The field card on paper: one page for the pocket, with strips to cut out, drawn to scale."""

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import ceil
from typing import Any, Final

from ropewright.card import FieldCard, card_as_data
from ropewright.paper.setting import set_page
from ropewright.paper.words import cut
from ropewright.units import exact_decimal, fixed_decimal

#: The bar by which a person sees that the printer did not scale the page [mm].
CHECK_BAR_MM: Final = 100
#: The longest piece of a strip that fits across the page [mm].
PIECE_MM: Final = 180
#: More pieces than this are not printed: the length is taped instead.
MOST_PIECES: Final = 4
_WINDOWS: Final = (6, 30)
_ROWS: Final = (9, 7, 5, 3)
_PAGE: Final = re.compile(rb"/Type\s*/Page\b")
_ARROWS: Final = {"up": "up", "down": "down", "out": "right", "in": "left"}
_MOST: Final = {"limits": 15, "passes": 8, "marks": 8, "holds": 4, "unseen": 4, "off": 3}


def field_card_pdf(card: FieldCard) -> bytes:
    """The card as one page of A4, to be printed at full size.

    Parameters
    ----------
    card
        The card.

    Returns
    -------
    bytes
        PDF/UA-1; same card, same bytes.

    Raises
    ------
    RenderError
        If the page cannot be set.
    """
    data = _data(card_as_data(card), card)
    pdf = b""
    for rows in _ROWS:  # fewer boxes rather than a second page
        pdf = set_page("field_card.typ", data | {"rows": rows}, {}, made_on=card.made_on)
        if len(_PAGE.findall(pdf)) == 1:
            break
    return pdf


def _data(said: Mapping[str, Any], card: FieldCard) -> dict[str, Any]:
    rope = card.rope
    return {
        "rope": cut(rope.rope_id, 40),
        "crane": cut(
            ", ".join(one for one in (card.crane.crane_id, rope.hoist, card.crane.site) if one), 90
        ),
        "what": f"{exact_decimal(rope.diameter_mm)} mm {rope.construction}",
        "made_on": said["made_at"],
        "expires_on": said["expires_at"],
        "made_parts": [card.made_on.year, card.made_on.month, card.made_on.day],
        "invented": "Invented data – demonstration" if card.invented else "",
        "verdict": _capital(said["verdict"]["words"]),
        "sentence": cut(_after(said["verdict"]["sentence"], said["verdict"]["words"]), 220),
        "holds": _few([*said["holds"], *said["told"]], "holds"),
        "limits": _limits(said),
        "passes": _passes(said),
        "unseen": _unseen(said),
        "marks": _marks(said),
        "found": _found(said),
        "cautions": [one["words"] for one in said["cautions"]],
        "bar_mm": CHECK_BAR_MM,
        "strips": _strips(rope.diameter_mm),
        "book_head": said["book_head"][:16],
        "rules_hash": said["rules_hash"][:16],
    }


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _after(sentence: str, words: str) -> str:
    """The sentence without the words that stand before it already."""
    start = f"{_capital(words)}: "
    return sentence.removeprefix(start)


def _few(lines: list[str], what: str) -> list[str]:
    most = _MOST[what]
    if len(lines) <= most:
        return [cut(one, 160) for one in lines]
    return [
        *(cut(one, 160) for one in lines[:most]),
        f"and {len(lines) - most} more: see the phone",
    ]


def _limits(said: Mapping[str, Any]) -> list[dict[str, str]]:
    """What is counted and measured, with this rope's own numbers."""
    rows = []
    for one in said["limits"]:
        if one["kind"] in ("breaks", "bunched"):
            words = one["words"]
            if one["shortest_mm"] != one["longest_mm"]:
                words += f" ({_short(one['shortest_mm'])} to {_short(one['longest_mm'])} mm)"
            else:
                words += f" ({_short(one['longest_mm'])} mm)"
            if one["kind"] == "breaks" and one["limit"]["single"]["value"] is None:
                words += ": no limit can be read, ask the office"
        elif one["kind"] == "diameter" and one["change"] == "decrease":
            words = _diameter(one)
        elif one["kind"] == "waviness":
            bends = "bends" if one["section_bends"] else "never bends"
            words = f"wave, rope that {bends}: {one['words']}"
        else:
            continue
        rows.append({"words": cut(words, 150), "cite": cut(one["cite"], 60)})
    most = _MOST["limits"]
    if len(rows) > most:
        more = f"{len(rows) - most} more limits: see the phone"
        rows = [*rows[:most], {"words": more, "cite": ""}]
    return rows


def _short(text: str) -> str:
    value = Fraction(text)
    return f"{float(value):.0f}" if value.denominator == 1 else f"{float(value):.1f}"


def _diameter(one: Mapping[str, Any]) -> str:
    """The mean of a pair at which a limit on lost diameter is met."""
    baseline, limit = Fraction(one["baseline_mm"]), Fraction(one["limit"])
    lost = limit if one["unit"] == "mm" else limit * Fraction(one["of_mm"]) / 100
    edge = _up(baseline - lost)
    how = f"{edge} mm or less" if one["compare"] == "reached" else f"less than {edge} mm"
    return f"diameter, mean of the pair: {how} ({one['baseline']} {fixed_decimal(baseline, 2)} mm)"


def _up(value: Fraction) -> str:
    """A least diameter [mm] as a caliper shows it: hundredths, never rounded down."""
    return exact_decimal(Fraction(ceil(value * 100), 100))


def _passes(said: Mapping[str, Any]) -> list[dict[str, str]]:
    plan = said["plan"]
    if plan is None:
        return []
    rows = []
    for one in plan["passes"][: _MOST["passes"]]:
        direction = one["direction"] or {}
        motion = direction.get("motion") or ""
        run = one["how"] == "run"
        speed = f"rope {one['rope_m_per_s']:.2f} m/s, " if run else "rope at rest, isolated, "
        rows.append(
            {
                "arrow": _ARROWS.get(motion.split(" ")[-1], "") if run else "",
                "method": {"eye": "EYE", "feel": "HAND"}[one["method"]],
                "place": cut(one["place"], 40),
                "travel": cut(one["travel"], 70),
                "direction": cut(direction.get("words", "") if run else "", 150),
                "time": f"{speed}{one['minutes']:.0f} min",
                "off": _off(one["hands_off"]),
            }
        )
    left = len(plan["passes"]) - len(rows)
    if left > 0:
        rows.append(dict.fromkeys(rows[0], "") | {"place": f"{left} more passes: see the phone"})
    return rows


def _off(sections: Sequence[Mapping[str, Any]]) -> str:
    """Where no hand may lie; none is dropped without a word."""
    words = []
    for one in sections[: _MOST["off"]]:
        rope = f"rope {one['from_m']:.1f} to {one['to_m']:.1f} m"
        if one["hook_from_m"] is not None:
            low, high = one["hook_from_m"], one["hook_to_m"]
            words.append(f"HAND OFF between hook {low:.1f} and {high:.1f} m")
        elif one["crane"]:
            words.append(f"HAND OFF at {one['crane']} ({rope})")
        else:
            words.append(f"HAND OFF at {rope}")
    more = len(sections) - len(words)
    if more > 0:
        words.append(f"HAND OFF at {more} more: see the phone")
    return "; ".join(words)


def _unseen(said: Mapping[str, Any]) -> list[str]:
    plan = said["plan"]
    if plan is None:
        return [f"No plan: {said['plan_missing']}"]
    lines = [
        f"{one['from_m']:.1f} to {one['to_m']:.1f} m by {one['method']}: {one['why']}"
        for one in plan["unseen"]
    ]
    return _few(lines, "unseen")


def _marks(said: Mapping[str, Any]) -> list[str]:
    return _few([f"mark {one['name']}: {_where(one)}" for one in said["marks"]], "marks")


def _found(said: Mapping[str, Any]) -> list[str]:
    lines = [
        f"{one['kind']}{' ' + str(one['count']) if one.get('count') else ''}, {one['on']}: "
        f"{_where(one)}"
        for one in sorted(said["findings"], key=lambda one: one["kind"] == "diameter")
    ]
    return _few(lines, "marks")


def _where(one: Mapping[str, Any]) -> str:
    err = one["abs_err_m"] + one["rel_err_m"]
    reach = one["reaches"][0]["words"] if one["reaches"] else ""
    place = one["reaches"][0]["place"] if one["reaches"] else ""
    back = f"; {place}: {reach}" if reach else ""
    off = "HAND OFF, " if one["hand_off"] else ""
    return f"{off}{one['at_m']:.1f} m ± {max(err, 0.1):.1f} m{back}"


def _strips(diameter_mm: Fraction) -> list[dict[str, Any]]:
    """Strips of six and thirty diameters in pieces that fit, each with its letters to join at."""
    made = []
    for count in _WINDOWS:
        length = count * diameter_mm
        whole, rest = divmod(length, PIECE_MM)
        pieces = [Fraction(PIECE_MM)] * int(whole) + ([rest] if rest else [])
        fits = len(pieces) <= MOST_PIECES
        made.append(
            {
                "name": f"{count} d",
                "length": f"{exact_decimal(length)} mm",
                "pieces": [float(one) for one in pieces] if fits else [],
                "note": ""
                if fits
                else f"{count} d = {exact_decimal(length)} mm: too long for this page, cut it "
                "from a tape",
            }
        )
    return made

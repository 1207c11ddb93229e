"""Words stand in the catalogue, once, and nowhere else; whatever is asked for is there."""

import ast
import json
import re
import shutil
from collections import Counter
from collections.abc import Iterable, Iterator
from html.parser import HTMLParser
from importlib.resources import files
from pathlib import Path
from string import Formatter

import pytest
from jinja2 import nodes

from ropewright.desk.ordering import order_sheet
from ropewright.desk.ordering_model import ORDER_CAUTIONS
from ropewright.inspection import CRANE_KINDS
from ropewright.rules import LEVEL_WORDS
from ropewright.wear.models import MODELS
from ropewright.web.caller import ROLES
from ropewright.web.catalogue import FIELD_FILES, Catalogue, load_texts
from ropewright.web.pages.set_up import FIELDS
from ropewright.web.pages.wear import COLUMNS
from ropewright.web.rendering import environment
from tests.unit.web.conftest import Served, serve

ROOM = Path(str(files("ropewright.web")))
TEXTS = load_texts()
TEMPLATES = sorted((ROOM / "templates").glob("*.html"))
MODULES = sorted(one for one in ROOM.rglob("*.py") if one.name != "catalogue.py")
SCRIPTS = sorted((ROOM / "static").rglob("*.js"))
PAGES = environment(TEXTS, "software")

#: Units, symbols and names of standards that stand in templates as they are.
LITERAL = {"mm", "m", "d", "SHA"}
#: Attributes that are read out or shown.
SPOKEN = {"alt", "aria-label", "aria-description", "placeholder", "title", "data-label", "summary"}
#: Keys that are put together while a page is made, by their beginnings.
BUILT = (
    "board.by.", "chart.list.",
    "board.due.", "board.group.", "event.", "kind.", "level.", "me.hand", "me.theme",
    "me.units", "method.", "prov.", "role.", "rope.chart.zoom-", "rope.toc.", "why.limit.",
)  # fmt: skip


class Spoken(HTMLParser):
    """What a person reads or hears: what stands between tags and in spoken attributes."""

    #: Not read as words: drawings, programs, and what is typed into a machine.
    silent_tags = frozenset({"svg", "script", "style", "code"})

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.silent = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.silent += tag in self.silent_tags
        self.found += [value for name, value in attrs if name in SPOKEN and value]

    def handle_endtag(self, tag: str) -> None:
        self.silent -= tag in self.silent_tags

    def handle_data(self, data: str) -> None:
        if not self.silent:
            self.found.append(data)


def own_words(source: str) -> list[str]:
    """Words of a template's own text; a number stands where an expression stood."""
    parts = []
    for _, kind, value in PAGES.lex(source):
        if kind == "data":
            parts.append(value)
        elif kind == "variable_begin":
            parts.append("0")
    reader = Spoken()
    reader.feed("".join(parts))
    reader.close()
    words = {word for one in reader.found for word in re.findall(r"(?<!/)\b[A-Za-z]+", one)}
    return sorted(words - LITERAL)


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.stem)
def test_templates_hold_no_words_of_their_own(path: Path) -> None:
    assert own_words(path.read_text(encoding="utf-8")) == []


def test_a_planted_word_is_found() -> None:
    """By hand: two stand in the open, one is read out; code and names of fields are no words."""
    planted = """<p class="soft">{{ t('x') }} first{% if y %} second{% endif %}</p>
    <input name="which" placeholder="third"><code>ropewright</code> 5 mm"""
    assert own_words(planted) == ["first", "second", "third"]


def said_outright(source: str) -> list[str]:
    """Words that a module says to a person without the catalogue: notes, problems, refusals."""
    found = []
    for call in ast.walk(ast.parse(source)):
        if not isinstance(call, ast.Call):
            continue
        named = getattr(call.func, "attr", getattr(call.func, "id", ""))
        told = [one.value for one in call.keywords if one.arg in ("problem", "said", "detail")]
        if named in ("back_to", "HTTPException"):
            told += call.args[1:]
        texts = [one for each in told for one in ast.walk(each)]
        plain = [getattr(one, "value", "") for one in texts if isinstance(one, ast.Constant)]
        if not any(isinstance(one, ast.Call) for one in texts):
            found += [one for one in plain if isinstance(one, str) and " " in one]
    return found


@pytest.mark.parametrize("path", sorted((ROOM / "pages").glob("*.py")), ids=lambda path: path.stem)
def test_pages_say_nothing_outright(path: Path) -> None:
    assert said_outright(path.read_text(encoding="utf-8")) == []


def test_planted_words_of_a_module_are_found() -> None:
    planted = """
visit.back_to("/", "first words")
show(visit, problem=f"second words {name}")
HTTPException(404, visit.t("some.key"))
"""
    assert said_outright(planted) == ["first words", "second words "]


def calls(tree: nodes.Template) -> Iterator[nodes.Call]:
    """What a template calls."""
    yield from tree.find_all(nodes.Call)


def asked_by_templates() -> Iterator[tuple[str, str, frozenset[str] | None]]:
    """What templates ask for: where, which key, with which values; no values if any may come."""
    for path in TEMPLATES:
        for call in calls(PAGES.parse(path.read_text(encoding="utf-8"))):
            named = getattr(call.node, "name", "")
            if named not in ("t", "tn") or not isinstance(call.args[0], nodes.Const):
                continue
            names = frozenset(one.key for one in call.kwargs)
            yield from spread(path.name, named, call.args[0].value, names)


def asked_by_modules() -> Iterator[tuple[str, str, frozenset[str] | None]]:
    """The same of modules."""
    for path in MODULES:
        for call in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(call, ast.Call) or not call.args:
                continue
            named = getattr(call.func, "attr", getattr(call.func, "id", ""))
            if named not in ("t", "tn"):
                continue
            names = frozenset(str(one.arg) for one in call.keywords)
            for key in constants(call.args[0]):
                yield from spread(path.name, named, key, names)


def constants(node: ast.expr) -> Iterator[str]:
    """The keys that an argument may be."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from constants(node.body)
        yield from constants(node.orelse)


def spread(
    where: str, named: str, key: str, names: frozenset[str]
) -> Iterator[tuple[str, str, frozenset[str]]]:
    """A key of ``tn`` stands for two, which have a number as well."""
    if named == "t":
        yield where, key, names
    else:
        yield where, f"{key}.one", names | {"n"}
        yield where, f"{key}.many", names | {"n"}


ASKED = [*asked_by_templates(), *asked_by_modules()]


def open_places(words: str) -> frozenset[str]:
    """Places for values in words."""
    return frozenset(name for _, name, _, _ in Formatter().parse(words) if name is not None)


def test_whatever_is_asked_for_is_in_the_catalogue() -> None:
    assert len(ASKED) > 300
    assert {(where, key) for where, key, _ in ASKED if key not in TEXTS} == set()


def test_values_fit_the_places_in_the_words() -> None:
    """What a key leaves open is given; ``tn`` may leave its number unsaid."""
    wrong = set()
    for where, key, names in ASKED:
        if names is None or key not in TEXTS:
            continue
        places = open_places(TEXTS[key])
        needless = names - places - ({"n"} if key.endswith((".one", ".many")) else set())
        if names and (places - names or needless):
            wrong.add((where, key, tuple(sorted(names)), tuple(sorted(places))))
    assert wrong == set()


def strings() -> set[str]:
    """Every text that stands as a whole in a template, module or script."""
    found: set[str] = set()
    for path in TEMPLATES:
        tree = PAGES.parse(path.read_text(encoding="utf-8"))
        found |= {one.value for one in tree.find_all(nodes.Const) if isinstance(one.value, str)}
    for path in MODULES:
        for one in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(one, ast.Constant) and isinstance(one.value, str):
                found.add(one.value)
    return found


def test_no_words_lie_unused() -> None:
    """The field app's own keys are held by its own tests."""
    used = strings()
    plain = {key.removesuffix(".one").removesuffix(".many"): key for key in TEXTS}
    unused = {
        key
        for short, key in plain.items()
        if not key.startswith(("field.", *BUILT)) and short not in used and key not in used
    }
    assert sorted(unused) == []


def catalogue_files() -> Iterable[Path]:
    return sorted((ROOM / "texts").glob("*.json"))


def test_no_key_stands_twice_and_all_are_sorted() -> None:
    keys: list[str] = []
    for path in catalogue_files():
        pairs = json.loads(path.read_text(encoding="utf-8"), object_pairs_hook=list)
        own = [key for key, _ in pairs]
        assert own == sorted(own), path.name
        keys += own
    assert [key for key, count in Counter(keys).items() if count > 1] == []


def test_shared_words_stand_once() -> None:
    shared = load_texts(FIELD_FILES[0])
    assert [words for words, count in Counter(shared.values()).items() if count > 1] == []


def test_catalogue_holds_words_and_no_markup() -> None:
    assert {key for key, words in TEXTS.items() if re.search(r"[<>]|&\w+;", words)} == set()
    assert {key for key, words in TEXTS.items() if not words.strip()} == set()


def test_no_words_call_a_rope_safe_or_fit() -> None:
    own = {
        key: words
        for key, words in TEXTS.items()
        if re.search(r"\b(safe|(?<!to )fit)\b", words, re.I)
    }
    assert own == {}


def test_plurals_come_in_pairs() -> None:
    keys = [key for key in TEXTS if not key.startswith("field.")]
    ones = {key[:-4] for key in keys if key.endswith(".one")}
    assert ones == {key[:-5] for key in keys if key.endswith(".many")}


def test_levels_and_roles_are_all_named() -> None:
    """Level words are said in one way in rulings, on pages and in the field."""
    assert {key: TEXTS[f"level.{key}"] for key in LEVEL_WORDS} == dict(LEVEL_WORDS)
    assert all(TEXTS.word("role", one) != one for one in ROLES)


def test_markup_in_words_stays_and_typed_text_is_escaped() -> None:
    """By hand: the catalogue's ampersand and what a person typed are text, a link is a link."""
    said = Catalogue({"both": "{who} & {where}"})
    link = PAGES.from_string("{% macro a() %}<a>x</a>{% endmacro %}{{ a() }}").module.a()  # type: ignore[attr-defined]
    assert said.t("both", who="<b>", where=link) == "&lt;b&gt; &amp; <a>x</a>"
    assert said.t("both", who="<b>", where="y") == "<b> & y"


def test_phone_is_given_its_words_and_no_others(shared: Served) -> None:
    given = shared.browser().get("/api/texts/en.json").json()
    assert given == dict(load_texts(*FIELD_FILES))
    assert "board.title" not in given


# --- A second catalogue -----------------------------------------------------------------------


@pytest.fixture(scope="module")
def bracketed(book_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The pages in another tongue: every word of the catalogue stands in brackets."""
    copy = tmp_path_factory.mktemp("bracketed") / "site.book"
    shutil.copy(book_file, copy)
    strange = Catalogue({key: f"⟦{words}⟧" for key, words in TEXTS.items()})
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("ropewright.web.app.load_texts", lambda *_: strange)
        made, book = serve(copy)
    yield made
    book.close()


def unbracketed(page: str) -> set[str]:
    """Words on a page that did not come from the catalogue."""
    reader = Spoken()
    reader.feed(page)
    reader.close()
    text = "\n".join(reader.found)
    assert "⟦" in text
    while (shorter := re.sub(r"⟦[^⟦⟧]*⟧", " ", text)) != text:
        text = shorter
    return set(re.findall(r"[A-Za-z]{2,}", text))


def words_of(*data: object) -> set[str]:
    """Words in what the book and the decisions say, with a capital at the head as well."""
    found = set(re.findall(r"[A-Za-z]{2,}", " ".join(map(repr, data))))
    return found | {one[0].upper() + one[1:] for one in found}


UNITS = {"mm", "ft", "in", "UTC", "Nov", "Oct", "Sep", "Jun", "Feb", "Jan", "Dec", "Mar", "May"}
SAID_BY_DATA = UNITS | {"SHA", "Aug", "Apr", "Jul", "software", "inspector"}


def test_second_catalogue_says_the_whole_login(bracketed: Served) -> None:
    assert unbracketed(bracketed.browser().get("/login").text) <= words_of(bracketed.tools.software)


def test_second_catalogue_says_the_whole_board(bracketed: Served) -> None:
    """What is left over is in what was judged."""
    page = bracketed.browser("inspector").get("/").text
    office = bracketed.app.state.office
    judged = [office.judged.glance(one) for one in bracketed.tools.book.stands()]
    assert unbracketed(page) <= words_of(judged, bracketed.tools.software) | SAID_BY_DATA


@pytest.mark.parametrize("rope_id", ["KQ-1 hoist", "KQ-4 hoist"])
def test_second_catalogue_says_the_whole_rope(bracketed: Served, rope_id: str) -> None:
    page = bracketed.browser("inspector").get(f"/ropes/{rope_id}").text
    office, book = bracketed.app.state.office, bracketed.tools.book
    said = [book.lines(rope_id, most=5000), book.names(), bracketed.tools.software]
    whole = office.judged.overview(rope_id)
    rope = whole.dossier.rope
    figures = (rope.breaking_force(), rope.length_mass(), rope.metallic_area())
    known = words_of(whole, *figures, *said)
    assert sorted(unbracketed(page) - known - SAID_BY_DATA) == []


@pytest.mark.parametrize("page", ["order", "fitting", "wear"])
def test_second_catalogue_says_the_whole_of_a_work_page(bracketed: Served, page: str) -> None:
    """What is left over is in the sheet, the steps or the tables that the page shows."""
    book, today = bracketed.tools.book, bracketed.tools.today()
    dossier, whole = book.dossier("KQ-1 hoist"), bracketed.app.state.office.judged
    shown = {
        "order": (order_sheet(dossier, today, forecast=whole.overview("KQ-1 hoist").growth),
                  ORDER_CAUTIONS, dossier),
        "fitting": (book.fitting("KQ-1 hoist"), dossier),
        "wear": (dossier, COLUMNS, MODELS),
    }  # fmt: skip
    said = unbracketed(bracketed.browser("planner").get(f"/ropes/KQ-1 hoist/{page}").text)
    known = words_of(shown[page], book.names(), bracketed.tools.software)
    units = {"kN", "kg", "weeks"}
    assert sorted(said - known - SAID_BY_DATA - units) == []


def test_second_catalogue_says_the_whole_set_up(bracketed: Served) -> None:
    shelf = bracketed.tools.shelf
    rules = [(one.title, one.edition) for one in map(shelf.get, shelf.names())]
    said = unbracketed(bracketed.browser("keeper").get("/set-up").text)
    known = words_of(CRANE_KINDS, FIELDS, rules, "the keeper", bracketed.tools.software)
    assert sorted(said - known - SAID_BY_DATA) == []

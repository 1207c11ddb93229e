"""Every screen: nothing too small for a glove, nothing that a screen reader stumbles over, and
no words that are not in the catalogue."""

import json
import re
from collections.abc import Callable, Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped]
from playwright.sync_api import Page, Route

from ropewright.web.catalogue import FIELD_FILES, load_texts
from tests.field.phone import Phone
from tests.field.screens import OF_APP, OF_ROPE, PUT, REFUSED, WORK

FIELD = Path(str(files("ropewright.web").joinpath("static/field")))
TEXTS = dict(load_texts(*FIELD_FILES))
#: Each letter becomes another one that nobody types into a module by accident.
ODD = str.maketrans(
    "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ",
    "αβχδεφγηιξκλμνοπθρστυωψζΑΒΧΔΕΦΓΗΙΞΚΛΜΝΟΠΘΡΣΤΥΩΨΖ"[:26] + "ΑΒΧΔΕΦΓΗΙΞΚΛΜΝΟΠΘΡΣΤΥΩΨΖαβ"[:26],
)
LEAST_PX = 64
SMALL = """() => [...document.querySelectorAll('a, button, input, textarea, summary, label.big')]
  .filter((one) => one.checkVisibility() && !one.classList.contains('file')
    && !one.closest('details:not([open]) > :not(summary)'))
  .map((one) => [one.outerHTML.slice(0, 90), one.getBoundingClientRect()])
  .filter(([, box]) => box.height < 63.5 || box.width < 63.5)
  .map(([what, box]) => `${what} ${Math.round(box.width)}x${Math.round(box.height)}`)"""
WIDE = "() => document.documentElement.scrollWidth > innerWidth + 1"
HEARD = """() => [...document.querySelectorAll('[aria-label], img[alt]')]
  .map((one) => one.getAttribute('aria-label') ?? one.alt).join(' ')"""


def odd(words: str) -> str:
    """The same words in other letters; what is filled in stays."""
    parts = re.split(r"(\{\w+\})", words)
    return "".join(one if one.startswith("{") else one.translate(ODD) for one in parts)


def seeded(phone: Phone) -> None:
    """A phone that holds a card, an inspection under way and a refused entry."""
    phone.start_without_worker()
    phone.page.evaluate(PUT, ["entries", REFUSED])


def show(phone: Phone, address: str, draft: dict[str, Any] | None = None) -> Page:
    """Show one screen with a draft."""
    page = phone.page
    elsewhere = "/settings" if address == "/" else "/"
    phone.open(elsewhere)
    page.locator(f"body[data-screen={'settings' if address == '/' else 'ropes'}]").wait_for()
    if draft is None:
        phone.open(address)
        name = address.split("/")[1] or "ropes"
    else:
        page.evaluate(PUT, ["work", WORK | {"draft": draft}])
        parts = address.split("/")[1:]
        phone.rope(*parts)
        name = parts[0] if parts else "rope"
    page.locator(f"body[data-screen={name}]").wait_for()
    return page


def screens() -> Iterator[tuple[str, str, dict[str, Any] | None]]:
    yield from OF_ROPE
    yield from ((name, address, None) for name, address in OF_APP)


@pytest.fixture
def at_rest(new_phone: Callable[..., Phone]) -> Phone:
    """A phone without the worker, so that a test can put other words in."""
    phone = new_phone(service_workers="block", bypass_csp=True)
    seeded(phone)
    return phone


def test_every_screen_for_gloves_and_for_readers(at_rest: Phone) -> None:
    small, wide, heard = [], [], []
    for name, address, draft in screens():
        page = show(at_rest, address, draft)
        small += [f"{name}: {one}" for one in page.evaluate(SMALL)]
        if page.evaluate(WIDE):
            wide.append(name)
        found = Axe().run(page).response["violations"]
        heard += [f"{name}: {one['id']} {one['nodes'][0]['html'][:120]}" for one in found]
    assert (small, wide, heard) == ([], [], [])


def test_no_words_but_those_of_catalogue_and_card(at_rest: Phone) -> None:
    """With every word of the catalogue in odd letters, plain letters can only come from data."""
    page = at_rest.page
    strange = json.dumps({key: odd(words) for key, words in TEXTS.items()})

    def answer(route: Route) -> None:
        route.fulfill(status=200, content_type="application/json", body=strange)

    page.route("**/api/texts/en.json", answer)
    data = json.dumps(at_rest.store("cards")) + json.dumps(at_rest.store("keep"))
    data += json.dumps([WORK, REFUSED]) + str([draft for _, _, draft in OF_ROPE])
    allowed = set(re.findall(r"[A-Za-z]{3,}", data)) | {"Ropes"}
    strangers: dict[str, set[str]] = {}
    page.reload()
    for name, address, draft in screens():
        shown = show(at_rest, address, draft)
        words = shown.inner_text("body") + " " + shown.evaluate(HEARD)
        assert "[field." not in words, name
        plain = set(re.findall(r"[A-Za-z]{3,}", words)) - allowed
        if plain:
            strangers[name] = plain
    assert not strangers


def test_no_word_of_the_catalogue_calls_a_rope_safe_or_fit() -> None:
    assert not {key for key, words in TEXTS.items() if re.search(r"\b(safe|fit)\b", words, re.I)}


def test_the_catalogue_holds_what_the_modules_ask_for() -> None:
    """Every key that stands as a whole in a module is in the catalogue."""
    asked = set()
    for path in sorted(FIELD.rglob("*.js")):
        asked |= set(re.findall(r'\bt\(\s*"([a-z][\w.-]*)"', path.read_text(encoding="utf-8")))
    assert len(asked) > 150
    assert asked <= {key.removeprefix("field.") for key in TEXTS}


def test_the_worker_keeps_every_file_of_the_app() -> None:
    text = (FIELD / "sw.js").read_text(encoding="utf-8")
    listed = re.search(r"const FILES = \[(.*?)\];", text, re.DOTALL)
    assert listed
    names = set(re.findall(r'"([^"]+)"', listed[1])) - {"./"}
    there = {one.relative_to(FIELD).as_posix() for one in FIELD.rglob("*") if one.is_file()}
    assert names == there - {"sw.js"}


def test_modules_are_small_and_name_no_rule() -> None:
    for path in sorted(FIELD.rglob("*.js")):
        text = path.read_text(encoding="utf-8")
        assert len(text.splitlines()) < 400, path
        assert not re.search(r"\biso\b|\basme\b|\bcfr\b|\bdin\b|4309|1926", text, re.I), path
        assert "innerHTML" not in text, path
        assert "http" not in re.sub(r"http://www\.w3\.org/2000/svg", "", text), path

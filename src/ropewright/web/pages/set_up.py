"""Setting up a rope with little: what a first inspection needs, and no more."""

import json
from collections.abc import Mapping
from datetime import date
from typing import Final

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from ropewright.errors import InputError, InputErrors
from ropewright.inspection import CRANE_KINDS
from ropewright.rules import OWN_CHECKS
from ropewright.web.addresses import rope_path
from ropewright.web.office import Here, Visit

router = APIRouter(include_in_schema=False)

#: Fields of the form by their place in a case file: key of the words, what it looks like,
#: needed or not.
FIELDS: Final = (
    ("rope.id", "set-up.rope", "KQ-7 hoist", True),
    ("crane.id", "word.crane", "KQ-7", True),
    ("crane.site", "word.site", "", False),
    ("rope.diameter", "set-up.diameter", "20 mm", True),
    ("rope.construction", "set-up.construction", "6x36WS", True),
    ("rope.length", "set-up.length", "420 m", True),
    ("rigging.falls", "crane.falls", "2", False),
    ("rigging.hook_low", "crane.hook-low", "0 m", False),
    ("rigging.hook_high", "crane.hook-high", "61 m", False),
)


@router.get("/set-up")
def set_up_page(visit: Here) -> HTMLResponse:
    """The form."""
    return _show(visit)


def _show(
    visit: Visit, status: int = 200, *, problems: tuple[InputError, ...] = ()
) -> HTMLResponse:
    shelf = visit.office.tools.shelf
    rules = [shelf.get(name) for name in shelf.names() if name != OWN_CHECKS]
    chosen = visit.form.get("rules", "").split("\n")
    wrong = {_key(one.field): str(one) for one in problems}
    return visit.page(
        "set_up.html", status, fields=FIELDS, kinds=CRANE_KINDS, form=visit.form, wrong=wrong,
        rules=[one for one in rules if not one.template], chosen=chosen,
        problems=[str(one) for one in problems], today=visit.office.tools.today(),
    )  # fmt: skip


def _key(field: str | None) -> str:
    return (field or "").replace("rigging[1]", "rigging").replace("rigging[0]", "rigging")


def case_text(form: Mapping[str, str], today: date) -> str:
    """A case file from what was typed.

    Parameters
    ----------
    form
        Fields by their place in a case file.
    today
        The day from which the set-up holds.
    """

    def quoted(key: str) -> str:
        return json.dumps(form.get(key, "").strip(), ensure_ascii=False)

    def lines(table: str, *names: str) -> list[str]:
        return [
            f"{name} = {quoted(f'{table}.{name}')}"
            for name in names
            if form.get(f"{table}.{name}", "").strip()
        ]

    falls = form.get("rigging.falls", "").strip()
    whole = falls.isascii() and falls.isdigit()
    rules = [one for one in form.get("rules", "").split("\n") if one]
    fitted = form.get("installation.fitted_on", "")
    rigged = [
        *([f"falls = {falls if whole else json.dumps(falls)}"] if falls else []),
        *lines("rigging", "hook_low", "hook_high"),
    ]
    return "\n".join(
        [
            "schema = 1",
            "[crane]", *lines("crane", "id", "kind", "site"),
            "[rope]", *lines("rope", "id", "diameter", "construction", "length"),
            "[installation]", f"rules = {json.dumps(rules)}",
            *([f"fitted_on = {fitted}"] if _is_day(fitted) else []),
            *(["[[rigging]]", f"valid_from = {today.isoformat()}", *rigged] if rigged else []),
            "",
        ]
    )  # fmt: skip


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


@router.post("/set-up")
def set_up(visit: Here) -> Response:
    """Take the rope into the book, or say field by field what is wrong; nothing typed is lost."""
    tools = visit.office.tools
    missing = tuple(
        InputError(field=key, expected=visit.t(words).lower(), given=visit.t("asked.nothing"))
        for key, words, _, needed in FIELDS
        if needed and not visit.form.get(key, "").strip()
    )
    if missing:
        return _show(visit, 400, problems=missing)
    name = visit.form["rope.id"].strip()
    if name in {one.rope_id for one in tools.book.stands()}:
        taken = InputError(field="rope.id", expected=visit.t("set-up.new-name"), given=name)
        return _show(visit, 400, problems=(taken,))
    text = case_text(visit.form, tools.today())
    try:
        case = tools.read_case(text, file="set-up", known_rules=tools.shelf.names())
        tools.book.take_in(case.dossier)
    except InputErrors as errors:
        return _show(visit, 400, problems=tuple(errors.errors))
    except InputError as error:
        return _show(visit, 400, problems=(error,))
    return visit.back_to(rope_path(name), visit.t("set-up.kept"))
